"""Blend layout geometry, held against dense sampling of the depth itself."""

from itertools import pairwise
from math import hypot, inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.surface import Layout, Rect, depth_mm, farthest_mm, length_below_mm, path_length_mm

SIDES = ("front", "rear", "top", "bottom")
shares = st.floats(0, 1)


@st.composite
def layouts(draw: st.DrawFn) -> Layout:
    """Panels with up to three sides and two patches as sources."""
    length, height = draw(st.floats(200, 2000)), draw(st.floats(200, 2000))
    sides = tuple(draw(st.lists(st.sampled_from(SIDES), unique=True, max_size=3)))
    rects = []
    for _ in range(draw(st.integers(0 if sides else 1, 2))):
        x1, x2 = sorted((draw(st.floats(0, 0.9)) * length, draw(st.floats(0, 0.9)) * length))
        y1, y2 = sorted((draw(st.floats(0, 0.9)) * height, draw(st.floats(0, 0.9)) * height))
        rects.append(Rect(x1, y1, x2 + 20, y2 + 20))
    return Layout(length, height, sides, tuple(rects))


def _sampled_length(layout: Layout, path: list[tuple[float, float]], limit: float) -> float:
    total = 0.0
    for (x1, y1), (x2, y2) in pairwise(path):
        t = (np.arange(4000) + 0.5) / 4000
        below = depth_mm(layout, x1 + t * (x2 - x1), y1 + t * (y2 - y1)) < limit
        total += hypot(x2 - x1, y2 - y1) * float(below.mean())
    return total


@settings(max_examples=80, deadline=None)
@given(layouts(), st.lists(st.tuples(shares, shares), min_size=2, max_size=4), st.floats(0.05, 0.8))
def test_length_below_a_depth_is_what_sampling_the_depth_along_the_path_finds(
    layout: Layout, points: list[tuple[float, float]], share: float
) -> None:
    """Independent computation: 4,000 samples of the depth on each segment."""
    path = tuple((x * layout.length_mm, y * layout.height_mm) for x, y in points)
    limit = share * layout.length_mm
    whole = path_length_mm(path)
    assert length_below_mm(layout, path, limit) == pytest.approx(
        _sampled_length(layout, list(path), limit), abs=0.002 * whole + 1e-3
    )


@settings(max_examples=60, deadline=None)
@given(layouts())
def test_no_point_lies_deeper_than_the_farthest(layout: Layout) -> None:
    """Independent computation: a grid with the corners finds no deeper point, nor only far shallower."""
    x, y = np.linspace(0, layout.length_mm, 301), np.linspace(0, layout.height_mm, 301)
    deepest = float(depth_mm(layout, x[:, None], y[None, :]).max())
    step = max(layout.length_mm, layout.height_mm) / 300
    assert deepest - 0.1 <= farthest_mm(layout) <= deepest + step


def test_a_line_exactly_at_the_border_belongs_to_the_zone_beyond() -> None:
    """Below the depth is the zone, so a line at it is not."""
    layout = Layout(1000, 600, ("front",))
    assert length_below_mm(layout, ((150, 0), (150, 600)), 150) == 0


@pytest.mark.parametrize("limit_mm", [0.25, 0.5, 1.0])
def test_a_depth_below_a_millimetre_counts(limit_mm: float) -> None:
    """The path runs straight away from the side, so as much of it lies below as the depth says."""
    layout = Layout(1000, 600, ("front",))
    assert length_below_mm(layout, ((0, 300), (900, 300)), limit_mm) == pytest.approx(limit_mm, abs=1e-5)


def test_an_infinite_depth_takes_the_whole_path() -> None:
    """A repair panel without layout is one zone."""
    assert length_below_mm(Layout(1000, 600), ((0, 0), (1000, 0)), inf) == 1000


def test_the_length_of_a_path_is_the_sum_of_its_straight_pieces() -> None:
    """By hand: 3-4-5 and 5-12-13 triangles, away from the corner."""
    assert path_length_mm([(100.0, 200.0), (103.0, 204.0), (108.0, 192.0)]) == 18.0


@pytest.mark.parametrize(
    ("left", "top", "meets"), [(99, 0, True), (100, 0, False), (0, 99, True), (0, 100, False)]
)
def test_rectangles_that_only_touch_do_not_meet(left: float, top: float, meets: bool) -> None:
    """Side on side they share no area, on either side."""
    one, other = Rect(0, 0, 100, 100), Rect(left, top, left + 100, top + 100)
    assert one.meets(other) is meets
    assert other.meets(one) is meets
