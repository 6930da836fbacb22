"""Every function of the model refuses every number without meaning.

Each parameter in turn, the others sound.
"""

from collections.abc import Callable
from math import inf, nan
from typing import Any, Final

import numpy as np
import pytest

from prepadvisor.surface import film, removal, sight
from prepadvisor.surface import scratch as flakes
from prepadvisor.surface import scratch as grooves
from prepadvisor.surface import sight as strength

POSITIVE: Final = (0.0, -1.0, nan, inf)
NOT_NEGATIVE: Final = (-1e-9, nan, inf)
SHARE: Final = (-0.01, 1.01, nan)
PART: Final = (0.0, -0.1, 1.01, nan)
SPREAD: Final = (0.009, 2.01, nan)

SOUND: Final[dict[Callable[..., Any], dict[str, tuple[Any, tuple[float, ...]]]]] = {
    grooves.depth_um: {"ds50_um": (18.3, POSITIVE), "depth_per_grain": (0.05, POSITIVE)},
    grooves.width_um: {"depth_um": (0.9, POSITIVE), "width_per_depth": (6.0, POSITIVE)},
    grooves.profile_um: {
        "x_um": (np.array([0.0]), ()), "depth_um": (0.9, POSITIVE), "width_um": (5.4, POSITIVE),
    },
    flakes.tilt_rad: {
        "x_um": (np.array([0.0]), ()), "flake_um": (8.0, POSITIVE), "depth_um": (0.9, POSITIVE),
        "width_um": (5.4, POSITIVE), "print_through": (0.5, SHARE),
    },
    flakes.brightness_loss: {"tilt_rad": (np.array([0.1]), ()), "spread_rad": (0.1, POSITIVE)},
    strength.line_strength: {
        "width_um": (np.array([5.4]), POSITIVE), "width_per_depth": (6.0, POSITIVE),
        "d50_um": (8.0, POSITIVE), "log_sd": (0.47, SPREAD), "spread_rad": (0.12, POSITIVE),
        "print_through": (0.5, SHARE),
    },
    film.print_through: {
        "bed_coats": (1, NOT_NEGATIVE), "bed_set_solids": (0.4, SHARE),
        "earlier_colour_coats": (2, NOT_NEGATIVE), "colour_set_solids": (0.15, SHARE),
    },
    film.wet_um: {"dry_um": (8.0, NOT_NEGATIVE), "volume_solids": (0.25, PART)},
    film.coat_ml: {
        "area_m2": (0.7, NOT_NEGATIVE), "dry_um_per_coat": (8.0, POSITIVE), "coats": (2, NOT_NEGATIVE),
        "volume_solids": (0.25, PART), "transfer_efficiency": (0.65, PART),
    },
    film.mix_ml: {
        "computed_ml": (60.0, NOT_NEGATIVE), "factor": (2.0, POSITIVE), "extra_ml": (75.0, NOT_NEGATIVE),
        "step_ml": (50.0, POSITIVE), "least_ml": (150.0, NOT_NEGATIVE),
    },
    removal.rate_um_dm2_per_minute: {
        "ds50_um": (18.3, POSITIVE), "reference_rate_um_dm2_per_minute": (10.0, POSITIVE),
        "reference_ds50_um": (18.3, POSITIVE), "exponent": (0.65, NOT_NEGATIVE),
        "flat_above_ds50_um": (100.0, POSITIVE),
    },
    removal.step_minutes: {
        "area_m2": (0.7, NOT_NEGATIVE), "depth_below_um": (1.0, NOT_NEGATIVE),
        "rate_um_dm2_per_minute": (10.0, POSITIVE), "pass_m2_per_minute": (0.3, POSITIVE),
        "disc_minutes": (0.5, NOT_NEGATIVE), "guide_coat_minutes": (1.0, NOT_NEGATIVE),
    },
    sight.line_arcsec: {
        "strength_um": (0.5, NOT_NEGATIVE), "line_factor": (0.6, POSITIVE),
        "viewing_distance_mm": (500.0, POSITIVE),
    },
    sight.risk: {
        "arcsec": (0.3, NOT_NEGATIVE), "thinnest_line_arcsec": (0.5, POSITIVE),
        "log_uncertainty": (0.6, POSITIVE),
    },
}  # fmt: skip
"""For each function its parameters, each with a sound value and those it must refuse."""

CASES: Final = [
    pytest.param(function, name, value, id=f"{function.__name__}-{name}-{value}")
    for function, parameters in SOUND.items()
    for name, (_, wrong) in parameters.items()
    for value in wrong
]


@pytest.mark.parametrize("function", SOUND, ids=lambda function: function.__name__)
def test_sound_numbers_pass(function: Callable[..., Any]) -> None:
    """Or the refusals would say nothing."""
    function(**{name: sound for name, (sound, _) in SOUND[function].items()})


@pytest.mark.parametrize(("function", "name", "value"), CASES)
def test_a_number_without_meaning_is_refused(function: Callable[..., Any], name: str, value: float) -> None:
    """As the docstring says; nothing is computed from it."""
    arguments = {each: sound for each, (sound, _) in SOUND[function].items()}
    arguments[name] = np.array([5.4, value]) if isinstance(arguments[name], np.ndarray) else value
    with pytest.raises(ValueError, match="must"):
        function(**arguments)


@pytest.mark.parametrize("edge", [0.01, 2.0])
def test_the_ends_of_the_spread_are_sound(edge: float) -> None:
    """0.01 to 2, both included."""
    strength.line_strength(np.array([5.4]), 6.0, 8.0, edge, 0.12, 0.5)
