"""How well chances were predicted: Brier score and reliability, with exact intervals."""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np

from prepadvisor.records.fit import Calibration, ReliabilityBin
from prepadvisor.surface.domain import Array

_BINS_MOST = 10
_BISECTIONS = 60


def calibration(chances: Sequence[float], showed: Sequence[float]) -> Calibration | None:
    """Set predicted chances beside what was seen.

    Args:
        chances: predicted chance of showing, 0 to 1.
        showed: 1 shows, 0 does not, 0.5 barely; same length.

    Returns:
        Score and bands of equal numbers of rows, at most ten; None without rows.

    References: Brier 1950, Mon. Weather Rev. 78 1; Clopper & Pearson 1934, Biometrika 26 404 (memory).
    """
    if not chances:
        return None
    p, y = np.array(chances), np.array(showed)
    order = np.argsort(p, kind="stable")
    bands = np.array_split(order, min(_BINS_MOST, max(1, len(p) // 5)))
    return Calibration(
        brier=float(np.mean((p - y) ** 2)),
        chance_brier=float(np.mean((y.mean() - y) ** 2)),
        bins=tuple(_bin(p[band], y[band]) for band in bands if len(band)),
    )


def _bin(p: Array, y: Array) -> ReliabilityBin:
    low, high = exact_interval(float(y.sum()), len(y))
    return ReliabilityBin(float(p.mean()), float(y.mean()), len(y), low, high)


def exact_interval(hits: float, of: int, level: float = 0.90) -> tuple[float, float]:
    """Return the interval of Clopper and Pearson for a share: hits of so many, at a level.

    A half hit (barely) counts as the wider of its neighbours on each side.
    """
    tail = (1.0 - level) / 2.0
    low_hits, high_hits = math.floor(hits), math.ceil(hits)
    low = 0.0 if low_hits == 0 else _where(lambda p: _at_least(low_hits, of, p) < tail)
    high = 1.0 if high_hits == of else _where(lambda p: 1.0 - _at_least(high_hits + 1, of, p) > tail)
    return low, high


def _where(is_below: Callable[[float], bool]) -> float:
    low, high = 0.0, 1.0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if is_below(middle) else (low, middle)
    return (low + high) / 2.0


def _at_least(hits: int, of: int, p: float) -> float:
    """Return the chance of `hits` or more of `of`, each with chance p."""
    if p <= 0.0:
        return 1.0 if hits == 0 else 0.0
    if p >= 1.0:
        return 1.0
    k = np.arange(hits, of + 1)
    logs = _log_ways(of)[k] + k * math.log(p) + (of - k) * math.log1p(-p)
    return min(1.0, float(np.exp(logs).sum()))


@lru_cache(maxsize=64)
def _log_ways(of: int) -> Array:
    """Return the logarithm of how many ways there are to choose 0 … `of` of so many."""
    up_to = np.concatenate([[0.0], np.cumsum(np.log(np.arange(1.0, of + 1.0)))])
    found: Array = up_to[of] - up_to - up_to[::-1]
    return found
