"""What differs in the data of two houses beside their rules: shop file, constants, outlines, key by key."""

from collections.abc import Iterator, Mapping
from typing import Any

from prepadvisor.named import NamedTuple
from prepadvisor.standards.house import House


class DataChange(NamedTuple):
    """One key that two houses state otherwise, such as "shelf" of "shop"; None where one does not have it."""

    file: str
    key: str
    before: str | None
    after: str | None


def data_changes(before: House, after: House) -> tuple[DataChange, ...]:
    """Return every key in which two houses differ, passports and notes left aside."""
    pairs = (
        ("shop.toml", before.shop, after.shop),
        ("constants.toml", before.constants, after.constants),
    )
    found: list[DataChange] = []
    for file, one, other in pairs:
        if one != other:
            found += _differing(file, one.model_dump(), other.model_dump())
    kinds = {**before.outlines, **after.outlines}
    for kind in kinds:
        old, new = before.outlines.get(kind), after.outlines.get(kind)
        if old != new:
            one_dump = {} if old is None else {kind: old.model_dump()}
            other_dump = {} if new is None else {kind: new.model_dump()}
            found += _differing("panels.toml", one_dump, other_dump)
    return tuple(found)


def _differing(file: str, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[DataChange]:
    old, new = dict(_flat(before)), dict(_flat(after))
    for key in {**old, **new}:
        if old.get(key) != new.get(key):
            yield DataChange(file, key, old.get(key), new.get(key))


def _flat(data: Mapping[str, Any], under: str = "") -> Iterator[tuple[str, str]]:
    for key, value in data.items():
        if key in {"passport", "unit", "source", "known", "note"}:
            continue
        name = f"{under}{key}"
        if isinstance(value, Mapping) and "value" in value and "known" in value:
            yield name, _told(value["value"])
        elif isinstance(value, Mapping):
            yield from _flat(value, f"{name}.")
        else:
            yield name, _told(value)


def _told(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        simple = all(isinstance(each, str | int | float) for each in value)
        return " ".join(map(str, value)) if simple else f"{len(value)} entries {value!r}"
    return str(value).lower() if isinstance(value, bool) else str(value)
