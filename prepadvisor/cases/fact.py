"""What a fact is: its values or unit, its order, its words, and how it is read off a spot."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.records import NamedTuple, Zone

if TYPE_CHECKING:
    from prepadvisor.cases.colour import JudgedColour
    from prepadvisor.cases.places import Subject

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
