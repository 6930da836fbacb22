"""Removal: the exponent of published sanding times, and shop minutes."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from prepadvisor.records import DS50_UM, Grade
from prepadvisor.surface import rate_um_dm2_per_minute, step_minutes

_START = (10.0, 18.3, 0.65, 100.0)


def test_published_sanding_times_give_the_derived_exponents(removal_row: dict[str, str]) -> None:
    """Sydor et al. 2021, Appl. Sci. 11(6) 2860: belt times by grade; exponents printed to 0.01."""
    p60 = float(removal_row["P60_s"])
    for grade, printed in ((Grade("P120"), "exponent_60_120"), (Grade("P180"), "exponent_60_180")):
        exponent = math.log(float(removal_row[f"{grade}_s"]) / p60) / math.log(
            DS50_UM[Grade("P60")] / DS50_UM[grade]
        )
        assert exponent == pytest.approx(float(removal_row[printed]), abs=0.0051)


def test_the_rate_law_gives_the_published_ratio_of_times() -> None:
    """Sydor et al. 2021, softwood: P180 takes 188 s, P60 87 s; 1 % for the exponent's two digits."""
    p60, p180 = (
        rate_um_dm2_per_minute(DS50_UM[grade], 10.0, 18.3, 0.65, 1000.0)
        for grade in (Grade("P60"), Grade("P180"))
    )
    assert p60 / p180 == pytest.approx(188 / 87, rel=0.01)


def test_the_rate_is_flat_above_the_critical_grain() -> None:
    """Sydor et al. 2021 find one; its size here is an assumption."""
    rates = rate_um_dm2_per_minute(np.array([100.0, 125.0, 201.0]), *_START)
    np.testing.assert_array_equal(rates, rates[0])


@given(st.floats(1, 2000), st.floats(1, 2000))
def test_coarser_grain_never_cuts_slower(one: float, other: float) -> None:
    """Monotone in grain size."""
    fine, coarse = sorted((one, other))
    assert rate_um_dm2_per_minute(fine, *_START) <= rate_um_dm2_per_minute(coarse, *_START)


@pytest.mark.practice
def test_a_door_from_p800_to_p1000_takes_a_few_minutes() -> None:
    """Practice: 3 to 12 minutes; 1.05 × 0.64 m, grooves of P800 under an interface pad."""
    rate = rate_um_dm2_per_minute(DS50_UM[Grade("P1000")], *_START)
    assert 3 <= step_minutes(1.05 * 0.64, 0.039 * DS50_UM[Grade("P800")], rate, 0.3, 0.5) <= 12


@pytest.mark.practice
def test_a_hand_of_filler_from_p80_to_p180_takes_a_few_minutes() -> None:
    """Practice: 3 to 12 minutes; 0.3 × 0.3 m, grooves of P80 by DA, with guide coat."""
    rate = rate_um_dm2_per_minute(DS50_UM[Grade("P180")], *_START)
    assert 3 <= step_minutes(0.09, 0.05 * DS50_UM[Grade("P80")], rate, 0.3, 0.5, 1.0) <= 12


def test_on_gloss_a_step_takes_one_pass_and_the_disc() -> None:
    """0.6 m² at 0.3 m²/min is 2 min, and half a minute for the disc."""
    assert step_minutes(0.6, 0.0, 10.0, 0.3, 0.5) == pytest.approx(2.5)


def test_deep_grooves_take_the_time_of_cutting() -> None:
    """By hand: 9 dm² × 10 µm / 20 µm·dm²/min = 4.5 min, 0.5 for the disc, 1 for guide coat."""
    assert step_minutes(0.09, 10.0, 20.0, 0.3, 0.5, 1.0) == pytest.approx(6.0)


def test_many_depths_go_in_one_call() -> None:
    """Shape in, shape out."""
    minutes = step_minutes(0.09, np.array([[0.0, 10.0]]), 20.0, 0.3, 0.5)
    np.testing.assert_allclose(minutes, [[0.8, 5.0]])


@pytest.mark.parametrize("area", [-1.0, math.nan])
def test_an_area_without_meaning_is_refused(area: float) -> None:
    """Negative or nan."""
    with pytest.raises(ValueError, match="area"):
        step_minutes(area, 1.0, 10.0, 0.3, 0.5)
