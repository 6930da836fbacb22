"""Writes fitted numbers into a house: its constants and shop file, whose earlier versions stay.

Only the numbers measured are written; comments and all else of the files stay as a person wrote them.
"""

import datetime as dt
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

import tomlkit

from prepadvisor.files.disk.atomic import FileSystem, put
from prepadvisor.files.paths import EARLIER
from prepadvisor.files.reading import parse, read_bytes
from prepadvisor.records import BadInputError, Constants, Fault, Quantity, Shop

_UNITS: Final = {
    "hand_minutes_per_metre": "min/m",
    "clean_minutes_per_m2": "min/m²",
    "pass_m2_per_minute": "m²/min",
    "cut_faster": "1",
}
"""Units of the shop's rates; the rest are minutes."""

_HEADS: Final = {
    "constants.toml": "# Numbers of the line model that this shop measured on its own test panels.\n",
    "shop.toml": "# This shop. It holds only what differs from the shipped shop file.\n",
}


def write_measured(
    house: Path, constants: Constants, shop: Shop, changed: tuple[str, ...], now: dt.datetime
) -> list[Path]:
    """Write measured numbers into a house folder, which is made where there is none.

    Args:
        house: the folder.
        constants: constants with the measured numbers in force.
        shop: likewise the shop.
        changed: names of the numbers to write, as in `Fit.numbers`.
        now: the time, which earlier versions are named by.

    Returns:
        The files written, in order; none if nothing changed.

    Raises:
        BadInputError: the folder or a file cannot be written, or a file there is no TOML.
    """
    tables: dict[str, dict[tuple[str, ...], Any]] = {"constants.toml": {}, "shop.toml": {}}
    for name in changed:
        sort, _, word = name.partition(".")
        match sort:
            case "threshold_arcsec":
                own = tables["constants.toml"]
                own["sight", "thinnest_line_arcsec"] = _passport(constants.sight.thinnest_line_arcsec)
                own["uncertainty", "thinnest_line"] = _passport(constants.uncertainty.thinnest_line)
            case "depth_per_grain":
                if word in constants.groove.depth_per_grain:
                    quantity = constants.groove.depth_per_grain[word]
                    tables["constants.toml"]["groove", "depth_per_grain", word] = _passport(quantity)
            case "flake_um":
                tables["constants.toml"]["colour_d50_um", word] = _passport(constants.colour_d50_um[word])
            case "bed_set_solids":
                passport = shop.passport["wet_bed.set_solids"]
                tables["shop.toml"]["wet_bed", "set_solids"] = shop.wet_bed.set_solids
                tables["shop.toml"]["passport", "wet_bed.set_solids"] = passport.model_dump(
                    exclude_none=True, exclude_defaults=True
                )
    texts = {name: _edited(house / name, values) for name, values in tables.items() if values}
    return _put(house, texts, now)


def write_rates(house: Path, rates: Mapping[str, tuple[float, int]], now: dt.datetime) -> list[Path]:
    """Write the shop's own rates into a house's shop file, which is made where there is none.

    Args:
        house: the folder.
        rates: by their names in the shop file, such as "hand_minutes_per_metre.edge", the number and how many
            bouts of work it was timed on.
        now: the time, which the earlier version is named by.

    Returns:
        The file written, none if nothing was to be.

    Raises:
        BadInputError: the folder or the file cannot be written, or the file there is no TOML.
    """
    values: dict[tuple[str, ...], Any] = {}
    for name, (number, bouts) in rates.items():
        unit = _UNITS.get(name.partition(".")[0], "min")
        values[tuple(name.split("."))] = number
        values["passport", name] = {
            "unit": unit,
            "source": "house",
            "known": "measured",
            "note": f"timed on {bouts} bouts of work in the logs, {now.date().isoformat()}",
        }
    return _put(house, {"shop.toml": _edited(house / "shop.toml", values)} if values else {}, now)


def _passport(quantity: Quantity) -> dict[str, Any]:
    return quantity.model_dump(exclude_none=True, exclude_defaults=True)


def _edited(path: Path, values: Mapping[tuple[str, ...], Any]) -> str:
    """Return a file's text with values put in; one that is not there yet begins with its head."""
    if path.exists():
        text = parse(read_bytes(path), str(path))
        if text.broken or text.twice:
            raise BadInputError([*text.broken, *text.twice])
        document = tomlkit.parse(text.text)
    else:
        document = tomlkit.parse(_HEADS[path.name])
    for keys, value in values.items():
        table: Any = document
        for key in keys[:-1]:
            if key not in table:
                table[key] = tomlkit.table(is_super_table=key == "groove")
            table = table[key]
        if isinstance(value, dict):
            inline = tomlkit.inline_table()
            inline.update(value)
            table[keys[-1]] = inline
        else:
            table[keys[-1]] = value
    return tomlkit.dumps(document)


def _put(house: Path, texts: Mapping[str, str], now: dt.datetime) -> list[Path]:
    if not texts:
        return []
    system = FileSystem()
    stamp = now.strftime("%Y-%m-%dT%H%M%S")
    written: list[Path] = []
    try:
        house.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            path = house / name
            if path.exists():
                kept = house / EARLIER / f"{path.stem}-{stamp}.toml"
                kept.parent.mkdir(exist_ok=True)
                put(kept, path.read_bytes(), system, keep_previous=False)
            put(path, text.encode(), system, keep_previous=False)
            written.append(path)
    except OSError as error:
        says = f"this house folder cannot be written ({error.strerror or error})"
        raise BadInputError([Fault(str(house), 0, 0, says, "check the folder's rights")]) from None
    return written
