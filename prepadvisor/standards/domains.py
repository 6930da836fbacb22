"""The facts that rules may ask about: which values each one has, which have an order, which are numbers."""

from typing import Final, NamedTuple, get_args

from prepadvisor.records import words
from prepadvisor.records.facts import Facts

Value = str | int | bool
"""A value of a fact that is not a number: a word, the count of stages, or seen true and false."""


class Category(NamedTuple):
    """A fact with a fixed list of values; where `ordered`, they stand from the least to the most strict."""

    name: str
    values: tuple[Value, ...]
    ordered: bool = False

    @property
    def full(self) -> int:
        """The bitmask with every value in it."""
        return (1 << len(self.values)) - 1


class Number(NamedTuple):
    """A fact that is a number of at least 0, in `unit`, and may be unknown (None)."""

    name: str
    unit: str


CATEGORIES: Final[tuple[Category, ...]] = (
    Category("flake", words.FLAKES, ordered=True),
    Category("tone", words.TONES, ordered=True),
    Category("zone", words.ZONES, ordered=True),
    Category("stages", (2, 3), ordered=True),
    Category("role", get_args(words.Role)),
    Category("surface", words.SURFACES),
    Category("next", get_args(words.NextCoat)),
    Category("feature", words.FEATURE_KINDS),
    Category("reach", get_args(words.Reach)),
    Category("seen", (False, True)),
    Category("panel", words.OUTLINES),
    Category("special", words.SPECIALS),
)
"""All facts with a fixed list of values, in the order in which `Facts` has them."""

NUMBERS: Final[tuple[Number, ...]] = (
    Number("film_um", "µm"),
    Number("length_mm", "mm"),
    Number("panel_m2", "m²"),
)
"""All facts that are numbers, in the order in which `Facts` has them, after the categories."""

CATEGORY: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(CATEGORIES)}
"""Name of a category to its place in `CATEGORIES`."""

NUMBER: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(NUMBERS)}
"""Name of a number to its place in `NUMBERS`."""

FACTS: Final[tuple[str, ...]] = (*CATEGORY, *NUMBER)
"""The names of all facts, as in `Facts`."""

if Facts._fields != FACTS:  # one list of facts for the whole program
    raise RuntimeError(f"domains and Facts differ: {FACTS} against {Facts._fields}")
