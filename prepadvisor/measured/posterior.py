"""From rows to what is now believed: the most likely unknowns, how sure they are, and intervals by draws."""

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.likelihood import SCATTER, SOLIDS, Z_90, Unknowns, chance
from prepadvisor.measured.numerics import least

if TYPE_CHECKING:
    from prepadvisor.measured.answered import Answered, Places
    from prepadvisor.measured.likelihood import Margins
    from prepadvisor.surface import Array


class Posterior(NamedTuple):
    """Mode and covariance of the unknowns (a Gaussian in their logarithms); `settled`: the search ended."""

    layout: Unknowns
    mode: "Array"
    covariance: "Array"
    settled: bool

    @property
    def sd(self) -> "Array":
        """Standard deviation of each unknown."""
        found: Array = np.sqrt(np.diag(self.covariance))
        return found

    @property
    def scatter(self) -> float:
        """How one panel scatters about the threshold, s [ln A]."""
        return float(np.exp(self.mode[self.layout.place[SCATTER]]))

    def variance(self, margins: "Margins") -> "Array":
        """Return the variance of each margin that comes from not knowing the unknowns."""
        found: Array = np.einsum("ij,jk,ik->i", margins.slopes, self.covariance, margins.slopes)
        return np.maximum(found, 0.0)


def prior(layout: Unknowns) -> Posterior:
    """Return what is believed before any row."""
    return Posterior(layout, layout.mean.copy(), np.diag(layout.sd**2), settled=True)


def posterior(model: "Answered") -> Posterior:
    """Return what is believed after the rows of a model.

    The matrix of second slopes at the mode gives the covariance. Where it is not positive, as it can be far
    out in a lapse, the curvature of the search stands in.
    """
    found = least(model.objective, model.layout.mean, model.curvature)
    curvature = model.curvature(found.at)
    try:
        np.linalg.cholesky(curvature)
    except np.linalg.LinAlgError:
        curvature = model.objective(found.at)[2]
    covariance = np.linalg.inv(curvature)
    return Posterior(model.layout, found.at, (covariance + covariance.T) / 2.0, found.settled)


# Intervals from the posterior itself: draws about the mode, weighed by how likely each really is.
#
# Laplace's Gaussian is even where the posterior is not: when no panel with a bed shows, set solids are only
# bounded from below. So draws of a wider Gaussian-like cloud (multivariate t) about the mode are weighed by
# the posterior (importance sampling); ln A of a row is followed to second order in ln k, ln D50 and the
# loss of a coat. Unknowns that no row bears on keep their priors. Where too few draws carry the weight, or
# there are so many rows that Laplace is right, Laplace stands.

_DRAWS: Final = 4000
_WORK_MOST: Final = 1_200_000  # draws × cells of like rows: more cells have fewer draws …
_ROWS_MOST: Final = 1500  # … and with more rows than these Laplace is right
_FREEDOM: Final = 8.0
_WIDER: Final = 1.15
_BED_LEAST: Final = 0.6
_EFFECTIVE_LEAST: Final = 250.0
_SEED: Final = 1763
_TAILS: Final = (0.05, 0.95)


def intervals(model: "Answered", believed: Posterior) -> tuple["Array", "Array"]:
    """Return the ends of the 90 % interval of every unknown.

    Args:
        model: rows and priors.
        believed: mode and Laplace's covariance.

    Returns:
        Lower and upper ends, each of the shape of the mode; the same each time.
    """
    low, high = believed.mode - Z_90 * believed.sd, believed.mode + Z_90 * believed.sd
    cloud = drawn(model, believed)
    if cloud is not None:
        for column, at in enumerate(cloud.own):
            low[at], high[at] = believed.mode[at] + _quantiles(cloud.moves[:, column], cloud.weight)
    return low, high


class WeighedDraws(NamedTuple):
    """Draws of the unknowns that rows bear on (`own`), as moves away from the mode, and their weights."""

    own: "Places"
    moves: "Array"
    weight: "Array"


def drawn(model: "Answered", believed: Posterior) -> WeighedDraws | None:
    """Return draws about the mode with the weights of the posterior, which add up to 1; the same each time.

    Returns:
        None where Laplace's Gaussian stands: no rows, very many, or too few draws that carry the weight.
    """
    rows = len(model.answers.times)
    slopes = model.margins(believed.mode).slopes
    active = np.any(np.abs(slopes) > 0.0, axis=0)
    active |= np.array([name == SCATTER for name in believed.layout.names])
    if not (rows > 0 and float(model.answers.times.sum()) <= _ROWS_MOST):
        return None
    own = np.nonzero(active)[0]
    draws = min(_DRAWS, max(_WORK_MOST // rows, 800))
    source = np.random.default_rng(_SEED)
    spread = believed.covariance[np.ix_(own, own)] * _WIDER**2
    for bed in np.nonzero(own == believed.layout.place.get(SOLIDS, -1))[0]:
        least = (_BED_LEAST * believed.layout.sd[own[bed]]) ** 2
        spread[bed, bed] = max(spread[bed, bed], least)  # its tail may be long on one side
    root = np.linalg.cholesky(spread)
    normal = source.normal(size=(draws, len(own)))
    scale = np.sqrt(source.chisquare(_FREEDOM, size=(draws, 1)) / _FREEDOM)
    cloud = normal / scale
    moves = cloud @ root.T
    square = (cloud * cloud).sum(axis=1)
    log_cloud = -0.5 * (_FREEDOM + len(own)) * np.log1p(square / _FREEDOM)
    weight = _log_posterior(model, believed, own, moves) - log_cloud
    weight = np.exp(weight - weight.max())
    weight /= weight.sum()
    carried = 1.0 / float((weight * weight).sum())
    return WeighedDraws(own, moves, weight) if carried >= _EFFECTIVE_LEAST else None


def _quantiles(values: "Array", weight: "Array") -> "Array":
    order = np.argsort(values, kind="stable")
    middle = np.cumsum(weight[order]) - weight[order] / 2.0
    return np.interp(_TAILS, middle, values[order])


def _log_posterior(model: "Answered", believed: Posterior, own: "Places", moves: "Array") -> "Array":
    """Return ln posterior, up to a constant, at the mode moved so far; shape (draws,)."""
    layout, mode = believed.layout, believed.mode
    whole = np.zeros((len(moves), len(mode)))
    whole[:, own] = moves
    margins = model.moved(mode, whole)
    at = layout.place.get(SCATTER)
    scatter = 1.0 if at is None else np.exp(mode[at] + whole[:, [at]])
    likely = np.log(np.maximum(chance(margins, scatter, model.answers, model.curve), 1e-300))
    found = likely @ model.answers.times
    away = (mode[own] + moves - layout.mean[own]) / layout.sd[own]
    total: Array = found - 0.5 * (away * away).sum(axis=1)
    return total
