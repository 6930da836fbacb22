"""The numbers of the line model as a form: each with its unit, how it is known, and a house's own value."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

import tomli

from prepadvisor.records import Known, Quantity
from prepadvisor.standards import House
from prepadvisor.tui.model.fields import Field, number
from prepadvisor.tui.model.house_files.form import HouseForm, marked, states, with_value
from prepadvisor.wording import FLAKE, TOOL, attributes

HEAD: Final = (
    "# This shop's own numbers of the line model. It holds only what differs from the shipped file.\n"
)
_OWN_KNOWN: Final[Mapping[Known, tuple[str, str]]] = {
    "practice": ("practice", "what this shop goes by"),
    "assumption": ("assumption", "a guess, to be tried on test panels"),
    "chosen": ("chosen-here", "chosen for what comes out of it"),
}
"""How a number that is typed may be known: its source in the register, and the words. Measured is fitted."""
LABELS: Final[Mapping[str, str]] = {
    "groove.width_per_depth": "Groove: width for its depth",
    "film.colour_set_solids": "Colour: solids when set",
    "film.earlier_colour_coats_colour": "Coats under, full colour",
    "film.earlier_colour_coats_fade": "Coats under, fade",
    "sight.viewing_distance_mm": "Looked at from",
    "sight.thinnest_line_arcsec": "Thinnest line seen",
    "sight.straight_line_factor": "Straight lines count",
    "sight.short_arc_factor": "A sander's arcs count",
    "uncertainty.depth_per_grain": "Unsure of groove depth",
    "uncertainty.d50": "Unsure of flake size",
    "uncertainty.tilt": "Unsure of flake tilt",
    "uncertainty.thinnest_line": "Unsure of thinnest line",
    "uncertainty.borderline_risk": "Borderline up to",
    "removal.rate_um_dm2_per_minute": "A DA takes off",
    "removal.reference_ds50_um": "at a grain of",
    "removal.exponent": "rising with the grain by",
    "removal.flat_above_ds50_um": "and no more above",
    "mixing.factor": "Mix: times what is worked out",
    "mixing.extra_ml": "Mix: for cup and overspray",
    "mixing.step_ml": "Mix: up to the next",
    "mixing.least_ml": "Mix: at least",
}  # fmt: skip
"""Numbers by their keys; those by tool and by flake are named after these."""
_FLAKE: Final = {"d50_um": "middle size", "log_sd": "spread of sizes", "tilt_deg": "spread of tilt"}


def quantities(house: House) -> Iterator[tuple[tuple[str, ...], Quantity]]:
    """Yield each number of the model with the keys that lead to it; colours that were fitted are left out."""
    numbers = house.constants
    for part in ("groove", "film", "flake", "sight", "uncertainty", "removal", "mixing"):
        yield from _within(getattr(numbers, part), (part,))


def constants_form() -> HouseForm:
    """Return how the numbers of the model are edited."""
    return HouseForm(
        file="constants.toml",
        title="The line model in the draft: an estimate until panels are fitted",
        fields=_fields,
        path_of=_path,
        about=_about,
        with_changed=_with_changed,
        with_dropped=lambda text, ident: with_value(text, HEAD, _path(ident), None, lambda _data: None),
        known={known: f"{known}: {says}" for known, (_, says) in _OWN_KNOWN.items()},
    )


def _within(record: object, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Quantity]]:
    if isinstance(record, Quantity):
        yield path, record
        return
    for key, value in record.items() if isinstance(record, Mapping) else vars(record).items():
        yield from _within(value, (*path, key))


def _label(path: tuple[str, ...]) -> str:
    if path[:2] == ("groove", "depth_per_grain"):
        return f"Groove depth: {TOOL[path[2]]}"
    if path[0] == "flake":
        return f"{FLAKE[path[1]]}: {_FLAKE[path[2]]}".capitalize()
    return LABELS[".".join(path)]


def _fields(house: House, own: str) -> list[Field]:
    fields = []
    for path, quantity in quantities(house):
        unit = "" if quantity.unit == "1" else quantity.unit
        label = _label(path)
        says = f"{f'{quantity.value:g} {unit}'.strip()}, {quantity.known}"
        ask = f"{label}{f', {unit}' if unit else ''}"
        fields.append(Field("/".join(path), label, says, "number", f"{quantity.value:g}", ask=ask))
    return marked(fields, own, _path)


def _path(ident: str) -> tuple[str, ...]:
    return tuple(ident.split("/"))


def _about(house: House, ident: str) -> list[str]:
    """Return what a number means, how it is known, and what is noted of it."""
    path = _path(ident)
    quantity = next((each for keys, each in quantities(house) if keys == path), None)
    if quantity is None:
        return []
    record: Any = house.constants
    for key in path[:-1]:
        record = record[key] if isinstance(record, Mapping) else getattr(record, key)
    key = path[-1]
    if isinstance(record, Mapping):  # by tool: its table is what the record explains
        record, key = house.constants.groove, path[-2]
    said = attributes(type(record)).get(key, "")
    lines = [f"{said[:1].upper()}{said[1:]}", f"Known as: {quantity.known}; source: {quantity.source}."]
    return [*lines, *([quantity.note] if quantity.note else [])]


def _with_changed(house: House, text: str, ident: str, answer: str, known: str) -> str:
    """Put a number in with its unit and how it is known; a note of the shop's own stays."""
    path, value = _path(ident), number(answer)
    quantity = next(each for keys, each in quantities(house) if keys == path)
    entry: dict[str, object] = {
        "value": int(value) if value.is_integer() else value,
        "unit": quantity.unit,
        "source": next(source for name, (source, _) in _OWN_KNOWN.items() if name == known),
        "known": known,
    }
    if quantity.note and states(tomli.loads(text), path):
        entry["note"] = quantity.note
    return with_value(text, HEAD, path, entry, lambda _data: None)
