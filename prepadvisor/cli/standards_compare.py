"""`prepadvisor standards compare`: what changes between two standards, in few groups of cases."""

import argparse
import json
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.paragraphs import paragraph

if TYPE_CHECKING:
    from prepadvisor.standards.compare import Change, Comparison, Difference
    from prepadvisor.standards.engine import Engine

DESCRIPTION: Final = (
    "Tells every case that two standards decide otherwise, in few groups, largest first. A and B are house "
    'folders, each laid over the shipped standards; "base" is the shipped standards alone.'
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards compare base our-standards     what the shop's own change
  prepadvisor standards compare our-standards draft    before a draft goes live

exit status: 0 nothing differs, 1 something differs, 2 a file cannot be used
"""
_BASE: Final = "base"
_SHOWN_MOST: Final = 20


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("a", metavar="A", help='house folder before, or "base"')
    options.add_argument("b", metavar="B", help='house folder after, or "base"')
    options.add_argument("--all", action="store_true", help=f"tell more than {_SHOWN_MOST} changes")
    options.add_argument("--json", action="store_true", help="for a program to read")


def run(args: argparse.Namespace) -> int:
    """Print what changes; 1 if anything does.

    Raises:
        BadInputError: with the faults of both folders.
    """
    from prepadvisor.standards.compare import compare

    found = compare(*_both(args.a, args.b))
    if args.json:
        print(json.dumps(as_data(found), ensure_ascii=False))
    else:
        print(as_text(found, shown_most=None if args.all else _SHOWN_MOST))
    return 1 if found.cases else 0


def _both(*folders: str) -> "list[Engine]":
    from prepadvisor.files import load_house
    from prepadvisor.records.fault import BadInputError, Fault

    engines: list[Engine] = []
    faults: list[Fault] = []
    for folder in folders:
        try:
            engines.append(load_house(None if folder == _BASE else folder).engine)
        except BadInputError as error:
            faults.extend(error.faults)
    if faults:
        raise BadInputError(list(dict.fromkeys(faults)))
    return engines


def as_data(found: "Comparison") -> dict[str, object]:
    """Return a comparison as `--json` prints it."""
    return {
        "changes": [
            {
                "facts": {
                    fact: values[0] if len(values) == 1 else values for fact, values in change.limits.items()
                },
                "differences": [difference._asdict() for difference in change.differences],
                "cases": change.cases,
            }
            for change in found.changes
        ],
        "cases": found.cases,
        "cells": found.possible,
        "untold": found.untold,
        "is_whole": found.is_whole,
    }


def as_text(found: "Comparison", shown_most: int | None) -> str:
    """Return a comparison for a person, at most so many changes (None: all)."""
    if not found.cases:
        return f"Nothing differs in any of {_number(found.possible)} possible cases."
    least = "" if found.is_whole else "At least "
    lines = [
        f"{least}{_number(found.cases)} of {_number(found.possible)} possible cases are decided otherwise.",
        "",
    ]
    for change in found.changes[:shown_most]:
        lines += [*_told(change), ""]
    if shown_most is not None and len(found.changes) > shown_most:
        lines += [f"… and {len(found.changes) - shown_most} smaller changes (--all tells them).", ""]
    if found.untold:
        lines += [f"… and {_number(found.untold)} single changes in still smaller groups.", ""]
    return "\n".join(lines[:-1])


def _told(change: "Change") -> list[str]:
    from prepadvisor.standards.case_words import in_words

    lines = paragraph(f"{in_words(change.limits)}  ({_number(change.cases)} cases)")
    for difference in change.differences:
        lines += paragraph(_difference(difference), "    ", "      ")
    return lines


def _difference(difference: "Difference") -> str:
    output, before, after = difference
    from prepadvisor.standards.outputs import OUTPUTS

    if OUTPUTS[output].is_union:
        one = output.removesuffix("s")
        return f'new {one}: "{after}"' if before is None else f'{one} gone: "{before}"'
    unit = f" {OUTPUTS[output].unit}".rstrip()
    told = [
        f"{value:g}{unit}" if isinstance(value, float | int) else value or "no bound"
        for value in (before, after)
    ]
    return f"{output}: {told[0]} → {told[1]}"


def _number(count: int) -> str:
    return f"{count:,}".replace(",", " ")
