"""Each shipped number of the line model at work: what it does to a line, by the equations.

The numbers stand here as the model's description has them, the sums are plain quadrature; so one that moves
moves a risk, and one that enters where it should not does too. Grain of P1000: 18.3 µm (FEPA 43).
"""

from math import exp, log, pi, radians, sqrt
from typing import Final, NamedTuple, cast

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import simpson
from scipy.stats import norm

from prepadvisor.cases import numbers_of_class
from prepadvisor.planning import LineModel
from prepadvisor.records import Grade, SeenFlake, Tool, Zone
from prepadvisor.standards import House

DEPTH: Final = {
    "hand-paper": 0.09, "block": 0.08, "hand-pad": 0.07, "hand-foam": 0.06, "da-hard": 0.065, "da": 0.050,
    "da-soft": 0.039,
}  # fmt: skip
FLAKES: Final = {
    "coarse": (28.0, 0.47, 9.0), "medium": (18.0, 0.47, 9.0), "fine": (12.0, 0.47, 8.0),
    "very-fine": (8.0, 0.47, 7.0), "vapour": (9.0, 0.40, 5.0),
}  # fmt: skip
GRAIN_UM, WIDTH_PER_DEPTH, SET_COLOUR, SET_BED = 18.3, 6.0, 0.15, 0.40
COATS_BELOW: Final = {"colour": 2, "fade": 0}
VIEW_MM, THINNEST_ARCSEC, STRAIGHT, ARCS = 500.0, 0.5, 1.0, 0.6
U_DEPTH, U_D50, U_TILT, U_LINE = 0.30, 0.20, 0.48, 0.40


class Line(NamedTuple):
    """A line by the equations: strength in arcseconds, and the chance that it is seen."""

    arcsec: float
    risk: float


def weighed(depth_um: float, d50_um: float, log_sd: float, tilt_deg: float, left: float) -> float:
    """Return W in µm: brightness lost over the groove, for log-normal flakes that bridge it by a chord.

    Args:
        depth_um: depth of the groove.
        d50_um: median flake.
        log_sd: spread of ln D.
        tilt_deg: spread of the flakes' normals.
        left: part of the depth that is left in the film, B.
    """
    width, z = WIDTH_PER_DEPTH * depth_um, np.linspace(-6.0, 6.0, 121)
    size = d50_um * np.exp(log_sd * z)[:, None]
    inner, outer = np.abs(size - width) / 2, (size + width) / 2
    unit, lost = np.linspace(0.0, 1.0, 61)[None, :], np.zeros(len(z))
    for low, high in ((np.zeros_like(inner), inner), (inner, outer)):
        x = low + unit * (high - low)
        rise = np.abs(groove(x + size / 2, depth_um, width) - groove(x - size / 2, depth_um, width))
        turned = np.arctan(rise / size * left)
        loss = 1 - np.exp(-((turned / radians(tilt_deg)) ** 2) / 2)
        lost += 2 * simpson(loss, dx=1 / 60, axis=1) * (high - low)[:, 0]
    weight = np.exp(-z * z / 2) / sqrt(2 * pi)
    return float(simpson(weight * lost, x=z))


def groove(x: NDArray[np.float64], depth: float, width: float) -> NDArray[np.float64]:
    """Return the profile of a groove: a cosine squared of its width."""
    return np.where(np.abs(x) <= width / 2, depth * np.cos(pi * x / width) ** 2, 0.0)


def line(tool: str, flake: str, zone: str, coats: int) -> Line:
    """Work a line of P1000 by the equations."""
    d50, log_sd, tilt = FLAKES[flake]
    left = (1 - SET_BED) ** coats * (1 - SET_COLOUR) ** COATS_BELOW[zone] * (1 - SET_COLOUR / 2)
    depth = DEPTH[tool] * GRAIN_UM
    factor = ARCS if tool.startswith("da") else STRAIGHT

    def arcsec(depth_by: float = 1.0, tilt_by: float = 1.0) -> float:
        strength = weighed(depth * depth_by, d50, log_sd, tilt * tilt_by, left)
        return factor * strength / (VIEW_MM * 1000) * 3600 * 180 / pi

    step = 1e-3
    e_depth = (log(arcsec(depth_by=exp(step))) - log(arcsec(depth_by=exp(-step)))) / (2 * step)
    e_tilt = (log(arcsec(tilt_by=exp(step))) - log(arcsec(tilt_by=exp(-step)))) / (2 * step)
    e_d50 = 1 - e_depth  # lengths only: scaling depth and flake alike scales the line
    u = sqrt((e_depth * U_DEPTH) ** 2 + (e_d50 * U_D50) ** 2 + (e_tilt * U_TILT) ** 2 + U_LINE**2)
    return Line(arcsec(), float(norm.cdf(log(arcsec() / THINNEST_ARCSEC) / u)))


@pytest.mark.parametrize(
    ("tool", "flake", "zone", "coats"),
    [
        *((tool, "fine", "fade", 0) for tool in DEPTH),
        *(("da", flake, "fade", 0) for flake in FLAKES if flake != "fine"),
        ("da", "fine", "colour", 0),
        ("hand-pad", "fine", "fade", 1),
        ("hand-pad", "fine", "fade", 2),
    ],
)
def test_a_line_is_as_strong_and_as_likely_seen_as_the_equations_say(
    shipped_house: House, tool: str, flake: str, zone: str, coats: int
) -> None:
    """Every tool, every class of flake, full colour and a wet bed, with the shipped numbers throughout."""
    numbers = numbers_of_class(shipped_house.constants, cast("SeenFlake", flake))
    assert numbers is not None
    model, solids = LineModel(shipped_house.constants), shipped_house.shop.wet_bed.set_solids
    found = model.estimate(numbers, cast("Tool", tool), Grade("P1000"), cast("Zone", zone), coats, solids)
    expected = line(tool, flake, zone, coats)
    assert found.arcsec == pytest.approx(expected.arcsec, rel=2e-3)
    assert found.risk == pytest.approx(expected.risk, rel=4e-3)
