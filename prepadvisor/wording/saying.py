"""Pieces of sentences on the check-off: an entry, a pass to do, numbers of entries."""

from collections.abc import Iterable
from typing import Final

from prepadvisor.records.gate import Ask, Said
from prepadvisor.records.work import Do
from prepadvisor.wording.trade import TOOL, listed

DONE: Final[dict[Do, str]] = {
    "clean": "cleaned",
    "scuff": "scuffed",
    "powder": "guide coat",
    "sand": "sanded",
    "look": "looked at",
    "wipe": "wiped",
    "mask": "masked",
}


def entry(said: Said) -> str:
    """Return an entry in a few words: number, place, step, by whom and when."""
    check = said.check
    result = f" {check.result}" if check.result else ""
    grade = f" {check.grade}" if check.grade else ""
    by = f" by {check.by}" if check.by else ""
    return f"entry {said.number}, {check.feature} {check.step}{grade}{result}{by} {when(said)}"


def when(said: Said) -> str:
    """Return the time of an entry as people read it."""
    return f"{said.check.at:%Y-%m-%d %H:%M}"


def ask_says(ask: Ask) -> str:
    """Return one thing to do: "scuff by hand with P1000 or finer", "guide coat", "P800 with DA"."""
    tool = TOOL[ask.tool] if ask.tool else ""
    match ask.do:
        case "powder":
            return "guide coat"
        case "clean":
            return "clean and degrease the whole panel before any abrasive touches it"
        case "wipe":
            return "blow it off and wipe it until a white cloth stays clean"
        case "look":
            return "look at it under the lamp"
        case "mask":
            return "mask"
        case "scuff":
            return f"scuff by hand with {grade_says(ask)}{f' ({tool})' if tool else ''}"
        case "sand":
            return f"{ask.grade or 'the grade on the card'} with {tool or 'the sander'}"


def grade_says(ask: Ask) -> str:
    """Return the grade to use, and how far the gate lets it go."""
    if ask.grade is None:
        return "the grade on the card"
    return ask.grade


def asks_say(asks: Iterable[Ask]) -> str:
    """Return things to do, one after the other."""
    return ", ".join(map(ask_says, asks))


def numbers(entries: Iterable[int]) -> str:
    """Return numbers of entries, those in a row as a stretch: "3-7 and 9"."""
    runs: list[list[int]] = []
    for number in entries:
        if runs and runs[-1][-1] + 1 == number:
            runs[-1].append(number)
        else:
            runs.append([number])
    return listed(
        [f"{run[0]}-{run[-1]}" if len(run) > 2 else listed([str(each) for each in run]) for run in runs]
    )


def entries_word(entries: Iterable[int]) -> str:
    """Return "entry 3" or "entries 3-7"."""
    some = list(entries)
    return f"{'entry' if len(some) == 1 else 'entries'} {numbers(some)}"
