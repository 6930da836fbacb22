"""All that one shop works by: rule engine, shop file, constants, outlines, and the files they came from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from prepadvisor.cases.colour import JudgedColour, judged
from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import StandardsUsed
from prepadvisor.records.base import cleaned
from prepadvisor.records.colour_book import BookColour, key_of
from prepadvisor.records.constants import Constants, Source
from prepadvisor.records.house_change import HouseChange
from prepadvisor.records.job import Colour, Job
from prepadvisor.records.outline import Outline
from prepadvisor.records.shop import Shop
from prepadvisor.standards.asides import State
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.layers import Layers


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
    layers: Layers | None = field(default=None, compare=False, repr=False)
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
