"""Sight: the thinnest line at two distances, and risk against scipy's normal distribution."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from prepadvisor.surface import line_arcsec, log_uncertainty, risk

_ANGLE = st.floats(1e-6, 1e3)


@pytest.mark.parametrize(
    ("distance_mm", "width_um"), [(600.0, 1.45), (2000.0, 4.85)], ids=["at 0.6 m", "at 2 m"]
)
def test_a_dark_line_of_the_derived_width_is_the_thinnest_seen(distance_mm: float, width_um: float) -> None:
    """Hecht & Mintz 1939: 0.5 arcseconds; derived widths in tests/reference/sight.csv, printed to 0.01 µm."""
    assert line_arcsec(width_um, 1.0, distance_mm) == pytest.approx(0.5, abs=0.5 * 0.005 / width_um)


def test_strength_is_a_small_angle() -> None:
    """By hand: 1 µm at 206.264806 mm is 1 arcsecond; arcs count by their factor."""
    assert line_arcsec(1.0, 0.6, 206.264806) == pytest.approx(0.6, rel=1e-8)


@given(_ANGLE, _ANGLE, st.floats(0.05, 3))
def test_risk_is_the_normal_distribution_of_the_log_ratio(
    arcsec: float, thinnest: float, unsure: float
) -> None:
    """scipy.stats.norm.cdf."""
    expected = norm.cdf(math.log(arcsec / thinnest) / unsure)
    assert risk(arcsec, thinnest, unsure) == pytest.approx(expected, rel=1e-9, abs=1e-300)


def test_a_line_at_the_limit_is_seen_half_of_the_time() -> None:
    """The definition of a threshold."""
    assert risk(0.5, 0.5, 0.4) == 0.5


def test_no_line_is_no_risk() -> None:
    """A = 0 is risk 0, not a logarithm of nothing."""
    assert risk(0.0, 0.5, 0.4) == 0.0


@pytest.mark.parametrize("arcsec", [-1.0, math.nan, math.inf])
def test_a_strength_without_meaning_is_refused(arcsec: float) -> None:
    """Negative, nan, infinite."""
    with pytest.raises(ValueError, match="line strength"):
        risk(arcsec, 0.5, 0.4)


def test_independent_uncertainties_add_in_squares() -> None:
    """By hand: (2·0.3)² + (−1·0.2)² + (−2·0.25)² + 0.4² = 0.81."""
    assert log_uncertainty(2.0, -1.0, -2.0, 0.3, 0.2, 0.25, 0.4) == pytest.approx(0.9)
