"""The grade ruler with its risks, and grit steps as a staircase of film cut."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cards.figures.figure import (
    Figure,
    FigureText,
    Hatch,
    Mark,
    Paint,
    PointMm,
    Shape,
    Stroke,
    box,
)
from prepadvisor.cards.page.typeface import MM_PER_PT, width_mm
from prepadvisor.cards.page.typeface import width_mm as text_width_mm
from prepadvisor.records import RANK

if TYPE_CHECKING:
    from prepadvisor.records import Grade

_PT: Final = 8.0
_CAP_MM: Final = _PT * MM_PER_PT * 0.73
_BAR_MM: Final = 14.0
"""Height of a bar for a risk of 1."""
_HIGH: Final = 0.72
"""From this risk on the number stands in the bar."""
_LEFT_MM: Final = 24.0
_AXIS_MM: Final = 9.6
_ROW_MM: Final = 4.4


class Ruler(NamedTuple):
    """What a ruler shows of one place in one zone.

    A risk bar stands for each grade that has an estimate. `asked` is the range that the rules ask for where
    no grade of it is on the shelf, or where another reason stops the work.
    """

    title: str
    shelf: tuple["Grade", ...]
    allowed: tuple["Grade", "Grade"] | None
    chosen: "Grade | None"
    hand_limit: "Grade | None" = None
    done: "Grade | None" = None
    risks: Mapping["Grade", float] = {}
    risk_limit: float | None = None
    no_risk: str = ""
    asked: tuple["Grade", "Grade"] | None = None


def ruler_figure(ruler: Ruler, width_mm_: float) -> Figure:
    """Return the ruler at a width in mm; a grade used or named but not on the shelf stands on it too."""
    extra = [grade for grade in (ruler.done, ruler.hand_limit, ruler.chosen, *(ruler.asked or ())) if grade]
    scale = sorted({*ruler.shelf, *extra}, key=RANK.__getitem__)
    step = (width_mm_ - _LEFT_MM) / max(1, len(scale))
    at = {grade: _LEFT_MM + step * (index + 0.5) for index, grade in enumerate(scale)}
    marks: list[Mark] = []
    marks += _bracket(ruler, at)
    marks += _axis(ruler, scale, at, width_mm_)
    y = _AXIS_MM + 2.0
    if ruler.risks:
        marks += _bars(ruler, scale, at, step=step, top=y, width=width_mm_)
        y += _BAR_MM + 1.2
    else:
        marks.append(FigureText((0.0, y + 3.2), ruler.no_risk or "no risk judged here", _PT))
        y += 4.4
    for label, grade, sign, says in (
        ("by hand", ruler.hand_limit, "▶", "this or finer ahead of the DA"),
        ("was done", ruler.done, "▲", "scuffed with this"),
    ):
        if grade:
            marks += _pointer(label, (at[grade], y), sign, says, width_mm_)
            y += _ROW_MM
    return Figure(width_mm_, y + 0.6, f"Grade ruler: {ruler.title}", _says(ruler), tuple(marks))


def _bracket(ruler: Ruler, at: dict["Grade", float]) -> list[Mark]:
    y = 3.0
    marks: list[Mark] = [FigureText((0.0, y + _CAP_MM / 2), "grit range", _PT, bold=True)]
    span = ruler.allowed or ruler.asked
    inside = [at[grade] for grade in at if span and _between(grade, span)]
    if not ruler.allowed:
        marks.append(FigureText((_LEFT_MM, y + _CAP_MM / 2), "STOP, see the hold", _PT, bold=True))
    if not inside:
        return marks
    left, right = min(inside) - 4.5, max(inside) + 4.5
    path = ((left, y + 2.0), (left, y), (right, y), (right, y + 2.0))
    return [*marks, Shape(path, Stroke(0.8) if ruler.allowed else Stroke(0.5, (1.4, 1.0)))]


def _between(grade: "Grade", allowed: tuple["Grade", "Grade"]) -> bool:
    coarsest, finest = allowed
    return RANK[coarsest] <= RANK[grade] <= RANK[finest]


def _axis(ruler: Ruler, scale: list["Grade"], at: dict["Grade", float], width: float) -> list[Mark]:
    base = _AXIS_MM - 1.6
    marks: list[Mark] = [
        FigureText((0.0, base), "coarse → fine", _PT),
        Shape(((_LEFT_MM, _AXIS_MM), (width, _AXIS_MM)), Stroke(0.35)),
    ]
    for grade in scale:
        chosen = grade == ruler.chosen
        bold = chosen or bool(ruler.allowed and _between(grade, ruler.allowed))
        if chosen:
            wide = width_mm(grade, _PT, bold=True) + 1.8
            plate = box(at[grade] - wide / 2, base - _CAP_MM - 0.8, wide, _CAP_MM + 1.7)
            marks.append(Shape(plate, None, closed=True, fill="black"))
        paint: Paint = "white" if chosen else "black"
        marks.append(
            FigureText(at=(at[grade], base), text=grade, size_pt=_PT, bold=bold, anchor="middle", paint=paint)
        )
        if grade not in ruler.shelf:
            marks.append(
                Shape(((at[grade] - 5, base + 0.7), (at[grade] + 5, base + 0.7)), Stroke(0.2, (0.8, 0.6)))
            )
    return marks


def _bars(
    ruler: Ruler, scale: list["Grade"], at: dict["Grade", float], step: float, top: float, width: float
) -> list[Mark]:
    floor = top + _BAR_MM
    marks: list[Mark] = [
        FigureText((0.0, top + 3.4), "risk that a", _PT),
        FigureText((0.0, top + 6.8), "line shows", _PT),
        Shape(((_LEFT_MM, floor), (width, floor)), Stroke(0.35)),
    ]
    wide = min(6.0, step * 0.5)
    values: list[tuple[float, float, bool]] = []
    limit = ruler.risk_limit
    for grade in scale:
        if grade not in ruler.risks:
            continue
        risk = ruler.risks[grade]
        over = limit is not None and risk > limit
        high = max(0.25, _BAR_MM * risk)
        corners = box(at[grade] - wide / 2, floor - high, wide, high)
        marks.append(Shape(corners, Stroke(0.3), closed=True, fill="black" if over else "white"))
        if not over:
            marks.append(Hatch(_slant(at[grade] - wide / 2, floor - high, wide, high), Stroke(0.2)))
        values.append((at[grade], risk, over))
    if limit is not None:
        y = floor - _BAR_MM * limit
        marks.append(Shape(((_LEFT_MM, y), (width, y)), Stroke(0.35, (1.6, 0.9))))
        marks.append(FigureText((0.0, floor), f"allowed {limit:.2f}", _PT, bold=True))
    return marks + [mark for x, risk, over in values for mark in _value(x, risk, over, floor)]


def _value(x: float, risk: float, over: bool, floor: float) -> list[Mark]:
    """Return a bar's number: over it on white, so that no line runs through it, or in it where it is high."""
    if over and risk >= _HIGH:
        return [FigureText((x, floor - 1.4), f"{risk:.2f}", _PT, bold=True, anchor="middle", paint="white")]
    base = floor - max(0.25, _BAR_MM * risk) - 0.8
    plate = box(x - 3.3, base - _CAP_MM - 0.3, 6.6, _CAP_MM + 0.6)
    return [
        Shape(plate, None, closed=True, fill="white"),
        FigureText((x, base), f"{risk:.2f}", _PT, bold=over, anchor="middle"),
    ]


def _slant(left: float, top: float, wide: float, high: float) -> tuple[tuple[PointMm, PointMm], ...]:
    pieces = []
    for offset in range(1, int((wide + high) / 1.1) + 1):
        reach = offset * 1.1
        start = (left + min(reach, wide), top + max(0.0, reach - wide))
        end = (left + max(0.0, reach - high), top + min(reach, high))
        pieces.append((start, end))
    return tuple(pieces)


def _pointer(label: str, at: PointMm, sign: str, says: str, width: float) -> list[Mark]:
    x, base = at[0], at[1] + 3.0
    text_mm = width_mm(f"{sign} {says}", _PT)
    fits = x + text_mm < width
    words = (
        FigureText((x - 1.0, base), f"{sign} {says}", _PT)
        if fits
        else FigureText((x + 1.5, base), f"{says} {sign}", _PT, anchor="end")
    )
    return [FigureText((0.0, base), label, _PT, bold=True), words]


def _says(ruler: Ruler) -> str:
    parts = [f"Shelf from coarse to fine: {', '.join(ruler.shelf)}."]
    if ruler.allowed:
        parts.append(f"Allowed {ruler.allowed[0]} to {ruler.allowed[1]}.")
    elif ruler.asked:
        parts.append(f"The rules ask for {ruler.asked[0]} to {ruler.asked[1]}.")
    parts.append(f"Chosen {ruler.chosen}." if ruler.chosen else "No safe grade.")
    if ruler.hand_limit:
        parts.append(f"By hand ahead of the DA {ruler.hand_limit} or finer.")
    if ruler.done:
        parts.append(f"Scuffed with {ruler.done}.")
    if ruler.risks:
        limit = f", allowed {ruler.risk_limit:.2f}" if ruler.risk_limit is not None else ""
        parts.append(
            "Risk: " + ", ".join(f"{grade} {risk:.2f}" for grade, risk in ruler.risks.items()) + limit + "."
        )
    return " ".join(parts)


# Grit steps as a staircase of film cut, with the stops for guide coat.

_STAIR_PT: Final = 8.0
_TOP_MM: Final = 13.0
_DROP_MM: Final = 16.0
"""Height of the whole stair."""
_STEP_MOST_MM: Final = 40.0


class Stair(NamedTuple):
    """One grit step: what is used, how long, what it cuts, and whether guide coat goes on before it."""

    grade: str
    tool: str
    minutes: str
    film_off_um: float
    film_off: str
    powder: bool


class Staircase(NamedTuple):
    """The steps of a face or patch from what is on it now; film in words as the job's units have it."""

    title: str
    start: str
    stairs: tuple[Stair, ...]
    total: str
    limit: str


def staircase_figure(case: Staircase, width_mm: float) -> Figure:
    """Return the staircase at a width in mm."""
    total = sum(stair.film_off_um for stair in case.stairs)
    start_mm = max(16.0, text_width_mm(case.start, _STAIR_PT) + 3.0)
    step = min(_STEP_MOST_MM, (width_mm - start_mm) / max(1, len(case.stairs)))
    per_um = _DROP_MM / max(total, 1e-9)
    x, y = 0.0, _TOP_MM
    path = [(x, y)]
    marks: list[Mark] = [
        FigureText((0.0, 3.0), case.title, _STAIR_PT, bold=True),
        FigureText((0.0, y - 1.4), case.start, _STAIR_PT),
    ]
    x += start_mm
    path.append((x, y))
    for stair in case.stairs:
        if stair.powder:
            marks += _stop(x, y)
        y += stair.film_off_um * per_um
        path += [(x, y), (x + step, y)]
        top = y - 1.2
        at = x + (2.8 if stair.powder else 1.0)
        marks.append(FigureText((at, top), stair.film_off, _STAIR_PT))
        marks.append(FigureText((at, top - 3.4), stair.grade, 10.0, bold=True))
        x += step
    marks.append(Shape(tuple(path), Stroke(0.8)))
    bottom = _TOP_MM + _DROP_MM
    x = start_mm
    for stair in case.stairs:
        marks.append(FigureText((x + 1.0, bottom + 4.2), stair.tool, _STAIR_PT))
        marks.append(FigureText((x + 1.0, bottom + 7.6), stair.minutes, _STAIR_PT))
        x += step
    marks.append(FigureText((0.0, bottom + 11.6), _sum(case), _STAIR_PT, bold=True))
    return Figure(width_mm, bottom + 12.8, f"Grit steps: {case.title}", _step_says(case), tuple(marks))


def _stop(x: float, y: float) -> list[Mark]:
    """Return the sign for a stop of guide coat at the edge of a stair."""
    diamond = ((x, y - 2.2), (x + 1.6, y - 0.6), (x, y + 1.0), (x - 1.6, y - 0.6))
    return [
        Shape(diamond, Stroke(0.3), closed=True, fill="black"),
        FigureText((x - 1.2, y + 4.0), "powder", _STAIR_PT, anchor="end"),
    ]


def _sum(case: Staircase) -> str:
    return f"film off {case.total}" + (f" of {case.limit} at most" if case.limit else "")


def _step_says(case: Staircase) -> str:
    steps = "; ".join(
        f"{'powder, then ' if stair.powder else ''}{stair.grade} with {stair.tool}, "
        f"{stair.film_off}, {stair.minutes}"
        for stair in case.stairs
    )
    return f"From {case.start}: {steps}. {_sum(case)}."
