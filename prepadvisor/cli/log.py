"""`prepadvisor log`: adds one entry to a job's check-off, for a scanner wand or a script."""

import argparse
import getpass
import os
import sys
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.house_option import add_house, house_of, now
from prepadvisor.cli.streams import note_done

if TYPE_CHECKING:
    from prepadvisor.checkoff import Gate
    from prepadvisor.records.job import Check

_EXAMPLES: Final = """\
examples:
  prepadvisor log 1042.toml left-front-door/panel cleaned --by KM
  prepadvisor log 1042.toml left-front-door/all scuffed --by KM --tool hand-pad --grade P1000
  prepadvisor log 1042.toml left-front-door/E1 guide-coated --by KM
  prepadvisor log 1042.toml A4 inspected --by KM --result clear        a place by its number on the card
  prepadvisor log 1042.toml left-front-door/face sanded --by KM --tool da-soft --grade P1000
  prepadvisor log 1042.toml left-front-door/E1 inspected --by KM --result clear
  prepadvisor log 1042.toml left-front-door/E1 accepted --by JB --note "customer agreed"

steps: cleaned scuffed guide-coated sanded inspected wiped accepted
results of a look: clear lines gloss cut-through
PANEL/panel takes cleaned and wiped; PANEL/all takes scuffed, guide-coated and sanded for every place of the
panel; every place needs its own look. Nothing is ever rewritten: the last word on each step counts.

exit status: 0 logged, 2 refused or bad input: the file is as it was.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor log",
        description="Add an entry to a job's check-off and say what is next there.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("job", metavar="JOB", help="a job file")
    options.add_argument("where", metavar="PANEL/FEATURE", help="left-front-door/E1, or as on the card: A1")
    options.add_argument("step", metavar="STEP", help="what was done")
    options.add_argument("--by", help="your initials (or PREPADVISOR_BY, else your name on this computer)")
    options.add_argument("--tool", default="", help="hand-pad, hand-foam, hand-paper, block, da, da-soft …")
    options.add_argument("--grade", default="", help="the grade with its P, such as P1000")
    options.add_argument("--pad", default="", help="instead of a grade: the shop file's own name of a pad")
    options.add_argument("--result", default="", help="of a look: clear, lines, gloss or cut-through")
    options.add_argument("--note", default="", help="anything worth knowing; the reason of an acceptance")
    options.add_argument("--at", help="when, if not now, such as 2026-03-02T09:40:00Z")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Add the entry, print what is next at that place, and return the exit status.

    Raises:
        BadInputError: for a job or house with faults, and where the job cannot be saved.
    """
    from pathlib import Path

    from prepadvisor.checkoff.log_entry import EntryRefusedError, Wanted, log_entry
    from prepadvisor.cli.gate_of import gate_of, place_titles
    from prepadvisor.cli.times import time_of
    from prepadvisor.files import load_job
    from prepadvisor.files.store import append_check
    from prepadvisor.planning import advise
    from prepadvisor.records.trade_words import first_word

    if args.job == "-":
        print("prepadvisor log: standard input cannot be added to; name the job file", file=sys.stderr)
        return 2
    house, time = house_of(args), now()
    job = load_job(args.job, house)
    by = signed_by(args.by, args.step)
    tool, result = first_word("tool", args.tool), first_word("result", args.result)
    said = (tool, args.grade, args.pad, result, args.note)
    wanted = Wanted(args.where, args.step, by, *said, at=time_of(args.at))
    try:
        check = log_entry(job, advise(job, house), wanted, time, house.shop.pads)
    except EntryRefusedError as refused:
        for fault in refused.faults:
            print(f"not logged: {fault}", file=sys.stderr)
        return 2
    append_check(Path(args.job), check)
    note_done(f"logged: {check.panel}/{check.feature} {check.step}{_how(check)}")
    gate = gate_of(load_job(args.job, house), house, now())
    called = place_titles(gate).get(f"{check.panel}/{check.feature}", "")
    card = f"   (on the card: {called})" if called else ""
    print(f"logged: {check.panel}/{check.feature} {check.step}{_how(check)}{card}")
    print("\n".join(next_words(check, gate)))
    return 0


def signed_by(stated: str | None, step: str) -> str:
    """Return whose initials an entry has; an acceptance is never signed by a start value."""
    if stated is not None or step == "accepted":
        return (stated or "").strip()
    if own := os.environ.get("PREPADVISOR_BY", "").strip():
        return own
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return ""


def _how(check: "Check") -> str:
    words = [word for word in (check.tool, check.grade, check.result) if word]
    return f" {' '.join(words)}" if words else ""


def next_words(check: "Check", gate: "Gate") -> list[str]:
    """Return what is next at the place of an entry, and whether the whole job is clear, a line each."""
    lines: list[str] = []
    for panel in gate.panels:
        if panel.id == check.panel:
            here = [place for place in panel.places if place.feature == check.feature]
            lines += [f"next at {place.id}: {place.next or 'nothing, this place is done'}" for place in here]
            if not any(place.next for place in here):
                lines.append(f"next on {panel.id}: {panel.next or 'nothing, this panel is done'}")
    count = len(gate.holds)
    lines.append("the job is clear to mask" if gate.clear else f"the gate is held by {count} thing(s)")
    return lines
