"""How each kind of line looks: told apart by solid, dashed, double, dotted and crossed, never by colour."""

from itertools import pairwise
from math import hypot
from typing import Final

from prepadvisor.cards.figures.drawing import Need
from prepadvisor.cards.figures.figure import Mark, PointMm, Shape, Stroke
from prepadvisor.cards.figures.labels import along

OUTLINE: Final = Stroke(0.5)
ZONE_BORDER: Final = Stroke(0.2)
BED_BORDER: Final = Stroke(0.75, (3.2, 1.0, 0.75, 1.0))
LEADER: Final = Stroke(0.2)
NEED_STROKES: Final[dict[Need, tuple[Stroke, ...]]] = {
    "hand-then-machine": (Stroke(2.0, paint="white"), Stroke(1.0)),
    "machine": (Stroke(2.0, paint="white"), Stroke(1.0, (2.6, 1.4))),
    "hand-only": (Stroke(2.8, paint="white"), Stroke(1.9), Stroke(0.8, paint="white")),
    "hand-only-unseen": (Stroke(2.0, paint="white"), Stroke(1.1, (0.0, 1.9), round_ends=True)),
    "stop": (Stroke(3.4, paint="white"), Stroke(0.5)),
}
"""Strokes laid over one another, the widest first; white ones keep a line clear of the pattern under it."""
_CROSS_EVERY_MM: Final = 3.2
_CROSS_MM: Final = 0.9


def line_marks(path: tuple[PointMm, ...], need: Need) -> list[Mark]:
    """Return the marks of a line on the page."""
    marks: list[Mark] = [Shape(path, stroke) for stroke in NEED_STROKES[need]]
    if need == "stop":
        marks += _crosses(path)
    return marks


def _crosses(path: tuple[PointMm, ...]) -> list[Mark]:
    length = sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(path))
    count = max(1, int(length / _CROSS_EVERY_MM))
    crosses: list[Mark] = []
    for index in range(count):
        x, y = along(path, (index + 0.5) / count)
        crosses += [
            Shape(((x - slant, y - _CROSS_MM), (x + slant, y + _CROSS_MM)), Stroke(0.5))
            for slant in (_CROSS_MM, -_CROSS_MM)
        ]
    return crosses
