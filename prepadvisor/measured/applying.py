"""Puts fitted numbers in force: the constants and shop that a fit leads to.

A number that no row bears on stays as it is. Threshold and depth are known better together than apart, so
each depth's own uncertainty is chosen such that the risk's sum of squares gives, for that tool, what the fit
leaves unsure of ln(A/T): the least of the tools' goes into the threshold's, the rest into the tool's own.
"""

import datetime as dt
import math
from typing import Final

from prepadvisor.measured.posterior import Posterior
from prepadvisor.measured.unknowns import DEPTH, SIZE, SOLIDS, THRESHOLD
from prepadvisor.named import NamedTuple
from prepadvisor.records.constants import (
    ARCSEC,
    DEPTH_PER_GRAIN,
    FLAKE_UM,
    LEAST_UNCERTAIN,
    Constants,
    Quantity,
    Within,
)
from prepadvisor.records.fit import Fit, FittedNumber
from prepadvisor.records.shop import Passport, Shop
from prepadvisor.records.words import TOOLS
from prepadvisor.surface.domain import Array

DIGITS: Final = 6
"""Significant digits that numbers are written with."""

_TYPICAL_SLOPE: Final = 1.5
"""∂ln A/∂ln k of the lines that decisions turn on: 1 for wide grooves, 2 for narrow ones."""


class InForceNext(NamedTuple):
    """Constants and shop with the fit in force, and the names of what changed, as in `Fit.numbers`."""

    constants: Constants
    shop: Shop
    changed: tuple[str, ...]


def applied(
    constants: Constants, shop: Shop, fit: Fit, believed: Posterior, today: dt.date, note: str
) -> InForceNext:
    """Return the numbers that a fit leads to.

    Args:
        constants: those in force.
        shop: the shop in force, whose wet bed the set solids belong to.
        fit: the fit.
        believed: its posterior.
        today: the day it is put in force.
        note: where the rows came from, for every passport.
    """
    by_name = {number.name: number for number in fit.numbers if number.rows}
    if not by_name:
        return InForceNext(constants, shop, ())
    line_u, depth_u = _uncertainties(by_name, believed)

    def measured(within: Within, number: FittedNumber, unit: str, log_sd: float | None) -> Quantity:
        return Quantity(
            value=_held(number.value, within.least, within.most),
            unit=unit,
            source="house",
            known="measured",
            note=note,
            low=_rounded(number.low),
            high=_rounded(number.high),
            rows=number.rows,
            measured_on=today,
            log_sd=None if log_sd is None else _rounded(log_sd),
        )

    depths = dict(constants.groove.depth_per_grain)
    sizes = dict(constants.colour_d50_um)
    sight, unsure = constants.sight, constants.uncertainty
    for name, number in by_name.items():
        if name == THRESHOLD:
            sight = sight.model_copy(
                update={"thinnest_line_arcsec": measured(ARCSEC, number, "arcsec", None)}
            )
            spread = fit.scatter._replace(
                value=line_u, low=fit.scatter.low, high=fit.scatter.high, rows=fit.rows
            )
            unsure = unsure.model_copy(update={"thinnest_line": measured(LEAST_UNCERTAIN, spread, "1", None)})
        elif name.startswith(DEPTH) and (tool := name.removeprefix(DEPTH)) in TOOLS:
            depths[tool] = measured(DEPTH_PER_GRAIN, number, "1", depth_u[name])
        elif name.startswith(SIZE):
            sizes[name.removeprefix(SIZE)] = measured(FLAKE_UM, number, "µm", number.log_sd)
    found = constants.model_copy(
        update={
            "groove": constants.groove.model_copy(update={"depth_per_grain": depths}),
            "sight": sight,
            "uncertainty": unsure,
            "colour_d50_um": sizes,
        }
    )
    return InForceNext(found, _shop(shop, by_name.get(SOLIDS), today, note), tuple(by_name))


def _shop(shop: Shop, solids: FittedNumber | None, today: dt.date, note: str) -> Shop:
    if solids is None:
        return shop
    value = _held(solids.value, 0.05, 0.95)
    passport = Passport(
        unit="1", source="house", known="measured", note=note, low=_rounded(solids.low),
        high=_rounded(solids.high), rows=solids.rows, measured_on=today,
    )  # fmt: skip
    return shop.model_copy(
        update={
            "wet_bed": shop.wet_bed.model_copy(update={"set_solids": value}),
            "passport": {**shop.passport, "wet_bed.set_solids": passport},
        }
    )


def _uncertainties(by_name: dict[str, FittedNumber], believed: Posterior) -> tuple[float, dict[str, float]]:
    """Return the uncertainty of the threshold, scatter included, and of each measured depth."""
    covariance, place = believed.covariance, believed.layout.place
    t = place[THRESHOLD]
    unsure = {name: _together(covariance, t, place[name]) for name in by_name if name.startswith(DEPTH)}
    least = min(unsure.values(), default=float(covariance[t, t]))
    line = math.hypot(believed.scatter, math.sqrt(least))
    return line, {name: math.sqrt(v - least) / _TYPICAL_SLOPE for name, v in unsure.items()}


def _together(covariance: Array, threshold: int, depth: int) -> float:
    """Return the variance of e·ln k − ln T at the typical slope e."""
    e = _TYPICAL_SLOPE
    found = e * e * covariance[depth, depth] + covariance[threshold, threshold]
    return max(float(found - 2.0 * e * covariance[depth, threshold]), 0.0)


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")


def _held(value: float, low: float, high: float) -> float:
    """Return a value rounded and within what the files take."""
    return min(max(_rounded(value), low), high)
