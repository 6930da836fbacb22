"""Grooves: the known answers of a raised-cosine field through a roughness package, and the published band."""

import tomllib
from pathlib import Path

import numpy as np
import pytest
from surfalize import Profile

from prepadvisor.surface.grades import DS50_UM
from prepadvisor.surface.grooves import depth_um, groove_field_ra_um, profile_um, width_um

_CONSTANTS = tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
_STEP_UM = 0.01


def _field(depth: float, width: float, grooves: int = 20) -> Profile:
    """Return grooves side by side as a measured profile: heights in µm."""
    count = round(width / _STEP_UM)
    x = np.linspace(-width, width, 2 * count + 1)[1::2] / 2
    return Profile(np.tile(-profile_um(x, depth, width), grooves), _STEP_UM)


@pytest.mark.parametrize(("depth", "width"), [(3.0, 18.0), (0.8, 4.8), (10.05, 60.3)])
def test_a_groove_field_has_the_roughness_a_package_measures(depth: float, width: float) -> None:
    """ISO 21920-2 Ra by surfalize; 1e-5 for the even sampling."""
    assert groove_field_ra_um(depth) == pytest.approx(_field(depth, width).Ra(), rel=1e-5)


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


def test_p80_by_da_lies_in_the_published_band_of_roughness_to_grain() -> None:
    """Ra/ds50 0.005 to 0.016: Technologies 2025, 13(11) 498 and charts (tests/reference/roughness.csv)."""
    k = _CONSTANTS["groove"]["depth_per_grain"]["da"]["value"]
    assert 0.005 <= groove_field_ra_um(depth_um(DS50_UM["P80"], k)) / DS50_UM["P80"] <= 0.016


def test_width_per_depth_lies_between_a_sharp_groove_and_a_measured_scratch() -> None:
    """Sharp grooves about 3 : 1; a single scratch in car clear 20 µm wide, 2 µm deep, 10 : 1."""
    assert 3 <= width_um(1.0, _CONSTANTS["groove"]["width_per_depth"]["value"]) <= 10


def test_roughness_is_linear_in_grain_size() -> None:
    """Gurău et al. 2019, BioResources 14(2) 4512."""
    grain = np.array(list(DS50_UM.values()))
    per_grain = groove_field_ra_um(depth_um(grain, 0.05)) / grain
    np.testing.assert_allclose(per_grain, per_grain[0])


def test_a_groove_is_deepest_in_its_middle_and_flat_beyond_its_edge() -> None:
    """Half of the depth is left at a quarter of the width, nothing outside."""
    x = np.array([-10.0, -6.0, -3.0, 0.0, 3.0, 6.0, 10.0])
    np.testing.assert_allclose(profile_um(x, 2.0, 12.0), [0, 0, 1, 2, 1, 0, 0], atol=1e-12)


def test_far_outside_and_nan_count_as_beyond_the_edge() -> None:
    """Infinity must not reach the cosine, where it would warn."""
    np.testing.assert_array_equal(profile_um(np.array([np.inf, -np.inf, np.nan]), 2.0, 12.0), [0, 0, 0])
