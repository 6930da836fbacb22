"""What the film law rests on: scratches level at once, and go on levelling long after a wide wave stops."""

import csv
import math
import tomllib
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.records import DS50_UM, Grade
from prepadvisor.surface import depth_um, width_um

ROOT: Final = Path(__file__).parents[2]
TENSION_N_M: Final = 0.028
CONSTANTS: Final = tomllib.loads((ROOT / "rules/constants.toml").read_text(encoding="utf-8"))
SHOP: Final = tomllib.loads((ROOT / "rules/shop.toml").read_text(encoding="utf-8"))


def orchard_s(wave_um: float, viscosity_pa_s: float, film_um: float, tension_n_m: float) -> float:
    """Return the time in which a ripple falls to 1/e, for any depth of film.

    Orchard 1962: 1/τ = (σ k / 2 η) (sinh kh cosh kh − kh) / (cosh² kh + (kh)²); for long waves it becomes
    τ = 3 η (λ/2π)⁴ / (σ h³).
    """
    k = 2 * math.pi / (wave_um * 1e-6)
    kh = min(k * film_um * 1e-6, 300.0)
    deep = (math.sinh(kh) * math.cosh(kh) - kh) / (math.cosh(kh) ** 2 + kh**2)
    return 2 * viscosity_pa_s / (tension_n_m * k * deep)


def _film_more() -> list[dict[str, str]]:
    with (ROOT / "tests/reference/film_more.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _widths_um() -> list[float]:
    """Return the width of every groove the live model has, for grades a panel is finished with."""
    per_depth = CONSTANTS["groove"]["width_per_depth"]["value"]
    return [
        float(width_um(depth_um(grain, k["value"]), per_depth))
        for k in CONSTANTS["groove"]["depth_per_grain"].values()
        for grade, grain in DS50_UM.items()
        if DS50_UM[Grade("P2500")] <= DS50_UM[grade] <= DS50_UM[Grade("P400")]
    ]


def test_a_ripple_levels_in_the_derived_time(levelling_row: dict[str, str]) -> None:
    """Derived for long waves and printed with two digits.

    The full law differs by its depth, at 200 µm by 2 times.
    """
    names = ("wavelength_um", "viscosity_Pa_s", "film_um", "surface_tension_N_m")
    wave, viscosity, film, tension = (float(levelling_row[name]) for name in names)
    long_wave = 3 * viscosity * (wave * 1e-6 / (2 * math.pi)) ** 4 / (tension * (film * 1e-6) ** 3)
    assert long_wave == pytest.approx(float(levelling_row["tau_s"]), rel=0.015)
    if wave >= 1000:
        assert orchard_s(wave, viscosity, film, tension) == pytest.approx(long_wave, rel=0.12)


def test_every_groove_of_the_model_levels_at_once() -> None:
    """A wet coat of 0.1 Pa·s, as thick as the live wet bed.

    Under a hundredth of a second, drying takes minutes.
    """
    wet_um = SHOP["wet_bed"]["dry_um_per_coat"] / SHOP["wet_bed"]["volume_solids"]
    assert max(orchard_s(width, 0.1, wet_um, TENSION_N_M) for width in _widths_um()) < 0.01


@pytest.mark.parametrize("width_um_", [5, 10, 20, 50, 200, 1000])
def test_the_viscosity_up_to_which_a_groove_levels_is_the_derived_one(width_um_: int) -> None:
    """In 60 s under 20 µm (tests/reference/film_more.csv, derived, two digits)."""
    printed = next(
        row for row in _film_more() if f" {width_um_} um wide" in row["fact"] and row["unit"] == "Pa s"
    )
    assert 60 / orchard_s(width_um_, 1.0, 20, TENSION_N_M) == pytest.approx(float(printed["value"]), rel=0.03)


def test_the_pressure_in_a_fine_scratch_is_the_derived_one() -> None:
    """σ k² times half of the depth."""
    printed = next(row for row in _film_more() if row["unit"] == "Pa")
    found = TENSION_N_M * (2 * math.pi / 5e-6) ** 2 * 0.4e-6
    assert found == pytest.approx(float(printed["value"]), rel=0.005)


@pytest.mark.memory
def test_grooves_go_on_levelling_long_past_touch_dry() -> None:
    """So set solids of 0.40 are a lower bound: every live groove still levels at ten times a touch-dry film.

    Touch-dry is about 10³ Pa·s (memory).
    """
    touch_dry = float(next(row for row in _film_more() if row["tag"] == "memory")["value"])
    assert max(orchard_s(width, 10 * touch_dry, 20, TENSION_N_M) for width in _widths_um()) < 60
