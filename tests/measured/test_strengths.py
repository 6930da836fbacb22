"""Line strength of many panels at once, held against the line model as cards use it."""

import math

import numpy as np

from prepadvisor.cases import FlakeNumbers
from prepadvisor.measured.likelihood import solids_to_unknown
from prepadvisor.measured.strengths import PanelSetting, Strengths
from prepadvisor.planning import LINE_ZONES, LineModel
from prepadvisor.records import DS50_UM, Constants, Grade, Zone


def _setting(
    constants: Constants, grade: Grade, zone: Zone, coats: int, distance: float = 500.0
) -> PanelSetting:
    flake, film = constants.flake["very-fine"], constants.film
    earlier = film.earlier_colour_coats_colour if zone == "colour" else film.earlier_colour_coats_fade
    return PanelSetting(
        DS50_UM[grade], 0, -1, flake.d50_um.value, flake.log_sd.value, flake.tilt_deg.value, coats,
        earlier.value, 1.0, distance,
    )  # fmt: skip


def test_strengths_are_those_of_the_line_model(constants: Constants) -> None:
    """Every grade, zone and number of coats as `LineModel` has them; the model itself promises 0.1 %."""
    flake = constants.flake["very-fine"]
    numbers = FlakeNumbers(flake.d50_um.value, flake.log_sd.value, flake.tilt_deg.value)
    model = LineModel(constants)
    grades, zones = (Grade("P80"), Grade("P400"), Grade("P1000"), Grade("P2500")), LINE_ZONES
    cases = [(grade, zone, coats) for grade in grades for zone in zones for coats in range(4)]
    strengths = Strengths([_setting(constants, *case) for case in cases], 6.0, 0.15)
    found = strengths.at(np.array([math.log(0.07)]), solids_to_unknown(0.40))
    expected = [model.estimate(numbers, "hand-pad", *case, 0.40).arcsec for case in cases]
    np.testing.assert_allclose(np.exp(found.value), expected, rtol=1e-4)


def test_the_slopes_are_those_of_the_value(constants: Constants) -> None:
    """Central differences by ln k, ln D50 and the bed's unknown, independent of the analytic slopes."""
    settings = [_setting(constants, grade, "fade", coats)._replace(size=1)
                for grade in map(Grade, ("P400", "P1200")) for coats in (0, 1, 3)]  # fmt: skip
    strengths = Strengths(settings, 6.0, 0.15)
    at, solids, step = np.array([math.log(0.07), math.log(8.0)]), solids_to_unknown(0.40), 1e-4
    found = strengths.at(at, solids)
    for place, slope in ((0, found.by_depth), (1, found.by_size)):
        move = np.zeros(2)
        move[place] = step
        ends = [strengths.at(at + sign * move, solids).value for sign in (1, -1)]
        np.testing.assert_allclose((ends[0] - ends[1]) / (2 * step), slope, atol=2e-4)
    ends = [strengths.at(at, solids + sign * step).value for sign in (1, -1)]
    np.testing.assert_allclose((ends[0] - ends[1]) / (2 * step), found.by_solids, atol=2e-4)


def test_a_panel_seen_from_twice_as_far_looks_half_as_strong(constants: Constants) -> None:
    """A falls as 1/L (section on sight: small angles)."""
    near, far = (_setting(constants, Grade("P800"), "fade", 0, mm) for mm in (400.0, 800.0))
    found = Strengths([near, far], 6.0, 0.15).at(np.array([math.log(0.07)]), 0.0).value
    assert math.isclose(found[0] - found[1], math.log(2.0), rel_tol=1e-12)


def test_hundreds_of_measured_flakes_are_as_each_alone(constants: Constants) -> None:
    """Many different tilts and spreads are rounded to 1 %: ln A moves by less than 0.02."""
    chance = np.random.default_rng(5)
    base = _setting(constants, Grade("P800"), "fade", 1)
    settings = [
        base._replace(tilt_deg=float(chance.uniform(4, 12)), log_sd=float(chance.uniform(0.3, 0.6)))
        for _ in range(300)
    ]
    at = np.array([math.log(0.05)])
    together = Strengths(settings, 6.0, 0.15).at(at, 0.0).value
    alone = [Strengths([each], 6.0, 0.15).at(at, 0.0).value[0] for each in settings[:40]]
    np.testing.assert_allclose(together[:40], alone, atol=0.02)
