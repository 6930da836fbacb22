"""Which of many boxes a case lies in: one integer per fact value, a bit for every box, AND-ed together."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import reduce
from math import isfinite
from operator import and_, getitem, or_
from typing import Final

from prepadvisor.cases.fact import Category, Value
from prepadvisor.cases.facts import CATEGORY, NUMBER, TABLE, Facts
from prepadvisor.standards.conditions import Box, Interval

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
