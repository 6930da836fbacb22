"""The blend layout of a panel: how deep a point lies from where the colour comes in.

A panel is a rectangle, x from its front edge, y from its top edge, in mm. The colour comes in over whole
sides and over patches (rectangles); a point's depth is its smallest distance to any of these. All points
below a depth form a union of convex regions, so a path is clipped exactly; areas stand in `areas`.
"""

import itertools
from collections.abc import Sequence
from functools import lru_cache
from math import hypot, sqrt
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.named import NamedTuple

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from prepadvisor.surface.domain import Array

_HAIR_MM: Final = 1e-9
"""A line that lies exactly at a depth is not below it."""

_NEAR_MM: Final = 0.1
"""How near the greatest depth is found."""


class Rect(NamedTuple):
    """A rectangle on a panel or a drawing in mm, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Rect") -> bool:
        """Say whether two rectangles overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


class Layout(NamedTuple):
    """Where the colour comes in: panel size in mm, sides (front, rear, top, bottom) and rectangles."""

    length_mm: float
    height_mm: float
    sides: tuple[str, ...] = ()
    rects: tuple[Rect, ...] = ()


def depth_mm(layout: Layout, x_mm: "ArrayLike", y_mm: "ArrayLike") -> "Array":
    """Return the depth of points in mm: the smallest distance to any source, infinite without a source.

    Args:
        layout: the panel and its sources.
        x_mm: distances from the front edge; any shape.
        y_mm: distances from the top edge; same shape.
    """
    x, y = np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float)
    depth = np.full(np.broadcast(x, y).shape, np.inf)
    from_side = {"front": x, "rear": layout.length_mm - x, "top": y, "bottom": layout.height_mm - y}
    for side in layout.sides:
        depth = np.minimum(depth, from_side[side])
    for rect in layout.rects:
        across = np.maximum(np.maximum(rect.left - x, x - rect.right), 0)
        down = np.maximum(np.maximum(rect.top - y, y - rect.bottom), 0)
        depth = np.minimum(depth, np.hypot(across, down))
    return depth


@lru_cache(maxsize=4096)
def farthest_mm(layout: Layout) -> float:
    """Return the greatest depth of any point of the panel in mm, to within a tenth of a millimetre.

    Cells are halved as long as a point in them could still be deeper: depth changes no faster than the way
    walked. Exact where only sides are sources.
    """
    if not layout.rects:
        return _farthest_from_sides(layout)
    half = np.array([layout.length_mm, layout.height_mm]) / 32
    steps = np.arange(16) * 2 + 1
    x, y = (grid.ravel() for grid in np.meshgrid(steps * half[0], steps * half[1]))
    deepest = 0.0
    while True:
        depth = depth_mm(layout, x, y)
        deepest = max(deepest, float(depth.max()))
        reach = float(np.hypot(*half))
        if reach < _NEAR_MM:
            return deepest
        kept = depth + reach > deepest + _NEAR_MM / 2
        if not kept.any():
            return deepest
        half = half / 2
        x = np.concatenate([x[kept] + sign * half[0] for sign in (-1, 1, -1, 1)])
        y = np.concatenate([y[kept] + sign * half[1] for sign in (-1, -1, 1, 1)])


def _farthest_from_sides(layout: Layout) -> float:
    """Find the deepest point for sides alone: in the middle between two of them, or at the far side."""
    along = [layout.length_mm for side in layout.sides if side in {"front", "rear"}]
    across = [layout.height_mm for side in layout.sides if side in {"top", "bottom"}]
    reaches = [size[0] / len(size) for size in (along, across) if size]
    return min(reaches, default=float("inf"))


@lru_cache(maxsize=16384)
def length_below_mm(layout: Layout, path: tuple[tuple[float, float], ...], limit_mm: float) -> float:
    """Return how much of a path, in mm, lies at a depth below a limit.

    Args:
        layout: the panel and its sources.
        path: two or more points in mm.
        limit_mm: the depth; a stretch exactly at it does not count. Infinite for the whole path.
    """
    if limit_mm == float("inf"):
        return path_length_mm(path)
    return sum(
        hypot(x2 - x1, y2 - y1) * _share_below(layout, (x1, y1, x2, y2), limit_mm - _HAIR_MM)
        for (x1, y1), (x2, y2) in itertools.pairwise(path)
    )


def path_length_mm(path: Sequence[tuple[float, float]]) -> float:
    """Return the length of a path of points in mm."""
    return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in itertools.pairwise(path))


def _share_below(layout: Layout, segment: tuple[float, float, float, float], limit: float) -> float:
    if limit < 0:
        return 0.0
    spans = [_clip(segment, region) for region in _boxes(layout, limit)]
    for rect in layout.rects:
        for x in (rect.left, rect.right):
            spans.extend(_clip_disc(segment, x, y, limit) for y in (rect.top, rect.bottom))
    return _covered([span for span in spans if span is not None])


def _boxes(layout: Layout, limit: float) -> list[Rect]:
    """Return the boxes that, with discs at the corners of rectangles, make up all points below a limit."""
    far_x, far_y, big = layout.length_mm, layout.height_mm, 1e9
    by_side = {
        "front": Rect(-big, -big, limit, big),
        "rear": Rect(far_x - limit, -big, big, big),
        "top": Rect(-big, -big, big, limit),
        "bottom": Rect(-big, far_y - limit, big, big),
    }
    boxes = [by_side[side] for side in layout.sides]
    for left, top, right, bottom in layout.rects:
        boxes.append(Rect(left - limit, top, right + limit, bottom))
        boxes.append(Rect(left, top - limit, right, bottom + limit))
    return boxes


def _clip(segment: tuple[float, float, float, float], box: Rect) -> tuple[float, float] | None:
    """Return the part of a segment inside a box as shares of its length (Liang and Barsky's clipping)."""
    x1, y1, x2, y2 = segment
    start, end = 0.0, 1.0
    for origin, move, low, high in ((x1, x2 - x1, box.left, box.right), (y1, y2 - y1, box.top, box.bottom)):
        if move == 0:
            if not low <= origin <= high:
                return None
            continue
        near, far = sorted(((low - origin) / move, (high - origin) / move))
        start, end = max(start, near), min(end, far)
    return (start, end) if start < end else None


def _clip_disc(
    segment: tuple[float, float, float, float], x: float, y: float, radius: float
) -> tuple[float, float] | None:
    x1, y1, x2, y2 = segment
    move_x, move_y = x2 - x1, y2 - y1
    squared = move_x * move_x + move_y * move_y
    if squared == 0:
        return None
    middle = ((x - x1) * move_x + (y - y1) * move_y) / squared
    off = (x1 + middle * move_x - x) ** 2 + (y1 + middle * move_y - y) ** 2
    if off >= radius * radius:
        return None
    half = sqrt((radius * radius - off) / squared)
    start, end = max(0.0, middle - half), min(1.0, middle + half)
    return (start, end) if start < end else None


def _covered(spans: list[tuple[float, float]]) -> float:
    """Return the length of the union of intervals."""
    total, reached = 0.0, -float("inf")
    for start, end in sorted(spans):
        if end > reached:
            total += end - max(start, reached)
            reached = end
    return total
