"""How each kind of line looks, where its number goes, and what lines and patterns mean."""

from itertools import pairwise
from math import hypot
from typing import Final, cast

import numpy as np

from prepadvisor.cards.figures.drawing import NEEDS, DrawnPanel, Need
from prepadvisor.cards.figures.figure import Dots, FigureText, Hatch, Mark, PointMm, Shape, Stroke
from prepadvisor.cards.figures.zones import DOT_RADIUS_MM, HATCH_PITCH_MM
from prepadvisor.cards.page.typeface import MM_PER_PT, width_mm
from prepadvisor.surface import Rect

# Where numbers go on a drawing, so that none lies on another, on words, or off the page.

_HAIR_MM: Final = 1e-9


def around(centre: PointMm, width: float, height: float) -> Rect:
    """Return the rectangle of a size around a centre."""
    x, y = centre
    return Rect(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def along(path: tuple[PointMm, ...], share: float) -> PointMm:
    """Return the point at a share 0..1 of a path's length."""
    lengths = [hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(path)]
    left = share * sum(lengths)
    for (x1, y1), (x2, y2), length in zip(path, path[1:], lengths, strict=False):
        if left <= length and length:
            return (x1 + (x2 - x1) * left / length, y1 + (y2 - y1) * left / length)
        left -= length
    return path[-1]


class LabelRoom:
    """The free room of one drawing; each label placed takes its part of it."""

    def __init__(self, whole: Rect) -> None:
        """Start with a whole drawing free; labels are never put outside it."""
        self._whole = whole
        self._taken: list[Rect] = []

    def take(self, area: Rect) -> None:
        """Mark a part as taken, such as words that stand at a fixed place."""
        self._taken.append(area)

    def is_free(self, area: Rect) -> bool:
        """Say whether a label may stand here."""
        whole = self._whole
        if (
            area.left < whole.left
            or area.right > whole.right
            or area.top < whole.top
            or area.bottom > whole.bottom
        ):
            return False
        return not any(area.meets(other) for other in self._taken)

    def place(self, wanted: list[PointMm], width: float, height: float) -> PointMm | None:
        """Take room for a label and return its centre, or None where the whole drawing is full.

        The wanted centres are tried in order, then all free places from near the first wanted one outwards.
        """
        for centre in wanted:
            if self.is_free(around(centre, width, height)):
                self.take(around(centre, width, height))
                return centre
        found = self._nearest_free(wanted[0], width, height)
        if found is not None:
            self.take(around(found, width, height))
        return found

    def _nearest_free(self, near: PointMm, width: float, height: float) -> PointMm | None:
        whole, step = self._whole, min(width, height) / 4
        columns = np.arange(whole.left + width / 2, whole.right - width / 2 + _HAIR_MM, step)
        rows = np.arange(whole.top + height / 2, whole.bottom - height / 2 + _HAIR_MM, step)
        x, y = (grid.ravel() for grid in np.meshgrid(columns, rows))
        free = np.ones(x.shape, dtype=bool)
        for left, top, right, bottom in self._taken:
            across = (x - width / 2 < right) & (left < x + width / 2)
            free &= ~(across & (y - height / 2 < bottom) & (top < y + height / 2))
        if not free.any():
            return None
        away = np.where(free, np.hypot(x - near[0], y - near[1]), np.inf)
        at = int(away.argmin())
        return (float(x[at]), float(y[at]))


# How each kind of line looks: told apart by solid, dashed, double, dotted and crossed, never by colour.

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


LABEL_PT: Final = 8.0
"""Type size of all words on a drawing."""
CAP: Final = 0.73
"""Height of capitals in parts of the type size."""
LEGEND_ROW_MM: Final = 3.9
ZONE_WORDS: Final = {"colour": "full colour", "fade": "fade", "clear": "clear"}
_SAMPLE_MM: Final = 6.4

LegendRows = list[list[tuple[float, str, str]]]
"""Rows of entries: place from the left in mm, what it is a sample of, its words."""


def legend_rows(drawing: DrawnPanel, room_mm: float) -> LegendRows:
    """Return what the line and zone patterns mean, in rows: place from the left, what, words."""
    entries: list[tuple[str, str]] = [
        (need, NEEDS[need]) for need in NEEDS if any(line.need == need for line in drawing.lines)
    ]
    if drawing.bed is not None:
        entries.append(("bed", "wet bed needed" if drawing.bed_need == "required" else "wet bed advised"))
    zones = {band.zone for band in drawing.zones}
    entries += [(zone, ZONE_WORDS[zone]) for zone in ("colour", "fade") if zone in zones]
    rows: LegendRows = []
    ends: list[float] = []
    for key, text in entries:
        wide = _SAMPLE_MM + 1.2 + width_mm(text, LABEL_PT)
        row = next((index for index, end in enumerate(ends) if end + wide <= room_mm), len(rows))
        if row == len(rows):
            rows.append([])
            ends.append(0.0)
        rows[row].append((ends[row], key, text))
        ends[row] += wide + 2.0
    return rows


def legend_marks(rows: LegendRows, top_mm: float) -> list[Mark]:
    """Return the marks of a legend from a height down."""
    marks: list[Mark] = []
    for index, row in enumerate(rows):
        middle = top_mm + LEGEND_ROW_MM * (index + 0.5)
        for x, key, text in row:
            marks += _sample(key, x + 0.6, x + _SAMPLE_MM, middle)
            base = middle + LABEL_PT * MM_PER_PT * CAP / 2
            marks.append(FigureText((x + _SAMPLE_MM + 1.2, base), text, LABEL_PT))
    return marks


def _sample(key: str, left: float, right: float, middle: float) -> list[Mark]:
    """Return a legend's sample: a piece of line, or a small field of a zone's pattern."""
    ends = ((left, middle), (right, middle))
    if key == "bed":
        return [Shape(ends, BED_BORDER)]
    if key == "fade":
        count = 4
        radii = [
            DOT_RADIUS_MM[0] + (DOT_RADIUS_MM[1] - DOT_RADIUS_MM[0]) * n / (count - 1) for n in range(count)
        ]
        return [Dots(tuple((left + 0.5 + n * 1.6, middle, radius) for n, radius in enumerate(radii)))]
    if key == "colour":
        starts = [left + 0.4 + n * HATCH_PITCH_MM * 2**0.5 for n in range(3)]
        return [Hatch(tuple(((x, middle + 1.2), (x + 1.6, middle - 1.2)) for x in starts), Stroke(0.22))]
    return line_marks(ends, cast("Need", key))
