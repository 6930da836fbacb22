"""`prepadvisor card`: the prep card of a job, as text, page, PDF or JSON."""

import argparse
from typing import Final

from prepadvisor.cli.house_option import add_house
from prepadvisor.records.forms import FORMS

_EXAMPLES: Final = """\
examples:
  prepadvisor card 1042.toml                        the card as text, 80 columns
  prepadvisor card 1042.toml --to html --out 1042.html
  prepadvisor card 1042.toml --to pdf --out 1042.pdf --paper letter
  prepadvisor card monday/ --to pdf --out cards/    a day's jobs, one card each
  prepadvisor card 1042.toml --to json              the whole advice, for a program
  prepadvisor card - < 1042.toml                    the job from standard input

exit status: 0 fine, 1 something blocks the job (it stands on top of the card), 2 bad input, no card.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor card",
        description="Write the prep card of one or more jobs.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOB", nargs="+", help="a job file, a folder of them, or -")
    options.add_argument("--to", choices=tuple(FORMS), help="form (text, or as the name of --out ends)")
    options.add_argument("--out", metavar="PATH", help="a file, a folder for one card a job, or - for stdout")
    options.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper of html and pdf (a4)")
    options.add_argument(
        "--sheets",
        choices=("first", "all"),
        default="first",
        help="all: with the training sheet",
    )
    options.add_argument("--force", action="store_true", help="replace older cards in a folder")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Write the cards and return the exit status, the worst of all jobs.

    Raises:
        BadInputError: for a house folder with faults and for paths that cannot be used.
    """
    from prepadvisor.cli.card_run import write_cards

    return write_cards(args)
