"""Grit steps as a staircase of film cut, with the stops for guide coat."""

from typing import Final

from prepadvisor.cards.figures.figure import Figure, FigureText, Mark, Shape, Stroke
from prepadvisor.cards.page.typeface import width_mm as text_width_mm
from prepadvisor.named import NamedTuple

_PT: Final = 8.0
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
    start_mm = max(16.0, text_width_mm(case.start, _PT) + 3.0)
    step = min(_STEP_MOST_MM, (width_mm - start_mm) / max(1, len(case.stairs)))
    per_um = _DROP_MM / max(total, 1e-9)
    x, y = 0.0, _TOP_MM
    path = [(x, y)]
    marks: list[Mark] = [
        FigureText((0.0, 3.0), case.title, _PT, bold=True),
        FigureText((0.0, y - 1.4), case.start, _PT),
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
        marks.append(FigureText((at, top), stair.film_off, _PT))
        marks.append(FigureText((at, top - 3.4), stair.grade, 10.0, bold=True))
        x += step
    marks.append(Shape(tuple(path), Stroke(0.8)))
    bottom = _TOP_MM + _DROP_MM
    x = start_mm
    for stair in case.stairs:
        marks.append(FigureText((x + 1.0, bottom + 4.2), stair.tool, _PT))
        marks.append(FigureText((x + 1.0, bottom + 7.6), stair.minutes, _PT))
        x += step
    marks.append(FigureText((0.0, bottom + 11.6), _sum(case), _PT, bold=True))
    return Figure(width_mm, bottom + 12.8, f"Grit steps: {case.title}", _says(case), tuple(marks))


def _stop(x: float, y: float) -> list[Mark]:
    """Return the sign for a stop of guide coat at the edge of a stair."""
    diamond = ((x, y - 2.2), (x + 1.6, y - 0.6), (x, y + 1.0), (x - 1.6, y - 0.6))
    return [
        Shape(diamond, Stroke(0.3), closed=True, fill="black"),
        FigureText((x - 1.2, y + 4.0), "powder", _PT, anchor="end"),
    ]


def _sum(case: Staircase) -> str:
    return f"film off {case.total}" + (f" of {case.limit} at most" if case.limit else "")


def _says(case: Staircase) -> str:
    steps = "; ".join(
        f"{'powder, then ' if stair.powder else ''}{stair.grade} with {stair.tool}, "
        f"{stair.film_off}, {stair.minutes}"
        for stair in case.stairs
    )
    return f"From {case.start}: {steps}. {_sum(case)}."
