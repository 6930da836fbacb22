"""Which panels to spray next: those expected to say most about the decisions a shop really makes.

A decision is whether a line of this tool and grade stays within its limit of risk: whether its margin m lies
below s·Φ⁻¹(limit). A panel's answer y says I(D; y) = H(y) − E[H(y | D)] about a decision D; margins of panel
and decision are jointly Gaussian, so both terms are one quadrature over the decision's margin. Panels are
chosen one after another, each as if the earlier ones had been read (their expected information is added).

A decision that seems made by numbers which may be wrong would not be looked at again: a tool whose scratches
are half as deep as believed kept two thirds of that error after 60 panels. So what a panel says of the
strength of the decisions' own lines, ½·ln(variance before/after), counts too, for a small share.

Answers count as if strips scattered independently. Strips prepared alike in one go share sander, hand, booth
and eye, so that a third of a kind says less than counted: at most two alike are chosen at a time, and what
the two say of one another tells how well one reads.
References: mutual information for choosing trials: Houlsby et al. 2011, arXiv 1112.5745; Watson 2017, J.
Vision 17(3) 10.
"""

from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.likelihood import LAPSE, information
from prepadvisor.measured.numerics import below, below_about
from prepadvisor.surface import Array, gauss_legendre

if TYPE_CHECKING:
    from prepadvisor.measured.model import ModelFlake, Settings
    from prepadvisor.measured.posterior import Posterior
    from prepadvisor.records import Grade

ALIKE_MOST: Final = 2
"""So many panels alike are chosen at a time, while there are others."""
_NODES: Final = 8
_DECISIONS_MOST: Final = 150
_OUTER_NODES: Final = 96
_LEAST: Final = 1e-12
_OF_LINES: Final = 0.1
"""What a nat about the strength of a decision's line counts against one about the decision. Assumption: from
0.05 to 0.3 the panels chosen are nearly the same."""


class Case(NamedTuple):
    """A line to be decided on, or to be made on a panel; `label` is the flake's class or colour."""

    label: str
    flake: "ModelFlake"
    tool: str
    grade: "Grade"
    zone: str
    coats: int


class ArchivedDecision(NamedTuple):
    """A decision of the archive: its case, the limit of risk it is held against, how often it is made."""

    case: Case
    risk_limit: float
    times: float


class ChosenPanel(NamedTuple):
    """A chosen panel: its place among the candidates, expected information, and what it says most about.

    `chance` of showing; `decision` is the place of the decision it says most about, `sure` how likely that is
    judged rightly now, `settles` the part of what is in doubt there that it is expected to take away;
    `bears_on` counts decisions that it says something about.
    """

    candidate: int
    gain: float
    chance: float
    decision: int
    sure: float
    settles: float
    bears_on: int


class Outlook(NamedTuple):
    """Joint Gaussian of margins: of candidates (mean, variance), of decisions, and their covariances."""

    mean: Array
    variance: Array
    decided: Array
    decided_variance: Array
    shared: Array


def heaviest(decisions: Sequence[ArchivedDecision]) -> list[ArchivedDecision]:
    """Return the decisions that are made most, as many as are weighed."""
    return sorted(decisions, key=lambda one: -one.times)[:_DECISIONS_MOST]


def choose(
    believed: "Posterior",
    candidates: Sequence[Case],
    decisions: Sequence[ArchivedDecision],
    settings: "Settings",
    count: int,
) -> list[ChosenPanel]:
    """Choose panels to spray next.

    Args:
        believed: what is known now.
        candidates: panels that could be sprayed; each is chosen twice at most while there are others.
        decisions: what the shop decides; see `heaviest`.
        settings: an empty `Settings` of the same unknowns.
        count: how many panels to choose.

    Returns:
        Up to `count` choices, in order; none without candidates or decisions.
    """
    if not candidates or not decisions:
        return []
    places = [settings.place(*each[1:]) for each in (*candidates, *(one.case for one in decisions))]
    margins = settings.margins(believed.mode)
    mean, slopes = margins.value[places], margins.slopes[places]
    split, scatter = len(candidates), believed.scatter
    limits = scatter * np.array([NormalDist().inv_cdf(_inside(one.risk_limit)) for one in decisions])
    weights = np.array([one.times for one in decisions])
    weights = weights / weights.sum()
    covariance = believed.covariance
    chosen: list[ChosenPanel] = []
    for _ in range(count):
        spread = slopes @ covariance
        shared = spread[:split] @ slopes[split:].T
        variance = np.maximum(np.einsum("ij,ij->i", spread, slopes), _LEAST)
        outlook = Outlook(mean[:split], variance[:split], mean[split:], variance[split:], shared)
        gains, chance = decision_information(outlook, limits, scatter)
        total = gains @ weights
        total = total + _OF_LINES * (line_information(outlook, scatter) @ weights)
        spent = np.bincount([each.candidate for each in chosen], minlength=split) >= ALIKE_MOST
        best = int(np.argmax(np.where(spent & ~spent.all(), -np.inf, total)))
        most = int(np.argmax(gains[best] * weights))
        sides = _sides(outlook, limits)[:, most]
        settles = gains[best, most] / max(float(_entropy(sides[:1])[0]), _LEAST)
        bears_on = int(np.sum(gains[best] > 0.1 * gains[best, most]))
        chosen.append(
            ChosenPanel(
                candidate=best,
                gain=float(total[best]),
                chance=float(chance[best]),
                decision=most,
                sure=float(sides.max()),
                settles=float(min(settles, 1.0)),
                bears_on=bears_on,
            )
        )
        covariance = _told(covariance, slopes[best], _expected(mean[best], variance[best], scatter))
    return chosen


def says(chances: Array, weights: Array) -> Array:
    """Return what a yes or no is expected to say of which of several states holds: H(y) − E[H(y | state)].

    Args:
        chances: of yes in each state; shape (states, …).
        weights: how likely each state is, adding up to 1 over the states; broadcast against `chances`.

    Returns:
        Mutual information [nat], 0 to ln 2; shape of `chances` without its first axis.

    Reference: Houlsby et al. 2011; Watson 2017, whose published sequences of trials it makes.
    """
    found: Array = _entropy((chances * weights).sum(axis=0)) - (_entropy(chances) * weights).sum(axis=0)
    return np.maximum(found, 0.0)


def decision_information(
    outlook: Outlook, limits: Array, scatter: float, lapse: float = LAPSE
) -> tuple[Array, Array]:
    """Return what each candidate's answer is expected to say of each decision.

    Args:
        outlook: joint Gaussian of the margins.
        limits: a decision is "within" where its margin lies below this [ln A]; shape (decisions,).
        scatter: s [ln A].
        lapse: part of answers that fall at random [1].

    Returns:
        I(D; y) [nat] of shape (candidates, decisions), and the chance that each candidate shows.
    """
    sides = _sides(outlook, limits)
    chances = np.stack([_shows_if(outlook, sides[side], side, scatter, lapse) for side in (0, 1)])
    return says(chances, sides[:, None, :]), _chance(outlook.mean, scatter**2 + outlook.variance, lapse)


def line_information(outlook: Outlook, scatter: float) -> Array:
    """Return what each candidate's answer is expected to say of the strength of each decision's line.

    An answer that says I nat of its own margin counts as a reading that leaves e^(−2·I) of its variance; of a
    decision's margin with the correlation ρ it then leaves 1 − ρ²·(1 − e^(−2·I)).

    Args:
        outlook: joint Gaussian of the margins.
        scatter: s [ln A].

    Returns:
        ½·ln(variance before/after) [nat], shape (candidates, decisions).
    """
    told = -np.expm1(-2.0 * answer_information(outlook.mean, outlook.variance, scatter))
    square = outlook.shared**2 / (outlook.variance[:, None] * outlook.decided_variance)
    found: Array = -0.5 * np.log1p(-np.minimum(square, 1.0) * told[:, None])
    return found


def answer_information(mean: Array, variance: Array, scatter: float, lapse: float = LAPSE) -> Array:
    """Return what an answer is expected to say of its own line's margin: H(y) − E[H(y | m)].

    Args:
        mean: expected margins [ln A]; shape (n,).
        variance: of not knowing them [(ln A)²], above 0.
        scatter: s [ln A], above 0.
        lapse: part of answers that fall at random [1].

    Returns:
        Information [nat], shape of `mean`; at most ln 2.

    Reference: for mean 0 and variance s² it is ln 2 − ½ (oed_known.csv of the published tables).
    """
    z, weights = _normal_nodes(_OUTER_NODES)
    margins = mean + np.sqrt(variance) * z[:, None]
    return says(_chance(margins, np.array(scatter**2), lapse), weights[:, None])


@lru_cache(maxsize=2)
def _normal_nodes(count: int) -> tuple[Array, Array]:
    """Return nodes and weights that average over a standard normal."""
    nodes, weights = gauss_legendre(count)
    return np.array([NormalDist().inv_cdf(_inside(float(u))) for u in nodes]), weights


def _sides(outlook: Outlook, limits: Array) -> Array:
    """Return the chance that each decision is within its limit, and that it is not; shape (2, decisions)."""
    within = below((limits - outlook.decided) / np.sqrt(outlook.decided_variance))
    return np.stack([within, 1.0 - within])


def _shows_if(outlook: Outlook, share: Array, side: int, scatter: float, lapse: float) -> Array:
    """Return the chance that each candidate shows if each decision lies on this side (quadrature)."""
    nodes, weights = gauss_legendre(_NODES)
    inverse = NormalDist().inv_cdf
    slope = outlook.shared / np.sqrt(outlook.decided_variance)
    spread = np.sqrt(np.maximum(outlook.variance[:, None] - slope**2, 0.0) + scatter**2)
    slope /= spread
    mean = outlook.mean[:, None] / spread
    found = np.zeros_like(mean)
    for node, weight in zip(nodes.tolist(), weights.tolist(), strict=True):
        lower = share * node if side == 0 else 1.0 - share * node
        at = np.array([inverse(_inside(u)) for u in lower.tolist()])
        found += weight * below_about(mean + slope * at)
    found *= 1.0 - lapse
    found += lapse / 2.0
    return found


def _chance(mean: Array, variance: Array, lapse: float) -> Array:
    found: Array = lapse / 2.0 + (1.0 - lapse) * below(mean / np.sqrt(variance))
    return found


def _entropy(p: Array) -> Array:
    q = np.clip(p, _LEAST, 1.0 - _LEAST)
    found: Array = -q * np.log(q) - (1.0 - q) * np.log1p(-q)
    return found


def _inside(p: float) -> float:
    return min(max(p, 1e-9), 1.0 - 1e-9)


def _expected(mean: float, variance: float, scatter: float) -> float:
    """Return Fisher's information of one answer, expected over what is not known of its margin."""
    z, weights = _normal_nodes(12)
    return float(information(mean + np.sqrt(variance) * z, scatter) @ weights)


def _told(covariance: Array, slope: Array, weight: float) -> Array:
    """Return the covariance once a panel's expected information is added (rank one)."""
    along = covariance @ slope
    return covariance - np.outer(along, along) * (weight / (1.0 + weight * float(slope @ along)))
