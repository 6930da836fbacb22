"""The line model from its equations, by plain quadrature.

A test holds it against nested scipy.integrate.quad.
"""

from collections.abc import Mapping
from functools import lru_cache
from math import exp, log, pi, radians, sqrt
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import simpson
from scipy.stats import norm

from tests.recompute.house import GRAIN

STRAIGHT: Final = frozenset({"hand-paper", "hand-pad", "hand-foam", "block"})
_LN_DELTA: Final = np.linspace(-9.0, 9.0, 1801)
_STEP: Final = 1e-3


class Flake(NamedTuple):
    """Median diameter by area in µm, spread of its logarithm, spread of tilt in degrees."""

    d50_um: float
    log_sd: float
    tilt_deg: float


@lru_cache(maxsize=512)
def lost(slope: float, tilt: float) -> NDArray[np.float64]:
    """Return F over a grid of ln(D/w): the brightness lost over one groove, in widths of the groove.

    Args:
        slope: what is left of the depth, over the width.
        tilt: standard deviation of the flakes' normals in radians.
    """
    delta = np.exp(_LN_DELTA)[:, None]
    inner, outer = np.abs(delta - 1) / 2, (delta + 1) / 2
    unit = np.linspace(0.0, 1.0, 161)[None, :]
    total = np.zeros(len(_LN_DELTA))
    for low, high in ((np.zeros_like(inner), inner), (inner, outer)):
        x = low + unit * (high - low)
        chord = np.abs(_arch(x + delta / 2) - _arch(x - delta / 2)) / delta
        loss = -np.expm1(-((np.arctan(chord * slope) / tilt) ** 2) / 2)
        total += 2 * simpson(loss, dx=1.0, axis=1) / 160 * (high - low)[:, 0]
    return total


def _arch(x: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.where(np.abs(x) <= 0.5, np.cos(pi * np.clip(x, -0.5, 0.5)) ** 2, 0.0)


def strength_um(width_um: float, d50_um: float, log_sd: float, slope: float, tilt: float) -> float:
    """Return W = w · E[F(D/w)] over the log-normal sizes."""
    z = (_LN_DELTA - log(d50_um / width_um)) / log_sd
    weight = np.exp(-z * z / 2) / (log_sd * sqrt(2 * pi))
    return width_um * float(simpson(weight * lost(slope, tilt), x=_LN_DELTA))


def left(house: Mapping[str, Any], zone: str, coats: int, set_solids: float) -> float:
    """Return the part of a groove's depth left under the flakes one sees."""
    film = house["film"]
    earlier = film[f"earlier_colour_coats_{zone}"]["value"]
    colour = film["colour_set_solids"]["value"]
    return float((1 - set_solids) ** coats * (1 - colour) ** earlier * (1 - colour / 2))


class Estimate(NamedTuple):
    """Strength at the eye in arcseconds, and the risk that it shows."""

    arcsec: float
    risk: float


def estimate(
    constants: Mapping[str, Any],
    flake: Flake,
    tool: str,
    grade: str,
    zone: str,
    coats: int,
    set_solids: float,
) -> Estimate:
    """Return what the equations say of one line; the slopes by small steps of depth, size and tilt."""
    groove, sight, unsure = constants["groove"], constants["sight"], constants["uncertainty"]
    per_depth = groove["width_per_depth"]["value"]
    depth = groove["depth_per_grain"][tool]["value"] * GRAIN[grade]
    slope = left(constants, zone, coats, set_solids) / per_depth
    tilt = radians(flake.tilt_deg)

    def strength(deeper: float = 0.0, wider: float = 0.0, tilted: float = 0.0) -> float:
        return strength_um(
            per_depth * depth * exp(deeper),
            flake.d50_um * exp(wider),
            flake.log_sd,
            slope,
            tilt * exp(tilted),
        )

    at = strength()
    if at <= 0:
        return Estimate(0.0, 0.0)
    slopes = [
        (log(strength(**{name: _STEP})) - log(strength(**{name: -_STEP}))) / (2 * _STEP)
        for name in ("deeper", "wider", "tilted")
    ]
    shares = [unsure[name]["value"] for name in ("depth_per_grain", "d50", "tilt")]
    spread = sqrt(
        sum((e * u) ** 2 for e, u in zip(slopes, shares, strict=True)) + unsure["thinnest_line"]["value"] ** 2
    )
    factor = sight["straight_line_factor" if tool in STRAIGHT else "short_arc_factor"]["value"]
    arcsec = factor * at / (sight["viewing_distance_mm"]["value"] * 1000) * 180 * 3600 / pi
    threshold = sight["thinnest_line_arcsec"]["value"]
    return Estimate(arcsec, float(norm.cdf(log(arcsec / threshold) / spread)))
