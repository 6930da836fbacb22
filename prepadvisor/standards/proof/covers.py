"""A list of boxes with bitmaps, so that many of them can be narrowed down value by value at once.

Bit n of a bitmap stands for the n-th box.
"""

from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache
from itertools import accumulate
from math import prod
from operator import and_, or_
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.standards.engine import bits_of

if TYPE_CHECKING:
    from prepadvisor.standards.proof.diagram import Diagrams, Masks


class _Runs(NamedTuple):
    """For each value of an axis of runs the boxes that have begun there, and those that are not over.

    Boxes that hold all values but perhaps 0 stand in `unlimited` instead.
    """

    begun: list[int]
    not_over: list[int]
    unlimited: int


class Support(NamedTuple):
    """Boxes, as bits of covers, of which one must hold a case that counts."""

    covers: "Covers"
    among: int

    def parts(self, box: "Masks") -> list["Masks"]:
        """Return the parts of a box that lie in one of them, each once."""
        covers = self.covers
        boxes = (covers.boxes[place] for place in values_of(covers.touching(box, self.among)))
        free = [0 if asks else -1 for asks in covers.asks]
        supporting = dict.fromkeys(tuple(map(or_, one, free)) for one in boxes)
        return list(dict.fromkeys(tuple(map(and_, box, one)) for one in supporting))


class Covers:
    """Boxes over the axes of a store of diagrams.

    `number_levels` are the axes on which every box has one unbroken run of values, value 0 aside.
    """

    def __init__(
        self,
        diagrams: "Diagrams",
        boxes: Sequence["Masks"],
        number_levels: Sequence[int] = (),
        supports: Sequence["Masks"] = (),
    ) -> None:
        """Index the boxes; with `supports` a case that lies in none of those does not count."""
        self.diagrams: Final = diagrams
        self.boxes: Final = tuple(boxes)
        self.number_levels: Final = frozenset(number_levels)
        self.asks: Sequence[int] = [
            bits_of((place for place, box in enumerate(boxes) if box[level] != full), len(boxes))
            for level, full in enumerate(diagrams.full)
        ]
        self.everyone: Final[int] = (1 << len(self.boxes)) - 1
        self._with_cases: Final[int] = bits_of(
            (place for place, box in enumerate(boxes) if all(box)), len(boxes)
        )
        self._accepts: dict[tuple[int, int], int] = {}
        self._asking_places: dict[int, Sequence[int]] = {}
        self._holding: dict[tuple[int, int], int] = {}
        self._meeting: dict[tuple[int, int], int] = {}
        self._run_ends: dict[int, _Runs] = {}
        self.supports: tuple[Support, ...] = ()
        if supports:
            index = Covers(diagrams, supports, number_levels)
            self.supports = (Support(index, index.everyone),)

    def ignoring(self, level: int) -> "Covers":
        """Return the same boxes without what they ask of one axis; bits stay as they are."""
        other = object.__new__(Covers)
        other.__dict__.update(self.__dict__)
        other._holding = {}
        other._meeting = {}
        other.asks = [0 if place == level else asks for place, asks in enumerate(self.asks)]
        return other

    def supported(self, *supports: "Support") -> "Covers":
        """Return the same boxes with other supports, of which each must hold a case."""
        other = object.__new__(Covers)
        other.__dict__.update(self.__dict__)
        other.supports = supports
        return other

    def accepting(self, level: int, value: int) -> int:
        """Return the boxes that hold a value of an axis."""
        known = self._accepts.get((level, value))
        if known is None:
            if value and level in self.number_levels:
                runs = self._runs(level)
                known = runs.unlimited | runs.begun[value] & runs.not_over[value]
            else:
                bit, boxes = 1 << value, self.boxes
                known = self.everyone ^ bits_of(
                    (place for place in self._asking(level) if not boxes[place][level] & bit), len(boxes)
                )
            self._accepts[level, value] = known
        return known

    def _asking(self, level: int) -> Sequence[int]:
        known = self._asking_places.get(level)
        if known is None:
            full = self.diagrams.full[level]
            known = [place for place, box in enumerate(self.boxes) if box[level] != full]
            self._asking_places[level] = known
        return known

    def holding(self, level: int, mask: int) -> int:
        """Return the boxes that hold every value of a set on an axis; kept, so for sets met again."""
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

    def holding_case(self, case: tuple[int, ...]) -> int:
        """Return the boxes that hold a case."""
        held = self.everyone
        for level, value in enumerate(case):
            if self.asks[level]:
                held &= self.accepting(level, value) | ~self.asks[level]
            if not held:
                break
        return held

    def holding_box(self, box: "Masks", among: int) -> int:
        """Return those of some boxes that hold all of a box."""
        for level, asks in enumerate(self.asks):
            if not among:
                break
            if asks & among:
                among &= self.holding_all(level, box[level]) | ~asks
        return among

    def touching(self, box: "Masks", among: int) -> int:
        """Return those of some boxes that share a case with a box; one without a case shares none."""
        among &= self._with_cases
        for level, asks in enumerate(self.asks):
            mask = box[level]
            if not asks & among or mask == self.diagrams.full[level]:
                continue
            among &= self.meeting_any(level, mask)
        return among

    def _runs(self, level: int) -> "_Runs":
        known = self._run_ends.get(level)
        if known is None:
            full, size = self.diagrams.full[level], self.diagrams.sizes[level]
            begins, ends = [0] * size, [0] * size
            unlimited = []
            for place, box in enumerate(self.boxes):
                row = box[level] & full & ~1
                if row == full & ~1:
                    unlimited.append(place)
                elif row:
                    begins[(row & -row).bit_length() - 1] |= 1 << place
                    ends[row.bit_length() - 1] |= 1 << place
            begun = list(accumulate(begins, or_))
            not_over = list(accumulate(reversed(ends), or_))[::-1]
            known = self._run_ends[level] = _Runs(begun, not_over, bits_of(unlimited, len(self.boxes)))
        return known

    def meeting_any(self, level: int, mask: int) -> int:
        """Return the boxes that hold some value of a set on an axis, of one of numbers run by run."""
        if level not in self.number_levels:
            known = self._meeting.get((level, mask))
            if known is None:
                known = self._meeting[level, mask] = self.meeting(level, mask)
            return known
        if not self.asks[level]:
            return -1
        met, row = self.accepting(level, 0) if mask & 1 else 0, mask & ~1
        if row:
            runs = self._runs(level)
            met |= runs.unlimited
            while row:
                low = row & -row
                run = row & ~(row + low)
                met |= runs.begun[run.bit_length() - 1] & runs.not_over[low.bit_length() - 1]
                row ^= run
        return met

    def holding_all(self, level: int, mask: int) -> int:
        """Return the boxes that hold every value of a set on an axis."""
        if level not in self.number_levels:
            return self.holding(level, mask)
        held, row = self.accepting(level, 0) if mask & 1 else -1, mask & ~1
        if row:
            runs = self._runs(level)
            low, high = (row & -row).bit_length() - 1, row.bit_length() - 1
            held &= runs.unlimited | runs.begun[low] & runs.not_over[high]
        return held

    @cached_property
    def shares(self) -> list[float]:
        """Of each box the share of all cases that it holds."""
        sizes = self.diagrams.sizes
        return [
            prod(mask.bit_count() / size for mask, size in zip(box, sizes, strict=True)) for box in self.boxes
        ]

    def meeting(self, level: int, mask: int) -> int:
        """Return the boxes that hold some value of a set on an axis."""
        asks = self.asks[level]
        if mask == self.diagrams.full[level]:
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
        if level in self.number_levels or boxes.bit_count() < mask.bit_count():
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
