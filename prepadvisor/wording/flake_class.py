"""The page on judging a flake class, and what is told of a measured one."""

from typing import Final

from prepadvisor.records import FLAKES, Constants
from prepadvisor.wording import names as trade

FLAKES_ASKED: Final = 200

_LOOKS: Final = {
    "coarse": "sparkles from two metres; single flakes are seen with the bare eye at half a metre",
    "medium": "sparkles close by; single flakes are seen from a hand's length in sunlight",
    "fine": "shimmers, hardly a single flake without a lens; pearls that look like it count here at least",
    "very-fine": "smooth like satin; single flakes only through a 30 x lens; face and flop differ clearly",
    "vapour": "like liquid metal or a mirror: no grain even through the lens; thinner, not smaller, flakes",
}

_GUIDE: Final = """\
FLAKE CLASS: how to judge it

The class decides most on a card: the finer the flake the more a scratch shows, because a small thin flake
follows the scratch that a large one bridges. Nobody can tell it from a tin by eye alone. In this order:

1  Look in the colour book: prepadvisor colours --find NAME. Sealed there, it is known.
2  Ask the paint maker's sheet for the flake's median size (D50). Take the class whose size is nearest.
3  Hold the step card beside a drawdown (prepadvisor flakes --steps steps.pdf, printed at 100 %): a lens of
   30 x, good light, compare single flakes with the discs. Between two steps take the finer.
4  Measure: a drop of the colour on a microscope slide, thinned until flakes lie apart; a photograph with a
   stage micrometer in it; every flake in view, small ones too, at least 200. prepadvisor flakes sizes.csv
   gives the median by area, its spread, its class.
5  Nothing of this at hand: flake = "unknown". It is judged as very fine, and the card says so.

Three-stage colours are judged as very fine at least, whatever flake they hold. A colour without
flake is solid.

| class | about | how it looks |
{rows}

Put what you found into the colour book with where it comes from; a lead seals it, then it counts.
Solvents and spray: protection as for any paint work; the maker's sheet comes first.
"""


def flakes_guide(constants: Constants) -> str:
    """Return the page, with the sizes of the classes in force."""
    rows = "\n".join(
        f"| {trade.FLAKE[name]} | {constants.flake[name].d50_um.value:g} um | {_LOOKS[name]} |"  # type: ignore[index]
        for name in FLAKES
        if name in _LOOKS
    )
    return _GUIDE.format(rows=rows)


def sizes_told(flakes: int, flake: str, finest: str) -> list[str]:
    """Return what is told of a measured size: too few flakes, a border within the interval, vapour."""
    told = []
    if flakes < FLAKES_ASKED:
        told.append(f"{flakes} flakes tell it roughly; measure at least {FLAKES_ASKED}.")
    if finest != flake:
        told.append(f"The interval reaches into {trade.FLAKE[finest]}: take that until it is known better.")
    told.append(
        "Vapour-deposited flake is told by its mirror look, not by size: if it looks like one, it is."
    )
    return told
