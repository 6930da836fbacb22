"""The line model's numbers at one spot, step by step: grain, groove, film, flake, eye, risk."""

import math
from typing import TYPE_CHECKING

import numpy as np

from prepadvisor.cards.explain.section import passport, shop_passport
from prepadvisor.cases import FlakeNumbers, JudgedColour, flake_numbers
from prepadvisor.planning import LineModel, depth_uncertainty
from prepadvisor.records import FROM_MEMORY, HAND_TOOLS, RANK, Finish, Quantity, Spot, ds50_um
from prepadvisor.surface import ARCSEC_PER_RAD, line_strength, log_uncertainty, print_through

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.records import Grade


def line_model_lines(papers: "Papers", spot: Spot) -> list[str]:
    """Return the estimate of a spot with every number it rests on and how each is known.

    A spot over which no flake can be seen has no estimate; then this is empty and its reasons say why.
    """
    flake = flake_numbers(papers.house.constants, papers.house.judged(papers.job.colour))
    if spot.line is None or spot.finish is None or flake is None:
        return []
    coats = spot.wet_bed.coats_counted
    return [
        *_groove(papers, spot.finish),
        *_film(papers, spot, coats),
        *_flake(papers, flake),
        *_eye(papers, spot, spot.finish, flake, coats),
        *_others(papers, spot, spot.finish, flake, coats),
    ]


def _groove(papers: "Papers", finish: Finish) -> list[str]:
    groove = papers.house.constants.groove
    k, a = groove.depth_per_grain[finish.tool], groove.width_per_depth
    ds50 = ds50_um(finish.chosen)
    depth = k.value * ds50
    return [
        f"grain: {finish.chosen} has a mean grain of {ds50:g} um ({_grain_known(finish.chosen)})",
        f"groove depth = k x grain = {k.value:g} x {ds50:g} = {depth:.3g} um ({finish.tool}: {passport(k)})",
        f"groove width = a x depth = {a.value:g} x {depth:.3g} = {a.value * depth:.3g} um (a: {passport(a)})",
    ]


def _film(papers: "Papers", spot: Spot, coats: int) -> list[str]:
    film, bed = papers.house.constants.film, papers.house.shop.wet_bed
    earlier = film.earlier_colour_coats_colour if spot.zone == "colour" else film.earlier_colour_coats_fade
    left = print_through(coats, bed.set_solids, earlier.value, film.colour_set_solids.value)
    known = shop_passport(papers, "wet_bed.set_solids")
    colour = film.colour_set_solids
    return [
        (
            f"left of the groove under the flakes B = (1 - {bed.set_solids:g})^{coats} x "
            f"(1 - {colour.value:g})^{earlier.value:g} x (1 - {colour.value:g}/2) = {left:.3f}"
        ),
        (
            f"  {coats} coats of wet bed, sets at {bed.set_solids:g} ({known}); {earlier.value:g} coats "
            f"of colour before it ({passport(earlier)}); colour sets at {colour.value:g} ({passport(colour)})"
        ),
    ]


def _flake(papers: "Papers", flake: FlakeNumbers) -> list[str]:
    colour, constants = papers.house.judged(papers.job.colour), papers.house.constants
    of_class = constants.flake[colour.flake]  # type: ignore[index]
    given, stands = colour.measured, colour.standing
    rows = (
        ("median size D50", flake.d50_um, " um", given.d50_um, stands.d50_um, of_class.d50_um),
        ("spread of ln D", flake.log_sd, "", given.log_sd, stands.log_sd, of_class.log_sd),
        ("spread of tilt", flake.tilt_deg, " deg", given.tilt_deg, stands.tilt_deg, of_class.tilt_deg),
    )  # fmt: skip
    lines = []
    for says, value, unit, measured, standing, of in rows:
        source = _from(value, measured, standing, colour=colour, of_class=of, papers=papers)
        lines.append(f"flake, {says} {value:g}{unit} ({source})")
        if of.note and value not in {measured, standing}:
            lines.append(f"  {of.note}")
    return lines


def _grain_known(grade: "Grade") -> str:
    return "memory" if grade in FROM_MEMORY else "FEPA 43 / ISO 6344, published"


def _from(
    value: float,
    measured: float | None,
    standing: float | None,
    colour: JudgedColour,
    of_class: Quantity,
    papers: "Papers",
) -> str:
    """Return where a number of the flake comes from: measured, fitted here, the colour book, or its class."""
    if value == measured:
        return "measured"
    if value == standing:
        sizes = papers.house.constants.colour_d50_um.values()
        fitted = next((size for size in sizes if size.value == value), None)
        return passport(fitted) if fitted else f"colour book, {colour.book}"
    return f"{colour.flake}: {passport(of_class)}"


def _eye(papers: "Papers", spot: Spot, finish: Finish, flake: FlakeNumbers, coats: int) -> list[str]:
    constants = papers.house.constants
    sight, unsure = constants.sight, constants.uncertainty
    factor = sight.straight_line_factor if finish.tool in HAND_TOOLS else sight.short_arc_factor
    strength_um, spread = _strength(papers, spot, finish, flake, coats)
    line = spot.line
    assert line is not None  # noqa: S101 - asked only where there is an estimate
    limit = f"{spot.risk_limit:g}" if spot.risk_limit is not None else "none set"
    threshold = sight.thinnest_line_arcsec
    away = sight.viewing_distance_mm.value
    read = f", {papers.units.length(away)}" if papers.units.imperial else ""
    arcs = "straight lines" if finish.tool in HAND_TOOLS else "short arcs"
    return [
        f"line strength W = {strength_um:.3g} um: the fully dark line it looks like",
        (
            f"seen from {away:g} mm ({passport(sight.viewing_distance_mm)}{read}) as "
            f"{factor.value:g} x W / distance x {ARCSEC_PER_RAD:.0f} = {line.arcsec:.3g} arcsec "
            f"({arcs}: {passport(factor)})"
        ),
        f"shows from {threshold.value:g} arcsec on ({passport(threshold)})",
        (
            f"uncertainty u of ln(A/T) = {spread:.2f}: "
            f"from k {depth_uncertainty(constants, finish.tool):.2g}, "
            f"D50 {unsure.d50.value:g}, tilt {unsure.tilt.value:g}, "
            f"threshold {unsure.thinnest_line.value:g} ({passport(unsure.d50)})"
        ),
        (
            f"risk = Phi(ln({line.arcsec:.3g} / {threshold.value:g}) / {spread:.2f}) = {line.risk:.3f}; "
            f"allowed {limit}: {finish.verdict}"
        ),
    ]


def _strength(
    papers: "Papers", spot: Spot, finish: Finish, flake: FlakeNumbers, coats: int
) -> tuple[float, float]:
    constants, bed = papers.house.constants, papers.house.shop.wet_bed
    film, unsure = constants.film, constants.uncertainty
    earlier = film.earlier_colour_coats_colour if spot.zone == "colour" else film.earlier_colour_coats_fade
    a = constants.groove.width_per_depth.value
    depth = constants.groove.depth_per_grain[finish.tool].value * ds50_um(finish.chosen)
    strength = line_strength(
        np.array([depth * a]),
        a,
        flake.d50_um,
        log_sd=flake.log_sd,
        spread_rad=math.radians(flake.tilt_deg),
        print_through=print_through(coats, bed.set_solids, earlier.value, film.colour_set_solids.value),
    )
    spread = log_uncertainty(
        strength.by_depth,
        strength.by_d50,
        strength.by_tilt,
        u_depth=depth_uncertainty(constants, finish.tool),
        u_d50=unsure.d50.value,
        u_tilt=unsure.tilt.value,
        u_line=unsure.thinnest_line.value,
    )
    return float(strength.strength_um[0]), float(np.atleast_1d(spread)[0])


def _others(papers: "Papers", spot: Spot, finish: Finish, flake: FlakeNumbers, coats: int) -> list[str]:
    """Show the risk of the other grades of the shelf, and of the chosen one by coats of wet bed."""
    model = LineModel(papers.house.constants)
    solids = papers.house.shop.wet_bed.set_solids

    def risk(grade: "Grade", count: int) -> float:
        return model.estimate(flake, finish.tool, grade, zone=spot.zone, coats=count, set_solids=solids).risk

    near = [grade for grade in papers.house.shop.shelf if abs(_steps(grade, finish.chosen)) <= 4]
    by_grade = ", ".join(f"{grade} {risk(grade, coats):.2f}" for grade in near)
    by_coats = ", ".join(f"{count} {risk(finish.chosen, count):.2f}" for count in range(4))
    bed = f"{coats} coats of wet bed" if coats else "no wet bed"
    return [f"risk by grade, {bed}: {by_grade}", f"risk of {finish.chosen} by coats of wet bed: {by_coats}"]


def _steps(one: "Grade", other: "Grade") -> int:
    return RANK[one] - RANK[other]
