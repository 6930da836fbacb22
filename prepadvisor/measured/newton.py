"""Damped Newton: the least of a smooth function of a few unknowns."""

from collections.abc import Callable
from typing import Final

import numpy as np

from prepadvisor.named import NamedTuple
from prepadvisor.surface.domain import Array

_STEPS_MOST: Final = 100
_DONE: Final = 1e-12
_DAMPING_LEAST: Final = 1e-9


class Least(NamedTuple):
    """Where the least value lies, that value, how many steps it took, and whether the last one was small."""

    at: Array
    value: float
    steps: int
    settled: bool


Curved = tuple[float, Array, Array]
"""Value, gradient and a positive (semi)definite matrix of curvature."""


def least(function: Callable[[Array], Curved], start: Array) -> Least:
    """Find the least value of a function, going downhill in every step.

    Each step solves (H + λ·diag H)·δ = −g; λ grows where a step would not go down and shrinks where it does
    (Levenberg and Marquardt), so that steps far out are short and those near the end are Newton's.

    Args:
        function: value, gradient and curvature at a point of shape (p,).
        start: where to begin; shape (p,).

    Returns:
        `Found`.
    """
    at, damping = start, 1e-3
    value, gradient, curvature = function(at)
    for step in range(1, _STEPS_MOST + 1):
        scale = np.maximum(np.diag(curvature), 1e-12)
        move = -np.linalg.solve(curvature + np.diag(damping * scale), gradient)
        promised = -float(gradient @ move)
        if promised < _DONE * (1.0 + abs(value)):
            return Least(at, value, step, settled=True)
        tried = function(at + move)
        if tried[0] < value:
            at = at + move
            value, gradient, curvature = tried
            damping = damping / 10.0 if damping > _DAMPING_LEAST else 0.0
        else:
            damping = max(damping * 10.0, 1e-6)
            if damping > 1e12:
                return Least(at, value, step, settled=promised < 1e-6)
    return Least(at, value, _STEPS_MOST, settled=False)
