"""Distances between paths and filled rectangles, held against shapely 2."""

import random
from typing import Final

import pytest
from shapely import LineString, box
from shapely.geometry.base import BaseGeometry

from prepadvisor.surface import NearShape, Rect, nearer_than, path_shape, rect_shape

PAIRS: Final = 6000
LIMITS_MM: Final = (5.0, 30.0, 100.0)


def _drawn(rng: random.Random) -> tuple[NearShape, BaseGeometry]:
    """Return a path or a rectangle anywhere on a panel of 1,500 by 1,200 mm, in both forms."""
    x, y = rng.uniform(0, 1500), rng.uniform(0, 1200)
    if rng.random() < 0.4:
        rect = Rect(
            x, y, x + rng.choice((2, 80, 900)) * rng.random(), y + rng.choice((2, 80, 900)) * rng.random()
        )
        return rect_shape(rect), box(*rect)
    reach = rng.choice((4, 60, 900))
    path = [
        (x + rng.uniform(-reach, reach), y + rng.uniform(-reach, reach))
        for _ in range(rng.choice((2, 2, 3, 9)))
    ]
    return path_shape(path), LineString(path)


def test_shapes_are_near_exactly_where_a_geometry_library_says_so() -> None:
    """Shapely's distance, on random pairs of paths and filled rectangles of all sizes."""
    rng = random.Random(12)
    wrong = []
    for _ in range(PAIRS):
        (one, first), (other, second) = _drawn(rng), _drawn(rng)
        limit = rng.choice(LIMITS_MM)
        if nearer_than(one, other, limit) is not (first.distance(second) < limit):
            wrong.append((first.wkt, second.wkt, limit))
    assert wrong == []


@pytest.mark.parametrize("height_mm", [100.0, 480.0, 600.0, 1500.0])
@pytest.mark.parametrize("share", [0.03, 0.3, 0.5625, 0.94])
def test_a_path_inside_a_rectangle_touches_it_however_tall(height_mm: float, share: float) -> None:
    """It lies in it, so the distance is 0."""
    rect, level = Rect(0, 0, 1000, height_mm), share * height_mm
    inside = path_shape([(300, level), (700, level)])
    assert nearer_than(rect_shape(rect), inside, 0.001)
    assert nearer_than(inside, rect_shape(rect), 0.001)


def test_a_rectangle_inside_another_touches_it() -> None:
    """Though no side of the one is near a side of the other."""
    assert nearer_than(rect_shape(Rect(0, 0, 900, 900)), rect_shape(Rect(400, 400, 500, 500)), 0.001)


@pytest.mark.parametrize(("limit_mm", "near"), [(29.999, False), (30.0, False), (30.001, True)])
def test_the_limit_itself_is_not_near(limit_mm: float, near: bool) -> None:
    """Strips that only meet do not overlap."""
    one, other = path_shape([(0, 0), (100, 0)]), path_shape([(0, 30), (100, 30)])
    assert nearer_than(one, other, limit_mm) is near


def test_nothing_is_nearer_than_no_distance() -> None:
    """A strip of no width overlaps nothing, not even across."""
    assert not nearer_than(path_shape([(0, 0), (9, 9)]), path_shape([(0, 9), (9, 0)]), 0.0)


def test_a_point_twice_in_a_path_changes_nothing() -> None:
    """A piece of no length has one distance."""
    twice = path_shape([(0, 0), (0, 0), (100, 0)])
    assert nearer_than(twice, path_shape([(-20, 0), (-20, 0)]), 20.001)
    assert not nearer_than(twice, path_shape([(-20, 0), (-20, 1)]), 19.999)


def test_a_short_piece_has_its_middle_too() -> None:
    """One of 1 mm is no point: the nearest place on it is between its ends."""
    assert nearer_than(path_shape([(0, 0), (1, 0)]), path_shape([(0.5, 1), (0.5, 9)]), 1.0001)


@pytest.mark.parametrize("turned", [False, True])
def test_short_lines_that_do_not_cross_are_apart(turned: bool) -> None:
    """By hand: a millimetre of line, and another that begins half a millimetre above its middle."""
    one, other = path_shape([(0.0, 0.0), (1.0, 0.0)]), path_shape([(0.5, 0.5), (0.5, 1.5)])
    if turned:
        one, other = other, one
    assert not nearer_than(one, other, 0.49)
    assert nearer_than(one, other, 0.51)
