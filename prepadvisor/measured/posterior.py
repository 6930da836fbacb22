"""From rows to what is now believed: the most likely unknowns and how sure they are (Laplace)."""

import numpy as np

from prepadvisor.measured.model import Margins, Model
from prepadvisor.measured.newton import least
from prepadvisor.measured.unknowns import SCATTER, Unknowns
from prepadvisor.named import NamedTuple
from prepadvisor.surface.domain import Array


class Posterior(NamedTuple):
    """Mode and covariance of the unknowns (a Gaussian in their logarithms); `settled`: the search ended."""

    layout: Unknowns
    mode: Array
    covariance: Array
    settled: bool

    @property
    def sd(self) -> Array:
        """Standard deviation of each unknown."""
        found: Array = np.sqrt(np.diag(self.covariance))
        return found

    @property
    def scatter(self) -> float:
        """How one panel scatters about the threshold, s [ln A]."""
        return float(np.exp(self.mode[self.layout.place[SCATTER]]))

    def variance(self, margins: Margins) -> Array:
        """Return the variance of each margin that comes from not knowing the unknowns."""
        found: Array = np.einsum("ij,jk,ik->i", margins.slopes, self.covariance, margins.slopes)
        return np.maximum(found, 0.0)


def prior(layout: Unknowns) -> Posterior:
    """Return what is believed before any row."""
    return Posterior(layout, layout.mean.copy(), np.diag(layout.sd**2), settled=True)


def posterior(model: Model) -> Posterior:
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
