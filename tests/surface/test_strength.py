"""Line strength against an independent nested integration by scipy, right to 0.1 %, and its derivatives."""

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import pytest
from scipy.integrate import quad

from prepadvisor.surface import gauss_legendre, line_strength


class Case(NamedTuple):
    """Groove width, width per depth, median flake, log-sd, spread of tilt in degrees, print-through."""

    width_um: float
    width_per_depth: float
    d50_um: float
    log_sd: float
    tilt_deg: float
    left: float


def _by_scipy(case: Case) -> float:
    """Return W by nested adaptive integration of the model's equations as they are written, in µm."""
    width, depth, spread = case.width_um, case.width_um / case.width_per_depth, math.radians(case.tilt_deg)

    def groove(x: float) -> float:
        return depth * math.cos(math.pi * x / width) ** 2 if abs(x) <= width / 2 else 0.0

    def loss(x: float, flake: float) -> float:
        tilt = math.atan(abs(groove(x + flake / 2) - groove(x - flake / 2)) / flake * case.left)
        return -math.expm1(-(tilt**2) / (2 * spread**2))

    def over_x(flake: float) -> float:
        kinks = [0.0, abs(flake - width) / 2, (flake + width) / 2]
        pieces = (quad(loss, a, b, (flake,), epsabs=0, epsrel=1e-6)[0] for a, b in pairwise(kinks))
        return 2 * sum(pieces)

    def weighted(log_flake: float) -> float:
        z = (log_flake - middle) / case.log_sd
        return over_x(math.exp(log_flake)) * math.exp(-z * z / 2) / (case.log_sd * math.sqrt(2 * math.pi))

    middle = math.log(case.d50_um)
    low, high = middle - (6 + 2 * case.log_sd) * case.log_sd, middle + 6 * case.log_sd
    kinks = [low, *(p for p in sorted((math.log(width), middle)) if low < p < high), high]
    return math.fsum(quad(weighted, a, b, epsabs=0, epsrel=1e-5)[0] for a, b in pairwise(kinks))


def _strength(case: Case) -> float:
    spread = math.radians(case.tilt_deg)
    width = np.array([case.width_um])
    return float(
        line_strength(width, case.width_per_depth, case.d50_um, case.log_sd, spread, case.left).strength_um[0]
    )


_GRID = [
    Case(6 * k * grain, 6.0, d50, log_sd, tilt, left)
    for k, grain in ((0.09, 201.0), (0.05, 46.2), (0.07, 18.3), (0.039, 18.3), (0.039, 8.4))
    for d50, log_sd, tilt in ((28.0, 0.47, 9.0), (8.0, 0.47, 7.0), (9.0, 0.40, 5.0))
    for left in (0.925, 0.24)
]
_CORNERS = [
    Case(2.0, 6.0, 200.0, 0.3, 7.0, 0.9),  # flakes a hundred times wider than the groove
    Case(2.0, 6.0, 200.0, 0.05, 7.0, 0.9),
    Case(100.0, 6.0, 1.0, 0.47, 7.0, 0.9),  # flakes a hundred times narrower
    Case(10.0, 6.0, 10.0, 0.01, 7.0, 0.9),  # flakes all as wide as the groove
    Case(10.0, 3.0, 10.0, 0.5, 0.5, 1.0),  # sharp groove under very flat flakes: nearly all is lost
    Case(10.0, 10.0, 10.0, 0.5, 45.0, 0.1),
    Case(10.0, 6.0, 10.0, 2.0, 7.0, 0.5),
]


@pytest.mark.parametrize(
    "case", _GRID + _CORNERS, ids=lambda case: "-".join(f"{value:.3g}" for value in case)
)
def test_strength_is_that_of_nested_integration(case: Case) -> None:
    """scipy.integrate.quad twice over the equations as written; the promise is 0.1 %."""
    assert _strength(case) == pytest.approx(_by_scipy(case), rel=1e-3)


def test_nodes_and_weights_are_those_of_numpy() -> None:
    """numpy.polynomial.legendre.leggauss, moved to 0 … 1."""
    nodes, weights = gauss_legendre(32)
    expected_nodes, expected_weights = np.polynomial.legendre.leggauss(32)
    np.testing.assert_allclose(nodes, (expected_nodes + 1) / 2, rtol=1e-12, atol=1e-14)
    np.testing.assert_allclose(weights, expected_weights / 2, rtol=1e-11)


@pytest.mark.parametrize("case", [*_GRID[::4], _CORNERS[4]._replace(left=0.99)])
def test_answers_to_depth_flake_and_tilt_are_the_slopes_of_the_strength(case: Case) -> None:
    """Central differences of ln W over 0.2 %, independent of the analytic derivatives."""
    step = 1e-3

    def slope(*, depth: float = 0.0, d50: float = 0.0, tilt: float = 0.0, left: float = 0.0) -> float:
        ends = [
            _strength(
                case._replace(
                    width_um=case.width_um * math.exp(sign * depth),
                    d50_um=case.d50_um * math.exp(sign * d50),
                    tilt_deg=case.tilt_deg * math.exp(sign * tilt),
                    left=case.left * math.exp(sign * left),
                )
            )
            for sign in (1, -1)
        ]
        return math.log(ends[0] / ends[1]) / (2 * step)

    answers = line_strength(
        np.array([case.width_um]),
        case.width_per_depth,
        case.d50_um,
        case.log_sd,
        math.radians(case.tilt_deg),
        case.left,
    )
    measured = [slope(depth=step), slope(d50=step), slope(tilt=step), slope(left=step)]
    found = [column[0] for column in answers[1:]]
    np.testing.assert_allclose(found, measured, atol=2e-4)


def test_many_grooves_at_once_are_each_as_alone() -> None:
    """Vectorised over rows: the shared grid of diameters changes nothing but the last digits."""
    widths = np.array([2.0, 10.0, 108.0])
    together = line_strength(widths, 6.0, 8.0, 0.47, 0.12, 0.9).strength_um
    alone = [_strength(Case(width, 6.0, 8.0, 0.47, math.degrees(0.12), 0.9)) for width in widths]
    np.testing.assert_allclose(together, alone, rtol=1e-5)


def test_no_print_through_is_no_line_and_no_answer() -> None:
    """B = 0: W and its slopes are 0, without a warning."""
    answers = line_strength(np.array([5.0]), 6.0, 8.0, 0.47, 0.12, 0.0)
    assert [float(column[0]) for column in answers] == [0.0] * 5


@pytest.mark.parametrize("d50_um", [1e-3, 1e6, 1e200])
def test_absurd_flakes_give_finite_strength(d50_um: float) -> None:
    """Far outside any paint, still no nan and nothing negative."""
    assert 0 <= _strength(Case(10.0, 6.0, d50_um, 0.47, 7.0, 0.9)) < 20


@pytest.mark.parametrize("log_sd", [0.0, 0.005, 2.1, math.nan])
def test_a_spread_of_diameters_outside_the_range_is_refused(log_sd: float) -> None:
    """0.01 to 2 is what the quadrature is made for."""
    with pytest.raises(ValueError, match="spread of flake diameters"):
        line_strength(np.array([5.0]), 6.0, 8.0, log_sd, 0.12, 0.9)


@pytest.mark.parametrize("d50_um", [0.0, -8.0, math.nan])
def test_a_flake_size_without_meaning_is_refused(d50_um: float) -> None:
    """Zero, negative, nan."""
    with pytest.raises(ValueError, match="median flake diameter"):
        line_strength(np.array([5.0]), 6.0, d50_um, 0.47, 0.12, 0.9)
