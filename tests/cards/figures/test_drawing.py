"""A panel as geometry: zones, contours, patches, wet bed, mirrored right-hand panels."""

import math
from typing import Any

import numpy as np
import pytest
from scipy.spatial import cKDTree

from prepadvisor.cards.figures.drawing import DrawnPanel, DrawnZone, is_right_hand
from prepadvisor.cards.figures.zones import colour_hatch, contour, fade_dots, inside, zone_mask
from prepadvisor.cards.page.set_card import drawings
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.records import Panel
from prepadvisor.surface import Layout, Rect

PATCH = Rect(300.0, 200.0, 600.0, 400.0)


def drawn(sides: tuple[str, ...] = ("front",), rects: tuple[Rect, ...] = ()) -> DrawnPanel:
    """Lay a plain panel of 1000 by 600 mm: colour to 150, fade to 400, clear from there."""
    outline = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 600.0), (0.0, 600.0))
    zones = (DrawnZone("colour", 0, 150), DrawnZone("fade", 150, 400), DrawnZone("clear", 400, 1000))
    layout = Layout(1000.0, 600.0, sides, rects)
    return DrawnPanel("door", 1000.0, 600.0, False, outline, layout, zones, (), (), None, "no")


def source_points(rects: tuple[Rect, ...], sides: tuple[str, ...]) -> np.ndarray[Any, Any]:
    """Cover the sources with points 2 mm apart, to measure distances to them apart from the program."""
    points = [(0.0, float(y)) for y in range(0, 601, 2)] if "front" in sides else []
    for left, top, right, bottom in rects:
        xs, ys = np.arange(left, right + 1, 2), np.arange(top, bottom + 1, 2)
        points += [(float(x), float(y)) for x in xs for y in ys]
    return np.array(points)


@pytest.mark.parametrize(
    ("sides", "rects"),
    [(("front",), ()), ((), (PATCH,)), (("front",), (PATCH,))],
    ids=["side", "patch", "both"],
)
def test_a_zone_border_lies_at_its_depth_from_the_nearest_source(
    sides: tuple[str, ...], rects: tuple[Rect, ...]
) -> None:
    """Distances by scipy's k-d tree to points on the sources, 2 mm apart, so right to 2 mm."""
    tree = cKDTree(source_points(rects, sides))
    runs = contour(drawn(sides, rects), 150.0, 5.0)
    assert runs
    for run in runs:
        distances, _ = tree.query(np.array(run))
        assert distances == pytest.approx(150.0, abs=2.0)


def test_zones_do_not_overlap_and_leave_nothing_out() -> None:
    """Every point inside the outline is in exactly one zone."""
    both = drawn(("front",), (PATCH,))
    x, y = np.meshgrid(np.arange(1.0, 1000, 7), np.arange(1.0, 600, 7))
    masks = [zone_mask(both, zone, x, y) for zone in ("colour", "fade", "clear")]
    assert (np.sum(masks, axis=0) == 1).all()


def test_the_area_of_a_zone_round_a_patch_is_that_of_a_rounded_rectangle() -> None:
    """Sides, corners and the patch itself: wh + 2d(w + h) + πd² (Steiner's formula), inside the panel."""
    alone = drawn((), (PATCH,))
    step = 2.0
    x, y = np.meshgrid(np.arange(step / 2, 1000, step), np.arange(step / 2, 600, step))
    area = float(zone_mask(alone, "colour", x, y).sum()) * step * step
    depth, wide, high = 150.0, 300.0, 200.0
    assert area == pytest.approx(wide * high + 2 * depth * (wide + high) + math.pi * depth**2, rel=0.01)


def test_the_hatch_of_full_colour_stays_in_full_colour() -> None:
    """Both ends of every piece are within 150 mm of the front, but for a step of drawing."""
    pieces = colour_hatch(drawn(), 10.0)
    assert pieces
    assert max(x for piece in pieces for x, _ in piece) < 150.0 + 5.0


def test_the_dots_of_the_fade_shrink_with_depth_as_the_colour_does() -> None:
    """Largest where full colour ends, smallest where the fade ends."""
    dots = sorted(fade_dots(drawn(), 10.0))
    assert dots[0][2] > dots[-1][2]
    assert [radius for _, _, radius in dots] == sorted((radius for _, _, radius in dots), reverse=True)


def test_a_right_hand_panel_is_drawn_mirrored_and_its_front_is_on_the_right() -> None:
    """The same numbers, the picture turned over."""
    left = drawn()
    right = left._replace(mirrored=True)
    assert left.seen_from_outside((0.0, 10.0)) == (0.0, 10.0)
    assert right.seen_from_outside((0.0, 10.0)) == (1000.0, 10.0)


@pytest.mark.parametrize(
    ("name", "kind", "right"),
    [
        ("right-front-door", "front-door", True),
        ("left-front-door", "front-door", False),
        ("door-rh", "rear-door", True),
        ("bright-door", "front-door", False),
        ("bonnet-right", "bonnet", False),
    ],
)
def test_the_side_of_a_panel_is_read_from_its_id(name: str, kind: str, right: bool) -> None:
    """Whole words only, and only of panels that have a side."""
    panel = Panel(id=name, kind=kind, role="clear-only", surface="aged-clear", length_mm=900, height_mm=600)
    assert is_right_hand(panel) is right


def test_a_line_is_drawn_as_its_row_on_the_card_says(worked: Any) -> None:
    """Number and need come from the rows, so drawing and rows cannot differ."""
    sheet = card_sheet(Papers(worked.job, worked.advice, worked.house))
    drawing = drawings(Papers(worked.job, worked.advice, worked.house), sheet)["left-front-door"]
    rows = {row.feature: row for row in sheet.panels[0].rows}
    assert {line.feature for line in drawing.lines} == {"E1", "L1", "H1"}
    for line in drawing.lines:
        assert (line.number, line.need) == (rows[line.feature].number, rows[line.feature].need)


def test_a_line_on_hold_is_drawn_as_a_stop(held: Any) -> None:
    """The wing's edge has no finish."""
    sheet = card_sheet(Papers(held.job, held.advice, held.house))
    drawing = drawings(Papers(held.job, held.advice, held.house), sheet)["left-front-wing"]
    assert {line.feature: line.need for line in drawing.lines}["E1"] == "stop"


def test_the_wet_bed_reaches_over_the_fade_and_its_overlap(worked: Any) -> None:
    """Fade from 150 to 700 mm, and on past it by the overlap of 100 mm; the colour is not wetted again."""
    sheet = card_sheet(Papers(worked.job, worked.advice, worked.house))
    drawing = drawings(Papers(worked.job, worked.advice, worked.house), sheet)["left-front-door"]
    assert worked.house.shop.wet_bed.overlap_mm == 100
    assert drawing.bed == (150.0, 800.0)


def test_a_point_is_inside_a_polygon_by_the_even_odd_rule() -> None:
    """A square with a corner cut off."""
    cut = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 10.0), (0.0, 5.0))
    found = inside(cut, np.array([5.0, 1.0, 11.0]), np.array([5.0, 9.0, 5.0]))
    assert found.tolist() == [True, False, False]
