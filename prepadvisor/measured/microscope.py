"""Flake size from diameters measured under a microscope: median by area, spread, class, intervals.

All flakes in view are measured, so each stands once in the sample; by area it counts as D². For log-normal
diameters the median by area is exp(μ + 2s²), μ and s of the count (Hatch and Choate 1929: memory).
"""

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.numerics import below
from prepadvisor.records import FLAKES, Constants

if TYPE_CHECKING:
    from prepadvisor.surface import Array

FLAKES_ASKED: Final = 200
"""With fewer flakes the median is known to worse than about a tenth."""
FLAKES_LEAST: Final = 10
SIEVE_UM: Final = 45.0
"""The sieve that residue limits of flake pigments are stated for (astm-d962)."""

_RESAMPLES: Final = 2000
_SEED: Final = 962
_TAIL: Final = 0.05


class FlakeSizes(NamedTuple):
    """Median diameter by area [µm] and standard deviation of ln D by area, each with a 90 % interval.

    `flake` is the class of the median, `finest` the finest class the interval reaches into; vapour is told by
    its mirror look, never by size. `on_sieve` is the part by area above 45 µm.
    """

    flakes: int
    d50_um: float
    d50_low_um: float
    d50_high_um: float
    log_sd: float
    log_sd_low: float
    log_sd_high: float
    flake: str
    finest: str
    on_sieve: float


def flake_sizes(diameters_um: Sequence[float], constants: Constants) -> FlakeSizes:
    """Return size and spread of a sample of flakes.

    The intervals are those of 2,000 samples drawn again from the sample (bootstrap, the same each time).

    Args:
        diameters_um: each flake's diameter [µm], above 0; ten or more.
        constants: sizes of the classes.

    Raises:
        ValueError: for fewer than ten, and for diameters that are not above 0.
    """
    d = np.sort(np.asarray(diameters_um, dtype=np.float64))
    if len(d) < FLAKES_LEAST or not (np.isfinite(d).all() and d[0] > 0):
        raise ValueError(f"ten or more diameters above 0 are needed, not {len(d)}")
    d50, log_sd = (float(each[0]) for each in _by_area(d, np.ones((1, len(d)))))
    chance = np.random.default_rng(_SEED)
    batches = [
        _by_area(d, chance.multinomial(len(d), np.full(len(d), 1.0 / len(d)), size=100).astype(np.float64))
        for _ in range(_RESAMPLES // 100)
    ]
    medians, spreads = (np.concatenate(each) for each in zip(*batches, strict=True))
    low, high = (float(each) for each in np.quantile(medians, [_TAIL, 1.0 - _TAIL]))
    sd_low, sd_high = (float(each) for each in np.quantile(spreads, [_TAIL, 1.0 - _TAIL]))
    sizes = class_sizes(constants)
    return FlakeSizes(
        flakes=len(d),
        d50_um=d50,
        d50_low_um=low,
        d50_high_um=high,
        log_sd=log_sd,
        log_sd_low=sd_low,
        log_sd_high=sd_high,
        flake=class_of(d50, sizes),
        finest=class_of(low, sizes),
        on_sieve=share_above(d50, log_sd, SIEVE_UM),
    )


def _by_area(d: "Array", times: "Array") -> tuple["Array", "Array"]:
    """Return median by area and sd of ln D by area, for sorted diameters that stand so many times each.

    The median is where the cumulative area crosses a half, between the middles of two flakes' steps.
    """
    area = times * d * d
    whole = area.sum(axis=1, keepdims=True)
    middle = (np.cumsum(area, axis=1) - area / 2.0) / whole
    log_d = np.log(d)
    median = np.array([np.exp(np.interp(0.5, row, log_d)) for row in middle])
    share = area / whole
    mean = share @ log_d
    spread = np.sqrt(np.maximum(share @ (log_d * log_d) - mean * mean, 0.0))
    return median, spread


def share_above(d50_um: float, log_sd: float, um: float) -> float:
    """Return the part by area [1] of log-normal flakes above a diameter [µm]."""
    if log_sd <= 0:
        return float(d50_um > um)
    return float(below(np.array([math.log(d50_um / um) / log_sd]))[0])


def class_sizes(constants: Constants) -> dict[str, float]:
    """Return the median size [µm] of each class that is told by size."""
    return {name: own.d50_um.value for name, own in constants.flake.items() if name != "vapour"}


def class_of(d50_um: float, sizes: Mapping[str, float]) -> str:
    """Return the class whose size is nearest, as a ratio; between two the finer."""
    return min(sizes, key=lambda name: (abs(math.log(d50_um / sizes[name])), -FLAKES.index(name)))
