"""From rows to what is now believed: the most likely unknowns, how sure they are, and intervals by draws."""

from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.measured.likelihood import DEPTH, SCATTER, SIZE, SOLIDS, Z_90, Unknowns, chance
from prepadvisor.measured.numerics import least
from prepadvisor.named import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.measured.model import Margins, Model, Places
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


def posterior(model: "Model") -> Posterior:
    """Return what is believed after the rows of a model.

    The matrix of second slopes at the mode gives the covariance. Where it is not positive, as it can be far
    out in a lapse, the curvature of the search stands in.
    """
    found = least(model.objective, model.layout.mean)
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
_STEP: Final = 1e-3
_TAILS: Final = (0.05, 0.95)


def intervals(model: "Model", believed: Posterior) -> tuple["Array", "Array"]:
    """Return the ends of the 90 % interval of every unknown.

    Args:
        model: rows and priors.
        believed: mode and Laplace's covariance.

    Returns:
        Lower and upper ends, each of the shape of the mode; the same each time.
    """
    low, high = believed.mode - Z_90 * believed.sd, believed.mode + Z_90 * believed.sd
    rows = len(model.cells)
    slopes = model.margins(believed.mode).slopes
    active = np.any(np.abs(slopes) > 0.0, axis=0)
    active[believed.layout.place[SCATTER]] = True
    if not (rows > 0 and float(model.cells.sum()) <= _ROWS_MOST):
        return low, high
    own = np.nonzero(active)[0]
    draws = min(_DRAWS, max(_WORK_MOST // rows, 800))
    source = np.random.default_rng(_SEED)
    spread = believed.covariance[np.ix_(own, own)] * _WIDER**2
    (bed,) = np.nonzero(own == believed.layout.place[SOLIDS])
    least = (_BED_LEAST * believed.layout.sd[believed.layout.place[SOLIDS]]) ** 2
    spread[bed, bed] = np.maximum(spread[bed, bed], least)  # its tail may be long on one side
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
    if 1.0 / float((weight * weight).sum()) < _EFFECTIVE_LEAST:
        return low, high
    for column, at in enumerate(own):
        low[at], high[at] = believed.mode[at] + _quantiles(moves[:, column], weight)
    return low, high


def _quantiles(values: "Array", weight: "Array") -> "Array":
    order = np.argsort(values, kind="stable")
    middle = np.cumsum(weight[order]) - weight[order] / 2.0
    return np.interp(_TAILS, middle, values[order])


def _log_posterior(model: "Model", believed: Posterior, own: "Places", moves: "Array") -> "Array":
    """Return ln posterior, up to a constant, at the mode moved so far; shape (draws,)."""
    layout = believed.layout
    margins = _margins(model, believed, own, moves)
    scatter = np.exp(believed.mode[layout.place[SCATTER]] + _of(layout.place[SCATTER], own, moves))
    cells = model.cells
    found = np.log(np.maximum(chance(margins, scatter[:, None], model.answers), 1e-300)) @ cells
    away = (believed.mode[own] + moves - layout.mean[own]) / layout.sd[own]
    total: Array = found - 0.5 * (away * away).sum(axis=1)
    return total


def _of(place: int, own: "Places", moves: "Array") -> "Array":
    (at,) = np.nonzero(own == place)
    return moves[:, at[0]] if len(at) else np.zeros(len(moves))


def _margins(model: "Model", believed: Posterior, own: "Places", moves: "Array") -> "Array":
    """Return margins of every row for moves of the unknowns, ln A to second order; shape (draws, rows).

    By the loss of a coat ψ = −ln(1−φ_s) rather than by its logarithm, in which ln A is nearly straight.
    """
    layout, mode = believed.layout, believed.mode
    whole = np.zeros((len(moves), len(mode)))
    whole[:, own] = moves
    bed = layout.place[SOLIDS]
    whole[:, bed] = np.expm1(np.clip(whole[:, bed], -8.0, 8.0))  # of β, in parts of ψ: ∂/∂ln ψ at the mode
    base = model.margins(mode)
    found: Array = base.value + whole @ base.slopes.T
    for mark in (DEPTH, SIZE, SOLIDS):
        sort = np.array([name.startswith(mark) for name in layout.names])
        if not sort.any():
            continue
        step = sort * _STEP
        up, down = model.margins(mode + step).slopes, model.margins(mode - step).slopes
        change = (up - down) / (2.0 * _STEP)
        if mark == SOLIDS:
            change[:, bed] -= base.slopes[:, bed]  # from second slopes by ln ψ to those by ψ, in parts of it
        owner = model.owners(mark)
        found += 0.5 * (whole @ owner.T) * (whole @ change.T)
    return found
