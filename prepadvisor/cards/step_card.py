"""The step card: flake sizes at true scale and magnified, to hold beside a tin or a drawdown."""

import math
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.figures.figure import Dots, Figure, FigureText, Mark, Shape, Stroke, box
from prepadvisor.cards.page.leaflet import Drawing, Heading, Item, Paragraph, leaflet
from prepadvisor.wording import FLAKE

if TYPE_CHECKING:
    from prepadvisor.cards.page.pages import Pages
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.records import Constants

_MAGNIFIED: Final = 200
"""Disc on paper over flake: through a 30 x lens with 100 x prints one compares by eye; 200 fits the sheet."""
_LENS: Final = 30
_TRUE_COUNT: Final = 24
_WIDE_MM: Final = 190.0
_PT: Final = 8.0


def step_card(constants: "Constants", paper: "PaperName" = "a4") -> "Pages":
    """Return the card of the classes in force, set for printing at 100 %."""
    items: list[Item] = [
        Heading("Flake sizes: step card", top=True),
        Paragraph("Print at 100 %, not fitted to the page. The bar below is 50 mm: measure it."),
        Drawing((_ruler(),)),
    ]
    for name, own in constants.flake.items():
        items.append(Drawing((_step(name, own.d50_um.value, own.log_sd.value),)))
    items.append(
        Paragraph(
            f"Left: flakes of the median size at true scale, as the eye has them in a drawdown (the printer "
            f"rounds them to its dots). Middle: {_LENS} times, as a lens shows them. Right: the median "
            f"flake, and the sizes a tenth of the area lies below and above, {_MAGNIFIED} times. "
            f"Between two steps take the finer. Vapour flake is told by its mirror look."
        )
    )
    return leaflet("Flake sizes: step card", items, paper)


def _ruler() -> Figure:
    marks: list[Mark] = [Shape(((0.2, 2.0), (0.2, 4.0), (50.2, 4.0), (50.2, 2.0)), Stroke(0.4))]
    marks.append(FigureText((53.0, 4.4), "50 mm", _PT))
    return Figure(70.0, 6.0, "Ruler", "A bar of 50 mm to check the print's scale.", tuple(marks))


def _step(name: str, d50_um: float, log_sd: float) -> Figure:
    high = 24.0
    tenth = d50_um * math.exp(-1.2816 * log_sd), d50_um * math.exp(1.2816 * log_sd)
    title = f"{FLAKE[name]}, {d50_um:g} µm"
    marks: list[Mark] = [
        FigureText((0.0, 3.4), title, 9.0, bold=True),
        Shape(box(0.0, 5.5, 30.0, 17.0), Stroke(0.2), closed=True),
        Dots(_scattered(15.0, 14.0, 13.0, half_high=7.0, wide=d50_um / 1000.0, count=6 * _TRUE_COUNT)),
        Shape(box(34.0, 5.5, 50.0, 17.0), Stroke(0.2), closed=True),
        Dots(_scattered(59.0, 14.0, 23.0, half_high=7.0, wide=_LENS * d50_um / 1000.0, count=_TRUE_COUNT)),
    ]
    x = 92.0
    for size, says in ((tenth[0], "10 %"), (d50_um, "median"), (tenth[1], "90 %")):
        wide = size * _MAGNIFIED / 1000.0
        marks += [
            Shape(_circle(x + wide / 2, 12.0, wide / 2), Stroke(0.3), closed=True),
            FigureText((x + wide / 2, high - 1.0), f"{size:.0f} µm {says}", _PT, anchor="middle"),
        ]
        x += max(wide, 16.0) + 6.0
    says = f"Flakes of {title}: at true scale, {_LENS} times, and three sizes {_MAGNIFIED} times."
    return Figure(_WIDE_MM, high, title, says, tuple(marks))


def _scattered(
    x: float, y: float, half_wide: float, half_high: float, wide: float, count: int
) -> tuple[tuple[float, float, float], ...]:
    """Return discs of one size strewn evenly without touching: a lattice turned by the golden angle."""
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    return tuple(
        (
            x + half_wide * (2.0 * ((place * golden) % 1.0) - 1.0),
            y + half_high * (2.0 * (place + 0.5) / count - 1.0),
            wide / 2.0,
        )
        for place in range(count)
    )


def _circle(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    steps = [2.0 * math.pi * step / 72 for step in range(72)]
    return tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in steps)
