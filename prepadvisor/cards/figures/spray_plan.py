"""The spray plan: test panels with their strips to scale, a flake a panel, in an order drawn by lot."""

import random
from collections.abc import Sequence
from typing import Final

from prepadvisor.cards.figures.figure import Figure, FigureText, Hatch, Mark, Shape, Stroke, box
from prepadvisor.cards.page.typeface import wrap
from prepadvisor.records.fit import NextPanel
from prepadvisor.wording import trade

SCALE: Final = 0.25
"""Page mm for a panel mm."""
STRIP_MM: Final = 70.0
BETWEEN_MM: Final = 15.0
LONG_MM: Final = 350.0
STRIPS_MOST: Final = 8
_PT: Final = 8.0


def plan_figures(chosen: Sequence[NextPanel]) -> list[Figure]:
    """Return a drawing for each panel to spray: strips of one flake, at most eight on a panel."""
    by_flake: dict[str, list[tuple[int, NextPanel]]] = {}
    for number, each in enumerate(chosen, 1):
        by_flake.setdefault(each.flake, []).append((number, each))
    figures: list[Figure] = []
    for flake, strips in by_flake.items():
        lot = random.Random(f"{flake} {len(strips)}")  # noqa: S311 - an order, the same each time it is printed
        drawn = lot.sample(strips, len(strips))
        starts = range(0, len(drawn), STRIPS_MOST)
        figures.extend(_panel(flake, drawn[first : first + STRIPS_MOST]) for first in starts)
    return figures


def _panel(flake: str, strips: Sequence[tuple[int, NextPanel]]) -> Figure:
    wide = len(strips) * (STRIP_MM + BETWEEN_MM) + BETWEEN_MM
    top, high = 9.0, LONG_MM * SCALE
    title = f"Panel in {trade.FLAKE.get(flake, flake)}: {wide:.0f} x {LONG_MM:.0f} mm"
    marks: list[Mark] = [
        FigureText((0.0, 3.4), title, 9.0, bold=True),
        Shape(box(0.0, top, wide * SCALE, high), Stroke(0.5), closed=True),
    ]
    for at, (number, each) in enumerate(strips):
        left = (BETWEEN_MM + at * (STRIP_MM + BETWEEN_MM)) * SCALE
        marks += _strip(left, top, high, number, each)
    below = top + high + 4.0
    marks.append(
        FigureText((0.0, below), f"strips {STRIP_MM:.0f} mm, {BETWEEN_MM:.0f} mm left as it is between", _PT)
    )
    marks.append(FigureText((0.0, below + 4.0), "dotted: wet bed over the lower half only", _PT))
    order = ", ".join(
        f"strip {number} {each.grade} by {trade.TOOL.get(each.tool, each.tool)}, {each.coats} coats"
        for number, each in strips
    )
    return Figure(max(wide * SCALE, 90.0), below + 6.0, title, f"From left to right: {order}.", tuple(marks))


def _strip(left: float, top: float, high: float, number: int, each: NextPanel) -> list[Mark]:
    wide = STRIP_MM * SCALE
    middle = left + wide / 2
    words = wrap(trade.TOOL.get(each.tool, each.tool), wide, _PT)
    marks: list[Mark] = [
        Shape(box(left, top, wide, high), Stroke(0.25), closed=True),
        FigureText((middle, top + 6.0), str(number), 11.0, bold=True, anchor="middle"),
        FigureText((middle, top + 13.0), each.grade, 11.0, bold=True, anchor="middle"),
        *(
            FigureText((middle, top + 18.0 + 3.6 * line), word, _PT, anchor="middle")
            for line, word in enumerate(words)
        ),
    ]
    if each.coats:
        half = top + high / 2
        dots = tuple(
            (
                (left + 2.0 + 2.5 * column, half + 9.0 + 2.5 * row),
                (left + 2.0 + 2.5 * column, half + 9.0 + 2.5 * row),
            )
            for column in range(int((wide - 2.0) / 2.5))
            for row in range(int((high / 2 - 11.0) / 2.5))
        )
        coats = f"{each.coats} coat{'s' if each.coats > 1 else ''}"
        marks += [
            Shape(((left, half), (left + wide, half)), Stroke(0.35, (1.5, 1.0))),
            FigureText((middle, half + 5.5), coats, _PT, bold=True, anchor="middle"),
            Hatch(dots, Stroke(0.5, (), round_ends=True)),
        ]
    return marks
