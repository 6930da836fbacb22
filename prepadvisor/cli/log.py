"""`prepadvisor log`: adds one entry to a job's check-off, for a scanner wand or a script."""

import argparse
import getpass
import os
import sys
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.cli.streams import note_done

if TYPE_CHECKING:
    from collections.abc import Sequence

    from prepadvisor.records import Advice, Check, Gate, Task
    from prepadvisor.wording import Words

_EXAMPLES: Final = """\
examples:
  prepadvisor log 1042.toml left-front-door/panel cleaned --by KM
  prepadvisor log 1042.toml A/lines scuffed --by KM --tool hand-pad --grade P1000
  prepadvisor log 1042.toml left-front-door/all guide-coated --by KM
  prepadvisor log 1042.toml A4 inspected --by KM --result clear        a place by its number on the card
  prepadvisor log 1042.toml left-front-door/face sanded --by KM --tool da-soft --grade P1000
  prepadvisor log 1042.toml A/all inspected --again --by KM            renews clear looks, nothing done since
  prepadvisor log 1042.toml left-front-door/R1 primed --by KM
  prepadvisor log 1042.toml left-front-door/E1 accepted --by JB --note "customer agreed to it"
  prepadvisor log 1042.toml left-front-door/E1 struck --by KM --of 3f9c-12 --note "wrong place"

steps: cleaned scuffed guide-coated sanded inspected wiped accepted primed struck
in the booth: sealed bedded coloured cleared seen-wet
results of a look: clear lines gloss cut-through, on fill also low pinhole
PANEL/panel takes cleaned and wiped; PANEL/lines and PANEL/all take scuffed, guide-coated and sanded for
every line or place of the panel; every place needs a first look of its own. Nothing is ever rewritten: a slip
of the key is taken back by struck.

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
    options.add_argument("where", metavar="PANEL/PLACE", help="left-front-door/E1, or as on the card: A1")
    options.add_argument("step", metavar="STEP", help="what was done")
    options.add_argument("--by", help="your initials (or PREPADVISOR_BY, else your name on this computer)")
    options.add_argument("--tool", default="", help="hand-pad, hand-foam, hand-paper, block, da, da-soft …")
    options.add_argument("--grade", default="", help="the grade with its P, such as P1000")
    options.add_argument("--pad", default="", help="instead of a grade: the shop file's own name of a pad")
    options.add_argument("--result", default="", help="of a look: clear, lines, gloss …")
    options.add_argument("--of", default="", help="the id of the entry that is struck or accepted")
    options.add_argument("--again", action="store_true", help="renew the clear looks of a whole panel")
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

    from prepadvisor.checkoff import EntryRefusedError, Wanted, log_entries
    from prepadvisor.cli.gate_of import gate_of
    from prepadvisor.cli.shared import time_of
    from prepadvisor.files import append_entries, job_reader, load_job, values_of
    from prepadvisor.logbook import Writer
    from prepadvisor.planning import advise
    from prepadvisor.records import cleaned, first_word
    from prepadvisor.wording import refusal_says

    if args.job == "-":
        print("prepadvisor log: standard input cannot be added to; name the job file", file=sys.stderr)
        return 2
    house, time = house_of(args), now()
    job = load_job(args.job, house)
    result = args.result or ("clear" if args.again else "")
    tool, result = first_word("tool", args.tool), first_word("result", result)
    said = (tool, args.grade, args.pad, result, args.note)
    by = signed_by(args.by, args.step)
    at, untimely = time_of(args.at)
    wanted = Wanted(args.where, args.step, by, *said, at=at, of=args.of, again=args.again)
    faults = [f"not logged: {each}" for each in untimely]
    try:
        checks = log_entries(job, advise(job, house), wanted, time, house)
    except EntryRefusedError as refused:
        faults += [f"not logged: {refusal_says(fault)}" for fault in refused.faults]
    if faults:
        for fault in faults:
            print(cleaned(fault, 1_000), file=sys.stderr)
        return 2
    writer = Writer()
    stamped = [writer.stamp(check, job.check) for check in checks]
    saved = append_entries(
        Path(args.job), [("check", values_of(check)) for check in stamped], by, reads=job_reader(house)
    )
    for check in stamped:
        note_done(f"logged: {check.panel}/{check.feature} {check.step} [{check.id}]")
    if saved.remark:
        print(saved.remark, file=sys.stderr)
    gate, advice = gate_of(load_job(args.job, house), house, now())
    for check in stamped:
        print(logged_words(check, advice))
    for line in held_words(stamped, gate, advice):
        print(line)
    print("\n".join(next_words(stamped[-1], gate, advice)))
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


def logged_words(check: "Check", advice: "Advice") -> str:
    """Return what was logged, with its id and what the card calls the place."""
    from prepadvisor.wording import Words

    where = f"{check.panel}/{check.feature}"
    called = Words(advice).where(where) if where in {place.id for place in advice.places} else ""
    how = "".join(f" {word}" for word in (check.tool, check.grade, check.result) if word)
    card = f"   (on the card: {called})" if called else ""
    return f"logged: {where} {check.step}{how}{card}   [{check.id}]"


def held_words(checks: "Sequence[Check]", gate: "Gate", advice: "Advice") -> list[str]:
    """Return which of the entries may not stand, each with its mend, a line each."""
    from prepadvisor.wording import Words, gate_why, mend_says

    words, ids = Words(advice), {check.id for check in checks}
    return [
        f"held at {words.where(hold.place)}: {gate_why(hold.fact, words)}: {mend_says(hold.mend, words)}"
        for hold in gate.holds
        if (said := getattr(hold.fact, "said", None)) is not None and said.check.id in ids
    ]


def _called(task: "Task", words: "Words") -> str:
    """Return where a task is, by id and as on the card."""
    return f"{task.place} ({words.where(task.place)})"


def next_words(check: "Check", gate: "Gate", advice: "Advice") -> list[str]:
    """Return what is next at the place of an entry, and whether the whole job is clear, a line each."""
    from prepadvisor.checkoff import views
    from prepadvisor.cli.gate import clear_words, task_says
    from prepadvisor.records.gate import RubbedThrough, SawSomething
    from prepadvisor.wording import Words, counted, listed, mend_says

    words = Words(advice)
    lines: list[str] = []
    panels = views(gate, advice)
    for panel in panels:
        if panel.id != check.panel:
            continue
        here = [place for place in panel.places if place.feature == check.feature]
        for place in here:
            says = task_says(place.next) if place.next else "nothing, this place is done"
            found = [hold for hold in place.holds if isinstance(hold.fact, RubbedThrough | SawSomething)]
            if found:
                mends = dict.fromkeys(mend_says(hold.mend, words) for hold in found)
                says = f"mend what was found there first: {'; '.join(mends)}"
            elif not place.next and place.holds:
                told = held_words([check], gate, advice)
                says = mend_says(place.stop.mend, words) if place.stop and not told else "the lead decides"
            lines.append(f"next at {place.id}: {says}")
        if not any(place.next for place in here):
            waits = [place.id for place in panel.places if place.stop]
            done = f"the lead decides at {listed(waits)}" if waits else "nothing, this panel is done"
            says = task_says(panel.next) if panel.next else done
            lines.append(f"next on {_called(panel.next, words) if panel.next else panel.id}: {says}")
            if check.step == "wiped" and panel.next:
                lines.append("the wipe comes last: wipe again when all else on the panel is done")
            other = next((each.next for each in panels if each.next), None)
            if other and not panel.next:
                lines.append(f"next on {_called(other, words)}: {task_says(other)}")
    clear = f"the job is {clear_words(gate).lower()}"
    lines.append(clear if gate.clear else f"the gate is held by {counted(len(gate.holds), 'thing')}")
    return lines
