"""Films: worked coverage examples, measured planarization, and what coats leave of a groove."""

import math
import tomllib
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from prepadvisor.surface import coat_ml, mix_ml, print_through, wet_um

RULES: Final = Path(__file__).parents[2] / "rules"

DEEPEST_UM: Final = 0.07 * 25.8
"""Depth of a hand scuff with P600, the coarsest a wet bed may ever lie over."""

_SHARE = st.floats(0.01, 1.0)


def test_coverage_is_that_of_the_worked_example(coverage_row: dict[str, str]) -> None:
    """Handbook and training text, read backwards: what covers the printed area is the printed volume.

    25.4 µm = 1 mil, 3.785411784 l = 1 US gal, 0.09290304 m² = 1 ft² (exact by definition); the tolerance is
    half of the last digit that is printed there.
    """
    solids, film, answer = (float(coverage_row[key]) for key in ("volume_solids", "dry_film", "answer"))
    us = coverage_row["unit"] == "mil"
    area_m2, dry_um = (answer * 0.09290304, film * 25.4) if us else (answer, film)
    digits = len(coverage_row["answer"].partition(".")[2])
    off = 0.5 * 10**-digits / answer
    assert coat_ml(area_m2, dry_um, 1, solids, 1.0) == pytest.approx(3785.411784 if us else 1000.0, rel=off)


def test_one_coat_never_claims_more_than_was_measured(planarization_row: dict[str, str]) -> None:
    """Stokich et al.: a film of twice the step planarizes at least 90 %; the live numbers leave far more."""
    shop = tomllib.loads((RULES / "shop.toml").read_text(encoding="utf-8"))
    assert shop["wet_bed"]["dry_um_per_coat"] > float(planarization_row["film_over_step"]) * DEEPEST_UM
    left = print_through(1, shop["wet_bed"]["set_solids"], 0, 0.0)
    assert left >= 1 - float(planarization_row["planarized_min"])


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
        coat_ml(0.7, 8.0, 2, solids, 0.65)


def test_what_does_not_reach_the_panel_is_paint_too() -> None:
    """ISO 3233 and by hand: 0.5 m2 x 2 coats x 8 um / 0.25 is 32 ml on the panel, 40 ml at 80 % transfer."""
    assert coat_ml(0.5, 8.0, 2, 0.25, 1.0) == pytest.approx(32.0)
    assert coat_ml(0.5, 8.0, 2, 0.25, 0.8) == pytest.approx(40.0)
