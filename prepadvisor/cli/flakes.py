"""`prepadvisor flakes`: flake size, spread and class from diameters measured under a microscope."""

import argparse
import json
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.measured import FlakeSizes

_EXAMPLES: Final = """\
examples:
  prepadvisor flakes sizes.csv             a column of diameters in um: one a row, or with a column count
  prepadvisor flakes sizes.csv --json
  prepadvisor flakes --guide               how to judge a class, by eye and measured
  prepadvisor flakes --steps steps.html    a card of sizes at true scale, to hold beside the tin (.pdf too)

How: a drop of the colour on a slide, thinned until flakes lie apart; photograph it with a stage micrometer;
measure every flake in view, small ones too, at least 200.
exit status: 0 fine, 2 a row or option cannot be used.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor flakes",
        description="Median size by area, spread and class of measured flakes, with 90 % intervals.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("sizes", metavar="CSV", nargs="?", help="diameters in um; - is standard input")
    options.add_argument("--json", action="store_true", help="for a program to read")
    options.add_argument("--guide", action="store_true", help="print how to judge a flake class")
    options.add_argument("--steps", metavar="FILE", help="write the card of sizes as .html or .pdf")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print size, spread and class.

    Raises:
        BadInputError: for cells that are no diameter, too few flakes, and a house folder with faults.
    """
    if args.guide:
        from prepadvisor.wording import flakes_guide

        print(flakes_guide(house_of(args).constants), end="")
        return 0
    if args.steps is not None:
        _write_steps(args)
        return 0
    from prepadvisor.files import read_flakes
    from prepadvisor.measured import FLAKES_LEAST, flake_sizes
    from prepadvisor.records import BadInputError, Fault

    if args.sizes is None:
        says = "name the table of diameters"
        raise BadInputError([Fault("flakes", 0, 0, says, "prepadvisor flakes sizes.csv")])
    constants = house_of(args).constants
    found = flake_sizes(read_flakes(args.sizes, FLAKES_LEAST), constants)
    print(json.dumps(_as_data(found), ensure_ascii=False) if args.json else _as_text(found))
    return 0


def _write_steps(args: argparse.Namespace) -> None:
    from pathlib import Path

    from prepadvisor.cards.step_card import step_card
    from prepadvisor.files import put_out

    target = Path(args.steps)
    pages = step_card(house_of(args).constants)
    if target.suffix.lower() == ".pdf":
        from prepadvisor.cards import pdf_card

        put_out(target, pdf_card([pages]))
    else:
        from prepadvisor.cards import html_card

        put_out(target, html_card(pages).encode())
    print(f"written: {target}")


def _as_data(found: "FlakeSizes") -> dict[str, object]:
    from prepadvisor.wording import sizes_told

    return {
        "flakes": found.flakes,
        "d50_um": found.d50_um,
        "low": found.d50_low_um,
        "high": found.d50_high_um,
        "log_sd": found.log_sd,
        "log_sd_low": found.log_sd_low,
        "log_sd_high": found.log_sd_high,
        "class": found.flake,
        "finest_class": found.finest,
        "on_45um_sieve": found.on_sieve,
        "told": sizes_told(found.flakes, found.flake, found.finest),
    }


def _as_text(found: "FlakeSizes") -> str:
    from prepadvisor.wording import FLAKE, paragraph, sizes_told

    size = f"{found.d50_low_um:.1f} to {found.d50_high_um:.1f}"
    spread = f"{found.log_sd_low:.2f} to {found.log_sd_high:.2f}"
    lines = [
        f"{found.flakes} flakes",
        f"median size by area   {found.d50_um:.1f} um   90 %: {size}",
        f"spread of ln D        {found.log_sd:.2f}      90 %: {spread}",
        f"class                 {FLAKE[found.flake]}",
        f"on a 45 um sieve      {found.on_sieve:.2%} by area, as log-normal",
        "",
        *(line for says in sizes_told(found.flakes, found.flake, found.finest) for line in paragraph(says)),
        "",
        "In the job file or the colour book:",
        f'  flake = "{found.finest}"',
        f"  flake_um = {found.d50_um:.1f}",
        f"  log_sd = {min(max(found.log_sd, 0.01), 2.0):.2f}",
    ]
    return "\n".join(lines)
