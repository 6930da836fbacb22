"""Numbers of a house that are most likely in another unit than they count in: mm for µm, cm for mm."""

from collections.abc import Iterator
from math import isfinite
from typing import Final

from prepadvisor.cases.facts import NUMBER, NUMBERS
from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import named
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import BASE, Rule


class _Sane(NamedTuple):
    """The least and most a threshold above 0 can sensibly be, and what a wrong one was likely meant in."""

    least: float
    most: float
    too_small: str
    too_large: str


_CONDITIONS: Final = {
    "film_um": _Sane(10, 2000, "mm (0.09 mm is 90) or mil (4 mil is 100)", "nm"),
    "length_mm": _Sane(10, 12_000, "m (0.5 m is 500) or cm (40 cm is 400)", "µm"),
    "panel_m2": _Sane(0.005, 20, "another unit", "dm² (60 dm² is 0.6) or cm²"),
}
"""Film on a car is 60 to 1000 µm, a line on a panel some cm to 6 m long, a panel 0.02 to 4 m² (practice)."""

_SETTINGS: Final[dict[OutputName, _Sane]] = {
    "film_off_max_um": _Sane(0.5, 200, "mm (0.005 mm is 5)", "nm"),
    "film_left_min_um": _Sane(10, 1000, "mm (0.09 mm is 90) or mil", "nm"),
}


def wrong_units(engine: Engine) -> list[Finding]:
    """Return a finding for each number of a house rule that lies outside what its unit can sensibly have."""
    return [finding for rule in engine.rules if rule.layer != BASE for finding in _of(rule)]


def _of(rule: Rule) -> Iterator[Finding]:
    for fact, sane in _CONDITIONS.items():
        limits = rule.when.range_of(fact)
        unit = NUMBERS[NUMBER[fact]].unit
        ends = (limits.low, limits.high) if limits else ()
        wrong = [end for end in ends if isfinite(end) and end > 0 and not sane.least <= end <= sane.most]
        for end in wrong[:1]:
            yield from _told(rule, f"asks for {fact}", end, unit, sane)
    for output, sane in _SETTINGS.items():
        value = rule.set.get(output)
        if isinstance(value, int | float) and value > 0:
            yield from _told(rule, f"sets {output}", value, OUTPUTS[output].unit, sane)


def _told(rule: Rule, does: str, number: float, unit: str, sane: _Sane) -> Iterator[Finding]:
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
