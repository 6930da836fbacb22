"""The normal distribution over arrays, right in the tails, and damped Newton for a few unknowns."""

import math
from collections.abc import Callable
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np

from prepadvisor.surface import Array

# The standard normal distribution over arrays: density and distribution function, right in the tails.
#
# numpy has neither, and scipy would cost a cold start more than a fit. The body is a Taylor series about
# the nearest of a table of points whose values come from `math.erfc`, so dense that four terms do; beyond ±8
# the continued fraction of Laplace.

_STEPS_PER_UNIT: Final = 1024
_BODY: Final = 8.0
_LEVELS: Final = 14  # of the continued fraction: 1e-12 at 8, better beyond
_ROOT_TWO_PI: Final = math.sqrt(2.0 * math.pi)

FARTHEST: Final = 37.0
"""Beyond this many standard deviations the tail is smaller than the smallest number: it is held there."""


def density(z: Array) -> Array:
    """Return φ(z) = exp(−z²/2)/√(2π); any shape, 0 at ±infinity."""
    found: Array = np.exp(-0.5 * z * z) / _ROOT_TWO_PI
    return found


def below(z: Array) -> Array:
    """Return Φ(z), the part of the distribution below z.

    Args:
        z: any shape, infinite values allowed; nan stays nan.

    Returns:
        Φ(z) [1], relative error below 1e-11 from −37 on; further out as at −37.
    """
    body = np.clip(z, -_BODY, _BODY)
    place = np.rint(body * _STEPS_PER_UNIT)
    node = place / _STEPS_PER_UNIT
    step = body - node
    bend = node * step  # Hermite polynomials of the node, by Horner
    square = step * step
    series = 1.0 - bend / 2.0 + (bend * bend - square) / 6.0 - bend * (bend * bend - 3.0 * square) / 24.0
    values, heights, _ = _table()
    at = np.nan_to_num(place, nan=0.0).astype(np.intp) + round(_BODY * _STEPS_PER_UNIT)
    found: Array = values[at] + heights[at] * (step * series)
    far = np.abs(z) > _BODY
    if far.any():
        tail = _tail(np.minimum(np.abs(z[far]), FARTHEST))
        found[far] = np.where(z[far] < 0, tail, 1.0 - tail)
    return np.where(np.isnan(z), np.nan, found)


def below_about(z: Array) -> Array:
    """Return Φ(z) to 1e-10, several times as fast: for sums over many points; z finite."""
    step = np.clip(z, -_BODY, _BODY)
    step *= _STEPS_PER_UNIT
    place = np.rint(step)
    step -= place
    at = place.astype(np.intp)
    at += round(_BODY * _STEPS_PER_UNIT)
    values, heights, bends = _table()
    found = bends[at]
    found *= step
    found += heights[at]
    step *= 1.0 / _STEPS_PER_UNIT
    found *= step
    found += values[at]
    return found


def between(a: Array, b: Array) -> Array:
    """Return Φ(b) − Φ(a) for a ≤ b, from the tail that both lie nearer to, so that no digits are lost."""
    turned = a > 0
    low, high = np.where(turned, -b, a), np.where(turned, -a, b)
    open_ended = low <= -FARTHEST
    found = below(high)
    if not open_ended.all():
        found[~open_ended] -= below(low[~open_ended])
    return found


def _sloping(z: Array) -> tuple[Array, Array]:
    height = density(z)
    return height, -z * height


class Curve(NamedTuple):
    """The distribution that answers scatter by, in standard deviations.

    Attributes:
        between: the part of it between two points, the first the lower; infinite ones allowed.
        density: its density and the slope of that, at points of −37 to 37.
    """

    between: Callable[[Array, Array], Array]
    density: Callable[[Array], tuple[Array, Array]]


NORMAL: Final = Curve(between, _sloping)
"""The normal distribution: what a fit takes, a probit model."""


@lru_cache(maxsize=1)
def _table() -> tuple[Array, Array, Array]:
    """Return Φ, its density, and half of the density's slope a step, at the nodes."""
    reach = round(_BODY * _STEPS_PER_UNIT)
    nodes = np.arange(-reach, reach + 1) / _STEPS_PER_UNIT
    values = np.array([0.5 * math.erfc(each) for each in (-nodes / math.sqrt(2.0)).tolist()])
    return values, density(nodes), -nodes * density(nodes) / (2.0 * _STEPS_PER_UNIT)


def _tail(z: Array) -> Array:
    """Return 1 − Φ(z) for z above the body: φ(z) / (z + 1/(z + 2/(z + 3/…)))."""
    fraction = z
    for level in range(_LEVELS, 0, -1):
        fraction = z + level / fraction
    found: Array = density(z) / fraction
    return found


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


def least(
    function: Callable[[Array], Curved], start: Array, exact: Callable[[Array], Array] | None = None
) -> Least:
    """Find the least value of a function, going downhill in every step.

    Each step solves (H + λ·diag H)·δ = −g; λ grows where a step would not go down and shrinks where it does
    (Levenberg and Marquardt), so that steps far out are short and those near the end are Newton's.

    Args:
        function: value, gradient and curvature at a point of shape (p,).
        start: where to begin; shape (p,).
        exact: the matrix of second slopes; it stands for the curvature where it is positive, so that the last
            steps are Newton's own. Asked at the points that are gone to.

    Returns:
        Where it is least.
    """
    at, damping = start, 1e-3
    value, gradient, curvature = function(at)
    curvature = _sure(curvature, exact, at)
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
            curvature = _sure(curvature, exact, at)
            damping = damping / 10.0 if damping > _DAMPING_LEAST else 0.0
        else:
            damping = max(damping * 10.0, 1e-6)
            if damping > 1e12:
                return Least(at, value, step, settled=promised < 1e-6)
    return Least(at, value, _STEPS_MOST, settled=False)


def _sure(curvature: Array, exact: Callable[[Array], Array] | None, at: Array) -> Array:
    """Return the exact second slopes if they are positive definite, else the curvature."""
    if exact is None:
        return curvature
    found = exact(at)
    try:
        np.linalg.cholesky(found)
    except np.linalg.LinAlgError:
        return curvature
    return found
