"""`prepadvisor wall`: what each flake asks for, by the standards in force, on one sheet for the wall."""

import argparse
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.cards.wall.write import WallForm

_EXAMPLES: Final = """\
examples:
  prepadvisor wall                                   the table as text
  prepadvisor wall --to pdf --paper a3 --out wall.pdf
  prepadvisor wall --house ourshop --to html --out wall.html

A usual door is advised on for each flake; the table says what came out. The job's own card comes before it.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor wall",
        description="Write the table of what each flake asks for.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("--to", choices=("text", "html", "pdf"), help="form (text, or as --out ends)")
    options.add_argument("--paper", choices=("a4", "a3", "letter"), default="a4", help="lying across (a4)")
    options.add_argument("--out", metavar="PATH", help="a file, or - for standard output (start value)")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Write the table and return the exit status.

    Raises:
        BadInputError: for a house with faults, or a file that cannot be written.
    """
    from prepadvisor.cards.wall import wall, write_wall
    from prepadvisor.cli.shared import form_of, write_out

    forms: tuple[WallForm, ...] = ("text", "html", "pdf")
    form = form_of(args.to, args.out, forms)
    write_out(args.out, write_wall(wall(house_of(args)), form, args.paper), inputs=())
    return 0
