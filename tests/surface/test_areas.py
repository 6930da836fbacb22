"""Areas below a depth, held against shapely 2 and the textbook."""

from math import inf, pi

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import box, unary_union
from shapely.geometry.base import BaseGeometry

from prepadvisor.surface import Layout, Rect, area_below_mm2

SIDES = ("front", "rear", "top", "bottom")
ACCURACY = 1e-6
"""What the docstring promises, as a share of the part looked at."""

QUAD_SEGS = 2000
"""Straight pieces of a quarter circle in shapely: they leave out a share of about 1e-7 of a disc."""


@st.composite
def rects(draw: st.DrawFn, length: float, height: float) -> Rect:
    """Rectangles anywhere on a panel, thin ones too."""
    x, y = draw(st.floats(0, 0.98)) * length, draw(st.floats(0, 0.98)) * height
    return Rect(
        x, y, x + draw(st.floats(0.01, 1)) * (length - x), y + draw(st.floats(0.01, 1)) * (height - y)
    )


@st.composite
def cases(draw: st.DrawFn) -> tuple[Layout, float, Rect, tuple[Rect, ...]]:
    """Panels with sources, a depth, a part and holes; patches that are sources are holes in half of them."""
    length, height = draw(st.floats(100, 3000)), draw(st.floats(100, 2000))
    sides = tuple(draw(st.lists(st.sampled_from(SIDES), unique=True, max_size=3)))
    sources = tuple(draw(st.lists(rects(length, height), min_size=0 if sides else 1, max_size=4)))
    holes = tuple(draw(st.lists(rects(length, height), max_size=2)))
    part = Rect(0, 0, length, height) if draw(st.booleans()) else draw(rects(length, height))
    limit = draw(st.one_of(st.floats(1, 900), st.sampled_from([150.0, length, height, length / 2])))
    return (
        Layout(length, height, sides, sources),
        limit,
        part,
        (*holes, *(sources if draw(st.booleans()) else ())),
    )


def _by_shapely(layout: Layout, limit: float, part: Rect, holes: tuple[Rect, ...]) -> float:
    length, height = layout.length_mm, layout.height_mm
    strips = {
        "front": (0, 0, limit, height),
        "rear": (length - limit, 0, length, height),
        "top": (0, 0, length, limit),
        "bottom": (0, height - limit, length, height),
    }
    below: list[BaseGeometry] = [box(*strips[side]) for side in layout.sides]
    below.extend(box(*rect).buffer(limit, quad_segs=QUAD_SEGS) for rect in layout.rects)
    region = unary_union(below).intersection(box(*part))
    return float(region.difference(unary_union([box(*hole) for hole in holes])).area)


@settings(max_examples=150, deadline=None)
@given(cases())
@example((Layout(1000, 600, ("front",), (Rect(0, 0, 1000, 600),)), 150.0, Rect(0, 0, 1000, 600), ()))
@example((Layout(1000, 600, (), (Rect(400, 200, 500, 300),) * 2), 150.0, Rect(0, 0, 1000, 600), ()))
def test_the_area_is_that_of_a_geometry_library(
    case: tuple[Layout, float, Rect, tuple[Rect, ...]],
) -> None:
    """Sources grown by the depth, united, cut to the part, less the holes: shapely's operations."""
    layout, limit, part, holes = case
    found = area_below_mm2(layout, limit, part, holes)
    whole = (part.right - part.left) * (part.bottom - part.top)
    assert found == pytest.approx(_by_shapely(layout, limit, part, holes), abs=ACCURACY * whole)


WHOLE = Rect(0, 0, 1000, 600)
CROSSED = (
    (("top",), (Rect(321, 36, 354, 91), Rect(693, 173, 772, 347)), 220.0, Rect(256, 243, 602, 324), ()),
    (
        ("front", "rear"),
        (Rect(146, 93, 399, 272), Rect(225, 8, 412, 151)),
        80.0,
        Rect(263, 113, 605, 315),
        (),
    ),
    (("rear",), (Rect(590, 85, 615, 321), Rect(828, 71, 889, 175)), 220.0, WHOLE, ()),
    (("front", "top"), (Rect(13, 7, 111, 65), Rect(708, 205, 831, 374)), 220.0, Rect(120, 241, 375, 282), ()),
    ((), (Rect(297, 354, 413, 359), Rect(742, 158, 803, 301)), 80.0, WHOLE, (Rect(784, 39, 864, 200),)),
    (
        ("rear", "front"),
        (Rect(87, 150, 410, 311), Rect(591, 300, 622, 421)),
        150.0,
        Rect(753, 140, 783, 325),
        (),
    ),
    ((), (Rect(834, 427, 844, 512), Rect(146, 41, 462, 220)), 150.0, Rect(438, 309, 551, 402), ()),
    ((), (Rect(564, 115, 623, 253), Rect(586, 376, 620, 403)), 80.0, Rect(484, 299, 560, 378), ()),
    (("top",), (Rect(234, 241, 480, 413), Rect(534, 250, 718, 376)), 80.0, Rect(457, 8, 509, 140), ()),
    (("bottom",), (Rect(473, 40, 673, 200), Rect(185, 169, 276, 183)), 150.0, Rect(574, 177, 641, 480), ()),
)
"""Sides, patches, depth, part, holes: the border of a source, a hole or the part crosses another's arc."""


@pytest.mark.parametrize("mirrored", [False, True])
def test_borders_that_cross_are_found_each(mirrored: bool) -> None:
    """Against shapely, each as it is and with the panel turned round."""
    for sides, rects, limit, part, holes in CROSSED:
        shapes = [(Rect(*each)) for each in (*rects, part, *holes)]
        turned = {"front": "rear", "rear": "front", "top": "bottom", "bottom": "top"}
        if mirrored:
            shapes = [Rect(1000 - r.right, 600 - r.bottom, 1000 - r.left, 600 - r.top) for r in shapes]
        laid = Layout(
            1000, 600, tuple(turned[each] if mirrored else each for each in sides), tuple(shapes[:2])
        )
        found = area_below_mm2(laid, limit, shapes[2], tuple(shapes[3:]))
        assert found == pytest.approx(_by_shapely(laid, limit, shapes[2], tuple(shapes[3:])), rel=1e-6)


def test_a_quarter_disc_round_each_corner_of_a_patch() -> None:
    """Area of a rounded rectangle from the textbook: w·h + 2r(w + h) + π r²."""
    layout = Layout(2000, 2000, (), (Rect(800, 800, 1100, 1050),))
    area = area_below_mm2(layout, 150, Rect(0, 0, 2000, 2000))
    assert area == pytest.approx(300 * 250 + 2 * 150 * 550 + pi * 150**2, rel=1e-12)


def test_the_lens_between_two_discs_counts_once() -> None:
    """Textbook: two discs of radius r, d apart, share 2 r² acos(d/2r) − (d/2) √(4r² − d²)."""
    from math import acos, sqrt

    points = (Rect(500, 500, 500, 500), Rect(600, 500, 600, 500))
    lens = 2 * 80**2 * acos(100 / 160) - 50 * sqrt(4 * 80**2 - 100**2)
    area = area_below_mm2(Layout(1200, 1000, (), points), 80, Rect(0, 0, 1200, 1000))
    assert area == pytest.approx(2 * pi * 80**2 - lens, rel=1e-12)


def test_an_infinite_depth_takes_the_whole_part_without_its_holes() -> None:
    """A repair panel without layout is one zone; holes that overlap are cut out once."""
    layout, holes = Layout(1000, 600), (Rect(0, 0, 100, 100), Rect(50, 0, 150, 100))
    assert area_below_mm2(layout, inf, Rect(0, 0, 1000, 600), holes) == 585_000


def test_no_depth_is_no_area() -> None:
    """Nothing lies below the border itself."""
    assert area_below_mm2(Layout(1000, 600, ("front",)), 0, Rect(0, 0, 1000, 600)) == 0
