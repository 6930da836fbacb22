"""All cases that can be.

Axes cut for some boxes, the store of diagrams over them, and the impossible cases.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from math import inf
from operator import and_
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER, ORDER, Category, Facts, Names, Value
from prepadvisor.standards.proof.covers import Covers, Support
from prepadvisor.standards.proof.diagram import Diagrams, Masks

if TYPE_CHECKING:
    from prepadvisor.standards.engine import Box, Interval

# The space of all cases as axes of a decision diagram.
#
# The categories, and each number cut where a rule cuts it.

UNKNOWN: Final = 1
"""The set of values of a number axis that holds only "not known"; the ranges follow in rising order."""


class Cut(NamedTuple):
    """A place between two ranges of a number: just below `at`, or just above it where `above`."""

    at: float
    above: bool


class Among(list[Value]):
    """Values of a fact that a box allows, or its ranges of a number; `every` has all values of the axis."""

    def __init__(self, some: Iterable[Value], every: Sequence[Value]) -> None:
        """Keep some of the values, beside all of them."""
        super().__init__(some)
        self.every: Final = tuple(every)


LOWEST: Final = Cut(0.0, False)
HIGHEST: Final = Cut(inf, False)


class Axes:
    """Turns boxes of facts into sets of value numbers, and back into facts.

    Numbers are cut by the boxes given.
    """

    def __init__(self, boxes: Iterable["Box"]) -> None:
        """Collect the places where the boxes cut the numbers."""
        cuts: list[set[Cut]] = [{LOWEST, HIGHEST} for _ in NUMBER]
        named = {place: category.always for place, category in enumerate(CATEGORIES) if category.is_open}
        for box in boxes:
            for place in named:
                named[place] |= CATEGORIES[place].named_in(box.masks[place])
            for place, limits in enumerate(box.ranges):
                if limits is not None and not limits.numberless:
                    cuts[place].update(_ends(limits))
        self._cuts: Final = [sorted(cut for cut in places if cut >= LOWEST) for places in cuts]
        self._places: Final = tuple(
            _places(category, named[place]) if category.is_open else tuple(range(len(category.values)))
            for place, category in enumerate(CATEGORIES)
        )
        self.sizes: Final = tuple(
            len(self._cuts[NUMBER[fact]]) if fact in NUMBER else len(self._places[CATEGORY[fact]])
            for fact in ORDER
        )
        self.numbers: Final = tuple(level for level, fact in enumerate(ORDER) if fact in NUMBER)

    def cuts(self, fact: str) -> Sequence[Cut]:
        """Return the places where a number is cut, rising; value n + 1 of its axis lies above the n-th."""
        return self._cuts[NUMBER[fact]]

    def values(self, fact: str) -> tuple[Value, ...]:
        """Return the values along the axis of a category: of an open one those that some box names."""
        place = CATEGORY[fact]
        return tuple(CATEGORIES[place].values[at] for at in self._places[place])

    def told(self, case: Facts) -> Facts:
        """Return a case by the values along the axes: a name that no box names is told as the rest."""
        unnamed: dict[str, Any] = {
            fact.name: fact.values.rest
            for fact in CATEGORIES
            if isinstance(fact.values, Names)
            and fact.values.rest is not None
            and case[fact.at] not in self.values(fact.name)
        }
        return case._replace(**unnamed)

    def masks(self, box: "Box") -> Masks:
        """Return the box as a set of value numbers per axis.

        Its numbers must be cut where the box cuts them.
        """
        return tuple(
            self._number_mask(NUMBER[fact], box.ranges[NUMBER[fact]], size)
            if fact in NUMBER
            else self._category_mask(CATEGORY[fact], box.masks[CATEGORY[fact]])
            for fact, size in zip(ORDER, self.sizes, strict=True)
        )

    def _category_mask(self, place: int, mask: int) -> int:
        if not CATEGORIES[place].is_open:
            return mask
        return sum(1 << bit for bit, at in enumerate(self._places[place]) if mask >> at & 1)

    def _number_mask(self, place: int, limits: "Interval | None", size: int) -> int:
        if limits is None:
            return (1 << size) - 1
        known = UNKNOWN if limits.unknown else 0
        if limits.numberless:
            return known
        cuts = self._cuts[place]
        first, last = (bisect_left(cuts, max(end, LOWEST)) for end in _ends(limits))
        return ((1 << last) - (1 << first)) << 1 | known

    def one(self, fact: str, values: int) -> str:
        """Return neighbouring values of a fact in words: one value, or one range of a number."""
        if fact in NUMBER:
            return str(self._ranges(NUMBER[fact], values)[0])
        return str(self.values(fact)[values.bit_length() - 1])

    def limits(self, masks: Masks) -> dict[str, Among]:
        """Return the facts that a box limits, in the order of `Facts`, each with its values or ranges.

        A range is told as a rule file has it (`>= 90`, `90 .. 120`), a number that is not known as
        "unknown".
        """
        by_fact = dict(zip(ORDER, masks, strict=True))
        sizes = dict(zip(ORDER, self.sizes, strict=True))
        told: dict[str, Among] = {}
        for fact in FACTS:
            mask = by_fact[fact]
            if mask == (1 << sizes[fact]) - 1:
                continue
            if fact in NUMBER:
                told[fact] = Among(self._ranges(NUMBER[fact], mask), ())
            else:
                every = self.values(fact)
                told[fact] = Among((value for bit, value in enumerate(every) if mask >> bit & 1), every)
        return told

    def _ranges(self, place: int, mask: int) -> list[Value]:
        cuts = self._cuts[place]
        told: list[Value] = ["unknown"] if mask & UNKNOWN else []
        row = mask & ~UNKNOWN
        while row:
            low = row & -row
            run = row & ~(row + low)
            told.append(range_words(cuts[low.bit_length() - 2], cuts[run.bit_length() - 1]))
            row ^= run
        return told


def _places(category: Category, named: int) -> tuple[int, ...]:
    """Return the places of the values that the axis of an open fact has: names that were given by alphabet.

    So nothing told of them depends on what else this process has read before.
    """
    places = [at for at in range(named.bit_length()) if named >> at & 1]
    first = [at for at in places if category.always >> at & 1]
    return (*first, *sorted(set(places) - set(first), key=lambda at: str(category.values[at])))


def range_words(start: Cut, end: Cut) -> str:
    """Return a range between two cuts as a rule file would have it."""
    low = f"{'>' if start.above else '>='} {start.at:.12g}"
    high = f"{'<=' if end.above else '<'} {end.at:.12g}"
    if end == HIGHEST:
        return "known" if start == LOWEST else low
    if start == LOWEST:
        return high
    if start.at == end.at:
        return f"{start.at:.12g}"
    return f"{start.at:.12g} .. {end.at:.12g}" if end.above and not start.above else f"{low} and {high}"


def _ends(limits: "Interval") -> tuple[Cut, Cut]:
    return Cut(limits.low, not limits.low_closed), Cut(limits.high, limits.high_closed and limits.high != inf)


class Space:
    """The cases over which standards are proven; `possible` is the region of those that can be."""

    def __init__(self, boxes: Iterable["Box"], impossible: Iterable["Box"]) -> None:
        """Cut the axes by all boxes; the impossible ones are left out of `possible`."""
        impossible = list(impossible)
        self.axes: Final = Axes([*boxes, *impossible])
        self.diagrams: Final = Diagrams(self.axes.sizes)
        self._masks: dict[Box, Masks] = {}
        self.cannot_be_boxes: Final = [self.masks(box) for box in impossible]
        cannot_be = self.diagrams.no
        for masks in self.cannot_be_boxes:
            cannot_be = self.diagrams.either(cannot_be, self.diagrams.box(masks))
        self.cannot_be: Final = cannot_be
        self.possible: Final = self.diagrams.minus(self.diagrams.yes, cannot_be)

    def masks(self, box: "Box") -> Masks:
        """Return a box as sets of value numbers."""
        known = self._masks.get(box)
        if known is None:
            known = self._masks[box] = self.axes.masks(box)
        return known

    def region(self, masks: Masks) -> int:
        """Return the region of the possible cases in a box."""
        return self.diagrams.both(self.diagrams.box(masks), self.possible)

    def covers(
        self,
        boxes: Sequence[Masks],
        outside: Sequence[Masks] | None = None,
        supports: Sequence[Masks] = (),
    ) -> Covers:
        """Index boxes, followed by those of the cases that do not count: start value the impossible ones.

        With `supports` only cases that lie in one of these boxes count.
        """
        left_out = self.cannot_be_boxes if outside is None else outside
        return Covers(self.diagrams, [*boxes, *left_out], self.axes.numbers, supports)

    def support(self, boxes: Sequence[Masks]) -> Support:
        """Return boxes of which one must hold a case that counts."""
        index = self.index(boxes)
        return Support(index, index.everyone)

    def index(self, boxes: Sequence[Masks]) -> Covers:
        """Index boxes and nothing else."""
        return Covers(self.diagrams, boxes, self.axes.numbers)


def shared(one: Masks, other: Masks) -> Masks:
    """Return the box of the cases in both boxes; some set of values is empty if there is none."""
    return tuple(map(and_, one, other))


def cells(masks: Masks) -> int:
    """Return the number of cases in a box, possible or not."""
    count = 1
    for mask in masks:
        count *= mask.bit_count()
    return count
