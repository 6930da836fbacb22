"""The plain line model of the re-computation against nested adaptive quadrature."""

import itertools
import math

import pytest
from scipy.integrate import quad

from tests.recompute.scratch import strength_um


def _lost(delta: float, slope: float, tilt: float) -> float:
    def arch(x: float) -> float:
        return math.cos(math.pi * x) ** 2 if abs(x) <= 0.5 else 0.0

    def loss(x: float) -> float:
        chord = abs(arch(x + delta / 2) - arch(x - delta / 2)) / delta
        return -math.expm1(-((math.atan(chord * slope) / tilt) ** 2) / 2)

    kinks = (0.0, abs(delta - 1) / 2, (delta + 1) / 2)
    return 2 * sum(quad(loss, low, high, limit=200)[0] for low, high in itertools.pairwise(kinks))


@pytest.mark.parametrize(
    ("width", "d50", "log_sd", "slope", "tilt"),
    [
        (4.3, 8.0, 0.47, 0.154, 0.122),
        (0.8, 28.0, 0.47, 0.06, 0.157),
        (60.0, 5.0, 0.2, 0.12, 0.05),
        (7.0, 9.0, 0.6, 0.02, 0.087),
    ],
)
def test_the_plain_quadrature_is_scipys(
    width: float, d50: float, log_sd: float, slope: float, tilt: float
) -> None:
    """scipy.integrate.quad over place and over size, to a tenth of what the program promises."""

    def over_size(z: float) -> float:
        density = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        return density * _lost(d50 / width * math.exp(log_sd * z), slope, tilt)

    kink = math.log(width / d50) / log_sd
    points = sorted({-8.0, 8.0, min(max(kink, -8.0), 8.0)})
    expected = width * sum(
        quad(over_size, low, high, limit=100, epsrel=1e-6)[0] for low, high in itertools.pairwise(points)
    )
    assert strength_um(width, d50, log_sd, slope, tilt) == pytest.approx(expected, rel=1e-4)
