"""Finds every number and word in which a house's data differ from what ships: a card names them all."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from prepadvisor.records.base import cleaned
from prepadvisor.records.house_change import ChangeValue, HouseChange

_ABOUT: Final = frozenset({"passport", "unit", "source", "known", "note", "name", "leads", "pads", "rates"})
"""What is said about a number, names and prices: nothing is decided by them."""
_VALUE_MAX: Final = 120


def house_changes(shipped: Mapping[str, Any], house: Mapping[str, Any]) -> tuple[HouseChange, ...]:
    """Return what differs between a shipped file's data and the same with a house's laid over, by name.

    Args:
        shipped: data of shop.toml or constants.toml as shipped.
        house: the merged data.
    """
    before, after = dict(_leaves(shipped)), dict(_leaves(house))
    names = [*before, *(name for name in after if name not in before)]
    return tuple(
        HouseChange(
            name,
            _unit(name, house) or _unit(name, shipped),
            before.get(name),
            after.get(name),
            _about(name, house).get("known") == "measured",
        )
        for name in names
        if before.get(name) != after.get(name)
    )


def _leaves(data: Mapping[str, Any], under: str = "") -> Iterator[tuple[str, ChangeValue]]:
    for key, value in data.items():
        if key in _ABOUT:
            continue
        name = f"{under}{key}"
        if isinstance(value, Mapping):
            if "value" in value:
                yield from ((name, shown) for shown in _shown(value["value"]))
            else:
                yield from _leaves(value, f"{name}.")
        else:
            yield from ((name, shown) for shown in _shown(value))


def _shown(value: Any) -> Iterator[ChangeValue]:
    if isinstance(value, bool):
        yield "yes" if value else "no"
    elif isinstance(value, int | float):
        yield float(value)
    elif isinstance(value, list):
        yield cleaned(" ".join(str(each) for each in value), _VALUE_MAX)
    elif isinstance(value, str):
        yield cleaned(value, _VALUE_MAX)


def _unit(name: str, data: Mapping[str, Any]) -> str:
    return _word(_about(name, data))


def _about(name: str, data: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return what is said about a number: its passport, or what stands beside its value."""
    passport = data.get("passport")
    if isinstance(passport, Mapping) and isinstance(about := passport.get(name), Mapping):
        return about
    at: Any = data
    for part in name.split("."):
        at = at.get(part) if isinstance(at, Mapping) else None
    return at if isinstance(at, Mapping) else {}


def _word(about: Mapping[str, Any]) -> str:
    unit = about.get("unit", "")
    return "" if unit == "1" or not isinstance(unit, str) else cleaned(unit, 20)
