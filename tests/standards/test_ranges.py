"""What numbers can be: those of rules, and what is sensible in a shop's own data. Moved only on purpose."""

from typing import Final

import pytest

from prepadvisor.standards import numbers
from prepadvisor.standards.engine import NUMBER_RANGES
from prepadvisor.standards.house import House
from prepadvisor.standards.proof.sane import SANE, is_sane, sane

RULES: Final = {
    "risk_limit": (0, 1),  # a probability
    "bed_coats_max": (0, 10),
    "bed_coats_min": (0, 10),
    "film_off_max_um": (0, 1000),
    "step_ratio_min": (0, 1),  # of the grain before
    "film_left_min_um": (0, 5000),
}
SENSIBLE: Final = """
mist_mm 0 500 | fade_least_mm 10 1000 | lap_mm 10 150 | ring_mm 5 150 | edge_strip_mm 5 120
pass_m2_per_minute 0.05 1 | cut_faster 0.5 6 | clearing_minutes_per_dm2_max 0.04 0.8
hand_minutes_per_metre 0.2 12 | hand_minutes_least 0 10 | clean_minutes 0 20 | clean_minutes_per_m2 0 20
look_minutes 0 5 | wipe_minutes 0 15 | mask_minutes 0 90 | disc_minutes 0 3 | guide_coat_minutes 0 5
disc_dm2 5 200 | gate_hours 1 72 | look_hours 1 336 | rates 0 100000
wet_bed.volume_solids 0.05 0.6 | wet_bed.set_solids 0.1 0.85 | wet_bed.dry_um_per_coat 2 20
wet_bed.transfer_efficiency 0.2 0.95 | wet_bed.overlap_mm 0 300
groove.depth_per_grain 0.01 0.2 | groove.width_per_depth 2 20 | film.colour_set_solids 0.03 0.6
film.earlier_colour_coats_colour 0 5 | film.earlier_colour_coats_fade 0 5
flake.d50_um 1 100 | flake.vapour.d50_um 2 25 | flake.log_sd 0.05 1.5 | flake.tilt_deg 1 30
sight.viewing_distance_mm 200 3000 | sight.thinnest_line_arcsec 0.1 5 | sight.straight_line_factor 0.1 2
sight.short_arc_factor 0.1 2 | uncertainty.depth_per_grain 0.02 1 | uncertainty.d50 0.02 1
uncertainty.tilt 0.02 1 | uncertainty.thinnest_line 0.02 1.5 | uncertainty.borderline_risk 0.1 0.9
removal.rate_um_dm2_per_minute 0.5 100 | removal.reference_ds50_um 5 100 | removal.exponent 0.1 2
removal.flat_above_ds50_um 20 1000 | mixing.factor 1 5 | mixing.extra_ml 0 500 | mixing.step_ml 1 500
mixing.least_ml 0 2000
"""
"""Common practice and judgement: wider is a slip of unit or of the finger."""


@pytest.mark.regression
def test_a_rule_may_set_what_it_could() -> None:
    """Both ends included."""
    assert dict(NUMBER_RANGES) == RULES


@pytest.mark.regression
@pytest.mark.practice
def test_what_is_sensible_stands_as_it_was_decided() -> None:
    """Both ends included."""
    told = [entry.split() for entry in SENSIBLE.replace("\n", " | ").split("|") if entry.split()]
    assert {name: (float(low), float(high)) for name, low, high in told} == SANE


@pytest.mark.parametrize(
    ("path", "value", "is_so"),
    [
        # on both ends, and past them
        ("gate_hours", 1, True), ("gate_hours", 0.9, False), ("gate_hours", 72, True),
        ("gate_hours", 73, False),
        # none of it, or as much as makes sense
        ("mist_mm", 0, True), ("mist_mm", 9, False), ("mist_mm", 10, True), ("mist_mm", 500, True),
        ("mist_mm", 501, False),
        ("wet_bed.overlap_mm", 0, True), ("wet_bed.overlap_mm", 19, False), ("wet_bed.overlap_mm", 20, True),
        # 0 is nothing else where it is not said so
        ("lap_mm", 0, False), ("clean_minutes", 0, True),
        # a row of a table goes by its column, by its table, or by its own name before both
        ("groove.depth_per_grain.da", 0.2, True), ("groove.depth_per_grain.da", 0.21, False),
        ("hand_minutes_per_metre.edge", 12, True), ("hand_minutes_per_metre.edge", 13, False),
        ("rates.per_disc", 100000, True), ("rates.per_disc", 100001, False),
        ("flake.fine.d50_um", 100, True), ("flake.vapour.d50_um", 26, False),
        ("flake.vapour.d50_um", 25, True),
        ("flake.vapour.tilt_deg", 30, True), ("flake.vapour.tilt_deg", 31, False),
        # of what nobody thought of nothing is known
        ("never.heard", 1e9, True),
    ],
)  # fmt: skip
def test_a_number_is_sensible_within_its_range(path: str, value: float, *, is_so: bool) -> None:
    """By the table above, worked out by hand."""
    assert is_sane(tuple(path.split(".")), value) is is_so


@pytest.mark.parametrize("record", ["shop", "constants"])
def test_every_shipped_number_has_a_range_or_is_no_quantity(shipped_house: House, record: str) -> None:
    """Those without are counts that the file itself bounds."""
    found = dict(numbers(getattr(shipped_house, record)))
    without = {".".join(path) for path in found if sane(path) is None}
    assert all(is_sane(path, value) for path, value in found.items())
    assert without == set()
