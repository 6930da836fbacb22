"""What differs in the data of two houses beside their rules: shop file, constants, outlines, key by key."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from prepadvisor.named import NamedTuple
from prepadvisor.standards.house import House

_SAID_MOST: Final = 160
"""A longer change is cut where it is said."""


class DataChange(NamedTuple):
    """One key that two houses state otherwise, such as "shelf" of "shop"; None where one does not have it."""

    file: str
    key: str
    before: str | None
    after: str | None

    @property
    def says(self) -> str:
        """The change in a line."""
        one, other = ("not stated" if each is None else each for each in (self.before, self.after))
        return f"{self.file} {self.key}: {one} → {other}"[:_SAID_MOST]


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
        if old is None or new is None:
            whole = [None if each is None else f"a kind of panel, like {each.seen_as}" for each in (old, new)]
            found.append(DataChange("panels.toml", kind, *whole))
        elif old != new:
            found += _differing("panels.toml", {kind: old.model_dump()}, {kind: new.model_dump()})
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
