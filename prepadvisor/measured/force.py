"""The numbers in force: what a fit starts from, what risk they give, and how fitted ones are put in force."""

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.likelihood import DEPTH, SIZE, SOLIDS, THRESHOLD, UNKNOWN_CLASS_SD, layout_of
from prepadvisor.measured.model import ModelFlake, Settings
from prepadvisor.measured.numerics import below
from prepadvisor.records import (
    ARCSEC,
    DEPTH_PER_GRAIN,
    FLAKE_UM,
    FLAKES,
    LEAST_UNCERTAIN,
    TOOLS,
    ClassNotSaid,
    Constants,
    Fit,
    FittedNumber,
    PanelRow,
    Passport,
    Quantity,
    Shop,
    ToldOfFit,
    Within,
)

if TYPE_CHECKING:
    from prepadvisor.measured.posterior import Posterior
    from prepadvisor.surface import Array


class ColourSize(NamedTuple):
    """What is known of a colour before: class (None: not said), measured size, spread of ln D and of tilt.

    `sd` is the standard deviation of the size's logarithm where it is not the general one.
    """

    flake: str | None = None
    d50_um: float | None = None
    log_sd: float | None = None
    tilt_deg: float | None = None
    sd: float | None = None


class InForce(NamedTuple):
    """The numbers a fit starts from.

    Attributes:
        constants: those in force.
        shipped: those of the program: a number that was measured before starts from here again.
        set_solids: of the wet bed, in force.
        shipped_solids: those it starts from.
        book: colours known by name.
    """

    constants: Constants
    shipped: Constants
    set_solids: float
    shipped_solids: float
    book: Mapping[str, ColourSize]


def known_colours(
    rows: Sequence[PanelRow], book: Mapping[str, ColourSize]
) -> tuple[dict[str, ColourSize], list[ToldOfFit]]:
    """Return what is known of each colour, from the book, else from its rows; the finest class counts."""
    found: dict[str, ColourSize] = {}
    told: list[ToldOfFit] = []
    for name in dict.fromkeys(row.colour for row in rows if row.colour):
        own = [row for row in rows if row.colour == name]
        entry = book.get(name)
        classes = [row.flake for row in own if row.flake]
        flake = (entry.flake if entry else None) or max(classes, key=FLAKES.index, default=None)
        known = entry or ColourSize()
        found[name] = ColourSize(
            flake,
            known.d50_um or next((row.flake_um for row in own if row.flake_um), None),
            known.log_sd or next((row.log_sd for row in own if row.log_sd), None),
            known.tilt_deg or next((row.tilt_deg for row in own if row.tilt_deg), None),
        )
        if flake is None and found[name].d50_um is None:
            told.append(ClassNotSaid(name))
    return found, told


def colour_priors(colours: Mapping[str, ColourSize], start: Constants) -> dict[str, tuple[float, float]]:
    """Return median size [µm] and standard deviation of its logarithm before, by colour."""
    found = {}
    for name, known in colours.items():
        u = known.sd or start.uncertainty.d50.value
        if known.d50_um is not None:
            found[name] = (known.d50_um, u)
        elif known.flake is not None:
            found[name] = (start.flake[known.flake].d50_um.value, u)  # type: ignore[index]
        else:
            sizes = [math.log(each.d50_um.value) for each in start.flake.values()]
            found[name] = (math.exp(sum(sizes) / len(sizes)), math.hypot(u, UNKNOWN_CLASS_SD))
    return found


def flakes_of(
    rows: Sequence[PanelRow], colours: Mapping[str, ColourSize], start: Constants
) -> tuple[ModelFlake, ...]:
    """Return the flake of each row: as measured, else of its colour, else of its class."""
    return tuple(_flake_of(row, colours, start) for row in rows)


def _flake_of(row: PanelRow, colours: Mapping[str, ColourSize], start: Constants) -> ModelFlake:
    known = colours.get(row.colour, ColourSize())
    of_class = start.flake[row.flake or known.flake or "very-fine"]  # type: ignore[index]
    return ModelFlake(
        row.colour,
        row.flake_um or of_class.d50_um.value,
        row.log_sd or known.log_sd or of_class.log_sd.value,
        row.tilt_deg or known.tilt_deg or of_class.tilt_deg.value,
    )


def risks_in_force(
    rows: Sequence[PanelRow], flakes: Sequence[ModelFlake], force: InForce
) -> list[tuple[float, float]]:
    """Return margin ln(A/T) and risk of each row by the numbers in force, as a card has them.

    Φ(m/u) with u² = Σ(e_p·u_p)² + u_T²; a measured depth or colour size has its own uncertainty. The slope by
    the spread of tilt is taken as that by what the film leaves, which leaves out the arc tangent.
    """
    if not rows:
        return []
    constants = force.constants
    colours, _ = known_colours(rows, force.book)
    sizes = colour_priors(colours, constants)
    for name, own in constants.colour_d50_um.items():
        if name in sizes:
            sizes[name] = (own.value, own.log_sd or sizes[name][1])
    pads = {row.pad: row.tool for row in rows if row.pad}
    layout = layout_of(constants, force.set_solids, pads, sizes, {row.kind for row in rows})
    settings = Settings(layout, constants)
    places = [
        settings.place(
            flake,
            row.tool,
            row.grade,
            row.zone,
            row.coats,
            pad=row.pad,
            distance_mm=row.distance_mm,
            kind=row.kind,
        )
        for row, flake in zip(rows, flakes, strict=True)
    ]
    margins = settings.margins(layout.mean)
    sd = np.zeros(len(layout.names))
    for at, name in enumerate(layout.names):
        if name.startswith((DEPTH, SIZE)):
            sd[at] = layout.sd[at]
    for tool, quantity in constants.groove.depth_per_grain.items():
        if quantity.log_sd is not None:
            sd[layout.place[f"{DEPTH}{tool}"]] = quantity.log_sd
    unsure = constants.uncertainty
    known_size = 1.0 - settings.owners(SIZE).any(axis=1)
    by_size = known_size * (1.0 - (margins.slopes * settings.owners(DEPTH)).sum(axis=1))
    square = (margins.slopes * sd) ** 2
    u = np.sqrt(
        square.sum(axis=1)
        + (by_size * unsure.d50.value) ** 2
        + (margins.by_left * unsure.tilt.value) ** 2
        + unsure.thinnest_line.value**2
    )
    risk = below(margins.value / u)
    return [(float(margins.value[at]), float(risk[at])) for at in places]


# Puts fitted numbers in force: the constants and shop that a fit leads to.
#
# A number that no row bears on stays as it is. Threshold and depth are known better together than apart, so
# each depth's own uncertainty is chosen such that the risk's sum of squares gives, for that tool, what the
# fit leaves unsure of ln(A/T): the least of the tools' goes into the threshold's, the rest into the tool's
# own.

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
    constants: Constants, shop: Shop, fit: Fit, believed: "Posterior", today: dt.date, note: str
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


def _uncertainties(by_name: dict[str, FittedNumber], believed: "Posterior") -> tuple[float, dict[str, float]]:
    """Return the uncertainty of the threshold, scatter included, and of each measured depth."""
    covariance, place = believed.covariance, believed.layout.place
    t = place[THRESHOLD]
    unsure = {name: _together(covariance, t, place[name]) for name in by_name if name.startswith(DEPTH)}
    least = min(unsure.values(), default=float(covariance[t, t]))
    line = math.hypot(believed.scatter, math.sqrt(least))
    return line, {name: math.sqrt(v - least) / _TYPICAL_SLOPE for name, v in unsure.items()}


def _together(covariance: "Array", threshold: int, depth: int) -> float:
    """Return the variance of e·ln k − ln T at the typical slope e."""
    e = _TYPICAL_SLOPE
    found = e * e * covariance[depth, depth] + covariance[threshold, threshold]
    return max(float(found - 2.0 * e * covariance[depth, threshold]), 0.0)


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")


def _held(value: float, low: float, high: float) -> float:
    """Return a value rounded and within what the files take."""
    return min(max(_rounded(value), low), high)
