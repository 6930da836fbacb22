"""Lays a shop's file over the shipped one key by key, and still knows which file a value came from."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from prepadvisor.files.toml_in import TomlText
from prepadvisor.files.words_for_faults import Told
from prepadvisor.records.fault import Fault, Problem

Path = tuple[str | int, ...]

OWN_WORD: Final = {
    "source": "house",
    "known": "assumption",
    "note": "this shop's own number; how it is known is not said",
}
"""The passport of a number that a shop states without one."""


class Overlaid:
    """The data of a shipped file with that of a shop's file over it.

    A list named in `keyed` is laid over entry by entry, found by the entry's key (outlines by kind,
    sources by id); every other list is replaced as a whole. `data` is the merged copy.
    """

    def __init__(
        self, shipped: TomlText, house: TomlText | None, keyed: tuple[str, str] | None = None
    ) -> None:
        """Merge the two; `keyed` is (list, key of its entries)."""
        self.shipped: Final = shipped
        self.house: Final = house
        self._from: dict[Path, tuple[Path | None, Path | None]] = {}
        over = dict(house.data) if house else {}
        entries = over.pop(keyed[0], None) if keyed else None
        self.data: Final[dict[str, Any]] = merged(shipped.data, over)
        if keyed and entries is not None:
            self._lay_entries(keyed, entries)

    def _lay_entries(self, keyed: tuple[str, str], own: Any) -> None:
        name, key = keyed
        below = self.data.get(name)
        if not isinstance(own, list) or not isinstance(below, list):
            self.data[name] = own
            return
        entries = list(below)
        place_of = {_word(entry, key): place for place, entry in enumerate(entries)}
        self._from = {(name, place): ((name, place), None) for place in range(len(entries))}
        for number, entry in enumerate(own):
            place = place_of.get(_word(entry, key))
            if place is None or not isinstance(entry, Mapping):
                entries.append(entry)
                self._from[name, len(entries) - 1] = (None, (name, number))
            else:
                entries[place] = merged(entries[place], entry)
                self._from[name, place] = ((name, place), (name, number))
        self.data[name] = entries

    def fault(self, told: Told) -> Fault:
        """Return a problem of the merged data with its place: in the shop's file if the key is there."""
        path = told.problem.path
        in_shipped, in_house = self._from.get(path[:2], (path[:2], path[:2]))
        house_path = None if in_house is None else (*in_house, *path[2:])
        shipped_path = None if in_shipped is None else (*in_shipped, *path[2:])
        if self.house is not None and house_path is not None:
            holds = self.house.locator.holds(house_path)
            if holds or shipped_path is None or not self.shipped.locator.holds(shipped_path[:-1]):
                return self.house.fault(_at(told, house_path), at_key=told.at_key)
        return self.shipped.fault(_at(told, shipped_path or path), at_key=told.at_key)


def _at(told: Told, path: Path) -> Problem:
    return told.problem._replace(path=path)


def _word(entry: object, key: str) -> str | None:
    word = entry.get(key) if isinstance(entry, Mapping) else None
    return word.strip() if isinstance(word, str) else None


def merged(shipped: Mapping[str, Any], house: Mapping[str, Any]) -> dict[str, Any]:
    """Return the shipped table with the house's keys over it; tables merge, everything else is replaced.

    A quantity (a table with `value`) whose value the house states without saying how it is known gets the
    passport `OWN_WORD`: it must not go under the shipped source's name.
    """
    result = dict(shipped)
    for key, value in house.items():
        below = result.get(key)
        if isinstance(below, Mapping) and isinstance(value, Mapping):
            result[key] = merged(below, value)
        else:
            result[key] = value
    if "value" in house and "value" in shipped:
        result.update({key: word for key, word in OWN_WORD.items() if key not in house})
    return result


def stated_numbers(data: Mapping[str, Any], under: str = "") -> Iterable[str]:
    """Yield the dotted names of all numbers in a table and the tables in it."""
    for key, value in data.items():
        if isinstance(value, Mapping):
            yield from stated_numbers(value, f"{under}{key}.")
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            yield f"{under}{key}"
