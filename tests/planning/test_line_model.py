"""The line model at work: against its equations by scipy, its laws over all jobs, and practice."""

import math
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from prepadvisor.cases import FlakeNumbers, numbers_of_class
from prepadvisor.planning import LineModel, verdict_of
from prepadvisor.records import (
    DA_TOOLS,
    DS50_UM,
    GRADES,
    HAND_TOOLS,
    TOOLS,
    Constants,
    Flake,
    Grade,
    Tool,
    Zone,
)

_CONSTANTS = Constants.model_validate(
    tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
)
_MODEL = LineModel(_CONSTANTS)
_SET_SOLIDS = 0.40
_SEEN_FLAKES: list[Flake] = [name for name in get_args(Flake) if name != "solid"]
_SHELF = tuple(
    map(Grade, ("P80", "P180", "P320", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000", "P2500"))
)

_measured = st.builds(
    FlakeNumbers, d50_um=st.floats(1, 200), log_sd=st.floats(0.05, 2), tilt_deg=st.floats(0.5, 45)
)
_zone = st.sampled_from(["colour", "fade"])
_tool = st.sampled_from(TOOLS)
_set_solids = st.floats(0.1, 0.9)
_few = settings(max_examples=40, deadline=None)


def _of(flake: Flake) -> FlakeNumbers:
    numbers = numbers_of_class(_CONSTANTS, flake)
    assert numbers is not None
    return numbers


def _line_by_scipy(depth: float, d50: float, log_sd: float, spread: float, left: float) -> float:
    """Return W in µm by nested adaptive integration of the equations as written."""
    width = 6.0 * depth

    def groove(x: float) -> float:
        return depth * math.cos(math.pi * x / width) ** 2 if abs(x) <= width / 2 else 0.0

    def loss(x: float, flake: float) -> float:
        tilt = math.atan(abs(groove(x + flake / 2) - groove(x - flake / 2)) / flake * left)
        return -math.expm1(-((tilt / spread) ** 2) / 2)

    def weighted(log_flake: float) -> float:
        flake = math.exp(log_flake)
        kinks = pairwise([0.0, abs(flake - width) / 2, (flake + width) / 2])
        over_x = 2 * sum(quad(loss, a, b, (flake,), epsabs=0, epsrel=1e-7)[0] for a, b in kinks)
        return over_x * float(norm.pdf(log_flake, math.log(d50), log_sd))

    low, high = math.log(d50) - 7 * log_sd, math.log(d50) + 6 * log_sd
    middle = [math.log(width)] if low < math.log(width) < high else []
    panels = pairwise([low, *middle, high])
    return math.fsum(quad(weighted, a, b, epsabs=0, epsrel=1e-7)[0] for a, b in panels)


@pytest.mark.parametrize(
    ("tool", "k", "q", "grade", "coats"),
    [
        ("da-soft", 0.039, 0.6, "P1000", 0),
        ("hand-pad", 0.07, 1.0, "P800", 1),
        ("block", 0.08, 1.0, "P1500", 2),
    ],
)
def test_strength_and_risk_are_those_of_the_equations(
    tool: Tool, k: float, q: float, grade: Grade, coats: int
) -> None:
    """Very fine flake in the fade: scipy.integrate for W and its slopes, scipy.stats for risk; 0.1 %."""
    numbers = (k * DS50_UM[grade], 8.0, 0.47, math.radians(7.0), 0.6**coats * (1 - 0.15 / 2))
    arcsec = q * _line_by_scipy(*numbers) * 1e-3 / 500 * 180 * 3600 / math.pi

    def slope(place: int) -> float:
        ends = [list(numbers), list(numbers)]
        ends[0][place] *= 1.01
        ends[1][place] /= 1.01
        return math.log(_line_by_scipy(*ends[0]) / _line_by_scipy(*ends[1])) / (2 * math.log(1.01))

    unsure = math.hypot(slope(0) * 0.30, slope(1) * 0.20, slope(3) * 0.48, 0.40)
    found = _MODEL.estimate(_of("very-fine"), tool, grade, "fade", coats, _SET_SOLIDS)
    assert found.arcsec == pytest.approx(arcsec, rel=1e-3)
    assert found.risk == pytest.approx(norm.cdf(math.log(arcsec / 0.5) / unsure), rel=3e-3)


@_few
@given(_measured, _tool, _zone, st.integers(0, 4), _set_solids)
def test_a_finer_grade_never_gives_a_stronger_line(
    flake: FlakeNumbers, tool: Tool, zone: Zone, coats: int, set_solids: float
) -> None:
    """Any flake a job file takes, any tool, all grades."""
    lines = [_MODEL.estimate(flake, tool, grade, zone, coats, set_solids).arcsec for grade in GRADES]
    assert all(finer <= coarser for coarser, finer in pairwise(lines))


@_few
@given(_measured, _tool, _zone, st.integers(0, 4), _set_solids)
def test_a_finer_grade_never_raises_the_risk(
    flake: FlakeNumbers, tool: Tool, zone: Zone, coats: int, set_solids: float
) -> None:
    """Up to one in ten million: the growing uncertainty of a very faint line may lift its risk by that."""
    risks = [_MODEL.estimate(flake, tool, grade, zone, coats, set_solids).risk for grade in GRADES]
    assert all(finer <= coarser + 1e-7 for coarser, finer in pairwise(risks))


@_few
@given(_measured, _tool, st.sampled_from(GRADES), _zone, _set_solids)
def test_one_coat_more_never_raises_strength_or_risk(
    flake: FlakeNumbers, tool: Tool, grade: Grade, zone: Zone, set_solids: float
) -> None:
    """0 to 4 coats of wet bed; the same one in ten million for risk."""
    lines = [_MODEL.estimate(flake, tool, grade, zone, coats, set_solids) for coats in range(5)]
    assert all(more.arcsec <= fewer.arcsec for fewer, more in pairwise(lines))
    assert all(more.risk <= fewer.risk + 1e-7 for fewer, more in pairwise(lines))


@pytest.mark.parametrize("flake", _SEEN_FLAKES)
@pytest.mark.parametrize("zone", ["colour", "fade"])
def test_risk_falls_strictly_by_grade_for_every_class_of_flake(flake: Flake, zone: Zone) -> None:
    """The shipped classes have no corner at all, with any tool and 0 to 2 coats."""
    for coats in range(3):
        table = _MODEL.table(_of(flake), TOOLS, _SHELF, zone, coats, _SET_SOLIDS)
        for tool in TOOLS:
            risks = [table[tool, grade].risk for grade in _SHELF]
            assert all(finer <= coarser for coarser, finer in pairwise(risks))


@_few
@given(_measured, _tool, st.sampled_from(GRADES), st.integers(0, 3))
def test_the_fade_is_at_least_as_strict_as_full_colour(
    flake: FlakeNumbers, tool: Tool, grade: Grade, coats: int
) -> None:
    """Earlier colour coats only ever hide."""
    fade = _MODEL.estimate(flake, tool, grade, "fade", coats, _SET_SOLIDS)
    assert _MODEL.estimate(flake, tool, grade, "colour", coats, _SET_SOLIDS).arcsec <= fade.arcsec


def test_a_longer_viewing_distance_weakens_every_line() -> None:
    """Strength at the eye falls as 1/L."""
    data = _CONSTANTS.model_dump()
    data["sight"]["viewing_distance_mm"]["value"] = 1000.0
    far = LineModel(Constants.model_validate(data)).estimate(
        _of("fine"), "da", Grade("P800"), "fade", 0, _SET_SOLIDS
    )
    near = _MODEL.estimate(_of("fine"), "da", Grade("P800"), "fade", 0, _SET_SOLIDS)
    assert far.arcsec == pytest.approx(near.arcsec / 2)


@pytest.mark.practice
@pytest.mark.parametrize("flake", _SEEN_FLAKES)
@pytest.mark.parametrize("grade", _SHELF)
def test_straight_hand_lines_show_more_than_a_sanders_arcs(flake: Flake, grade: Grade) -> None:
    """Practice: of one grade, every hand tool against every sander."""
    table = _MODEL.table(_of(flake), TOOLS, [grade], "fade", 0, _SET_SOLIDS)
    weakest_hand = min(table[tool, grade].arcsec for tool in HAND_TOOLS)
    assert weakest_hand > max(table[tool, grade].arcsec for tool in DA_TOOLS)


@pytest.mark.practice
def test_p1000_by_da_with_interface_pad_is_safe_under_very_fine_flake() -> None:
    """Practice; the limit of risk in the fade is 0.25 from fine flake on."""
    assert _MODEL.estimate(_of("very-fine"), "da-soft", Grade("P1000"), "fade", 0, _SET_SOLIDS).risk <= 0.25


@pytest.mark.practice
def test_a_hand_only_recess_under_very_fine_flake_needs_two_coats_of_wet_bed() -> None:
    """Practice: P1500 by hand in the fade, one coat is not enough for a limit of 0.25, two are."""
    risks = [
        _MODEL.estimate(_of("very-fine"), "hand-pad", Grade("P1500"), "fade", n, _SET_SOLIDS).risk
        for n in range(3)
    ]
    assert risks[1] > 0.25 >= risks[2]


@pytest.mark.parametrize("tool", TOOLS)
def test_hand_lines_are_straight_and_a_sanders_are_arcs(tool: Tool) -> None:
    """Every tool is one or the other; a sander's lines count 0.6 of straight ones of the same depth."""
    data = _CONSTANTS.model_dump()
    for quantity in data["groove"]["depth_per_grain"].values():
        quantity["value"] = 0.05
    alike = LineModel(Constants.model_validate(data))
    own = alike.estimate(_of("fine"), tool, Grade("P800"), "fade", 0, _SET_SOLIDS).arcsec
    straight = alike.estimate(_of("fine"), "block", Grade("P800"), "fade", 0, _SET_SOLIDS).arcsec
    assert own / straight == pytest.approx({True: 1.0, False: 0.6}[tool in HAND_TOOLS])
    assert (tool in HAND_TOOLS) != (tool in DA_TOOLS)


@pytest.mark.parametrize(
    ("zone", "coats", "left"), [("fade", 2, 0.333), ("colour", 0, 0.6683125), ("clear", 0, 0.925)]
)
def test_a_groove_is_told_as_cut_with_what_the_film_leaves_of_it(zone: Zone, coats: int, left: float) -> None:
    """P800 by hand paper: 0.09 x 21.8 µm, six times as wide; 0.6 a coat of bed, 0.85 of colour, 0.925."""
    groove = _MODEL.groove("hand-paper", Grade("P800"), zone, coats, _SET_SOLIDS)
    assert groove.depth_um == pytest.approx(1.962)
    assert groove.width_um == pytest.approx(11.772)
    assert groove.left == pytest.approx(left)


@pytest.mark.parametrize(
    ("risk", "limit", "word"),
    [(0.25, 0.25, "safe"), (0.26, 0.25, "borderline"), (0.5, 0.25, "borderline"), (0.51, 0.25, "will show"),
     (0.99, None, "safe")],
)  # fmt: skip
def test_a_risk_has_its_word(risk: float, limit: float | None, word: str) -> None:
    """Up to the limit safe, up to a half borderline; without a limit rules alone decide."""
    assert verdict_of(risk, limit, 0.5) == word


def test_a_table_holds_the_same_as_single_estimates() -> None:
    """Whichever way it is asked."""
    table = _MODEL.table(
        _of("fine"), ["da", "block"], [Grade("P800"), Grade("P1000")], "colour", 1, _SET_SOLIDS
    )
    single = _MODEL.estimate(_of("fine"), "block", Grade("P1000"), "colour", 1, _SET_SOLIDS)
    assert (len(table), table["block", Grade("P1000")]) == (4, single)


def test_a_solid_colour_has_no_flake_to_judge_by() -> None:
    """The model is silent and rules alone decide."""
    assert numbers_of_class(_CONSTANTS, "solid") is None


def test_the_clear_zone_has_no_line_to_judge() -> None:
    """No flake comes over it."""
    with pytest.raises(ValueError, match='no flake comes over the zone "clear"'):
        _MODEL.estimate(_of("fine"), "da", Grade("P800"), "clear", 0, _SET_SOLIDS)


def test_an_unknown_tool_is_refused() -> None:
    """A tool without a depth per grain has no groove."""
    with pytest.raises(KeyError):
        _MODEL.estimate(_of("fine"), "file", Grade("P800"), "fade", 0, _SET_SOLIDS)  # type: ignore[arg-type]


def test_a_table_once_computed_cannot_be_changed_by_a_caller() -> None:
    """Tables are shared between jobs: what a caller gets is its own copy."""
    mine = _MODEL.table(_of("fine"), ["da"], [Grade("P800")], "fade", 0, _SET_SOLIDS)
    mine.clear()
    assert _MODEL.table(_of("fine"), ["da"], [Grade("P800")], "fade", 0, _SET_SOLIDS)


@pytest.mark.parametrize(("zone", "coats_below"), [("colour", 2), ("fade", 0), ("clear", 0)])
def test_the_groove_that_a_line_is_judged_by(zone: Zone, coats_below: int) -> None:
    """By hand from section 5 of the design: 0.05 x 21.8 um deep, six times as wide, sunk by coats over it."""
    found = _MODEL.groove("da", Grade("P800"), zone, 1, 0.4)
    left = (1 - 0.4) * (1 - 0.15) ** coats_below * (1 - 0.15 / 2)
    assert found == pytest.approx((0.05 * 21.8, 6 * 0.05 * 21.8, left))
