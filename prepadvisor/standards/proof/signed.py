"""Slips between a house's own files: who signs, names two things have, prices in no money."""

from collections.abc import Iterator
from math import log
from typing import TYPE_CHECKING, Final

from prepadvisor.logbook import person
from prepadvisor.records import FLAKES, RANK, BookColour, Grade, key_of
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.sane import sane

if TYPE_CHECKING:
    from prepadvisor.standards.house import House

_SHOP: Final = "shop.toml"
_RING: Final = (Grade("P180"), Grade("P600"))
"""What a ring around primer is keyed with; coarser shows, on finer primer does not hold. Common practice."""

_CLASSES_OFF: Final = 2
"""So many classes away from its own is a measured flake size no doubt any more, but a slip."""

_TAKES_TIME: Final = ("disc_minutes", "guide_coat_minutes", "look_minutes", "wipe_minutes")


def slips_between(house: "House") -> list[Finding]:
    """Return a finding for each thing that is right by itself and not beside the rest of the house."""
    return [
        *_prices(house),
        *_minutes(house),
        *_hours(house),
        *_grades(house),
        *_pads(house),
        *_signatures(house),
        *_kinds(house),
        *_solids(house),
        *_codes(house),
        *_sizes(house),
        *_measures(house),
    ]


def _slip(says: str, mend: str, file: str, *key: str) -> Finding:
    return Finding("shop", says, mend, key=(file, *key))


def _prices(house: "House") -> Iterator[Finding]:
    rates = house.shop.rates
    if rates is None:
        return
    priced = rates.labour_per_hour or rates.per_disc or rates.wet_bed_per_litre
    if priced and not rates.currency.strip():
        says = "rates has prices and no currency: sums would stand there as bare numbers."
        yield _slip(says, 'Say what they count in, such as currency = "EUR".', _SHOP, "rates")


def _minutes(house: "House") -> Iterator[Finding]:
    for name in _TAKES_TIME:
        if getattr(house.shop, name) == 0:
            says = f"{name} is 0: what takes time is planned as taking none."
            yield _slip(says, "Write what it takes, or leave the line out.", _SHOP, name)


def _hours(house: "House") -> Iterator[Finding]:
    shop = house.shop
    if shop.gate_hours > shop.look_hours:
        hours = f"gate_hours is {shop.gate_hours:g} and look_hours {shop.look_hours:g}"
        says = f"{hours}: a look is over before the wipe."
        yield _slip(says, "Let a look count at least as long.", _SHOP, "gate_hours")


def _grades(house: "House") -> Iterator[Finding]:
    shop = house.shop
    twice = sorted({grade for grade in shop.shelf if shop.shelf.count(grade) > 1}, key=RANK.__getitem__)
    if twice:
        says = f"The shelf names {' and '.join(twice)} twice."
        yield _slip(says, "Name each grade once; perhaps another is meant.", _SHOP, "shelf")
    if not RANK[_RING[0]] <= RANK[shop.ring_grade] <= RANK[_RING[1]]:
        says = (
            f"ring_grade is {shop.ring_grade}: the ring around primer would show, or primer not hold on it."
        )
        yield _slip(says, f"Write one of {_RING[0]} to {_RING[1]}.", _SHOP, "ring_grade")


def _pads(house: "House") -> Iterator[Finding]:
    known: dict[str, str] = {}
    for pad, grade in house.shop.pads.items():
        other = known.setdefault(key_of(pad), pad)
        if house.shop.pads[other] != grade:
            says = f'The pads "{other}" and "{pad}" are read as one and have two grades.'
            yield _slip(says, "Give them names that nobody mistakes.", _SHOP, "pads", pad)


def _signatures(house: "House") -> Iterator[Finding]:
    """Yield who approved a layer or sealed a colour and is none of the leads, where these are named."""
    leads = {person(lead) for lead in house.shop.leads}
    if not leads:
        return
    for layer in house.used.layers:
        if layer.approved_by and person(layer.approved_by) not in leads:
            says = f'"{layer.layer}" is approved by "{layer.approved_by}", who is none of the leads.'
            yield _slip(says, "Correct the name, or put it among leads in shop.toml.", _SHOP, "leads")
    for entry in house.book.values():
        if entry.sealed_by and person(entry.sealed_by) not in leads:
            says = f'The colour "{entry.book}" is sealed by "{entry.sealed_by}", who is none of the leads.'
            yield _slip(says, "Correct the name, or put it among leads in shop.toml.", "colours.toml")


def _kinds(house: "House") -> Iterator[Finding]:
    known: dict[str, str] = {}
    for kind, outline in house.outlines.items():
        name = outline.name or kind.replace("-", " ")
        other = known.setdefault(key_of(name), kind)
        if other != kind:
            says = f'{other} and {kind} are both called "{name}": a card does not tell them apart.'
            key = ("outline", kind, "name")
            yield _slip(says, "Give the own kind a name of its own.", "panels.toml", *key)


def _solids(house: "House") -> Iterator[Finding]:
    for entry in house.book.values():
        if entry.flake == "solid" and entry.flake_um is not None:
            says = f'The colour "{entry.book}" is solid and has a flake of {entry.flake_um:g} µm.'
            yield _slip(says, "Leave flake_um out, or correct the flake.", "colours.toml")


def _codes(house: "House") -> Iterator[Finding]:
    """Yield entries of one code that are not one colour; batches of one colour may share theirs."""
    known: dict[str, BookColour] = {}
    for entry in house.book.values():
        if not entry.code.strip():
            continue
        other = known.setdefault(key_of(entry.code), entry)
        flakes, stages = {entry.flake, other.flake} - {"unknown"}, {entry.stages, other.stages} - {None}
        if len(flakes) > 1 or len(stages) > 1:
            says = f'The colours "{other.book}" and "{entry.book}" have one code and are not of one kind.'
            yield _slip(says, "Correct the code, or flake and stages.", "colours.toml")


def _sizes(house: "House") -> Iterator[Finding]:
    """Yield colours whose measured flake is nearest to a class two or more away from the one they state."""
    sizes = {flake: numbers.d50_um.value for flake, numbers in house.constants.flake.items()}
    for entry in house.book.values():
        if entry.flake_um is None or entry.flake not in sizes:
            continue
        size = entry.flake_um
        near = min(sizes, key=lambda flake: abs(log(sizes[flake] / size)))
        if abs(FLAKES.index(near) - FLAKES.index(entry.flake)) >= _CLASSES_OFF:
            says = (
                f'The colour "{entry.book}" is {entry.flake} and has a flake of {size:g} µm, as {near} has.'
            )
            yield _slip(says, "Correct the class or the size.", "colours.toml")


_MEASURED: Final = ("flake_um", "tilt_deg", "log_sd")


def _measures(house: "House") -> Iterator[Finding]:
    """Yield measured values of a colour that no flake has, as those of a class."""
    for entry in house.book.values():
        for name in _MEASURED:
            value, of_class = getattr(entry, name), "d50_um" if name == "flake_um" else name
            span = sane(("flake", entry.flake, of_class))
            if value is not None and span is not None and not span[0] <= value <= span[1]:
                says = (
                    f'The colour "{entry.book}" has {name} {value:g}: sensible is {span[0]:g} to {span[1]:g}.'
                )
                yield _slip(says, "Compare its unit and its decimal point.", "colours.toml")
