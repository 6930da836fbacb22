"""Whether two shapes on a panel lie nearer to one another than a distance: paths and filled rectangles.

A path is halved again and again into boxes; two shapes are only looked at closer where their boxes are near.
So the work grows with the stretches that run side by side, not with the product of their corners.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from prepadvisor.named import NamedTuple
from prepadvisor.surface.layout import Rect

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
