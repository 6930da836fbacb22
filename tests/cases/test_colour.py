"""The colour as judged: the stricter reading of what is not stated, the smaller of class and measurement."""

import tomllib
from pathlib import Path
from typing import get_args

import pytest

from prepadvisor.cases import (
    FlakeNumbers,
    Measured,
    finer_by_measure,
    flake_numbers,
    judged,
    numbers_of_class,
)
from prepadvisor.records import Colour, Constants, Flake

CONSTANTS = Constants.model_validate(
    tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
)
FLAKES: tuple[Flake, ...] = get_args(Flake)


@pytest.mark.parametrize("flake", FLAKES)
def test_stages_that_are_not_stated_are_judged_as_three(flake: Flake) -> None:
    """One reading, the stricter: unstated is exactly as if three had been said."""
    assert judged(Colour(flake=flake)) == judged(Colour(flake=flake, stages=3))


@pytest.mark.parametrize(
    ("stated", "stages", "flake"),
    [
        ("solid", 2, "solid"),
        ("fine", 2, "fine"),
        ("unknown", 2, "very-fine"),
        ("solid", 3, "very-fine"),
        ("fine", 3, "very-fine"),
        ("vapour", 3, "vapour"),
        ("unknown", 3, "very-fine"),
    ],
)
def test_the_flake_judged_by(stated: Flake, stages: int, flake: Flake) -> None:
    """Unknown is very fine; three stages are very fine at least (section 4 of the job file's contract)."""
    assert judged(Colour(flake=stated, stages=stages)).flake == flake


def test_a_tone_that_is_not_stated_is_light() -> None:
    """On light colours scratches show most."""
    assert judged(Colour()).tone == "light"


def _numbers(**stated: float) -> FlakeNumbers | None:
    return flake_numbers(CONSTANTS, judged(Colour(flake="medium", stages=2, **stated)))


def test_of_class_and_measured_size_the_smaller_enters_the_line_model() -> None:
    """Medium is 18 µm, 9 degrees, 0.47 in the constants: smaller counts, larger is not believed."""
    assert _numbers() == FlakeNumbers(18.0, 0.47, 9.0)
    assert _numbers(flake_um=11.0, tilt_deg=6.0) == FlakeNumbers(11.0, 0.47, 6.0)
    assert _numbers(flake_um=30.0, tilt_deg=12.0) == FlakeNumbers(18.0, 0.47, 9.0)
    assert _numbers(log_sd=0.6) == FlakeNumbers(18.0, 0.6, 9.0)


def test_a_standing_measurement_stands_for_the_class() -> None:
    """Only what the shop has sealed, or fitted to its own panels, may loosen."""
    colour = judged(Colour(flake="medium", stages=2))._replace(standing=Measured(d50_um=30.0))
    assert flake_numbers(CONSTANTS, colour) == FlakeNumbers(30.0, 0.47, 9.0)


@pytest.mark.parametrize(
    ("flake", "um", "finer"),
    [
        ("coarse", 13.0, "medium"),
        ("coarse", 12.0, "fine"),
        ("coarse", 8.0, "very-fine"),
        ("fine", 20.0, None),
    ],
)
def test_a_measured_size_suggests_a_finer_class(flake: Flake, um: float, finer: Flake | None) -> None:
    """The classes' sizes: medium 18, fine 12, very fine 8 µm; vapour goes by its look, never by size."""
    assert finer_by_measure(CONSTANTS, judged(Colour(flake=flake, stages=2, flake_um=um))) == finer


def test_solid_colour_has_no_flake() -> None:
    """The line model is silent for it."""
    assert numbers_of_class(CONSTANTS, "solid") is None
    assert flake_numbers(CONSTANTS, judged(Colour(flake="solid", stages=2, flake_um=9.0))) is None
