"""What a fact is: its values or unit, its order, its words, and how it is read off a spot."""

from collections.abc import Callable, Mapping
from typing import Final, NamedTuple

from prepadvisor.cases.colour import JudgedColour
from prepadvisor.cases.subjects import Subject
from prepadvisor.records.words import Zone

Value = str | int | bool
"""A value of a fact that is not a number: a word, the count of stages, or seen true and false."""

_NO_WORDS: Final[Mapping[Value, str]] = {}


class Spot(NamedTuple):
    """What the facts of a case are read off: a place, within one zone, under a colour as judged.

    `amount` is mm of a line, or m² of a face or patch, in this zone.
    """

    colour: JudgedColour
    subject: Subject
    zone: Zone
    amount: float


class Category(NamedTuple):
    """A fact with a fixed list of values; where `ordered`, they stand from the least to the most strict.

    Attributes:
        values: all of them.
        phrase: says values in shop words, such as "{} flake".
        rank: when an audit asks it; facts that settle most come first. No two facts share one.
        read: takes the value off a spot.
        said: values with words of their own, which the phrase is not put round.
        run: says a run to the strict end of the order by its first value, and one to the other by its last.
        explains: its line in the guide to rules, {} standing for the values.
        name, at: the fact's name, and its place in `Facts`; filled in by the table.
    """

    values: tuple[Value, ...]
    phrase: str
    rank: int
    read: Callable[[Spot], Value]
    ordered: bool = False
    said: Mapping[Value, str] = _NO_WORDS
    run: tuple[str, str] | None = None
    explains: str = "{}"
    name: str = ""
    at: int = -1

    @property
    def full(self) -> int:
        """The bitmask with every value in it."""
        return (1 << len(self.values)) - 1


class Number(NamedTuple):
    """A fact that is a number of at least 0, in `unit`, and may be unknown (None).

    Attributes:
        unit: what it counts in.
        phrase, rank, read, explains, name, at: as of a category.
    """

    unit: str
    phrase: str
    rank: int
    read: Callable[[Spot], float | None]
    explains: str
    name: str = ""
    at: int = -1
