"""`prepadvisor why`: what decides at one place of a card in ten lines, or every number behind it."""

import argparse
import json
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.cards.explain.section import Section

_EXAMPLES: Final = """\
examples:
  prepadvisor why 1042.toml A4                          a place by its number on the card
  prepadvisor why 1042.toml left-front-door/E4          or by its id
  prepadvisor why 1042.toml left-front-door/E4/fade     one zone of it
  prepadvisor why 1042.toml left-front-door/face        the flat area
  prepadvisor why 1042.toml A                           a panel: what decides it, what is mixed
  prepadvisor why 1042.toml A4 --numbers                every rule, number and source behind it

exit status: 0, or 2 for a bad job or a place that is not on it.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor why",
        description="Say where every number at one place of a card comes from.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("job", metavar="JOB", help="a job file, or - for standard input")
    options.add_argument("place", metavar="PLACE", help="A4, A, PANEL/PLACE, PANEL/PLACE/ZONE or PANEL")
    options.add_argument("--numbers", action="store_true", help="every rule, number and source behind it")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print the explanation and return the exit status.

    Raises:
        BadInputError: for a job or house with faults, and for a place that is not on the job.
    """
    from prepadvisor.cards.explain.ask import NoSuchPlaceError, because, explain, short
    from prepadvisor.files import load_job
    from prepadvisor.planning import advise
    from prepadvisor.records import BadInputError, Fault

    house = house_of(args)
    job = load_job(args.job, house)
    try:
        advice = advise(job, house)
        lines = short(job, advice, house, args.place)
        sections = explain(job, advice, house, args.place) if args.numbers or args.json else ()
    except NoSuchPlaceError as error:
        raise BadInputError([Fault(args.job, 0, 0, str(error))]) from error
    if args.json:
        reasons = because(job, advice, house, args.place)
        whole = {"short": lines, "because": reasons, "sections": [one._asdict() for one in sections]}
        print(json.dumps(whole, ensure_ascii=False))
    else:
        print(_text(sections) if args.numbers else "\n".join(lines))
    return 0


def _text(sections: tuple["Section", ...]) -> str:
    from prepadvisor.cards import wrap

    lines: list[str] = []
    for section in sections:
        lines += ["", section.title]
        for line in section.lines:
            indent = "    " if line.startswith("  ") else "  "
            lines += wrap(line, 100, first=indent, rest=indent + "  ")
    return "\n".join(lines[1:])
