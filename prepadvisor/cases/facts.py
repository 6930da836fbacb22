"""The one table of facts: everything that a rule may ask about a case, and all that follows from it.

An entry is a field of `Facts`: its type, its start value, and what it is. Conditions, bitmaps, the axes of
the audit, schemas, words and the sweep are made from this table; nothing else lists the facts.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Final, get_args, get_type_hints

from prepadvisor.records import (
    AREA_KINDS,
    FEATURE_KINDS,
    FLAKES,
    OUTLINES,
    SPECIALS,
    SURFACES,
    TONES,
    ZONES,
    NamedTuple,
    NextCoat,
    Reach,
    Role,
    Zone,
    key_of,
)

if TYPE_CHECKING:
    from prepadvisor.cases.colour import JudgedColour
    from prepadvisor.cases.places import Subject


# What a fact is: its values or unit, its order, its words, and how it is read off a spot.

Value = str | int | bool
"""A value of a fact that is not a number: a word, the count of stages, or seen true and false."""

_NO_WORDS: Final[Mapping[Value, str]] = {}


class CaseSpot(NamedTuple):
    """What the facts of a case are read off: a place, within one zone, under a colour as judged.

    `amount` is mm of a line, or m² of a face or patch, in this zone.
    """

    colour: "JudgedColour"
    subject: "Subject"
    zone: Zone
    amount: float


OTHER: Final = "other"
"""The value of an open fact that stands for all that no rule names, and for none."""

Kinds = Mapping[str, str]
"""Panel kinds that a house states itself, each with the shipped kind whose rules count for it too."""

NO_KINDS: Final[Kinds] = {}
"""What a house has that states no panel kind of its own."""


class Names(list[Value]):
    """The values of an open fact: those it always has, then those named so far in this process; places stay.

    A set of them is an integer with a bit per place. All but some names is a negative one: it has the bits of
    names to come as well. What nobody named is `rest` where the fact has such a value; else it is itself.
    """

    def __init__(self, always: Sequence[Value] = (OTHER,), rest: Value | None = OTHER) -> None:
        """Begin with the values that the fact always has."""
        super().__init__(always)
        self.rest: Final = rest
        self.always: Final = (1 << len(always)) - 1
        self._places: dict[Value, int] = {value: place for place, value in enumerate(always)}

    def place(self, name: str) -> int:
        """Return the place of a name, a new one for one that was never named."""
        place = self._places.setdefault(name, len(self))
        if place == len(self):
            self.append(name)
        return place

    def index(self, value: Value, *_: object) -> int:
        """Return the place of a value: of one that nobody named that of the rest, else one that none has."""
        known = self._places.get(value)
        if known is not None:
            return known
        return len(self) if self.rest is None else self._places[self.rest]


class Category(NamedTuple):
    """A fact with a fixed list of values; where `ordered`, they stand from the least to the most strict.

    Attributes:
        values: all of them; `Names` for an open fact.
        phrase: says values in shop words, such as "{} flake".
        rank: when an audit asks it; facts that settle most come first. No two facts share one.
        read: takes the value off a spot.
        label: its name on a form.
        said: values with words of their own, which the phrase is not put round.
        but: says all values but some.
        run: says a run to the strict end of the order by its first value, and one to the other by its last.
        explains: its line in the guide to rules, {} standing for the values.
        name, at: the fact's name, and its place in `Facts`; filled in by the table.
    """

    values: Sequence[Value]
    phrase: str
    rank: int
    read: Callable[[CaseSpot], Value]
    label: str
    ordered: bool = False
    said: Mapping[Value, str] = _NO_WORDS
    but: str = "any but {}"
    run: tuple[str, str] | None = None
    explains: str = "{}"
    name: str = ""
    at: int = -1

    @property
    def is_open(self) -> bool:
        """Whether there may be values beside those that are always there."""
        return isinstance(self.values, Names)

    @property
    def always(self) -> int:
        """The bitmask with every value that the fact has whatever rules name."""
        return self.values.always if isinstance(self.values, Names) else self.full

    @property
    def takes_any_word(self) -> bool:
        """Whether a rule may name any word at all: what none names is the rest."""
        return isinstance(self.values, Names) and self.values.rest is not None

    @property
    def stated(self) -> Sequence[Value]:
        """The values that the fact has whatever rules name."""
        return self.values[: self.always.bit_length()]

    def named_in(self, mask: int) -> int:
        """Return the bits of the names that a set of values names: those in it, or left out."""
        return (mask if mask >= 0 else ~mask) & ~self.always

    @property
    def full(self) -> int:
        """The bitmask with every value in it; of an open fact also the values that nobody named yet."""
        return -1 if self.is_open else (1 << len(self.values)) - 1


class Sensible(NamedTuple):
    """The least and most a number above 0 can sensibly be, and what a wrong one was likely meant in."""

    least: float
    most: float
    too_small: str
    too_large: str


class Lacking(NamedTuple):
    """Where alone a number is lacking: the values of another fact, and how such cases are told."""

    fact: str
    values: Sequence[Value]
    said: str


class NumberFact(NamedTuple):
    """A fact that is a number of at least 0, in `unit`, and may be unknown (None).

    Attributes:
        unit: what it counts in.
        phrase, rank, read, explains, label, name, at: as of a category.
        usual: what a case that is shown has where it may be anything.
        sensible: what a rule may ask before it is told as a slip of unit.
        lacking: where alone it is not known; None if that is a matter of measuring.
    """

    unit: str
    phrase: str
    rank: int
    read: Callable[[CaseSpot], float | None]
    explains: str
    label: str
    usual: float | None
    sensible: Sensible
    lacking: Lacking | None = None
    name: str = ""
    at: int = -1


def _size_m2(spot: CaseSpot) -> float:
    return spot.subject.panel.length_mm * spot.subject.panel.height_mm / 1e6


PANEL_KINDS: Final = Names(OUTLINES, rest=None)
"""The kinds of panel: those that ship, then those that houses state themselves."""


class Facts(NamedTuple):
    """A fully stated case. The defaults are what most jobs have; an unknown number is None."""

    flake: Annotated[
        str,
        Category(
            FLAKES, "{} flake", 80, lambda spot: spot.colour.flake, label="Flake",
            ordered=True, run=("{} or finer", "{} or coarser"),
        ),
    ] = "fine"  # fmt: skip
    tone: Annotated[
        str, Category(TONES, "{} tone", 120, lambda spot: spot.colour.tone, ordered=True, label="Tone")
    ] = "light"
    zone: Annotated[
        str,
        Category(
            ZONES, "{} zone", 50, lambda spot: spot.zone, label="Zone",
            ordered=True, explains="{} (the fade is the strictest)",
        ),
    ] = "fade"  # fmt: skip
    stages: Annotated[
        int,
        Category(
            (2, 3), "{} stages", 90, lambda spot: spot.colour.stages, label="Stages",
            ordered=True, explains="{} (without quotes)",
        ),
    ] = 2  # fmt: skip
    role: Annotated[
        str, Category(get_args(Role), "{} panel", 40, lambda spot: spot.subject.panel.role, label="Panel is")
    ] = "blend"
    surface: Annotated[
        str, Category(SURFACES, "on {}", 20, lambda spot: spot.subject.surface, label="Surface")
    ] = "aged-clear"
    next: Annotated[
        str,
        Category(
            get_args(NextCoat), "{} next", 30, lambda spot: spot.subject.next, label="Next coat",
            explains="what goes on next: {}",
        ),
    ] = "base"  # fmt: skip
    feature: Annotated[
        str, Category(FEATURE_KINDS, "{}", 70, lambda spot: spot.subject.kind, label="Place")
    ] = "face"
    reach: Annotated[
        str,
        Category(
            get_args(Reach), "{}", 60, lambda spot: spot.subject.reach, label="Reached by",
            said={"machine": "where a machine reaches", "hand": "by hand only"},
            explains="{}: a DA gets there, or hand is the last touch; a face or patch is always machine",
        ),
    ] = "machine"  # fmt: skip
    seen: Annotated[
        bool,
        Category(
            (False, True), "{}", 100, lambda spot: spot.subject.seen, label="Seen",
            said={True: "seen", False: "not seen"}, explains="{} (without quotes)",
        ),
    ] = True  # fmt: skip
    panel: Annotated[
        str,
        Category(
            PANEL_KINDS, "{}", 110, lambda spot: spot.subject.panel.kind, label="Panel",
            explains="{}, or a kind of your own (section 8)",
        ),
    ] = "front-door"  # fmt: skip
    special: Annotated[
        str,
        Category(
            SPECIALS, "special: {}", 10, lambda spot: spot.subject.panel.special, label="Special",
            said={"none": "nothing special"},
        ),
    ] = "none"  # fmt: skip
    book: Annotated[
        str,
        Category(
            Names(), "colour {} of the book", 125, lambda spot: key_of(spot.colour.book) or OTHER,
            label="Book colour",
            but="any colour but {}, in the book or not",
            explains="the word of an entry in the colour book; what no rule names, and no entry, is other",
        ),
    ] = OTHER  # fmt: skip
    film_um: Annotated[
        float | None,
        NumberFact(
            "µm", "film {}", 130, lambda spot: min(spot.subject.panel.film_um, default=None),
            "lowest gauge reading of the panel, total film in µm", label="Film, um", usual=None,
            # film on a car is 60 to 1000 µm (practice)
            sensible=Sensible(10, 2000, "mm (0.09 mm is 90) or mil (4 mil is 100)", "nm"),
        ),
    ] = None  # fmt: skip
    length_mm: Annotated[
        float | None,
        NumberFact(
            "mm", "line length {}", 140, lambda spot: spot.amount if spot.subject.is_line else None,
            "length of the line in this zone, mm", label="Line, mm",
            usual=500.0,  # half the length of a door
            # a line on a panel is some cm to 6 m long (practice)
            sensible=Sensible(10, 12_000, "m (0.5 m is 500) or cm (40 cm is 400)", "µm"),
            lacking=Lacking("feature", AREA_KINDS, "a face or patch"),
        ),
    ] = None  # fmt: skip
    panel_m2: Annotated[
        float | None,
        NumberFact(
            "m²", "panel size {}", 150, _size_m2,
            "length × height of the panel, m²", label="Panel, m2",
            usual=0.67,  # a door of 1050 by 640 mm
            # a panel is 0.02 to 4 m² (practice)
            sensible=Sensible(0.005, 20, "another unit", "dm² (60 dm² is 0.6) or cm²"),
        ),
    ] = None  # fmt: skip


def _entries() -> tuple[Category | NumberFact, ...]:
    hints = get_type_hints(Facts, include_extras=True)
    return tuple(
        hints[name].__metadata__[0]._replace(name=name, at=at) for at, name in enumerate(Facts._fields)
    )


TABLE: Final[tuple[Category | NumberFact, ...]] = _entries()
"""Every fact, in the order in which `Facts` has them."""

CATEGORIES: Final[tuple[Category, ...]] = tuple(fact for fact in TABLE if isinstance(fact, Category))
"""All facts with a fixed list of values."""

NUMBERS: Final[tuple[NumberFact, ...]] = tuple(fact for fact in TABLE if isinstance(fact, NumberFact))
"""All facts that are numbers."""

FACTS: Final[tuple[str, ...]] = Facts._fields
"""The names of all facts."""

FACT: Final[dict[str, Category | NumberFact]] = {fact.name: fact for fact in TABLE}
"""Every fact by its name."""

CATEGORY: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(CATEGORIES)}
"""Name of a category to its place in `CATEGORIES`."""

NUMBER: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(NUMBERS)}
"""Name of a number to its place in `NUMBERS`."""

ORDER: Final[tuple[str, ...]] = tuple(fact.name for fact in sorted(TABLE, key=lambda fact: fact.rank))
"""The order in which an audit asks the facts."""

_READS: Final = tuple(fact.read for fact in TABLE)


def facts_of(spot: CaseSpot) -> Facts:
    """State a spot as a case for the house standards."""
    return Facts._make(read(spot) for read in _READS)
