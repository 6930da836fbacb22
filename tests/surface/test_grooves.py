"""Grooves: the known answers of a raised-cosine field through a roughness package, and measured roughness."""

import csv
import tomllib
from pathlib import Path

import numpy as np
import pytest
from surfalize import Profile

from prepadvisor.records import DS50_UM, Grade
from prepadvisor.surface import depth_um, profile_um, width_um

_CONSTANTS = tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
_STEP_UM = 0.01
_TABLES = Path(__file__).parents[1] / "reference"


def _rows(table: str) -> list[dict[str, str]]:
    with (_TABLES / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _field(depth: float, width: float, grooves: int = 20) -> Profile:
    """Return grooves side by side as a measured profile: heights in µm."""
    count = round(width / _STEP_UM)
    x = np.linspace(-width, width, 2 * count + 1)[1::2] / 2
    return Profile(np.tile(-profile_um(x, depth, width), grooves), _STEP_UM)


@pytest.mark.parametrize(
    ("parameter", "per_depth"),
    [("Ra", 1 / np.pi), ("Rq", 1 / (2 * np.sqrt(2))), ("Rp", 0.5), ("Rv", 0.5), ("Rz", 1.0)],
)
def test_the_profile_gives_the_known_answers_of_raised_cosine_grooves(
    parameter: str, per_depth: float
) -> None:
    """tests/reference/roughness_known_answers.csv (derived), measured by surfalize; 1e-3 for the sampling."""
    field = _field(3.0, 18.0)
    whole = {} if parameter in ("Ra", "Rq") else {"n_sections": 1}
    assert getattr(field, parameter)(**whole) / 3.0 == pytest.approx(per_depth, rel=1e-3)


def _live(tool: str, grade: Grade) -> Profile:
    """Return a face scratched all over as the shipped constants have it."""
    depth = float(depth_um(DS50_UM[grade], _CONSTANTS["groove"]["depth_per_grain"][tool]["value"]))
    return _field(depth, float(width_um(depth, _CONSTANTS["groove"]["width_per_depth"]["value"])), 5)


def test_p80_by_da_is_as_rough_as_measured_within_a_factor_of_two() -> None:
    """Ra 1.897 µm on epoxy primer, P80 by machine: Technologies 2025, 13(11) 498, the one published value.

    The live groove is 1.7 times deeper: errs safe.
    """
    measured = float(next(row for row in _rows("roughness") if row["tag"] == "published")["Ra_um_low"])
    assert measured <= _live("da", Grade("P80")).Ra() <= 2 * measured


@pytest.mark.practice
def test_p80_by_da_lies_at_the_top_of_the_charts_for_metals() -> None:
    """Ra/ds50 0.005 to 0.016: trade figures and common practice (tests/reference/roughness.csv)."""
    charts = [row for row in _rows("roughness") if row["tag"] in {"trade figure", "common practice"}]
    low = min(float(row["Ra_over_ds50_low"]) for row in charts)
    high = max(float(row["Ra_over_ds50_high"]) for row in charts)
    assert low <= _live("da", Grade("P80")).Ra() / DS50_UM[Grade("P80")] <= high


@pytest.mark.parametrize("tool", ["da", "da-hard", "hand-paper"])
def test_every_tool_that_is_not_soft_cuts_deeper_than_the_mean_groove_measured(tool: str) -> None:
    """K = π Ra/ds50 = 0.0295 if grooves lie side by side (tests/reference/roughness_more.csv, derived)."""
    mean = next(row for row in _rows("roughness_more") if row["quantity"].startswith("k = "))
    assert _CONSTANTS["groove"]["depth_per_grain"][tool]["value"] >= float(mean["low"])


def test_grooves_side_by_side_have_the_derived_peak_over_rms() -> None:
    """Rz over Rq 2.828 (tests/reference/roughness_more.csv); sanded paint has 13 to 18 (an abstract only).

    So a k that is taken from Ra is the mean groove, and the worst one is deeper.
    """
    derived = next(row for row in _rows("roughness_more") if row["quantity"] == "Rz over Rq")
    field = _live("da", Grade("P800"))
    assert field.Rz(n_sections=1) / field.Rq() == pytest.approx(float(derived["low"]), rel=2e-3)


def test_width_per_depth_lies_between_a_sharp_groove_and_a_measured_scratch() -> None:
    """Sharp grooves about 3 : 1; a single scratch in car clear 20 µm wide, 2 µm deep, 10 : 1."""
    assert 3 <= width_um(1.0, _CONSTANTS["groove"]["width_per_depth"]["value"]) <= 10


def test_a_groove_is_deepest_in_its_middle_and_flat_beyond_its_edge() -> None:
    """Half of the depth is left at a quarter of the width, nothing outside."""
    x = np.array([-10.0, -6.0, -3.0, 0.0, 3.0, 6.0, 10.0])
    np.testing.assert_allclose(profile_um(x, 2.0, 12.0), [0, 0, 1, 2, 1, 0, 0], atol=1e-12)


def test_far_outside_and_nan_count_as_beyond_the_edge() -> None:
    """Infinity must not reach the cosine, where it would warn."""
    np.testing.assert_array_equal(profile_um(np.array([np.inf, -np.inf, np.nan]), 2.0, 12.0), [0, 0, 0])
