"""Films: worked coverage examples, levelling times, and what coats leave of a groove."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from prepadvisor.surface.film import (
    FT2_MIL_PER_US_GALLON,
    coat_ml,
    coverage_ft2_per_us_gal,
    coverage_m2_per_l,
    levelling_s,
    mix_ml,
    print_through,
    wet_um,
)

_SHARE = st.floats(0.01, 1.0)


def test_coverage_is_that_of_the_worked_example(coverage_row: dict[str, str]) -> None:
    """Handbook and training text; the tolerance is half of the last digit that is printed there."""
    solids, film, answer = (float(coverage_row[key]) for key in ("volume_solids", "dry_film", "answer"))
    reach = coverage_ft2_per_us_gal if coverage_row["unit"] == "mil" else coverage_m2_per_l
    digits = len(coverage_row["answer"].partition(".")[2])
    assert reach(solids, film) == pytest.approx(answer, abs=0.5 * 10**-digits)


def test_both_coverages_are_one_law() -> None:
    """25.4 µm = 1 mil, 3.785411784 l = 1 US gal, 0.09290304 m² = 1 ft² (exact by definition)."""
    metric_m2 = coverage_m2_per_l(0.5, 2 * 25.4) * 3.785411784
    assert coverage_ft2_per_us_gal(0.5, 2) * 0.09290304 == pytest.approx(metric_m2, rel=1e-12)


def test_the_trades_1604_is_the_exact_number_rounded() -> None:
    """tests/reference/coverage.csv: 1604 ft²·mil/US gal."""
    assert round(FT2_MIL_PER_US_GALLON) == 1604


def test_a_ripple_levels_in_the_derived_time(levelling_row: dict[str, str]) -> None:
    """Orchard 1962, values derived from it and printed with two digits: half of the last is up to 1.5 %."""
    given_ = (
        levelling_row[key] for key in ("wavelength_um", "viscosity_Pa_s", "film_um", "surface_tension_N_m")
    )
    assert levelling_s(*map(float, given_)) == pytest.approx(float(levelling_row["tau_s"]), rel=0.015)


def test_a_groove_of_p800_levels_in_well_under_a_second() -> None:
    """Orchard 1962: scratch-wide ripples count as level at once; 10 µm wide, 20 µm wet, 0.1 Pa·s."""
    assert levelling_s(10.0, 0.1, 20.0, 0.028) < 0.001


def test_bare_groove_under_a_film_without_shrinkage_is_whole() -> None:
    """Nothing over it, nothing lost: B = 1."""
    assert print_through(0, 0.4, 0, 0.0) == 1.0


def test_coats_leave_the_product_of_what_each_still_loses() -> None:
    """By hand: 0.6² · 0.85² · 0.925."""
    assert print_through(2, 0.4, 2, 0.15) == pytest.approx(0.36 * 0.7225 * 0.925)


def test_a_coat_that_sets_without_loss_hides_the_groove() -> None:
    """Set solids of 1 lose nothing afterwards."""
    assert print_through(1, 1.0, 0, 0.15) == 0.0


@given(st.integers(0, 6), _SHARE, st.integers(0, 4), _SHARE)
def test_one_coat_more_never_leaves_more(bed: int, bed_set: float, colour: int, colour_set: float) -> None:
    """Of wet bed or of colour."""
    left = print_through(bed, bed_set, colour, colour_set)
    assert print_through(bed + 1, bed_set, colour, colour_set) <= left
    assert print_through(bed, bed_set, colour + 1, colour_set) <= left


@given(st.floats(0.01, 50), st.floats(1, 60), st.integers(1, 4), _SHARE, _SHARE)
def test_what_the_gun_takes_covers_the_area_again(
    area_m2: float, dry_um: float, coats: int, solids: float, efficiency: float
) -> None:
    """ISO 3233 read backwards: litres × coverage × efficiency is the area of all coats."""
    litres = coat_ml(area_m2, dry_um, coats, solids, efficiency) / 1000
    assert litres * efficiency * coverage_m2_per_l(solids, dry_um) == pytest.approx(area_m2 * coats)


def test_no_coats_take_no_paint() -> None:
    """Zero coats are a sane limit, not an error."""
    assert coat_ml(0.7, 8.0, 0, 0.25, 0.65) == 0.0


def test_wet_film_is_dry_film_over_solids() -> None:
    """ISO 3233: 8 µm dry at 25 % is 32 µm wet."""
    assert wet_um(8.0, 0.25) == 32.0


@pytest.mark.practice
def test_two_coats_on_a_fade_of_a_door_need_a_small_cup() -> None:
    """Practice: 150 to 300 ml for 0.7 m² in two coats."""
    assert 150 <= mix_ml(coat_ml(0.7, 8.0, 2, 0.25, 0.65), 2.0, 75.0, 50.0, 150.0) <= 300


@pytest.mark.parametrize(
    ("computed", "expected"),
    [(0.0, 0), (1.0, 150), (37.5, 150), (37.6, 200), (62.5, 200), (62.51, 250), (500.0, 1100)],
)
def test_what_is_mixed_is_rounded_up_to_the_next_step(computed: float, expected: int) -> None:
    """2 × computed + 75 ml, up to the next 50 ml, at least 150 ml, nothing for nothing (practice)."""
    assert mix_ml(computed, 2.0, 75.0, 50.0, 150.0) == expected


@given(st.floats(0.1, 5000))
def test_what_is_mixed_is_never_less_than_what_is_needed(computed: float) -> None:
    """And at most one step more, the least amount aside."""
    mixed = mix_ml(computed, 2.0, 75.0, 50.0, 150.0)
    assert 2 * computed + 75 - 1e-6 <= mixed <= max(150, 2 * computed + 75 + 50)


@pytest.mark.parametrize("solids", [0.0, -0.1, 1.1, math.nan])
def test_volume_solids_without_meaning_are_refused(solids: float) -> None:
    """A share above 0, up to 1."""
    with pytest.raises(ValueError, match="volume solids"):
        coverage_m2_per_l(solids, 10.0)
