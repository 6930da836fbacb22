"""Where numbers go on a drawing, so that none lies on another, on words, or off the page."""

from itertools import pairwise
from math import hypot
from typing import Final

import numpy as np

from prepadvisor.cards.figures.figure import PointMm
from prepadvisor.surface.layout import Rect

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
