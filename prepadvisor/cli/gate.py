"""`prepadvisor gate`: clear to mask, or what holds it and how that is mended."""

import argparse
import datetime as dt
import json
import re
import sys
from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Final

from prepadvisor.checkoff import due, turns, views
from prepadvisor.cli.apart import apart
from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.records import Advice, Job, Task, card_numbers
from prepadvisor.records.gate import Ask, Gate, GateHold, NotDone, NotLooked
from prepadvisor.wording import Words, ask_says, counted, due_says, gate_why, mend_says, remark_says

if TYPE_CHECKING:
    from prepadvisor.standards import House


_EXAMPLES: Final = """\
examples:
  prepadvisor gate 1042.toml             clear to mask? if not: each place, why, and what to do
  prepadvisor gate 1042.toml --json      for a program
  prepadvisor gate 1042.toml 1043.toml   the exit status is the worst

A job whose filler gets primer next is first cleared for primer, then, once primed is logged, to mask.
exit status: 0 clear, 1 something holds, 2 bad input.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor gate",
        description="Say whether a job is clear for primer or to mask, from what was logged in it.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOB", nargs="+", help="a job file, or - for standard input")
    options.add_argument("--json", action="store_true", help="one line a job, for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print what each gate says and return the exit status, the worst of all jobs.

    Raises:
        BadInputError: for a house folder with faults.
    """
    house, time = house_of(args), now()
    worst = 0
    for name in args.jobs:
        read = apart(name, partial(_read, name, house, time))
        if read is None:
            worst = 2
            continue
        job, gate, advice = read
        print(gate_json(name, job, gate, advice) if args.json else gate_text(job, gate, advice))
        sys.stdout.flush()
        worst = max(worst, 0 if gate.clear else 1)
    return worst


def _read(name: str, house: "House", time: dt.datetime) -> "tuple[Job, Gate, Advice]":
    from prepadvisor.cli.gate_of import gate_of
    from prepadvisor.files import load_job

    job = load_job(name, house)
    return job, *gate_of(job, house, time)


# What a gate says as text: the word first, the next thing, what holds in groups, then what to know.


def gate_text(job: Job, gate: Gate, advice: Advice) -> str:
    """Return what a gate says: the word first, the next thing to do, then each hold with its mend."""
    words = Words(advice)
    panels = views(gate, advice)
    places = [place for panel in panels for place in panel.places if place.steps or place.holds]
    clear = sum(place.is_clear for place in places)
    said = clear_words(gate) if gate.clear else f"NOT {clear_words(gate)}"
    lines = [f"{said}   job {job.job.number} {advice.job.colour}".rstrip()]
    lines.append(f"  {clear} of {len(places)} places done on {counted(len(panels), 'panel')}")
    following = due(gate)
    if not gate.clear and following:
        lines.append(f"  next: {due_says(following, words)}")
    if gate.expires is not None:
        lines.append(f"  clear until {gate.expires:%Y-%m-%d %H:%M} UTC")
    for where, why, mend in grouped(gate, advice, words):
        lines += ["", f"  {where}", f"    holds: {why}", f"           -> {mend}"]
    if gate.told:
        lines += ["", "  Know:", *(f"    - {remark_says(told, words)}" for told in gate.told)]
    return "\n".join(lines)


def clear_words(gate: Gate) -> str:
    """Return what the stage that is worked says when it is passed."""
    return gate.work.clear


def task_says(task: Task) -> str:
    """Return a task as something to do."""
    return ask_says(Ask(task.do, task.tool, task.grade, task.range))


def grouped(gate: Gate, advice: Advice, words: Words) -> list[tuple[str, str, str]]:
    """Return what holds as (where, why, mend): alike ones by their card numbers, next thing first."""
    numbers = card_numbers([panel.id for panel in advice.panels], advice.places)
    turn = _turns(gate)
    groups: dict[tuple[str, str], list[GateHold]] = {}
    for hold in gate.holds:
        groups.setdefault((gate_why(hold.fact, words), mend_says(hold.mend, words)), []).append(hold)
    first = sorted(groups.items(), key=lambda item: min(_turn(hold, turn) for hold in item[1]))
    return [(_where([hold.place for hold in holds], numbers, words), *says) for says, holds in first]


def _turns(gate: Gate) -> dict[tuple[str, str], int]:
    """Return when each thing that is not done at a place is its turn."""
    step = turns(gate)
    found: dict[tuple[str, str], int] = {}
    for task in gate.work.tasks:
        if task.state != "done":
            found.setdefault((task.place, task.do), step.get(task.id, 0))
    return found


def _turn(hold: GateHold, turn: dict[tuple[str, str], int]) -> int:
    match hold.fact:
        case NotDone():
            return turn.get((hold.place, hold.fact.do), 0)
        case NotLooked():
            return turn.get((hold.place, "look"), 0)
        case _:
            return 0


def _where(places: list[str], numbers: dict[str, str], words: Words) -> str:
    some = list(dict.fromkeys(places))
    if len(some) == 1:
        name = words.where(some[0])
        return name if name == some[0] else f"{name}   {some[0]}"
    some.sort(key=lambda place: _card_order(numbers.get(place, "")))
    named = [numbers.get(place) or words.where(place) for place in some]
    return ", ".join(_runs(named))


def _card_order(number: str) -> tuple[int, str, int]:
    """Return what sorts card numbers as the card has them: A, A1 … A10, B …, AA; panels and others first."""
    letter = number.rstrip("0123456789")
    return len(letter), letter, int(number.removeprefix(letter) or 0)


def _runs(named: Iterable[str]) -> list[str]:
    """Return card numbers, three or more in a row as a stretch: "A1-A5"."""
    runs: list[list[str]] = []
    for name in named:
        here = re.fullmatch(r"([A-Z]+)(\d+)", name)
        before = re.fullmatch(r"([A-Z]+)(\d+)", runs[-1][-1]) if runs else None
        if here and before and here[1] == before[1] and int(here[2]) == int(before[2]) + 1:
            runs[-1].append(name)
        else:
            runs.append([name])
    return [each for run in runs for each in ([f"{run[0]}-{run[-1]}"] if len(run) > 2 else run)]


def gate_json(name: str, job: Job, gate: Gate, advice: Advice) -> str:
    """Return a gate as one line of JSON."""
    words = Words(advice)

    def hold(each: GateHold) -> dict[str, str]:
        why = gate_why(each.fact, words)
        return {"place": each.place, "kind": each.fact.kind, "why": why, "mend": mend_says(each.mend, words)}

    data = {
        "clear": gate.clear,
        "stage": gate.stage,
        "holds": [hold(each) for each in gate.holds],
        "found": [
            {"place": each["place"], "kind": each["kind"], "says": each["why"], "mend": each["mend"]}
            for each in map(hold, gate.found)
        ],
        "told": [remark_says(each, words) for each in gate.told],
        "expires": gate.expires.isoformat() if gate.expires else None,
        "job": job.job.number,
        "file": name,
    }
    return json.dumps(data, ensure_ascii=False)
