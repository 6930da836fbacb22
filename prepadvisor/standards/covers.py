"""A list of boxes with bitmaps, so that many of them can be narrowed down value by value at once.

Bit n of a bitmap stands for the n-th box.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final

from prepadvisor.standards.bitmaps import bits_of
from prepadvisor.standards.diagram import Diagrams, Masks


class Covers:
    """Boxes over the axes of a store of diagrams.

    `number_levels` are the axes on which every box has one unbroken run of values, value 0 aside.
    """

    def __init__(
        self,
        diagrams: Diagrams,
        boxes: Sequence[Masks],
        number_levels: Sequence[int] = (),
        supports: Sequence[Masks] = (),
    ) -> None:
        """Index the boxes; with `supports` a case that lies in none of those does not count."""
        self.supports: Covers | None = Covers(diagrams, supports, number_levels) if supports else None
        self.diagrams: Final = diagrams
        self.boxes: Final = tuple(boxes)
        self.number_levels: Final = frozenset(number_levels)
        self.asks: Sequence[int] = [
            bits_of((place for place, box in enumerate(boxes) if box[level] != full), len(boxes))
            for level, full in enumerate(diagrams.full)
        ]
        self._accepts: dict[tuple[int, int], int] = {}
        self._holding: dict[tuple[int, int], int] = {}
        self._run_ends: dict[int, tuple[list[int], list[int]]] = {}

    def ignoring(self, level: int) -> "Covers":
        """Return the same boxes without what they ask of one axis; bits stay as they are."""
        other = object.__new__(Covers)
        other.__dict__.update(self.__dict__)
        other._holding = {}
        other.asks = [0 if place == level else asks for place, asks in enumerate(self.asks)]
        return other

    def supported(self, supports: Sequence[Masks]) -> "Covers":
        """Return the same boxes with other supports, where they have any."""
        if self.supports is None:
            return self
        other = object.__new__(Covers)
        other.__dict__.update(self.__dict__)
        other.supports = Covers(self.diagrams, supports, tuple(self.number_levels))
        return other

    def accepting(self, level: int, value: int) -> int:
        """Return the boxes that hold a value of an axis."""
        known = self._accepts.get((level, value))
        if known is None:
            bit = 1 << value
            known = self._accepts[level, value] = bits_of(
                (place for place, box in enumerate(self.boxes) if box[level] & bit), len(self.boxes)
            )
        return known

    def any_holds(self, case: tuple[int, ...]) -> bool:
        """Say whether some box holds a case."""
        return any(
            all(mask >> value & 1 for mask, value in zip(box, case, strict=True)) for box in self.boxes
        )

    def holding(self, level: int, mask: int) -> int:
        """Return the boxes that hold every value of a set on an axis."""
        held = self._holding.get((level, mask))
        if held is None:
            asks, held = self.asks[level], -1
            if asks:
                for value in self._telling(level, mask):
                    held &= self.accepting(level, value) | ~asks
            self._holding[level, mask] = held
        return held

    def _telling(self, level: int, mask: int) -> Iterable[int]:
        """Return the values of a set that tell whether a box holds them all.

        Of a run its ends are enough.
        """
        if level not in self.number_levels:
            return values_of(mask)
        row = mask & ~1
        return {*values_of(mask & 1), *values_of(row & -row), *((row.bit_length() - 1,) if row else ())}

    def touching(self, box: Masks, among: int) -> int:
        """Return those of some boxes that share a case with a box."""
        for level, asks in enumerate(self.asks):
            mask = box[level]
            if not asks & among or mask == self.diagrams.full[level]:
                continue
            among &= (
                self._meeting_run(level, mask) if level in self.number_levels else self.meeting(level, mask)
            )
        return among

    def _meeting_run(self, level: int, mask: int) -> int:
        """Return the boxes that hold some value of a set on an axis of runs.

        Of an unbroken run these are the boxes that begin before its end and end after its beginning.
        """
        row = mask & ~1
        low, high = (row & -row).bit_length() - 1, row.bit_length() - 1
        if row != (1 << high + 1) - (1 << max(low, 0)):
            return self.meeting(level, mask)
        begun, not_over = self._runs(level)
        met = begun[high] & not_over[low] if row else 0
        return ~self.asks[level] | met | (self.accepting(level, 0) if mask & 1 else 0)

    def _runs(self, level: int) -> tuple[list[int], list[int]]:
        """Return for each value of an axis of runs the boxes that have begun there, and that are not over."""
        known = self._run_ends.get(level)
        if known is None:
            size = self.diagrams.sizes[level]
            begun, not_over = [0] * size, [0] * size
            for place in values_of(self.asks[level]):
                row = self.boxes[place][level] & ~1
                if row:
                    begun[(row & -row).bit_length() - 1] |= 1 << place
                    not_over[row.bit_length() - 1] |= 1 << place
            for value in range(1, size):
                begun[value] |= begun[value - 1]
            for value in range(size - 2, -1, -1):
                not_over[value] |= not_over[value + 1]
            known = self._run_ends[level] = (begun, not_over)
        return known

    def meeting(self, level: int, mask: int) -> int:
        """Return the boxes that hold some value of a set on an axis."""
        asks = self.asks[level]
        if not asks or mask == self.diagrams.full[level]:
            return -1
        met = ~asks
        for value in values_of(mask):
            met |= self.accepting(level, value)
        return met

    def values_outside(self, level: int, mask: int, boxes: int) -> int:
        """Return those values of a set on an axis that none of some boxes holds."""
        asks = self.asks[level]
        if boxes & ~asks:
            return 0
        if boxes.bit_count() < mask.bit_count():
            for place in values_of(boxes):
                mask &= ~self.boxes[place][level]
            return mask
        outside = 0
        for value in values_of(mask):
            if not boxes & self.accepting(level, value):
                outside |= 1 << value
        return outside

    def split(self, level: int, inside: int, alive: int) -> dict[int, int]:
        """Return the sets of values of an axis that no box in play tells apart: boxes left → values.

        Cuts an axis only where a box in play cuts it, so a long axis costs nothing where nothing cuts it.
        """
        asking = alive & self.asks[level]
        left: dict[int, int] = {}
        if 4 * asking.bit_count() > inside.bit_count():
            keeping = ~self.asks[level]
            for value in values_of(inside):
                still = alive & (self.accepting(level, value) | keeping)
                left[still] = left.get(still, 0) | 1 << value
            return left
        left = {alive: inside}
        for place in values_of(asking):
            mask, bit = self.boxes[place][level], 1 << place
            finer: dict[int, int] = {}
            for still, values in left.items():
                if values & mask:
                    finer[still] = values & mask
                if values & ~mask:
                    finer[still ^ bit] = values & ~mask
            left = finer
        return left


_SMALL: Final = 1 << 14


def values_of(mask: int) -> Sequence[int]:
    """Return the places of the bits of a set, rising."""
    return _values_of_small(mask) if 0 <= mask < _SMALL else _values_of(mask)


def _values_of(mask: int) -> list[int]:
    values = []
    while mask:
        bit = mask & -mask
        values.append(bit.bit_length() - 1)
        mask ^= bit
    return values


@lru_cache(maxsize=_SMALL)
def _values_of_small(mask: int) -> tuple[int, ...]:
    return tuple(_values_of(mask))
