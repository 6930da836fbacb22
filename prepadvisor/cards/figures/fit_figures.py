"""Drawings of a fit, and the spray plan: test panels with their strips to scale."""

import math
import random
from collections import Counter
from collections.abc import Sequence
from statistics import NormalDist
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.figures.figure import (
    Dots,
    Figure,
    FigureText,
    Hatch,
    Mark,
    PointMm,
    Shape,
    Stroke,
    box,
)
from prepadvisor.cards.page.typeface import wrap
from prepadvisor.wording import FLAKE, TOOL

if TYPE_CHECKING:
    from prepadvisor.records import Calibration, FittedNumber, NextPanel, RowFitted

_PT: Final = 8.0
_THIN: Final = Stroke(0.2)
_FAINT: Final = Stroke(0.15, (0.8, 0.8))
_CURVE: Final = Stroke(0.45)
_STEP_MM: Final = 1.3
_DOT_MM: Final = 0.55
_STACK_MOST: Final = 14
"""Dots on one another at most; more stand in the last one's place."""
_ENDS: Final = (1 / 16, 16.0)
_TICKS: Final = ((1 / 16, "1/16"), (1 / 4, "1/4"), (1.0, "T"), (4.0, "4 T"), (16.0, "16 T"))


def curve_figure(
    rows: Sequence["RowFitted"], spread: float, title: str, *, before: bool, width_mm: float = 92.0
) -> Figure:
    """Return rows over line strength in thresholds, yes above and no below, with the curve of the chance.

    Args:
        rows: rows with their margins.
        spread: standard deviation of the curve [ln A].
        title: what it shows.
        before: whether margins and curve are those of the numbers in force.
        width_mm: width.
    """
    left, right, top, low = 12.0, width_mm - 3.0, 16.0, 46.0
    log_low, log_high = (math.log(end) for end in _ENDS)

    def x_of(margin: float) -> float:
        share = (min(max(margin, log_low), log_high) - log_low) / (log_high - log_low)
        return left + share * (right - left)

    curve = []
    for step in range(97):
        margin = log_low + (log_high - log_low) * step / 96
        curve.append((x_of(margin), low - NormalDist().cdf(margin / spread) * (low - top)))
    stacked: Counter[tuple[str, int]] = Counter()
    discs = []
    for each in rows:
        x = x_of(each.margin_before if before else each.margin)
        column = round(x / _STEP_MM)
        high = min(stacked[each.row.shows, column], _STACK_MOST)
        stacked[each.row.shows, column] += 1
        level = {"yes": top - 1.4 - high * _STEP_MM, "no": low + 1.4 + high * _STEP_MM}.get(
            each.row.shows, (top + low) / 2 - high * _STEP_MM
        )
        discs.append((column * _STEP_MM, max(level, 5.0), _DOT_MM))
    deepest = max([low, *(y for _, y, _ in discs)]) + 1.5
    marks: list[Mark] = [
        FigureText((0.0, 3.2), title, _PT, bold=True),
        Shape(box(left, top, right - left, low - top), _THIN, closed=True),
        Shape(tuple(curve), _CURVE),
        Dots(tuple(discs)),
        FigureText((left - 1.5, top + 1.0), "yes", _PT, anchor="end"),
        FigureText((left - 1.5, low + 1.0), "no", _PT, anchor="end"),
    ]
    for value, says in _TICKS:
        at = x_of(math.log(value))
        marks += [
            Shape(((at, top), (at, low)), _FAINT),
            FigureText((at, deepest + 3.4), says, _PT, anchor="middle"),
        ]
    says = (
        f"{title}: {len(rows)} rows over line strength in thresholds T, from 1/16 to 16; those that "
        f"show above, those that do not below; the curve rises with a scatter of {spread:.2f} in ln A."
    )
    return Figure(width_mm, deepest + 5.0, title, says, tuple(marks))


def intervals_figure(numbers: Sequence[tuple[str, "FittedNumber"]], width_mm: float = 190.0) -> Figure:
    """Return the 90 % interval of each number before (hollow) and after (filled), on one scale of ratios.

    Args:
        numbers: what each is called, and it; those with rows.
        width_mm: width.
    """
    left, right, row = 62.0, width_mm - 4.0, 6.2
    ratios = [
        end / one.before for _, one in numbers for end in (one.before_low, one.before_high, one.low, one.high)
    ]
    widest = max([2.0, *(max(ratio, 1 / max(ratio, 1e-9)) for ratio in ratios)])
    reach = math.log(min(widest, 20.0))

    def x_of(ratio: float) -> float:
        share = (min(max(math.log(max(ratio, 1e-9)), -reach), reach) + reach) / (2 * reach)
        return left + share * (right - left)

    marks: list[Mark] = [
        FigureText((0.0, 3.2), "90 % intervals, before and after, as ratios", _PT, bold=True)
    ]
    y = 8.0
    for name, one in numbers:
        marks.append(FigureText((0.0, y + 2.2), name, _PT))
        for low, high, value, top, filled in (
            (one.before_low, one.before_high, one.before, y - 0.6, False),
            (one.low, one.high, one.value, y + 1.6, True),
        ):
            ends = x_of(low / one.before), x_of(high / one.before)
            bar = box(ends[0], top, max(ends[1] - ends[0], 0.3), 1.5)
            marks.append(Shape(bar, _THIN, closed=True, fill="black" if filled else "white"))
            at = x_of(value / one.before)
            marks.append(Shape(((at, top - 0.5), (at, top + 2.0)), Stroke(0.5)))
        y += row
    ticks = [ratio for ratio in (1 / 8, 1 / 4, 1 / 2, 1.0, 2.0, 4.0, 8.0) if abs(math.log(ratio)) <= reach]
    for ratio in ticks:
        at = x_of(ratio)
        marks += [
            Shape(((at, 5.5), (at, y)), _FAINT),
            FigureText((at, y + 3.6), f"{ratio:g} x", _PT, anchor="middle"),
        ]
    says = "; ".join(
        f"{name} {one.before_low / one.before:.2g} to {one.before_high / one.before:.2g} before, "
        f"{one.low / one.before:.2g} to {one.high / one.before:.2g} after"
        for name, one in numbers
    )
    return Figure(
        width_mm,
        y + 5.0,
        "Intervals before and after",
        f"As ratios to the number in force: {says}.",
        tuple(marks),
    )


def reliability_figure(calibration: "Calibration", title: str, size_mm: float = 70.0) -> Figure:
    """Return the share that showed over the chance predicted, with exact intervals and what would agree."""
    left, right, top, low = 12.0, size_mm - 3.0, 6.0, size_mm - 12.0

    def at(predicted: float, showed: float) -> PointMm:
        return (left + predicted * (right - left), low - showed * (low - top))

    marks: list[Mark] = [
        FigureText((0.0, 3.2), title, _PT, bold=True),
        Shape(box(left, top, right - left, low - top), _THIN, closed=True),
        Shape((at(0, 0), at(1, 1)), _FAINT),
    ]
    for each in calibration.bins:
        marks += [
            Shape((at(each.predicted, each.low), at(each.predicted, each.high)), Stroke(0.3)),
            Dots(((*at(each.predicted, each.showed), 0.9),)),
        ]
    for share in (0.0, 0.5, 1.0):
        marks += [
            FigureText((left - 1.5, at(0, share)[1] + 1.0), f"{share:.0%}", _PT, anchor="end"),
            FigureText((at(share, 0)[0], low + 3.8), f"{share:.0%}", _PT, anchor="middle"),
        ]
    marks.append(FigureText(((left + right) / 2, low + 7.8), "predicted to show", _PT, anchor="middle"))
    says = "; ".join(
        f"of {each.rows} rows predicted {each.predicted:.0%}, {each.showed:.0%} showed"
        for each in calibration.bins
    )
    return Figure(
        size_mm, size_mm - 2.0, title, f"Brier score {calibration.brier:.3f}. {says}.", tuple(marks)
    )


# The spray plan: test panels with their strips to scale, a flake a panel, in an order drawn by lot.

SCALE: Final = 0.25
"""Page mm for a panel mm."""
STRIP_MM: Final = 70.0
BETWEEN_MM: Final = 15.0
LONG_MM: Final = 350.0
STRIPS_MOST: Final = 8
_PLAN_PT: Final = 8.0


def plan_figures(chosen: Sequence["NextPanel"]) -> list[Figure]:
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


def _panel(flake: str, strips: Sequence[tuple[int, "NextPanel"]]) -> Figure:
    wide = len(strips) * (STRIP_MM + BETWEEN_MM) + BETWEEN_MM
    top, high = 9.0, LONG_MM * SCALE
    title = f"Panel in {FLAKE.get(flake, flake)}: {wide:.0f} x {LONG_MM:.0f} mm"
    marks: list[Mark] = [
        FigureText((0.0, 3.4), title, 9.0, bold=True),
        Shape(box(0.0, top, wide * SCALE, high), Stroke(0.5), closed=True),
    ]
    for at, (number, each) in enumerate(strips):
        left = (BETWEEN_MM + at * (STRIP_MM + BETWEEN_MM)) * SCALE
        marks += _strip(left, top, high, number, each)
    below = top + high + 4.0
    marks.append(
        FigureText(
            (0.0, below), f"strips {STRIP_MM:.0f} mm, {BETWEEN_MM:.0f} mm left as it is between", _PLAN_PT
        )
    )
    marks.append(FigureText((0.0, below + 4.0), "dotted: wet bed over the lower half only", _PLAN_PT))
    order = ", ".join(
        f"strip {number} {each.grade} by {TOOL.get(each.tool, each.tool)}, {each.coats} coats"
        for number, each in strips
    )
    return Figure(max(wide * SCALE, 90.0), below + 6.0, title, f"From left to right: {order}.", tuple(marks))


def _strip(left: float, top: float, high: float, number: int, each: "NextPanel") -> list[Mark]:
    wide = STRIP_MM * SCALE
    middle = left + wide / 2
    words = wrap(TOOL.get(each.tool, each.tool), wide, _PLAN_PT)
    marks: list[Mark] = [
        Shape(box(left, top, wide, high), Stroke(0.25), closed=True),
        FigureText((middle, top + 6.0), str(number), 11.0, bold=True, anchor="middle"),
        FigureText((middle, top + 13.0), each.grade, 11.0, bold=True, anchor="middle"),
        *(
            FigureText((middle, top + 18.0 + 3.6 * line), word, _PLAN_PT, anchor="middle")
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
            FigureText((middle, half + 5.5), coats, _PLAN_PT, bold=True, anchor="middle"),
            Hatch(dots, Stroke(0.5, (), round_ends=True)),
        ]
    return marks
