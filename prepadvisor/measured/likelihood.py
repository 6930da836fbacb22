"""What an answer says of a line's strength: a probit model with a small lapse, and "barely" as an interval.

A judge answers by the line's margin m = ln(A/T) with a scatter s: he says yes where m + s·ε > 0, ε standard
normal. One answer in `lapse` falls at random. A judge who also says *barely* answers on three steps: barely
between −w and w, yes above, no below; the three add up to 1. A judge who never says it answers on two.
Reference: the ordered probit model; Finney 1971 for lapse ("natural response") in probit analysis.
"""

from typing import Final

import numpy as np

from prepadvisor.measured.normal import FARTHEST, below, density
from prepadvisor.named import NamedTuple
from prepadvisor.records.panel_rows import Shows
from prepadvisor.surface.domain import Array

BARELY_HALF_WIDTH: Final = 0.25
"""w [ln A]: who says barely means within a quarter of the threshold, either way. Assumption."""

LAPSE: Final = 0.02
"""Part of answers that fall at random: a slip of the pen, a look elsewhere. Assumption: 1 to 2 % is usual."""

ALL: Final = 0
PART: Final = 1


class AnswerBounds(NamedTuple):
    """Answers as bounds on ε·s: the answer is given where `low` < m + s·ε ≤ `high`; arrays of one shape.

    `at_random` is the chance of this answer when it falls at random; `times` how many answered so.
    """

    low: Array
    high: Array
    at_random: Array
    lapse: Array
    times: Array


class LogLikelihood(NamedTuple):
    """ln P and its slopes by margin m and by ln s, each summed over the count; arrays of one shape."""

    value: Array
    by_margin: Array
    by_log_spread: Array
    by_margin_twice: Array
    by_both: Array
    by_log_spread_twice: Array


def bounds_of(answer: Shows, *, three_steps: bool) -> tuple[float, float]:
    """Return the bounds of an answer on m + s·ε.

    Args:
        answer: what was said.
        three_steps: whether this judge also says barely.
    """
    half = BARELY_HALF_WIDTH if three_steps else 0.0
    match answer:
        case "yes":
            return half, np.inf
        case "no":
            return -np.inf, -half
        case "barely":
            return -BARELY_HALF_WIDTH, BARELY_HALF_WIDTH


def chance(margin: Array, spread: Array | float, answers: AnswerBounds) -> Array:
    """Return the probability of each answer [1] for margins m [ln A] and scatter s [ln A]."""
    inside = _between((answers.low - margin) / spread, (answers.high - margin) / spread)
    found: Array = answers.lapse * answers.at_random + (1.0 - answers.lapse) * inside
    return found


def log_likelihood(margin: Array, spread: float, answers: AnswerBounds) -> LogLikelihood:
    """Return ln P of the answers with its first and second slopes.

    Args:
        margin: m = ln(A/T) of each answer [1].
        spread: s, how one panel scatters about the threshold [ln A], above 0.
        answers: what was said; shape of `margin`.

    Returns:
        Value and slopes, each times the count.
    """
    a, b = (np.clip((edge - margin) / spread, -FARTHEST, FARTHEST) for edge in (answers.low, answers.high))
    at_a, at_b = density(a), density(b)
    p = answers.lapse * answers.at_random + (1.0 - answers.lapse) * np.maximum(_between(a, b), 1e-300)
    once = (at_b - at_a, b * at_b - a * at_a)
    twice = (b * b * at_b - a * a * at_a, (b - b**3) * at_b - (a - a**3) * at_a)
    share = (1.0 - answers.lapse) / p
    by_margin, by_spread = -share * once[0] / spread, -share * once[1]
    n = answers.times
    return LogLikelihood(
        value=n * np.log(p),
        by_margin=n * by_margin,
        by_log_spread=n * by_spread,
        by_margin_twice=n * (-share * once[1] / spread**2 - by_margin**2),
        by_both=n * (share * (once[0] - twice[0]) / spread - by_margin * by_spread),
        by_log_spread_twice=n * (share * twice[1] - by_spread**2),
    )


def information(margin: Array, spread: float, lapse: Array | float = LAPSE) -> Array:
    """Return what one yes-or-no answer is expected to say of the margin: Fisher's information [1/(ln A)²]."""
    z = np.clip(margin / spread, -FARTHEST, FARTHEST)
    p = lapse / 2.0 + (1.0 - lapse) * below(z)
    rest = lapse / 2.0 + (1.0 - lapse) * below(-z)
    found: Array = ((1.0 - lapse) * density(z) / spread) ** 2 / np.maximum(p * rest, 1e-300)
    return found


def _between(a: Array, b: Array) -> Array:
    """Return Φ(b) − Φ(a) from the tail that both lie nearer to, so that no digits are lost."""
    turned = a > 0
    low, high = np.where(turned, -b, a), np.where(turned, -a, b)
    open_ended = low <= -FARTHEST
    found = below(high)
    if not open_ended.all():
        found[~open_ended] -= below(low[~open_ended])
    return found
