"""Line strength of many prepared panels at once, with its slopes by depth, flake size and set solids.

The same integral as `surface.sight.line_strength`, for use again and again while the unknowns move: F(δ)
of a flake is kept on fixed nodes for a few steepnesses of the groove, interpolated in logarithms between.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np

from prepadvisor.surface import ARCSEC_PER_RAD, Array, diameter_nodes, lost_width

_GROUPS_MOST: Final = 60
_ROUNDED_LN: Final = 0.02  # of ln σ and ln s where there are more groups: 1 % of a slope that is at most 2
_LEAST: Final = 1e-280
_SLOPE_STEP: Final = 0.2  # of ln(B/a): Hermite's cubic is then right to 1e-6
_SLOPES_LOWEST: Final = 60.0
_CENTRES: Final = (-8.0, 7.0)  # ln(D50/w) of any flake over any groove


_Group = tuple[tuple[float, float, float, float], np.ndarray[tuple[int, ...], np.dtype[np.intp]]]


class PanelSetting(NamedTuple):
    """One way a panel can be prepared and looked at, as the line model takes it.

    `depth` and `size` are places among the unknowns (see `unknowns.Layout`) of ln k and of ln D50; `size` is
    −1 where the flake's size is not among them, and `d50_um` stands. `coats` of wet bed, `earlier` colour
    coats under the flakes seen, `line_factor` q.
    """

    grain_um: float
    depth: int
    size: int
    d50_um: float
    log_sd: float
    tilt_deg: float
    coats: int
    earlier: float
    line_factor: float
    distance_mm: float


class LogStrength(NamedTuple):
    """ln A [ln arcsec] and its slopes by ln k, ln D50, β = ln(−ln(1−φ_s)) and ln B; arrays of shape (n,).

    A flake's tilt counts against its spread: but for the arc tangent the slope by ln σ is −`by_left`.
    """

    value: Array
    by_depth: Array
    by_size: Array
    by_solids: Array
    by_left: Array


class Strengths:
    """Settings made ready: rows of one film and flake spread share the flake's integral.

    Args:
        settings: one or more.
        width_per_depth: a [1].
        colour_set_solids: φ_c [1].
    """

    def __init__(
        self, settings: Sequence[PanelSetting], width_per_depth: float, colour_set_solids: float
    ) -> None:
        """Lay the settings out as columns and find the groups."""
        self.count: Final = len(settings)
        self._a, self._colour = width_per_depth, colour_set_solids
        columns = np.array(settings, dtype=np.float64).reshape(-1, len(PanelSetting._fields))
        by_name = dict(zip(PanelSetting._fields, columns.T, strict=True))
        self._log_grain = np.log(by_name["grain_um"])
        self._depth = by_name["depth"].astype(np.intp)
        self._size = by_name["size"].astype(np.intp)
        self._log_d50 = np.log(by_name["d50_um"])
        self._coats = by_name["coats"]
        self._log_view = np.log(by_name["line_factor"] * 1e-3 / by_name["distance_mm"] * ARCSEC_PER_RAD)
        keys = np.stack([by_name[name] for name in ("log_sd", "tilt_deg", "coats", "earlier")], axis=1)
        self._groups = _groups(keys)

    def at(self, unknowns: Array, solids: float) -> LogStrength:
        """Return line strengths for given unknowns.

        Args:
            unknowns: the vector the settings' places point into.
            solids: β = ln(−ln(1−φ_s)) of the wet bed.
        """
        log_d50 = np.where(self._size >= 0, unknowns[self._size], self._log_d50)
        log_width = math.log(self._a) + unknowns[self._depth] + self._log_grain
        log_loss = math.exp(min(solids, 5.0))  # −ln(1−φ_s) of one coat
        found = LogStrength(*(np.zeros(self.count) for _ in LogStrength._fields))
        for (log_sd, tilt_deg, coats, earlier), rows in self._groups:
            left = earlier * math.log1p(-self._colour) + math.log1p(-self._colour / 2.0) - coats * log_loss
            share = _share(log_sd, tilt_deg).at(left - math.log(self._a))
            centre = log_d50[rows] - log_width[rows]
            value, by_size, by_left = share.mean(centre)
            found.value[rows] = log_width[rows] + value
            found.by_depth[rows] = 1.0 - by_size
            found.by_size[rows] = by_size
            found.by_solids[rows] = -coats * log_loss * by_left
            found.by_left[rows] = by_left
        return found._replace(value=found.value + self._log_view)


class _Lost(NamedTuple):
    """ln F on the nodes, and its slope by the groove's steepness, with what weighs them."""

    log_sd: float
    log_delta: Array
    spacing: Array
    share: Array
    by_slope: Array

    def mean(self, centre: Array) -> tuple[Array, Array, Array]:
        """Return ln E[F] for ln(D50/w), with its slopes by ln D50 and by ln slope; shape of `centre`."""
        reach = (7.0 + 2.0 * self.log_sd) * self.log_sd
        first, last = np.searchsorted(self.log_delta, (centre.min() - reach, centre.max() + reach))
        near = slice(int(first), int(last))
        z = (self.log_delta[near] - centre[:, None]) / self.log_sd
        weight = np.exp(-0.5 * z * z)
        weight *= self.spacing[near]
        share = self.share[near]
        mean = np.maximum(weight @ share, _LEAST)
        by_left = (weight @ self.by_slope[near]) / mean
        weight *= z
        by_size = (weight @ share) / (self.log_sd * mean)
        return np.log(mean), by_size, by_left


class _Share:
    """F of one flake for any steepness of the groove, worked out where it is asked for and kept."""

    def __init__(self, log_sd: float, tilt_deg: float) -> None:
        self._log_sd, self._tilt = log_sd, math.radians(tilt_deg)
        self._log_delta, spacing = diameter_nodes(*_CENTRES, log_sd)
        self._delta = np.exp(self._log_delta)
        self._spacing = spacing / (log_sd * math.sqrt(2.0 * math.pi))
        self._known: dict[int, tuple[Array, Array]] = {}

    def at(self, log_slope: float) -> _Lost:
        """Return F for ln(B/a): Hermite's cubic between two steepnesses, in ln F over ln slope."""
        log_slope = min(max(log_slope, -_SLOPES_LOWEST), 2.0)
        below = math.floor(log_slope / _SLOPE_STEP)
        t = log_slope / _SLOPE_STEP - below
        (f0, d0), (f1, d1) = self._node(below), self._node(below + 1)
        d0, d1 = d0 * _SLOPE_STEP, d1 * _SLOPE_STEP
        log_f = f0 + t * d0 + t * t * (3.0 * (f1 - f0) - 2.0 * d0 - d1) + t**3 * (2.0 * (f0 - f1) + d0 + d1)
        by = d0 + 2.0 * t * (3.0 * (f1 - f0) - 2.0 * d0 - d1) + 3.0 * t * t * (2.0 * (f0 - f1) + d0 + d1)
        share = np.exp(log_f)
        return _Lost(self._log_sd, self._log_delta, self._spacing, share, share * by / _SLOPE_STEP)

    def _node(self, place: int) -> tuple[Array, Array]:
        if place not in self._known:
            lost, _, by_slope = lost_width(self._delta, math.exp(place * _SLOPE_STEP), self._tilt)
            lost = np.maximum(lost, _LEAST)
            self._known[place] = np.log(lost), by_slope / lost
        return self._known[place]


@lru_cache(maxsize=512)
def _share(log_sd: float, tilt_deg: float) -> _Share:
    return _Share(log_sd, tilt_deg)


def _groups(
    keys: Array,
) -> list[tuple[tuple[float, float, float, float], np.ndarray[tuple[int], np.dtype[np.intp]]]]:
    unique, inverse = np.unique(keys, axis=0, return_inverse=True)
    if len(unique) > _GROUPS_MOST:
        spread = np.exp(np.rint(np.log(keys[:, :2]) / _ROUNDED_LN) * _ROUNDED_LN)
        spread[:, 0] = np.clip(spread[:, 0], 0.01, 2.0)
        unique, inverse = np.unique(np.hstack([spread, keys[:, 2:]]), axis=0, return_inverse=True)
    order = np.argsort(inverse.ravel(), kind="stable")
    ends = np.searchsorted(inverse.ravel()[order], np.arange(len(unique) + 1))
    return [
        ((float(key[0]), float(key[1]), float(key[2]), float(key[3])), order[ends[place] : ends[place + 1]])
        for place, key in enumerate(unique)
    ]
