"""Fits whose margins are straight lines, and other curves than the normal: what published tables are of.

Everything that fits is the product's: −ln posterior, damped Newton, Laplace, weighed draws, information. Only
the design, the distribution that answers scatter by, and the answers are given here.
"""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np

from prepadvisor.measured.answered import Answered
from prepadvisor.measured.likelihood import AnswerBounds, Margins, Unknowns, information
from prepadvisor.measured.numerics import NORMAL, Curve
from prepadvisor.surface import Array

_TABLES = Path(__file__).parents[1] / "reference"


def table(name: str) -> list[dict[str, str]]:
    """Return the rows of a published table."""
    with (_TABLES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def doses(name: str) -> tuple[Array, Array, Array]:
    """Return doses, how many were tried at each, how many answered."""
    rows = [row for row in table("probit_data") if row["set"] == name]
    x, n, k = (np.array([float(row[key]) for row in rows]) for key in ("x", "n", "k"))
    return x, n, k


def counts(n: Array, k: Array, floor: float = 0.0, lapse: float = 0.0) -> AnswerBounds:
    """Return how many answered yes, then how many no.

    Of all answers `floor` say yes by themselves and `lapse` no: P(yes) = floor + (1 − floor − lapse)·F.
    """
    zero, inf, both = np.zeros(len(n)), np.full(len(n), np.inf), floor + lapse
    yes = floor / both if both else 0.5
    return AnswerBounds(
        low=np.concatenate([zero, -inf]),
        high=np.concatenate([inf, zero]),
        at_random=np.repeat([yes, 1.0 - yes], len(n)),
        lapse=np.full(2 * len(n), both),
        times=np.concatenate([k, n - k]),
    )


class Straight(Answered):
    """Answers with margins design @ unknowns, each row of the design once for yes and once for no."""

    def __init__(
        self, design: Array, answers: AnswerBounds, *, sd: float = math.inf, curve: Curve = NORMAL
    ) -> None:
        self.design = np.vstack([design, design])
        names = tuple(map(str, range(design.shape[1])))
        zero = np.zeros(len(names))
        layout = Unknowns(names, zero, np.full(len(names), sd), {name: int(name) for name in names})
        super().__init__(layout, answers, curve)

    def margins(self, unknowns: Array) -> Margins:
        """Return design @ unknowns."""
        value = self.design @ unknowns
        return Margins(value, self.design, np.zeros_like(value))

    def moved(self, mode: Array, moves: Array) -> Array:
        """Return the same, moved."""
        return self.design @ mode + moves @ self.design.T

    def bend(self, unknowns: Array, slopes: Array, weight: Array) -> Array:  # noqa: ARG002
        """Return nothing: lines are straight."""
        return np.zeros((len(unknowns), len(unknowns)))

    def expected_covariance(self, unknowns: Array) -> Array:
        """Return the covariance by expected information, as published standard errors are."""
        weight = self.answers.times * information(self.design @ unknowns, 1.0, 0.0, self.curve)
        found: Array = np.asarray(
            np.linalg.inv(self.design.T @ (self.design * weight[:, None])), dtype=np.float64
        )
        return found


def line(x: Array) -> Array:
    """Return the design of intercept and slope."""
    return np.stack([np.ones_like(x), x], axis=1)


def _curve(below: Callable[[Array], Array], above: Callable[[Array], Array],
           density: Callable[[Array], tuple[Array, Array]]) -> Curve:  # fmt: skip
    def between(a: Array, b: Array) -> Array:
        return np.where(a > 0, above(a) - above(b), below(b) - below(a))

    return Curve(between, density)


def _logistic(z: Array) -> Array:
    return np.exp(-np.logaddexp(0.0, -z))


def _logistic_density(z: Array) -> tuple[Array, Array]:
    height = _logistic(z) * _logistic(-z)
    return height, height * (_logistic(-z) - _logistic(z))


def _gumbel_density(z: Array) -> tuple[Array, Array]:
    height = np.exp(-z - np.exp(-z))
    return height, height * np.expm1(-z)


LOGISTIC = _curve(_logistic, lambda z: _logistic(-z), _logistic_density)
"""P(yes) = 1/(1 + e^−m): the logit link."""

GUMBEL = _curve(lambda z: np.exp(-np.exp(-z)), lambda z: -np.expm1(-np.exp(-z)), _gumbel_density)
"""P(yes) = 1 − exp(−e^m): the complementary log-log link; over ln x it is Weibull's curve."""

CURVES = {"probit": NORMAL, "logit": LOGISTIC, "cloglog": GUMBEL}
