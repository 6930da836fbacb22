"""The shipped outlines are whole drawings: every kind, lines on the panel, ids that say what they are."""

from itertools import pairwise

import pytest

from prepadvisor.records import OUTLINES, Outline, Point
from prepadvisor.standards import House

LETTER = {"edge": "E", "body-line": "L", "wheel-arch": "A", "flange": "F", "recess": "H", "cut-out": "C"}


@pytest.fixture(params=OUTLINES)
def outline(request: pytest.FixtureRequest, shipped_house: House) -> Outline:
    """Each outline in turn."""
    return shipped_house.outlines[request.param]


def inside(point: Point, shape: tuple[Point, ...]) -> bool:
    """Say whether a point is in a polygon: an odd number of its sides lie to the left."""
    x, y = point
    odd = False
    for (x1, y1), (x2, y2) in pairwise((*shape, shape[0])):
        if (y1 > y) != (y2 > y) and x > x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
    return odd


def distance(point: Point, shape: tuple[Point, ...]) -> float:
    """Return the distance of a point to a polygon's rim."""
    return min(_to_segment(point, one, two) for one, two in pairwise((*shape, shape[0])))


def _to_segment(point: Point, one: Point, two: Point) -> float:
    along = (two[0] - one[0], two[1] - one[1])
    length = along[0] ** 2 + along[1] ** 2
    share = ((point[0] - one[0]) * along[0] + (point[1] - one[1]) * along[1]) / length if length else 0.0
    share = min(1.0, max(0.0, share))
    return float(
        ((point[0] - one[0] - share * along[0]) ** 2 + (point[1] - one[1] - share * along[1]) ** 2) ** 0.5
    )


def test_every_line_lies_on_the_panel(outline: Outline) -> None:
    """Points and middles of all lines are inside the shape, or on its rim."""
    for line in outline.feature:
        middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(line.path)]
        for point in (*line.path, *middles):
            assert inside(point, outline.shape) or distance(point, outline.shape) < 0.04, (line.id, point)


def test_edges_and_arches_run_along_the_rim(outline: Outline) -> None:
    """An edge or a wheel arch is where the sheet ends."""
    for line in outline.feature:
        if line.kind in {"edge", "wheel-arch"}:
            assert max(distance(point, outline.shape) for point in line.path) < 0.005, line.id


def test_a_shape_is_a_simple_polygon_that_fills_its_box(outline: Outline) -> None:
    """Eight points at least, no side crosses another, and the shape touches all four sides of its box."""
    assert len(outline.shape) >= 8
    sides = list(pairwise((*outline.shape, outline.shape[0])))
    for place, one in enumerate(sides):
        for other in sides[place + 2 :]:
            if not {*one} & {*other}:
                assert not _cross(one, other), (one, other)
    xs, ys = zip(*outline.shape, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == (0, 1, 0, 1)


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    def turn(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return turn(*one, other[0]) * turn(*one, other[1]) < 0 and turn(*other, one[0]) * turn(*other, one[1]) < 0


def test_an_id_says_what_kind_of_line_it_is(outline: Outline) -> None:
    """E edge, L body line, A wheel arch, F flange, H recess, C cut-out; none twice; each with a name."""
    ids = [line.id for line in outline.feature]
    assert len(set(ids)) == len(ids)
    assert all(line.id[0] == LETTER[line.kind] for line in outline.feature)
    assert all(line.name for line in outline.feature)


def test_every_line_says_how_it_is_reached(outline: Outline) -> None:
    """Reach is stated on every line; flanges, recesses and cut-outs are hand work."""
    for line in outline.feature:
        assert line.reach is not None
        if line.kind in {"flange", "recess", "cut-out"}:
            assert line.reach == "hand", line.id
        if line.kind == "flange":
            assert line.judged_seen is False


def test_the_front_door_has_the_lines_of_a_door(shipped_house: House) -> None:
    """Four edges, a body line, a handle recess that is seen and hand-only, and unseen returns."""
    lines = {line.name: line for line in shipped_house.outlines["front-door"].feature}
    assert {"front edge", "rear edge", "top edge", "bottom edge", "body line"} <= set(lines)
    handle, returns = lines["handle recess"], lines["returns, inside"]
    assert (handle.kind, handle.reach, handle.judged_seen) == ("recess", "hand", True)
    assert (returns.kind, returns.reach, returns.judged_seen) == ("flange", "hand", False)


# Usual sizes of car panels in mm, length by height: from memory of common cars, wide on purpose.
@pytest.mark.memory
@pytest.mark.parametrize(
    ("kind", "length", "height"),
    [
        ("front-door", (900, 1400), (500, 800)),
        ("rear-door", (750, 1200), (500, 800)),
        ("front-wing", (800, 1300), (500, 900)),
        ("bonnet", (800, 1500), (1200, 1700)),
        ("roof", (1100, 2200), (900, 1400)),
        ("front-bumper", (1500, 1950), (400, 800)),
        ("mirror-cap", (150, 300), (100, 250)),
        ("fuel-flap", (120, 250), (120, 250)),
    ],
)
def test_sizes_are_those_of_a_car(
    kind: str, length: tuple[int, int], height: tuple[int, int], shipped_house: House
) -> None:
    """An outline's start size is one that a car could have."""
    outline = shipped_house.outlines[kind]
    assert length[0] <= outline.length_mm <= length[1]
    assert height[0] <= outline.height_mm <= height[1]
