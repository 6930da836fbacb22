"""What numbers can sensibly be: wider is a slip of unit or finger, such as mm for µm.

Common practice and judgement, no source. A file's hard ranges (in the records) only keep sums from breaking.
"""

from collections.abc import Iterator
from math import isfinite
from typing import Final

from prepadvisor.cases import NUMBERS, Sensible
from prepadvisor.records import OutputName, Quantity, Record
from prepadvisor.standards.engine import BASE, OUTPUTS, Engine, Rule
from prepadvisor.standards.proof.audited import named
from prepadvisor.standards.proof.findings import Finding

SANE: Final[dict[str, tuple[float, float]]] = {
    "mist_mm": (0, 500),
    "fade_least_mm": (10, 1000),
    "lap_mm": (10, 150),
    "ring_mm": (5, 150),
    "pass_m2_per_minute": (0.05, 1),
    "cut_faster": (0.5, 6),
    "hand_minutes_per_metre": (0.2, 12),
    "hand_minutes_least": (0, 10),
    "clean_minutes": (0, 20),
    "clean_minutes_per_m2": (0, 20),
    "look_minutes": (0, 5),
    "wipe_minutes": (0, 15),
    "mask_minutes": (0, 90),
    "clearing_minutes_per_dm2_max": (0.04, 0.8),
    "edge_strip_mm": (5, 120),
    "disc_minutes": (0, 3),
    "guide_coat_minutes": (0, 5),
    "disc_dm2": (5, 200),
    "gate_hours": (1, 72),
    "look_hours": (1, 336),
    "wet_bed.volume_solids": (0.05, 0.6),
    "wet_bed.set_solids": (0.1, 0.85),
    "wet_bed.dry_um_per_coat": (2, 20),
    "wet_bed.transfer_efficiency": (0.2, 0.95),
    "wet_bed.overlap_mm": (0, 300),
    "rates": (0, 100_000),
    "groove.depth_per_grain": (0.01, 0.2),
    "groove.width_per_depth": (2, 20),
    "film.colour_set_solids": (0.03, 0.6),
    "film.earlier_colour_coats_colour": (0, 5),
    "film.earlier_colour_coats_fade": (0, 5),
    "flake.d50_um": (1, 100),
    "flake.vapour.d50_um": (2, 25),
    "flake.log_sd": (0.05, 1.5),
    "flake.tilt_deg": (1, 30),
    "sight.viewing_distance_mm": (200, 3000),
    "sight.thinnest_line_arcsec": (0.1, 5),
    "sight.straight_line_factor": (0.1, 2),
    "sight.short_arc_factor": (0.1, 2),
    "uncertainty.depth_per_grain": (0.02, 1),
    "uncertainty.d50": (0.02, 1),
    "uncertainty.tilt": (0.02, 1),
    "uncertainty.thinnest_line": (0.02, 1.5),
    "uncertainty.borderline_risk": (0.1, 0.9),
    "removal.rate_um_dm2_per_minute": (0.5, 100),
    "removal.reference_ds50_um": (5, 100),
    "removal.exponent": (0.1, 2),
    "removal.flat_above_ds50_um": (20, 1000),
    "mixing.factor": (1, 5),
    "mixing.extra_ml": (0, 500),
    "mixing.step_ml": (1, 500),
    "mixing.least_ml": (0, 2000),
}
"""Name of a number, without the key of its table's row (tool, surface, flake), to the least and the most."""


NONE_OR: Final[dict[str, float]] = {"mist_mm": 10, "wet_bed.overlap_mm": 20}
"""Name of a number that may be 0 to the least that it can sensibly be where it is not."""


def numbers(record: Record, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], float]]:
    """Yield every number of a record with its key path."""
    for name in type(record).model_fields:
        yield from _within(getattr(record, name), (*path, name))


def _within(value: object, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], float]]:
    if isinstance(value, Quantity):
        yield path, float(value.value)
    elif isinstance(value, Record):
        yield from numbers(value, path)
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _within(each, (*path, str(key)))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, float(value)


def sane(path: tuple[str, ...]) -> tuple[float, float] | None:
    """Return the least and the most that a number can sensibly be, None for one that nobody thought of."""
    tries = [path, path[:-1], (path[0], *path[2:])]
    return next((SANE[".".join(each)] for each in tries if ".".join(each) in SANE), None)


def is_sane(path: tuple[str, ...], value: float) -> bool:
    """Say whether a number can sensibly be what it is."""
    span = sane(path)
    if span is None or (value == 0 and ".".join(path) in NONE_OR):
        return True
    return max(span[0], NONE_OR.get(".".join(path), span[0])) <= value <= span[1]


# Numbers of a house that are most likely in another unit than they count in: mm for µm, cm for mm.


SENSIBLE_SETTINGS: Final[dict[OutputName, Sensible]] = {
    "film_off_max_um": Sensible(0.5, 200, "mm (0.005 mm is 5)", "nm"),
    "film_left_min_um": Sensible(10, 1000, "mm (0.09 mm is 90) or mil", "nm"),
}


_AS_BUILT_UM: Final = 180.0
"""The most film that a panel has as it left the works, in µm (practice)."""

_REPAINTED_UM: Final = 300.0
"""The most that one painted once more has; more is told as a limit that cannot be."""


def wrong_units(engine: Engine) -> list[Finding]:
    """Return a finding for each number of a house rule that lies outside what its unit can sensibly have."""
    return [finding for rule in engine.rules if rule.layer != BASE for finding in _of(rule)]


def _of(rule: Rule) -> Iterator[Finding]:
    for fact in NUMBERS:
        limits, sane = rule.when.range_of(fact.name), fact.sensible
        ends = (limits.low, limits.high) if limits else ()
        wrong = [end for end in ends if isfinite(end) and end > 0 and not sane.least <= end <= sane.most]
        for end in wrong[:1]:
            yield from _told(rule, f"asks for {fact.name}", end, fact.unit, sane)
    for output, sane in SENSIBLE_SETTINGS.items():
        value = rule.set.get(output)
        if isinstance(value, int | float) and value > 0:
            yield from _told(rule, f"sets {output}", value, OUTPUTS[output].unit, sane)
    yield from _left_by_few(rule)


def _left_by_few(rule: Rule) -> Iterator[Finding]:
    """Yield a finding where a rule asks more film to stay than panels have, thick film not named."""
    least = rule.set.get("film_left_min_um")
    if not isinstance(least, int | float) or not _AS_BUILT_UM < least <= _REPAINTED_UM:
        return
    readings = rule.when.range_of("film_um")
    if readings is None or readings.low < least:
        yield Finding(
            "gap",
            f"{named([rule])} sets film_left_min_um {least:g}: a panel as built has 90 to {_AS_BUILT_UM:g} "
            "µm, so that nearly every place with a reading would be held.",
            f'Ask for less to stay, or name the thick film it is for (film_um = ">= {least:g}").',
            rules=(rule.id,),
            file=rule.file,
            line=rule.line,
        )


def _told(rule: Rule, does: str, number: float, unit: str, sane: Sensible) -> Iterator[Finding]:
    if sane.least <= number <= sane.most:
        return
    meant = sane.too_small if number < sane.least else sane.too_large
    yield Finding(
        "file",
        f"{named([rule])} {does} {number:g}, which counts in {unit}: no panel has such a number.",
        f"Write it in {unit}; was it meant in {meant}?",
        rules=(rule.id,),
        file=rule.file,
        line=rule.line,
    )
