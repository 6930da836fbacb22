"""Lays a shop's file over the shipped one key by key, and still knows which file a value came from."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from prepadvisor.files.reading.refused import Told
    from prepadvisor.files.reading.toml_in import TomlText
    from prepadvisor.records import Fault, KeyPath, Problem

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
        self, shipped: "TomlText", houses: Sequence["TomlText"] = (), keyed: tuple[str, str] | None = None
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

    def fault(self, told: "Told") -> "Fault":
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


def _at(told: "Told", path: "KeyPath") -> "Problem":
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


# On which line each entry of a rule file stands, without a full scan where that can be spared.

_HEADER: Final = re.compile(r"^[ \t]*\[\[[ \t]*([\w-]+)[ \t]*\]\]", re.MULTILINE)


def rule_lines(text: "TomlText") -> Callable[["KeyPath"], int]:
    """Return a function from a key path to the line it stands on.

    Entries such as ("rule", 3) are found by counting headers. Where the headers do not add up to the parsed
    entries (a header inside a text, a list written in another way) the exact locator answers.
    """

    @cache
    def headers() -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        line, counted = 1, 0
        for header in _HEADER.finditer(text.text):
            line += text.text.count("\n", counted, header.start())
            counted = header.start()
            found.setdefault(header[1], []).append(line)
        return found

    def line_of(path: "KeyPath") -> int:
        if len(path) == 2 and isinstance(path[0], str) and isinstance(path[1], int):
            entries, lines = text.data.get(path[0]), headers().get(path[0], [])
            if isinstance(entries, list) and len(entries) == len(lines) and path[1] < len(lines):
                return lines[path[1]]
        return text.locator.value(path)[0]

    return line_of
