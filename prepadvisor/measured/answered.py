"""Answers and how likely unknowns make them: −ln posterior, its gradient and its curvature."""

from abc import ABC, abstractmethod
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.measured.likelihood import (
    SCATTER,
    AnswerBounds,
    LogLikelihood,
    Margins,
    Unknowns,
    log_likelihood,
)
from prepadvisor.measured.numerics import NORMAL, Curve

if TYPE_CHECKING:
    from prepadvisor.measured.numerics import Curved
    from prepadvisor.surface import Array

_FARTHEST_LN: Final = 7.0
"""Of ln s: a thousand times more or less than one, over twenty of its prior standard deviations away."""

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


class Answered(ABC):
    """Answers with their margins as a function of unknowns, which have Gaussian priors.

    Args:
        layout: the unknowns; where the scatter is none of them, margins are counted in it. A prior standard
            deviation of infinity says nothing.
        answers: what was said.
        curve: how answers scatter about the margin.
    """

    def __init__(self, layout: Unknowns, answers: AnswerBounds, curve: Curve = NORMAL) -> None:
        """Take the answers."""
        self.layout = layout
        self.answers = answers
        self.curve = curve

    @abstractmethod
    def margins(self, unknowns: "Array") -> Margins:
        """Return m and its slopes of every answer, for unknowns of shape (p,)."""

    @abstractmethod
    def moved(self, mode: "Array", moves: "Array") -> "Array":
        """Return m of every answer for moves of the unknowns away from the mode; shape (moves, answers)."""

    @abstractmethod
    def bend(self, unknowns: "Array", slopes: "Array", weight: "Array") -> "Array":
        """Return Σ weight · ∂²m, of shape (p, p); `slopes` are those of m there."""

    def spread(self, unknowns: "Array") -> float:
        """Return the scatter s that unknowns say, held within bounds: a search tries far points too."""
        at = self.layout.place.get(SCATTER)
        return 1.0 if at is None else float(np.exp(np.clip(unknowns[at], -_FARTHEST_LN, _FARTHEST_LN)))

    def objective(self, unknowns: "Array") -> "Curved":
        """Return −ln posterior (up to a constant) with its gradient and a positive curvature.

        The curvature leaves out that m is bent, and bends that go upwards: for steps, not for intervals.
        """
        layout = self.layout
        z = (unknowns - layout.mean) / layout.sd
        value, gradient = 0.5 * float(z @ z), z / layout.sd
        curvature = np.diag(layout.sd**-2.0)
        if len(self.answers.times):
            at = layout.place.get(SCATTER)
            margins, seen = self._seen(unknowns)
            value -= float(seen.value.sum())
            gradient = gradient - margins.slopes.T @ seen.by_margin
            if at is not None:
                gradient[at] -= float(seen.by_log_spread.sum())
            curvature = curvature + _positive(seen, margins.slopes, at)
        return value, gradient, curvature

    def curvature(self, unknowns: "Array") -> "Array":
        """Return the matrix of second slopes of −ln posterior, the bend of m included."""
        layout = self.layout
        found = np.diag(layout.sd**-2.0)
        if not len(self.answers.times):
            return found
        margins, seen = self._seen(unknowns)
        found -= margins.slopes.T @ (margins.slopes * seen.by_margin_twice[:, None])
        at = layout.place.get(SCATTER)
        if at is not None:
            mixed = margins.slopes.T @ seen.by_both
            found[at, :] -= mixed
            found[:, at] -= mixed
            found[at, at] -= float(seen.by_log_spread_twice.sum())
        found -= self.bend(unknowns, margins.slopes, seen.by_margin)
        return found

    def _seen(self, unknowns: "Array") -> tuple[Margins, LogLikelihood]:
        margins = self.margins(unknowns)
        return margins, log_likelihood(margins.value, self.spread(unknowns), self.answers, self.curve)


def _positive(seen: LogLikelihood, slopes: "Array", scatter: int | None) -> "Array":
    """Return Σ of each row's second slopes in margin and ln s, made positive row by row."""
    along = np.maximum(-seen.by_margin_twice, 0.0)
    found: Array = slopes.T @ (slopes * along[:, None])
    if scatter is not None:
        across = np.maximum(-seen.by_log_spread_twice, 0.0)
        most = np.sqrt(along * across)
        both = slopes.T @ np.clip(-seen.by_both, -most, most)
        found[scatter, :] += both
        found[:, scatter] += both
        found[scatter, scatter] += float(across.sum())
    return found
