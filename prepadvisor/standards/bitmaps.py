"""Which of many boxes a case lies in: one integer per fact value, a bit for every box, AND-ed together."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from math import isfinite
from typing import Final

from prepadvisor.records.facts import Facts
from prepadvisor.standards.conditions import Box, Interval
from prepadvisor.standards.domains import CATEGORIES, NUMBERS, Value


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

    Between and at the n points lie 2n + 1 pieces; `pieces[i]` has the bits of the boxes that hold on piece i.
    """

    __slots__ = ("pieces", "points", "unknown")

    def __init__(self, ranges: Sequence[Interval | None]) -> None:
        """Cut the number line for the ranges of all boxes, in the order of the boxes."""
        ends = {end for range_ in ranges if range_ is not None for end in (range_.low, range_.high)}
        self.points: Final[list[float]] = sorted(end for end in ends if isfinite(end))
        self.unknown: Final[int] = bits_of(
            (place for place, range_ in enumerate(ranges) if range_ is None), len(ranges)
        )
        limited = [(place, range_) for place, range_ in enumerate(ranges) if range_ is not None]
        self.pieces: Final[list[int]] = [
            self.unknown | bits_of((place for place, range_ in limited if range_.holds(sample)), len(ranges))
            for sample in self.samples()
        ]

    def samples(self) -> list[float]:
        """Return one number inside each piece, lowest first."""
        if not self.points:
            return [0.0]
        between = [(low + high) / 2 for low, high in zip(self.points, self.points[1:], strict=False)]
        inner = [
            sample
            for pair in zip(self.points, [*between, self.points[-1] + 1.0], strict=True)
            for sample in pair
        ]
        return [self.points[0] - 1.0, *inner]

    def piece(self, number: float) -> int:
        """Return the place of the piece that a known number lies in."""
        return bisect_left(self.points, number) + bisect_right(self.points, number)


class Bitmaps:
    """Bitmaps of a list of boxes; bit i belongs to the i-th box."""

    __slots__ = ("_by_value", "_film", "_length", "_panel_m2", "count")

    def __init__(self, boxes: Sequence[Box]) -> None:
        """Index the boxes."""
        self.count: Final[int] = len(boxes)
        self._by_value: Final[tuple[dict[Value, int], ...]] = tuple(
            {
                value: bits_of(
                    (place for place, box in enumerate(boxes) if box.masks[fact] >> bit & 1), len(boxes)
                )
                for bit, value in enumerate(category.values)
            }
            for fact, category in enumerate(CATEGORIES)
        )
        self._film, self._length, self._panel_m2 = (
            NumberCuts([box.ranges[fact] for box in boxes]) for fact in range(len(NUMBERS))
        )

    def meeting(self, facts: Facts) -> int:
        """Return the bits of all boxes that the case lies in.

        Raises:
            KeyError: for a value that a fact cannot have.
        """
        by = self._by_value
        (
            flake, tone, zone, stages, role, surface, next_coat, feature, reach, seen, panel, special,
            film_um, length_mm, panel_m2,
        ) = facts  # fmt: skip
        bits = (
            by[0][flake] & by[2][zone] & by[5][surface] & by[7][feature] & by[6][next_coat] & by[8][reach]
            & by[3][stages] & by[11][special] & by[1][tone] & by[4][role] & by[9][seen] & by[10][panel]
        )  # fmt: skip
        cuts = self._film
        bits &= cuts.unknown if film_um is None else cuts.pieces[cuts.piece(film_um)]
        cuts = self._length
        bits &= cuts.unknown if length_mm is None else cuts.pieces[cuts.piece(length_mm)]
        cuts = self._panel_m2
        return bits & (cuts.unknown if panel_m2 is None else cuts.pieces[cuts.piece(panel_m2)])
