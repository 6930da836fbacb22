"""The drawings of the second sheet: ruler, scratch under its flake, stairs of film cut."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from prepadvisor.cards.explain.deciding import deciding_spots, governing_spot
from prepadvisor.cards.explain.training_facts import training_of
from prepadvisor.cards.figures.figure import FigureText, Shape
from prepadvisor.cards.figures.ruler import Ruler, Stair, Staircase, ruler_figure, staircase_figure
from prepadvisor.cards.figures.scratch import Scratch, scratch_figure, worst_lie
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.records import Grade

SHELF = tuple(map(Grade, ("P400", "P600", "P800", "P1000", "P1500")))
RISKS = dict(zip(SHELF, (0.9, 0.5, 0.34, 0.2, 0.05), strict=True))
RULER = Ruler(
    "A1", SHELF, (Grade("P800"), Grade("P1500")), Grade("P1000"), Grade("P800"), Grade("P600"), RISKS, 0.25
)


def words(figure: Any) -> dict[str, FigureText]:
    """All words of a drawing by their text."""
    return {mark.text: mark for mark in figure.marks if isinstance(mark, FigureText)}


def test_the_ruler_runs_from_coarse_to_fine() -> None:
    """The shelf from left to right."""
    at = [words(ruler_figure(RULER, 190.0))[grade].at[0] for grade in SHELF]
    assert at == sorted(at)


def test_the_bracket_of_the_ruler_spans_the_allowed_grades_alone() -> None:
    """From P800 to P1500, over neither P600 nor beyond."""
    figure = ruler_figure(RULER, 190.0)
    bracket = next(mark for mark in figure.marks if isinstance(mark, Shape) and not mark.closed)
    left, right = bracket.points[0][0], bracket.points[-1][0]
    at = {grade: words(figure)[grade].at[0] for grade in SHELF}
    assert [grade for grade in SHELF if left <= at[grade] <= right] == ["P800", "P1000", "P1500"]


def test_the_height_of_a_risk_bar_goes_with_the_risk_and_a_bar_over_the_limit_is_black() -> None:
    """Black above 0.25, hatched below."""
    figure = ruler_figure(RULER, 190.0)
    bars = [m for m in figure.marks if isinstance(m, Shape) and m.closed and m.stroke is not None]
    heights = [bar.points[2][1] - bar.points[1][1] for bar in bars]
    assert heights == pytest.approx([risk * heights[0] / 0.9 for risk in RISKS.values()])
    assert [bar.fill for bar in bars] == ["black", "black", "black", "white", "white"]


def test_a_grade_that_was_used_but_is_not_on_the_shelf_stands_on_the_ruler() -> None:
    """Scuffed with P320 while the shelf starts at P400."""
    figure = ruler_figure(RULER._replace(done=Grade("P320")), 190.0)
    assert "P320" in words(figure)
    assert "Scuffed with P320." in figure.says


@pytest.mark.parametrize(("flake", "depth", "wide"), [(8.0, 0.7, 4.3), (8.0, 2.0, 30.0), (28.0, 1.0, 6.0)])
def test_a_flake_is_drawn_where_it_tilts_most(flake: float, depth: float, wide: float) -> None:
    """Against scipy's search of the chord's slope over a cosine-squared groove written out here."""

    def groove(x: float) -> float:
        return depth * math.cos(math.pi * x / wide) ** 2 if abs(x) <= wide / 2 else 0.0

    def steep(x: float) -> float:
        return -abs(groove(x + flake / 2) - groove(x - flake / 2)) / flake

    reach = (flake + wide) / 2
    starts = np.linspace(-reach, 0, 60)
    best = min(minimize_scalar(steep, bounds=(a, b), method="bounded").fun for a, b in pairwise(starts))
    lie = worst_lie(Scratch("", depth, wide, flake, 7.0, 1.0))
    assert math.tan(math.radians(lie.tilt_deg)) == pytest.approx(-best, rel=1e-3)
    assert lie.bridges == (flake >= wide)


def test_the_scratch_is_drawn_to_one_scale_along_and_down() -> None:
    """Width and depth on paper have the ratio they have in the paint."""
    scratch = Scratch("", 2.0, 12.0, 8.0, 7.0, 1.0)
    floor = next(m for m in scratch_figure(scratch, 92.0, 46.0, 2.0).marks if isinstance(m, Shape))
    level = floor.points[0][1]
    deep = max(y for _, y in floor.points) - level
    inside = [x for x, y in floor.points if y > level + 1e-6]
    assert deep == pytest.approx(4.0, rel=0.01)
    assert max(inside) - min(inside) == pytest.approx(24.0, rel=0.05)


def test_a_wet_bed_lays_the_flake_flatter() -> None:
    """Half of the groove left, half of the tilt: tan of a small angle."""
    bare, filled = (worst_lie(Scratch("", 1.0, 8.0, 8.0, 7.0, left)) for left in (1.0, 0.5))
    assert filled.tilt_deg == pytest.approx(bare.tilt_deg / 2, rel=0.02)
    assert filled.loss < bare.loss


def test_each_stair_drops_by_the_film_it_cuts() -> None:
    """2 µm, then 1 µm: twice the drop."""
    stairs = (
        Stair("P800", "DA", "4 min", 2.0, "2.0 um", True),
        Stair("P1000", "DA", "3 min", 1.0, "1.0 um", True),
    )
    figure = staircase_figure(Staircase("A", "P500 now", stairs, "3.0 um", "10 um"), 92.0)
    path = next(m for m in figure.marks if isinstance(m, Shape) and not m.closed).points
    levels = sorted({round(y, 6) for _, y in path})
    assert levels[1] - levels[0] == pytest.approx(2 * (levels[2] - levels[1]))
    assert sum(mark.text == "powder" for mark in figure.marks if isinstance(mark, FigureText)) == 2
    assert "film off 3.0 um of 10 um at most" in words(figure)


def test_the_governing_scratch_is_that_of_the_place_that_needs_the_wet_bed(worked: Any) -> None:
    """The hand-only recess in the fade."""
    papers = Papers(worked.job, worked.advice, worked.house)
    spot = governing_spot(papers, "left-front-door")
    assert spot is not None
    assert spot.id == "left-front-door/H1/fade"
    assert [case.title for case in training_of(papers).panels["left-front-door"].scratches] == [
        "without a wet bed",
        "over 2 coats of wet bed",
    ]


def test_a_place_scuffed_too_coarse_is_among_those_shown(worked: Any) -> None:
    """With its mark on the ruler."""
    papers = Papers(worked.job, worked.advice, worked.house)
    spots = deciding_spots(papers, "left-front-door")
    assert spots[0].feature == "L1"
    assert training_of(papers).panels["left-front-door"].rulers[0].done == "P600"
