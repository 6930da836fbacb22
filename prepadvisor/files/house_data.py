"""Checks the data of a house beyond what a record can: sources, kinds and passports."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from prepadvisor.files.overlay import OWN_WORD, Overlaid, stated_numbers
from prepadvisor.files.told import Told
from prepadvisor.records.base import Record, Text
from prepadvisor.records.constants import Source
from prepadvisor.records.fault import KeyPath, Problem
from prepadvisor.records.nearest import nearest
from prepadvisor.records.outline import Outline
from prepadvisor.records.shop import Passport
from prepadvisor.records.words import OUTLINES


class Register(Record):
    """A file of sources."""

    source: tuple[Source, ...] = ()


class Outlines(Record):
    """A file of outlines; the passports say what their numbers are measured in and how they are known."""

    passport: dict[Text, Passport] = {}
    outline: tuple[Outline, ...] = ()


def outlines_by_kind(outlines: Outlines) -> tuple[dict[str, Outline], list[Told]]:
    """Return the outlines by kind, and what is wrong with the file as a whole."""
    found: dict[str, Outline] = {}
    told = []
    for number, outline in enumerate(outlines.outline):
        if outline.kind in found:
            says = f'the outline "{outline.kind}" is there twice'
            told.append(Told(Problem(("outline", number, "kind"), says, "keep one of them")))
        found[outline.kind] = outline
        told.extend(_lines_twice(outline, number))
    if outlines.outline:
        lacking = [kind for kind in OUTLINES if kind not in found]
        told.extend(
            Told(Problem(("outline",), f'the outline "{kind}" is missing', "add it")) for kind in lacking
        )
    return found, told


def _lines_twice(outline: Outline, number: int) -> Iterator[Told]:
    seen: set[str] = set()
    for place, line in enumerate(outline.feature):
        if line.id in seen:
            says = f'the outline "{outline.kind}" has the id "{line.id}" twice'
            yield Told(
                Problem(("outline", number, "feature", place, "id"), says, "give each line its own id")
            )
        seen.add(line.id)


def sources_by_id(register: Register) -> tuple[dict[str, Source], list[Told]]:
    """Return the sources by id, and those that are there twice."""
    found: dict[str, Source] = {}
    told = []
    for number, source in enumerate(register.source):
        if source.id in found:
            says = f'the source "{source.id}" is there twice'
            told.append(Told(Problem(("source", number, "id"), says, "keep one of them")))
        found[source.id] = source
    return found, told


def stated_ids(register: Mapping[str, Any]) -> frozenset[str]:
    """Return the ids a file of sources states, also of sources that are faulty in other ways."""
    entries = register.get("source")
    listed = entries if isinstance(entries, list) else []
    return frozenset(
        str(entry["id"]).strip() for entry in listed if isinstance(entry, dict) and "id" in entry
    )


def unknown_sources(data: Mapping[str, Any], known: Collection[str]) -> Iterator[Told]:
    """Yield every `source` in a file that is not in the register."""
    if not known:  # the register itself could not be read
        return
    for path, source in _stated_sources(data, ()):
        if source not in known:
            says = f'the source "{source[:60]}" is not in sources.toml'
            near = nearest(source, sorted(known))
            meant = f'did you mean "{near}"? ' if near else ""
            mend = f'{meant}a shop takes "practice" or "house", or adds a source in its own sources.toml'
            yield Told(Problem(path, says, mend))


def _stated_sources(data: Any, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(data, dict):
        for key, value in data.items():
            if key == "source" and isinstance(value, str):
                yield (*path, key), value
            elif isinstance(value, (dict, list)):
                yield from _stated_sources(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            if isinstance(value, dict):
                yield from _stated_sources(value, (*path, number))


def mark_own_numbers(shop: Overlaid) -> None:
    """Give the numbers that a shop's file states the shop's own passport, where it has none for them."""
    passports = shop.data.get("passport")
    for house in shop.houses:
        own = house.data.get("passport", {})
        if not isinstance(passports, dict) or not isinstance(own, Mapping):
            return
        for name in stated_numbers({key: value for key, value in house.data.items() if key != "passport"}):
            shipped = passports.get(name)
            if name not in own and isinstance(shipped, Mapping):
                passports[name] = {**shipped, **OWN_WORD}


def without_passport(data: Mapping[str, Any]) -> Iterator[Told]:
    """Yield every number of a shop file that has no passport."""
    passports = data.get("passport", {})
    own_word = ("passport", "rates")  # what a shop pays is its own word
    for name in stated_numbers({key: value for key, value in data.items() if key not in own_word}):
        if isinstance(passports, Mapping) and name not in passports:
            path: KeyPath = tuple(name.split("."))
            mend = 'add it under [passport]: { unit = "mm", source = "practice", known = "practice" }'
            yield Told(Problem(path, f"{name} has no passport: unit, source and how it is known", mend))
