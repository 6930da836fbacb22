"""Which places hand work at another place may have scratched.

Any hand work on a panel touches its face. A hand-only place also touches the lines and patches whose strip
its own strip overlaps.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot
from typing import Final

from prepadvisor.planning.zones import patch_rect, path_mm
from prepadvisor.records.advice import Place
from prepadvisor.records.job import Panel

_POINTS_MAX: Final = 1500
"""With more corners of lines on one panel than this, every hand-only place counts as touching every other."""

_Segment = tuple[float, float, float, float]


def touched_by(panel: Panel, places: Sequence[Place], strip_mm: float) -> dict[str, frozenset[str]]:
    """Return, for each feature of a panel but its face, the hand-only features that touch it.

    Args:
        panel: the panel with its lines and patches.
        places: its places as advised.
        strip_mm: width of the strip that is worked along a line.
    """
    by_hand = [place.feature for place in places if place.reach == "hand"]
    others = [place.feature for place in places if place.kind != "face"]
    if not by_hand:
        return {}
    if sum(len(line.path) for line in panel.feature) > _POINTS_MAX:
        return {feature: frozenset(by_hand) - {feature} for feature in others}
    shapes = _shapes(panel)
    return {
        feature: frozenset(
            hand
            for hand in by_hand
            if hand != feature and _near(shapes.get(hand, ()), shapes.get(feature, ()), strip_mm)
        )
        for feature in others
    }


def _shapes(panel: Panel) -> dict[str, tuple[_Segment, ...]]:
    shapes: dict[str, tuple[_Segment, ...]] = {}
    for line in panel.feature:
        shapes[line.id] = tuple((*one, *other) for one, other in pairwise(path_mm(panel, line.path)))
    for patch in panel.patch:
        left, top, right, bottom = patch_rect(panel, patch)
        rows = 8  # a line that ends inside a patch meets none of its sides; these strokes fill it
        strokes = tuple(
            (left, top + (bottom - top) * row / rows, right, top + (bottom - top) * row / rows)
            for row in range(rows + 1)
        )
        shapes[patch.id] = (*strokes, (left, top, left, bottom), (right, top, right, bottom))
    return shapes


def _near(one: Sequence[_Segment], other: Sequence[_Segment], within_mm: float) -> bool:
    return any(_apart_mm(a, b) < within_mm for a in one for b in other)


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
