"""All that one shop works by, where its numbers come from, and where it differs from another."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cases import Facts, JudgedColour, judged
from prepadvisor.records import (
    MEANS,
    BookColour,
    Colour,
    Constants,
    Decision,
    Deviation,
    HouseChange,
    Job,
    Known,
    Laxer,
    NamedTuple,
    Outline,
    Quantity,
    Record,
    Shop,
    Source,
    StandardsUsed,
    cleaned,
    key_of,
)
from prepadvisor.standards.engine import OUTPUTS, Bitmaps, Engine, Rule, State, places_of

if TYPE_CHECKING:
    from prepadvisor.standards.language.layers import Layers


class HouseData(NamedTuple):
    """What a house works by beside its rules; `changes` is what differs from the shipped files."""

    shop: Shop
    constants: Constants
    outlines: dict[str, Outline]
    sources: dict[str, Source]
    book: Mapping[str, BookColour]
    changes: tuple[HouseChange, ...]


@dataclass(frozen=True)
class House:
    """The shipped standards with a shop's own laid over them.

    `folders` are the house folders as given, lowest layer first, none for the shipped standards alone;
    `sources` maps a source id to its register entry; `used` is what a card prints of the files it rests on;
    `layers` has all layers, also those that count on other days only; `book` is the shop's colour book, by
    `key_of` an entry's word. `dated` gives the data by how the layers stand to a job, where that matters;
    `as_of` is how they stand where the house is one job's.
    """

    engine: Engine
    shop: Shop
    constants: Constants
    outlines: dict[str, Outline]
    sources: dict[str, Source]
    used: StandardsUsed
    folders: tuple[str, ...] = ()
    digest: str = field(default="", compare=False)
    layers: "Layers | None" = field(default=None, compare=False, repr=False)
    book: Mapping[str, BookColour] = field(default_factory=dict)
    dated: Callable[[Mapping[str, State]], HouseData] | None = field(default=None, compare=False, repr=False)
    as_of: "tuple[State, ...] | None" = field(default=None, compare=False, repr=False)
    _on: "dict[tuple[State, ...], House]" = field(init=False, default_factory=dict, compare=False, repr=False)

    @property
    def kinds(self) -> dict[str, str]:
        """The panel kinds that the house states itself, each with the shipped kind it is like."""
        return {kind: outline.like for kind, outline in self.outlines.items() if outline.like}

    def entry(self, colour: Colour) -> BookColour | None:
        """Return a job's entry in the shop's colour book, None where it names none that is there."""
        return self.book.get(key_of(colour.book)) if colour.book else None

    def judged(self, colour: Colour) -> JudgedColour:
        """Return a job's colour as it is judged here: with the colour book and sizes fitted to panels."""
        entry = self.entry(colour)
        sizes = self.constants.colour_d50_um
        names = (colour.book, entry.book if entry else "", entry.name if entry else "", colour.name)
        fitted = next((sizes[name] for name in names if name and name in sizes), None)
        return judged(colour, entry, fitted.value if fitted else None)

    def colour_name(self, colour: Colour) -> str:
        """Return what a job's colour is called: by the job, else by the colour book."""
        entry = self.entry(colour)
        return colour.name or (entry.name if entry else "") or colour.book

    @property
    def folder(self) -> str:
        """The house folders in one line, empty for the shipped standards alone."""
        return cleaned(" + ".join(self.folders), 1_000)

    def on(self, job: Job) -> "House":
        """Return the house as it stands on the job's date and for its customer.

        Where the job does not say, a layer that depends on it tightens and loosens nothing. Its shop file,
        constants, outlines and colour book count as its rules do.

        Raises:
            BadInputError: the data of the layers that count cannot be used without the others.
        """
        if self.layers is None or not self.layers.is_dated:
            return self
        states = self.layers.states(job.job.date, job.job.customer)
        if states == self.as_of:
            return self
        known = self._on.get(states)
        if known is None:
            engine = self.layers.engine(states)
            named = {layer.layer: layer.state for layer in engine.used.layers}
            layers = (layer._replace(state=named.get(layer.layer, layer.state)) for layer in self.used.layers)
            data = None if self.dated is None else self.dated(named)
            used = self.used._replace(
                changes=self.used.changes if data is None else data.changes,
                name=engine.used.name,
                version=engine.used.version,
                deviations=engine.used.deviations,
                layers=tuple(layers),
            )
            known = replace(self, engine=engine, used=used, as_of=states)
            if data is not None:
                known = replace(
                    known,
                    shop=data.shop,
                    constants=data.constants,
                    outlines=data.outlines,
                    sources=data.sources,
                    book=data.book,
                )
            self._on[states] = known
        return known


# Where the numbers of a house come from: unit, source and how each is known, and their count.


class Stated(NamedTuple):
    """A number with its passport; `known` is None where a shop names a source of its own without saying."""

    name: str
    value: str | float
    unit: str
    source: str
    known: Known | None
    note: str


class KnownTally(NamedTuple):
    """How many numbers there are and how many are known in each way, in the order of `MEANS`."""

    total: int
    counts: Mapping[Known, int]


def tally(house: House) -> KnownTally:
    """Count the numbers of constants and shop that every card rests on, by how they are known."""
    found = Counter(each.known for each in (*constants_stated(house), *shop_stated(house)))
    counts = {known: found[known] for known in MEANS}
    return KnownTally(sum(counts.values()), counts)


def constants_stated(house: House) -> Iterator[Stated]:
    """Yield the numbers of the line model, removal and mixing."""
    yield from _quantities("", house.constants)


def shop_stated(house: House) -> Iterator[Stated]:
    """Yield the numbers and grades of the shop file that carry a passport."""
    for name, passport in house.shop.passport.items():
        value: object = house.shop
        for key in name.split("."):
            value = value.get(key) if isinstance(value, Mapping) else getattr(value, key, None)
        if isinstance(value, str | int | float):
            yield Stated(
                name=name,
                value=value,
                unit=passport.unit,
                source=passport.source,
                known=passport.known,
                note=passport.note,
            )


def _quantities(name: str, value: object) -> Iterator[Stated]:
    if isinstance(value, Quantity):
        yield Stated(
            name=name,
            value=value.value,
            unit=value.unit,
            source=value.source,
            known=value.known,
            note=value.note,
        )
        return
    below = value.items() if isinstance(value, Mapping) else value if isinstance(value, Record) else ()
    for key, each in below:
        yield from _quantities(f"{name}.{key}" if name else str(key), each)


# Where a card is laxer than a layer below asks, and by whom: rules that were replaced or withdrawn.

_WORDS: Final = frozenset({"cautions", "notes"})
"""Texts that ask for nothing: a withdrawn one is not to be printed after all."""


class Loosened:
    """The rules of an engine that some layer above set aside, ready to be held against decisions."""

    def __init__(self, engine: Engine) -> None:
        """Take the rules that stand in the engine's deviations."""
        self._by: Final[dict[str, Deviation]] = {each.rule: each for each in engine.deviations}
        self._rules: Final = [rule for rule in engine.set_aside if rule.id in self._by]

    @cached_property
    def _bitmaps(self) -> Bitmaps:
        return Bitmaps([rule.when for rule in self._rules])

    def laxer(self, facts: Facts, decision: Decision) -> tuple[Laxer, ...]:
        """Return each answer to a case that a rule set aside would tighten, the strictest per output."""
        if not self._rules:
            return ()
        strictest: dict[str, Laxer] = {}
        for place in places_of(self._bitmaps.meeting(facts)):
            for found in self._against(self._rules[place], decision):
                known = strictest.get(found.output)
                if OUTPUTS[found.output].is_union or known is None or _stricter(found, known):
                    strictest[found.output if not OUTPUTS[found.output].is_union else str(found)] = found
        return tuple(strictest.values())

    def _against(self, rule: Rule, decision: Decision) -> Iterator[Laxer]:
        by = self._by[rule.id]
        for name, before in rule.set.items():
            output, after = OUTPUTS[name], getattr(decision, name)
            if name in _WORDS:
                continue
            if isinstance(before, tuple):
                for text in before:
                    if text not in after:
                        yield Laxer(
                            output=name, before=text, after=None, rule=rule.id, by=by.by, layer=by.layer
                        )
            elif after is None or output.strength(before) > output.strength(after):
                yield Laxer(output=name, before=before, after=after, rule=rule.id, by=by.by, layer=by.layer)


def _stricter(one: Laxer, other: Laxer) -> bool:
    strength = OUTPUTS[one.output].strength
    return strength(one.before) > strength(other.before)


# What differs in the data of two houses beside their rules: shop file, constants, outlines, key by key.

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
        one, other = ("not stated" if each is None else each or "none" for each in (self.before, self.after))
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
            old_data, new_data = (each.model_dump(exclude={"passport"}) for each in (one, other))
            found += _differing(file, old_data, new_data)
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
