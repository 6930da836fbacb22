"""`prepadvisor lines`: the table to pin to the wall. Will this tool and grade show in this flake?"""

import argparse
import json
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.house_option import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.cli.lines_sheet import LinesSheet

_EXAMPLES: Final = """\
examples:
  prepadvisor lines                                 very fine flake, fade, no wet bed
  prepadvisor lines --flake fine --coats 2
  prepadvisor lines --flake vapour --zone colour
  prepadvisor lines --flake-um 7.5 --tilt 6.5 --log-sd 0.45     a measured flake
  prepadvisor lines --json
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor lines",
        description="Line strength and the risk that lines show, by tool and grade: an estimate.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("--flake", metavar="CLASS", default="very-fine", help="solid to vapour (very-fine)")
    options.add_argument("--flake-um", metavar="X", help="measured: median diameter by area, in µm")
    options.add_argument("--tilt", metavar="X", help="measured: standard deviation of tilt, in degrees")
    options.add_argument("--log-sd", metavar="X", help="measured: standard deviation of ln diameter")
    options.add_argument("--coats", metavar="N", default="0", help="coats of wet bed over the lines (0)")
    options.add_argument("--zone", metavar="ZONE", default="fade", help="fade or colour (fade)")
    options.add_argument("--numbers", action="store_true", help="line strengths, and what it rests on")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print the table and return the exit status.

    Raises:
        BadInputError: for options without meaning and for a house folder with faults.
    """
    from prepadvisor.cli.lines_options import asked
    from prepadvisor.cli.lines_sheet import sheet_of
    from prepadvisor.cli.lines_text import sheet_text

    wanted = asked(args)
    sheet = sheet_of(wanted, house_of(args))
    print(
        json.dumps(_as_data(sheet), ensure_ascii=False)
        if args.json
        else sheet_text(sheet, numbers=args.numbers)
    )
    return 0


def _as_data(sheet: "LinesSheet") -> dict[str, object]:
    flake = {"class": sheet.asked.flake} | (sheet.flake._asdict() if sheet.flake else {})
    return {
        "flake": flake,
        "zone": sheet.asked.zone,
        "set_solids": sheet.set_solids,
        "risk_limit": sheet.risk_limit,
        "rows": [row._asdict() for row in sheet.rows],
    }
