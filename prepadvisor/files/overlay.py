"""Lays a shop's file over the shipped one key by key, and still knows which file a value came from."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from prepadvisor.files.told import Told
from prepadvisor.files.toml_in import TomlText
from prepadvisor.records.fault import Fault, KeyPath, Problem

OWN_WORD: Final = {
    "source": "house",
    "known": "assumption",
    "note": "this shop's own number; how it is known is not said",
}
"""The passport of a number that a shop states without one."""


class Overlaid:
    """The data of a shipped file with those of a house's layers over it, the lowest first.

    A list named in `keyed` is laid over entry by entry, found by the entry's key (outlines by kind,
    sources by id); every other list is replaced as a whole. `data` is the merged copy.
    """

    def __init__(
        self, shipped: TomlText, houses: Sequence[TomlText] = (), keyed: tuple[str, str] | None = None
    ) -> None:
        """Merge them; `keyed` is (list, key of its entries)."""
        self.shipped: Final = shipped
        self.houses: Final = tuple(houses)
        self._keyed = keyed
        self._from: dict[KeyPath, dict[int, KeyPath]] = {}
        self.data: Final[dict[str, Any]] = dict(shipped.data)
        for layer, house in enumerate(houses, 1):
            over = dict(house.data)
            entries = over.pop(keyed[0], None) if keyed else None
            self.data.update(merged(self.data, over))
            if keyed and entries is not None:
                self._lay_entries(keyed, entries, layer)

    def _lay_entries(self, keyed: tuple[str, str], own: Any, layer: int) -> None:
        name, key = keyed
        below = self.data.get(name)
        if not isinstance(own, list) or not isinstance(below, list):
            self.data[name] = own
            return
        entries = list(below)
        place_of = {_word(entry, key): place for place, entry in enumerate(entries)}
        if not self._from:
            self._from = {(name, place): {0: (name, place)} for place in range(len(entries))}
        for number, entry in enumerate(own):
            place = place_of.get(_word(entry, key))
            if place is None or not isinstance(entry, Mapping):
                entries.append(entry)
                self._from[name, len(entries) - 1] = {layer: (name, number)}
            else:
                entries[place] = merged(entries[place], entry)
                self._from[name, place][layer] = (name, number)
        self.data[name] = entries

    def fault(self, told: Told) -> Fault:
        """Return a problem of the merged data with its place: in the highest layer that has the key."""
        path = told.problem.path
        places = self._from.get(path[:2])
        texts = (self.shipped, *self.houses)
        found: list[tuple[TomlText, KeyPath]] = []
        for layer, text in enumerate(texts):
            own = path[:2] if places is None else places.get(layer)
            if own is not None:
                found.append((text, (*own, *path[2:])))
        for text, own in reversed(found):
            if text.locator.holds(own):
                return text.fault(_at(told, own), at_key=told.at_key)
        for text, own in found:  # what is missing is told where the table that lacks it stands
            if text.locator.holds(own[:-1]):
                return text.fault(_at(told, own), at_key=told.at_key)
        text, own = found[-1]
        return text.fault(_at(told, own), at_key=told.at_key)


def _at(told: Told, path: KeyPath) -> Problem:
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
