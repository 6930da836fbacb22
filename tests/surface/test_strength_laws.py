"""Laws of line strength that hold whatever the numbers are."""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.surface import line_arcsec, line_strength

_WIDTH = st.floats(1.0, 120.0)
_D50 = st.floats(1.0, 200.0)
_LOG_SD = st.floats(0.05, 1.5)
_TILT = st.floats(0.5, 45.0).map(math.radians)
_LEFT = st.floats(0.01, 1.0)
_RATIO = st.floats(1.01, 3.0)
_ROUNDING = 1 - 2e-5

_few = settings(max_examples=60, deadline=None)


def _strength(width: float, d50: float, log_sd: float, tilt: float, left: float) -> float:
    return float(line_strength(np.array([width]), 6.0, d50, log_sd, tilt, left).strength_um[0])


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, _LEFT, _RATIO)
def test_grain_flake_and_distance_scaled_alike_look_the_same(
    width: float, d50: float, log_sd: float, tilt: float, left: float, ratio: float
) -> None:
    """The scaling law: nothing but ratios of lengths enters."""
    plain = line_arcsec(_strength(width, d50, log_sd, tilt, left), 1.0, 500.0)
    scaled = line_arcsec(_strength(width * ratio, d50 * ratio, log_sd, tilt, left), 1.0, 500.0 * ratio)
    assert math.isclose(plain, scaled, rel_tol=1e-9)


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, _LEFT, _RATIO)
def test_a_larger_groove_is_never_weaker(
    width: float, d50: float, log_sd: float, tilt: float, left: float, ratio: float
) -> None:
    """Strength rises with depth per grain and with grain size: both scale the groove."""
    weaker = _strength(width, d50, log_sd, tilt, left)
    assert _strength(width * ratio, d50, log_sd, tilt, left) >= weaker * _ROUNDING


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, st.floats(0.01, 0.9), st.floats(1.0, 1.1))
def test_more_print_through_is_never_weaker(
    width: float, d50: float, log_sd: float, tilt: float, left: float, ratio: float
) -> None:
    """Strength rises with what the film leaves."""
    assert (
        _strength(width, d50, log_sd, tilt, left * ratio)
        >= _strength(width, d50, log_sd, tilt, left) * _ROUNDING
    )


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, _LEFT, _RATIO)
def test_flakes_that_lie_less_evenly_hide_more(
    width: float, d50: float, log_sd: float, tilt: float, left: float, ratio: float
) -> None:
    """Strength falls with the spread of tilt."""
    assert (
        _strength(width, d50, log_sd, tilt * ratio, left)
        <= _strength(width, d50, log_sd, tilt, left) / _ROUNDING
    )


@_few
@given(_WIDTH, _LOG_SD, _TILT, _LEFT)
def test_endlessly_wide_flakes_bridge_every_groove(
    width: float, log_sd: float, tilt: float, left: float
) -> None:
    """Strength goes to 0 as the flake grows."""
    assert _strength(width, 1e9 * width, log_sd, tilt, left) < 1e-6 * width


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, _LEFT)
def test_answers_to_depth_and_to_flake_sum_to_one(
    width: float, d50: float, log_sd: float, tilt: float, left: float
) -> None:
    """The scaling law in logarithms; the slope by depth is measured, not taken from the sum."""
    step = 1e-4
    higher, lower = (_strength(width * math.exp(s), d50, log_sd, tilt, left) for s in (step, -step))
    by_depth = math.log(higher / lower) / (2 * step)
    by_d50 = float(line_strength(np.array([width]), 6.0, d50, log_sd, tilt, left).by_d50[0])
    assert math.isclose(by_depth + by_d50, 1.0, abs_tol=2e-3)


@_few
@given(_WIDTH, _D50, _LOG_SD, _TILT, _LEFT)
def test_no_line_is_stronger_than_its_flakes_reach(
    width: float, d50: float, log_sd: float, tilt: float, left: float
) -> None:
    """Brightness is lost at most over groove and flake together: W ≤ w + mean D, which is D50·exp(s²/2)."""
    assert 0 <= _strength(width, d50, log_sd, tilt, left) <= width + d50 * math.exp(log_sd**2 / 2)
