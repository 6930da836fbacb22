"""A rule's conditions as a box in the space of facts: every fact limited to a set of values or a range."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import Final

from prepadvisor.cases.fact import Value
from prepadvisor.cases.facts import CATEGORIES, CATEGORY, FACTS, NUMBER, NUMBERS, Facts
from prepadvisor.named import NamedTuple


class Interval(NamedTuple):
    """A range of a number fact. An unknown number is in it only where `unknown` says so."""

    low: float = 0.0
    low_closed: bool = True
    high: float = inf
    high_closed: bool = False
    unknown: bool = False

    def holds(self, number: float | None) -> bool:
        """Say whether the number lies in the range; an unknown one is None."""
        if number is None:
            return self.unknown
        above = number >= self.low if self.low_closed else number > self.low
        return above and (number <= self.high if self.high_closed else number < self.high)

    @property
    def numberless(self) -> bool:
        """Whether no known number lies in the range."""
        return self.low > self.high or (self.low == self.high and not (self.low_closed and self.high_closed))

    @property
    def empty(self) -> bool:
        """Whether no number lies in the range, known or not."""
        return self.numberless and not self.unknown

    def overlap(self, other: "Interval") -> "Interval":
        """Return the range of the numbers that lie in both; it may be empty."""
        low, low_open = max((self.low, not self.low_closed), (other.low, not other.low_closed))
        high, high_closed = min((self.high, self.high_closed), (other.high, other.high_closed))
        both = Interval(low, not low_open, high, high_closed, self.unknown and other.unknown)
        return NO_READING._replace(unknown=both.unknown) if both.numberless else both

    def covers(self, other: "Interval") -> bool:
        """Say whether every number of the other range lies in this one."""
        return other.empty or self.overlap(other) == other


NO_READING: Final = Interval(0.0, False, 0.0, False, True)
"""The condition that a number is not known: it holds no number at all."""


class Box(NamedTuple):
    """A set of cases: per category a bitmask of allowed values, per number a range or no condition.

    `masks` stands in the order of `facts.CATEGORIES`; bit i is the i-th value of that category.
    `ranges` stands in the order of `facts.NUMBERS`; None is no condition and also met when the number is
    unknown, whereas any interval is met by known numbers only.
    """

    masks: tuple[int, ...]
    ranges: tuple[Interval | None, ...]

    def holds(self, facts: Facts) -> bool:
        """Say whether the case lies in the box. Raises ValueError for a value that a fact cannot have."""
        for category, mask in zip(CATEGORIES, self.masks, strict=True):
            if not mask >> category.values.index(facts[category.at]) & 1:
                return False
        return all(
            range_ is None or range_.holds(facts[number.at])  # type: ignore[arg-type]
            for range_, number in zip(self.ranges, NUMBERS, strict=True)
        )

    @property
    def empty(self) -> bool:
        """Whether no case at all lies in the box."""
        return 0 in self.masks or any(range_ is not None and range_.empty for range_ in self.ranges)

    def overlap(self, other: "Box") -> "Box | None":
        """Return the box of the cases that lie in both, None if there is none."""
        both = Box(
            tuple(one & two for one, two in zip(self.masks, other.masks, strict=True)),
            tuple(
                one if two is None else two if one is None else one.overlap(two)
                for one, two in zip(self.ranges, other.ranges, strict=True)
            ),
        )
        return None if both.empty else both

    def covers(self, other: "Box") -> bool:
        """Say whether every case of the other box lies in this one."""
        return other.empty or (
            all(two & ~one == 0 for one, two in zip(self.masks, other.masks, strict=True))
            and all(
                one is None or (two is not None and one.covers(two))
                for one, two in zip(self.ranges, other.ranges, strict=True)
            )
        )

    def values(self, fact: str) -> tuple[Value, ...]:
        """Return the values that the box allows for a category, in their order."""
        category = CATEGORIES[CATEGORY[fact]]
        mask = self.masks[CATEGORY[fact]]
        return tuple(value for bit, value in enumerate(category.values) if mask >> bit & 1)

    def left_out(self, fact: str) -> tuple[Value, ...]:
        """Return what the box leaves out of an open category, of which it allows all but that."""
        category = CATEGORIES[CATEGORY[fact]]
        mask = self.masks[CATEGORY[fact]]
        if mask >= 0 or not category.is_open:
            return ()
        return tuple(value for bit, value in enumerate(category.values) if not mask >> bit & 1)

    def range_of(self, fact: str) -> Interval | None:
        """Return the range that the box allows for a number, None for no condition."""
        return self.ranges[NUMBER[fact]]

    @property
    def plain(self) -> tuple[object, ...]:
        """The box as data that is the same in every process: names instead of their places."""
        masks = [
            [mask < 0, mask & fact.always, self.named(fact.name)] if fact.is_open else mask
            for fact, mask in zip(CATEGORIES, self.masks, strict=True)
        ]
        return masks, self.ranges

    def named(self, fact: str) -> list[Value]:
        """Return the names that the box speaks of in an open category, allowed or left out, sorted."""
        category = CATEGORIES[CATEGORY[fact]]
        names, values = category.named_in(self.masks[CATEGORY[fact]]), category.values
        return sorted((value for at, value in enumerate(values) if names >> at & 1), key=str)

    @property
    def asked(self) -> tuple[str, ...]:
        """The facts that the box limits at all, in the order of `Facts`."""
        return tuple(
            fact
            for fact in FACTS
            if (
                self.ranges[NUMBER[fact]] is not None
                if fact in NUMBER
                else self.masks[CATEGORY[fact]] != CATEGORIES[CATEGORY[fact]].full
            )
        )


EVERYTHING: Final = Box(tuple(category.full for category in CATEGORIES), (None,) * len(NUMBERS))
"""The box without a condition: every case lies in it."""


def box_of(
    allowed: Mapping[str, Sequence[Value]] | None = None, ranges: Mapping[str, Interval] | None = None
) -> Box:
    """Return the box that limits the given categories to the given values and numbers to the given ranges.

    Raises KeyError for an unknown fact and ValueError for a value that a fact cannot have.
    """
    masks, limits = list(EVERYTHING.masks), list(EVERYTHING.ranges)
    for fact, values in (allowed or {}).items():
        domain = CATEGORIES[CATEGORY[fact]].values
        bits = {domain.index(value) for value in values}
        if any(bit >= len(domain) for bit in bits):
            raise ValueError(f"{fact} cannot be one of {values}")
        masks[CATEGORY[fact]] = sum(1 << bit for bit in bits)
    for fact, range_ in (ranges or {}).items():
        limits[NUMBER[fact]] = range_
    return Box(tuple(masks), tuple(limits))
