"""Flakes: tilt by the chord, brightness lost, and the sizes the sieve limits of a standard allow."""

import math

import numpy as np
import pytest
from scipy.stats import norm

from prepadvisor.surface import brightness_loss, tilt_rad


def test_a_flake_that_spans_the_groove_evenly_does_not_tilt() -> None:
    """Both ends are equally high."""
    assert tilt_rad(np.array([0.0]), 5.0, 2.0, 12.0, 1.0)[0] == 0.0


def test_a_wide_flake_with_one_end_in_the_groove_tilts_by_depth_over_width() -> None:
    """By hand: one end 2 µm deep, the other out, 40 µm apart, half of the depth left."""
    assert tilt_rad(np.array([20.0]), 40.0, 2.0, 12.0, 0.5)[0] == pytest.approx(math.atan(2.0 / 40.0 * 0.5))


def test_a_tiny_flake_lies_on_the_wall() -> None:
    """Steepest slope of h cos²(πx/w) is πh/w, at a quarter of the width."""
    assert tilt_rad(np.array([3.0]), 1e-4, 2.0, 12.0, 1.0)[0] == pytest.approx(
        math.atan(math.pi * 2 / 12), rel=1e-6
    )


def test_no_print_through_no_tilt() -> None:
    """B = 0 leaves a flat film."""
    assert not tilt_rad(np.linspace(-20, 20, 41), 8.0, 2.0, 12.0, 0.0).any()


def test_a_tilt_of_one_standard_deviation_costs_the_gaussian_share() -> None:
    """1 − exp(−½) = 0.393469 (any table of the exponential)."""
    assert brightness_loss(np.array([0.1]), 0.1)[0] == pytest.approx(0.393469, abs=1e-6)


def test_a_very_small_tilt_keeps_its_digits() -> None:
    """The loss goes to τ²/(2σ²): 1 − exp would have lost everything below 1e-16."""
    assert brightness_loss(np.array([1e-12]), 0.1)[0] == pytest.approx(5e-23, rel=1e-9)


def test_the_sieve_bound_is_the_median_that_leaves_its_residue(flake_sieve_row: dict[str, str]) -> None:
    """ASTM D962 residue on 45 µm, D50 derived for log-sd 0.5.

    Scipy's normal distribution, rounded to 0.1 µm.
    """
    d50 = float(flake_sieve_row["largest_D50_um_logsd_0.5"])
    above = norm.sf(math.log(45 / d50) / 0.5)
    assert 100 * above == pytest.approx(float(flake_sieve_row["max_residue_on_45um_percent"]), rel=0.03)


@pytest.mark.parametrize("spread", [0.0, math.nan, -0.1])
def test_a_spread_without_meaning_is_refused(spread: float) -> None:
    """Perfectly flat flakes would make any tilt a black line."""
    with pytest.raises(ValueError, match="spread of tilt"):
        brightness_loss(np.array([0.1]), spread)
