"""Checks the data of a house beyond what a record can, and finds in what they differ from what ships."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any, Final

from prepadvisor.files.reading import OWN_WORD, Overlaid, Told, stated_numbers
from prepadvisor.records import (
    OUTLINES,
    ChangeValue,
    Feature,
    HouseChange,
    KeyPath,
    Outline,
    Passport,
    Problem,
    Record,
    Source,
    Text,
    cleaned,
    nearest,
)


class Register(Record):
    """A file of sources.

    Attributes:
        source: the sources, one a table.
    """

    source: tuple[Source, ...] = ()


class Outlines(Record):
    """A file of outlines; the passports say what their numbers are measured in and how they are known.

    Attributes:
        passport: unit, source and how it is known, for each number by its name.
        outline: the outlines, one a table.
    """

    passport: dict[Text, Passport] = {}
    outline: tuple[Outline, ...] = ()


_TAKEN: Final = ("length_mm", "height_mm", "shape", "feature")
"""What an own kind of panel takes from the kind that it is like, where it states none itself."""


def own_kinds(data: Mapping[str, Any]) -> dict[str, str]:
    """Return the panel kinds that a house states itself, each with the shipped kind it is like.

    Read off the data as written, so that rules for a kind whose outline is faulty are not told as well.
    """
    listed = data.get("outline")
    entries = [entry for entry in listed if isinstance(entry, Mapping)] if isinstance(listed, list) else []
    return {
        kind.strip(): str(entry.get("like"))
        for entry in entries
        if isinstance(kind := entry.get("kind"), str) and kind.strip() not in OUTLINES
    }


def with_likeness(data: dict[str, Any], ours: Mapping[str, Any]) -> list[Told]:
    """Give own kinds what they leave out of size, shape and lines; return those that do not say from where.

    `ours` is the shipped file. In the data an own kind without a `like` that can be used has the first
    shipped one, so that whatever else is wrong with it is told too.
    """
    listed = data.get("outline")
    if not isinstance(listed, list):
        return []
    shipped = {entry["kind"]: entry for entry in ours.get("outline", ())}
    told: list[Told] = []
    for number, entry in enumerate(listed):
        if not isinstance(entry, Mapping) or not isinstance(kind := entry.get("kind"), str):
            continue
        path = ("outline", number)
        if kind.strip() in OUTLINES:
            if "like" in entry:
                says = f'"{kind}" is a shipped kind, which is like no other'
                told.append(
                    Told(Problem((*path, "like"), says, "take like away, or write a kind of your own"))
                )
            continue
        if "like" not in entry:
            says = f'"{kind}" is no shipped kind, and does not say which one it is like'
            near = nearest(kind, OUTLINES)
            meant = f'did you mean "{near}"? ' if near else ""
            mend = (
                f'{meant}for a kind of your own write like = "{near or OUTLINES[0]}", or another shipped kind'
            )
            told.append(Told(Problem((*path, "kind"), says, mend)))
        like = entry.get("like")
        below = shipped.get(like if isinstance(like, str) else "", shipped.get(OUTLINES[0], {}))
        taken = {key: below[key] for key in _TAKEN if key in below}
        listed[number] = {**taken, **({} if "like" in entry else {"like": OUTLINES[0]}), **entry}
    return told


def with_gone(outlines: dict[str, Outline], ours: Mapping[str, Any]) -> dict[str, Outline]:
    """Return the outlines with a note of each line that a house took away from a shipped one.

    `ours` is the shipped file. A line stands on where it keeps its id, or its name and kind.
    """
    noted = dict(outlines)
    for entry in ours.get("outline", ()):
        outline = outlines.get(entry["kind"])
        if outline is None:
            continue
        there = {line.id for line in outline.feature} | {(line.kind, line.name) for line in outline.feature}
        gone = [
            line
            for line in entry["feature"]
            if not {line["id"], (line["kind"], line.get("name", ""))} & there
        ]
        if gone:
            noted[outline.kind] = outline.without(tuple(map(Feature.model_validate, gone)))
    return noted


def stated_twice(data: Mapping[str, Any]) -> Iterator[Problem]:
    """Yield every outline that one file states twice: the second would quietly lie over the first."""
    listed = data.get("outline")
    seen: set[str] = set()
    for number, entry in enumerate(listed if isinstance(listed, list) else ()):
        kind = entry.get("kind") if isinstance(entry, Mapping) else None
        if isinstance(kind, str):
            if kind.strip() in seen:
                says = f'the outline "{kind.strip()}" is there twice'
                yield Problem(("outline", number, "kind"), says, "keep one of them")
            seen.add(kind.strip())


def outlines_by_kind(outlines: Outlines) -> tuple[dict[str, Outline], list[Told]]:
    """Return the outlines by kind, and what is wrong with the file as a whole."""
    found: dict[str, Outline] = {}
    told: list[Told] = []
    for number, outline in enumerate(outlines.outline):
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
    if isinstance(passports, dict):
        passports = shop.data["passport"] = dict(passports)  # the shipped ones stay as they are
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


# Finds every number and word in which a house's data differ from what ships: a card names them all.

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
