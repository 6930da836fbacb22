"""`prepadvisor outcomes`: how often lines came back, by flake, tool, grade, coats and reach."""

import argparse
import json
import sys
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.cards import Gathered

_EXAMPLES: Final = """\
examples:
  prepadvisor outcomes archive/            every job file in a folder and the folders in it
  prepadvisor outcomes 1042.toml 1043.toml
  prepadvisor outcomes archive/ --json     for a program

The interval is for 95 %: places of one job go together, so with few jobs it is wide, however many places they
have. Places out of sight (flanges, cut-outs) are told apart. Unreadable files are listed and counted.
exit status: 0 no lines were seen, 1 lines were seen somewhere, 2 a file could not be read.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor outcomes",
        description="Tell how often lines were seen weeks later, and what those places were prepared with.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOBS", nargs="+", help="job files or folders of them")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print the rates and return the exit status.

    Raises:
        BadInputError: for a house folder with faults.
    """
    from prepadvisor.cards import gathered, outcomes_lines

    found = gathered(args.jobs, house_of(args), _told)
    print(_as_json(found) if args.json else "\n".join(outcomes_lines(found)))
    return 2 if found.unreadable else 1 if found.failed else 0


def _told(done: int, of: int) -> None:
    if done % 500 == 0:
        print(f"{done} of {of} files read", file=sys.stderr)


def _as_json(found: "Gathered") -> str:
    hidden, never = found.hidden, found.never
    return json.dumps(
        {
            "files": found.files,
            "without_report": found.silent,
            "rates": [each._asdict() for each in found.rates],
            "hidden": {"places": len(hidden), "seen": sum(place.seen for place in hidden)},
            "never_cleared": {"places": len(never), "seen": sum(place.seen for place in never)},
            "failed": [place._asdict() for place in found.failed],
            "unreadable": [{"file": file, "why": why} for file, why in found.unreadable],
        },
        ensure_ascii=False,
    )
