"""Shapes on a panel: the area below a depth of its blend layout, and whether two lie near one another.

A path is halved again and again into boxes; two shapes are only looked at closer where their boxes are near.
So the work grows with the stretches that run side by side, not with the product of their corners.
"""

import itertools
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import asin, hypot, inf, sqrt
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.named import NamedTuple
from prepadvisor.surface.layout import Layout, Rect, depth_mm

if TYPE_CHECKING:
    from prepadvisor.surface.domain import Array

# The area of a panel that lies below a depth of its blend layout, in closed form.
#
# Cut at every height where the outline of the region starts, ends, bends or meets an edge, a panel falls
# into slabs whose every border is a straight upright or one arc; the area between two of those is
# elementary.

_ON_OUTLINE_MM: Final = 1e-6
"""A crossing of two boundaries lies on the outline if it is no deeper inside the region than this."""


class _Border(NamedTuple):
    """An upright or an arc that bounds a slab: where it stands at half height, and the area to its left."""

    x_mm: float
    left_mm2: float


@lru_cache(maxsize=16384)
def area_below_mm2(layout: Layout, limit_mm: float, part: Rect, holes: tuple[Rect, ...] = ()) -> float:
    """Return the area in mm² of a part of the panel that lies below a depth, without some holes.

    Exact but for rounding: held against a geometry library to a relative 1e-6.

    Args:
        layout: the panel and its sources.
        limit_mm: the depth in mm; infinite for the whole part.
        part: the rectangle looked at, such as the whole panel or a patch.
        holes: rectangles that do not count; they may overlap.
    """
    if limit_mm <= 0:
        return 0.0
    heights = _heights(layout, limit_mm, part, holes)
    return sum(
        _slab(layout, limit_mm, part, holes=holes, top=top, bottom=bottom)
        for top, bottom in itertools.pairwise(heights)
    )


def _heights(layout: Layout, limit: float, part: Rect, holes: tuple[Rect, ...]) -> list[float]:
    cuts = {part.top, part.bottom}
    for hole in holes:
        cuts |= {hole.top, hole.bottom}
    if limit < inf:
        cuts |= {limit, layout.height_mm - limit}
        for rect in layout.rects:
            cuts |= {rect.top - limit, rect.top, rect.bottom, rect.bottom + limit}
        if layout.rects:
            cuts |= set(_crossings(layout, limit, part, holes))
    return sorted(cut for cut in cuts if part.top <= cut <= part.bottom)


def _crossings(layout: Layout, limit: float, part: Rect, holes: tuple[Rect, ...]) -> list[float]:
    """Return the heights at which the arcs round patches meet uprights and one another on the outline."""
    rects = np.array(layout.rects)
    centres = np.array(
        [(x, y) for left, top, right, bottom in rects for x in (left, right) for y in (top, bottom)]
    )
    uprights = np.concatenate(
        [
            [part.left, part.right, limit, layout.length_mm - limit],
            [x for hole in holes for x in (hole.left, hole.right)],
            rects[:, 0] - limit,
            rects[:, 2] + limit,
        ]
    )
    off = uprights[None, :] - centres[:, 0, None]
    rise = np.sqrt(np.maximum(limit**2 - off**2, 0))
    reached = np.abs(off) <= limit
    x = np.broadcast_to(uprights, off.shape)[reached]
    points = [(x, (centres[:, 1, None] + sign * rise)[reached]) for sign in (-1, 1)]
    points.extend(_meeting(centres, limit))
    xs, ys = (np.concatenate(each) for each in zip(*points, strict=True))
    inside = (part.top < ys) & (ys < part.bottom) & (part.left - 1 <= xs) & (xs <= part.right + 1)
    xs, ys = xs[inside], ys[inside]
    found: list[float] = ys[depth_mm(layout, xs, ys) >= limit - _ON_OUTLINE_MM].tolist()
    return found


def _meeting(centres: "Array", radius: float) -> list[tuple["Array", "Array"]]:
    """Return where circles of one radius round different patches meet: x and y, once for either side."""
    one, other = np.triu_indices(len(centres), 1)
    apart = one // 4 != other // 4
    one, other = centres[one[apart]], centres[other[apart]]
    way = other - one
    length = np.hypot(way[:, 0], way[:, 1])
    met = (length > 0) & (length < 2 * radius)
    one, way, length = one[met], way[met], length[met]
    half = np.sqrt(radius**2 - (length / 2) ** 2) / length
    middle = one + way / 2
    return [
        (middle[:, 0] - sign * half * way[:, 1], middle[:, 1] + sign * half * way[:, 0]) for sign in (-1, 1)
    ]


def _slab(
    layout: Layout, limit: float, part: Rect, holes: tuple[Rect, ...], top: float, bottom: float
) -> float:
    """Return the area within one slab: walk its borders from the front and count what is entered and left."""
    steps: list[tuple[_Border, int, int]] = []

    def add(left: _Border, right: _Border, entered: int, hole: int) -> None:
        left, right = (
            min(max(each, _upright(part.left, top, bottom)), _upright(part.right, top, bottom))
            for each in (left, right)
        )
        if left.x_mm < right.x_mm:
            steps.extend(((left, entered, hole), (right, -entered, -hole)))

    for left, right in _spans(layout, limit, part, top, bottom):
        add(left, right, 1, 0)
    middle = (top + bottom) / 2
    for hole in holes:
        if hole.top <= middle <= hole.bottom:
            add(_upright(hole.left, top, bottom), _upright(hole.right, top, bottom), 0, 1)
    steps.sort()
    area, covers, gaps = 0.0, 0, 0
    for (border, entered, gone), (following, _, _) in itertools.pairwise(steps):
        covers, gaps = covers + entered, gaps + gone
        if covers and not gaps:
            area += following.left_mm2 - border.left_mm2
    return area


def _spans(
    layout: Layout, limit: float, part: Rect, top: float, bottom: float
) -> list[tuple[_Border, _Border]]:
    """Return the stretches of a slab that lie below the limit, one for each source that reaches it."""
    middle = (top + bottom) / 2
    if limit == inf:
        return [(_upright(part.left, top, bottom), _upright(part.right, top, bottom))]
    across = {
        "front": (0.0, limit),
        "rear": (layout.length_mm - limit, layout.length_mm),
        "top": (0.0, layout.length_mm) if middle < limit else None,
        "bottom": (0.0, layout.length_mm) if layout.height_mm - middle < limit else None,
    }
    spans = [
        (_upright(span[0], top, bottom), _upright(span[1], top, bottom))
        for side in layout.sides
        if (span := across[side])
    ]
    for rect in layout.rects:
        down = max(rect.top - middle, middle - rect.bottom, 0.0)
        if down == 0:
            spans.append(
                (_upright(rect.left - limit, top, bottom), _upright(rect.right + limit, top, bottom))
            )
        elif down < limit:
            level = rect.top if middle < rect.top else rect.bottom
            reach = sqrt(limit**2 - down**2)
            beside = _beside(bottom - level, limit) - _beside(top - level, limit)
            height = bottom - top
            spans.append(
                (
                    _Border(rect.left - reach, rect.left * height - beside),
                    _Border(rect.right + reach, rect.right * height + beside),
                )
            )
    return spans


def _upright(x: float, top: float, bottom: float) -> _Border:
    return _Border(x, x * (bottom - top))


def _beside(height: float, radius: float) -> float:
    """Return the area between an upright diameter of a circle and its arc, from its centre up to a height."""
    height = min(max(height, -radius), radius)
    return (height * sqrt(radius**2 - height**2) + radius**2 * asin(height / radius)) / 2


_Segment = tuple[float, float, float, float]


class _Part(NamedTuple):
    """A stretch of a path with the box around it: its two halves, or none and one straight segment."""

    left: float
    top: float
    right: float
    bottom: float
    halves: tuple["_Part", ...]
    segment: _Segment


class NearShape(NamedTuple):
    """A path, or a rectangle with all that lies in it; made by `path_shape` and `rect_shape`."""

    outline: _Part
    filled: Rect | None = None


def path_shape(path: Sequence[tuple[float, float]]) -> NearShape:
    """Return the shape of a path of two or more points in mm."""
    return NearShape(_part([(*one, *other) for one, other in pairwise(path)]))


def rect_shape(rect: Rect) -> NearShape:
    """Return the shape of a filled rectangle in mm."""
    left, top, right, bottom = rect
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return NearShape(path_shape(corners).outline, rect)


def nearer_than(one: NearShape, other: NearShape, limit_mm: float) -> bool:
    """Say whether the distance between two shapes, 0 where they overlap, is below a limit in mm."""
    if limit_mm <= 0:
        return False
    if _holds(one, other) or _holds(other, one):
        return True
    pairs = [(one.outline, other.outline)]
    while pairs:
        a, b = pairs.pop()
        across = max(a.left - b.right, b.left - a.right, 0.0)
        down = max(a.top - b.bottom, b.top - a.bottom, 0.0)
        if hypot(across, down) >= limit_mm:
            continue
        if not a.halves and not b.halves:
            if _apart_mm(a.segment, b.segment) < limit_mm:
                return True
        elif a.halves and (not b.halves or _size(a) >= _size(b)):
            pairs.extend((half, b) for half in a.halves)
        else:
            pairs.extend((a, half) for half in b.halves)
    return False


def _part(segments: Sequence[_Segment]) -> _Part:
    if len(segments) == 1:
        ((x1, y1, x2, y2),) = segments
        return _Part(
            left=min(x1, x2),
            top=min(y1, y2),
            right=max(x1, x2),
            bottom=max(y1, y2),
            halves=(),
            segment=segments[0],
        )
    middle = len(segments) // 2
    one, other = _part(segments[:middle]), _part(segments[middle:])
    box = (min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3]))
    return _Part(*box, (one, other), segments[0])


def _size(part: _Part) -> float:
    return part.right - part.left + part.bottom - part.top


def _holds(one: NearShape, other: NearShape) -> bool:
    """Say whether the other's first point lies in this one; with no sides crossed all of it does, or none."""
    x, y = other.outline.segment[:2]
    rect = one.filled
    return rect is not None and rect.left <= x <= rect.right and rect.top <= y <= rect.bottom


def _apart_mm(a: _Segment, b: _Segment) -> float:
    if _cross(a, b):
        return 0.0
    ends = ((b[0], b[1], a), (b[2], b[3], a), (a[0], a[1], b), (a[2], a[3], b))
    return min(_point_mm(*end) for end in ends)


def _cross(a: _Segment, b: _Segment) -> bool:
    def side(s: _Segment, x: float, y: float) -> float:
        return (s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0])

    return side(a, b[0], b[1]) * side(a, b[2], b[3]) < 0 and side(b, a[0], a[1]) * side(b, a[2], a[3]) < 0


def _point_mm(x: float, y: float, s: _Segment) -> float:
    along_x, along_y = s[2] - s[0], s[3] - s[1]
    length = along_x**2 + along_y**2
    share = 0.0 if length == 0 else max(0.0, min(1.0, ((x - s[0]) * along_x + (y - s[1]) * along_y) / length))
    return hypot(x - s[0] - share * along_x, y - s[1] - share * along_y)
