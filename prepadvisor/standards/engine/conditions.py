"""A rule's conditions as a box in the space of facts, and by bitmaps which of many boxes a case lies in."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import reduce
from math import inf, isfinite
from operator import and_, getitem, or_
from typing import Final

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER, NUMBERS, TABLE, Category, Facts, Value
from prepadvisor.records import NamedTuple


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


# Which of many boxes a case lies in: one integer per fact value, a bit for every box, AND-ed together.

_KEPT_MAX: Final = 1 << 12
"""Numbers whose boxes are kept at most."""


def bits_of(places: Iterable[int], count: int) -> int:
    """Return an integer of `count` bits with the bits at the given places set."""
    raw = bytearray((count + 7) // 8)
    for place in places:
        raw[place >> 3] |= 1 << (place & 7)
    return int.from_bytes(raw, "little")


def places_of(bits: int) -> Iterator[int]:
    """Yield the places of the bits that are set, lowest first."""
    while bits:
        lowest = bits & -bits
        yield lowest.bit_length() - 1
        bits ^= lowest


class NumberCuts:
    """A number fact cut where some range begins or ends, so that one search finds all boxes it meets.

    Between and at the n points lie 2n + 1 pieces; `pieces[i]` has the bits of the boxes that hold on piece i,
    `unknown` those that hold where the number is not known. Numbers below 0 do not exist.
    """

    __slots__ = ("pieces", "points", "unknown")

    def __init__(self, ranges: Sequence[Interval | None]) -> None:
        """Cut the number line for the ranges of all boxes, in the order of the boxes."""
        known = [range_ for range_ in ranges if range_ is not None and not range_.numberless]
        ends = {end for range_ in known for end in (range_.low, range_.high)}
        self.points: Final[list[float]] = sorted(end for end in ends if isfinite(end))
        self.unknown: Final[int] = bits_of(
            (place for place, range_ in enumerate(ranges) if range_ is None or range_.unknown), len(ranges)
        )
        self.pieces: Final[list[int]] = self.bits_along(ranges)

    def span(self, range_: Interval) -> tuple[int, int]:
        """Return the first and last piece in a range whose ends are points; last < first if it is empty."""
        if range_.numberless:
            return 0, -1
        first = 2 * bisect_left(self.points, range_.low) + (1 if range_.low_closed else 2)
        if not isfinite(range_.high):
            return first, 2 * len(self.points)
        return first, 2 * bisect_left(self.points, range_.high) + (1 if range_.high_closed else 0)

    def bits_along(self, ranges: Sequence[Interval | None]) -> list[int]:
        """Return, piece by piece, the bits of the ranges that hold there; no condition holds everywhere."""
        begins: dict[int, list[int]] = {}
        ends: dict[int, list[int]] = {}
        always = []
        for place, range_ in enumerate(ranges):
            if range_ is None:
                always.append(place)
                continue
            first, last = self.span(range_)
            if first <= last:
                begins.setdefault(first, []).append(place)
                ends.setdefault(last + 1, []).append(place)
        bits, along = bits_of(always, len(ranges)), []
        for piece in range(2 * len(self.points) + 1):
            if piece in begins:
                bits ^= bits_of(begins[piece], len(ranges))
            if piece in ends:
                bits ^= bits_of(ends[piece], len(ranges))
            along.append(bits)
        return along

    def piece(self, number: float) -> int:
        """Return the place of the piece that a known number lies in."""
        return bisect_left(self.points, number) + bisect_right(self.points, number)


def _by_value(category: Category, masks: Sequence[int]) -> dict[Value, int]:
    """Return the bits of the boxes that allow each value; most boxes allow all, so these are set once."""
    count, full = len(masks), category.full
    limited = [(place, mask) for place, mask in enumerate(masks) if mask != full]
    unlimited = ~bits_of((place for place, _ in limited), count) & ((1 << count) - 1)
    named = reduce(or_, (category.named_in(mask) for _, mask in limited), category.always)
    found = {
        value: unlimited | bits_of((place for place, mask in limited if mask >> bit & 1), count)
        for bit, value in enumerate(category.values)
        if named >> bit & 1
    }
    if not category.is_open:
        return found
    return _Open(found, unlimited | bits_of((place for place, mask in limited if mask < 0), count))


class _Open(dict[Value, int]):
    """The bits of the boxes that allow a value of an open fact; `rest` allow what none of them names."""

    def __init__(self, found: Mapping[Value, int], rest: int) -> None:
        super().__init__(found)
        self._rest = rest

    def __missing__(self, value: Value) -> int:
        return self._rest


class _ByNumber(dict[float | None, int]):
    """The bits of the boxes that allow a number, looked up by the number; None is a number not known.

    What was asked for is kept, only so much of it.
    """

    def __init__(self, ranges: Sequence[Interval | None]) -> None:
        self._cuts = NumberCuts(ranges)
        super().__init__({None: self._cuts.unknown})

    def __missing__(self, number: float | None) -> int:
        if number is None:
            return self._cuts.unknown
        if len(self) >= _KEPT_MAX:
            self.clear()
        bits = self[number] = self._cuts.pieces[self._cuts.piece(number)]
        return bits


class Bitmaps:
    """Bitmaps of a list of boxes; bit i belongs to the i-th box."""

    __slots__ = ("_by_fact", "count")

    def __init__(self, boxes: Sequence[Box]) -> None:
        """Index the boxes."""
        self.count: Final[int] = len(boxes)
        self._by_fact: Final = tuple(
            _by_value(fact, [box.masks[CATEGORY[fact.name]] for box in boxes])
            if isinstance(fact, Category)
            else _ByNumber([box.ranges[NUMBER[fact.name]] for box in boxes])
            for fact in TABLE
        )

    def meeting(self, facts: Facts) -> int:
        """Return the bits of all boxes that the case lies in.

        Raises:
            KeyError: for a value that a fact cannot have.
        """
        return reduce(and_, map(getitem, self._by_fact, facts))  # type: ignore[arg-type, return-value]
