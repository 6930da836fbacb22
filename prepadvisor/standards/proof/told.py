"""A region told so that a person can read it: few large boxes, one grown box, or one typical case."""

from bisect import bisect_right
from collections.abc import Sequence
from math import inf
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cases import CATEGORY, FACTS, NUMBER, NUMBERS, ORDER, Facts
from prepadvisor.standards.proof.outside import Outside, beside
from prepadvisor.standards.proof.space import UNKNOWN, Cut, Space, cells

if TYPE_CHECKING:
    from prepadvisor.standards.proof.covers import Covers
    from prepadvisor.standards.proof.diagram import Diagrams, Masks

# A region told in few large boxes, so that a person can read it.


class BoxFinder:
    """Takes large boxes out of a region, largest first as far as a greedy search sees.

    `free` is a region that a box may also cover without saying anything wrong, such as the impossible
    cases; `runs` are the axes whose values lie in a row (numbers): a box takes one unbroken run there,
    `loose` being the values that stand outside the row (a number that is not known).
    """

    def __init__(self, diagrams: "Diagrams", free: int, runs: Sequence[int] = ()) -> None:
        """Keep the region that is free to cover."""
        self.diagrams: Final = diagrams
        self.free: Final = free
        self.runs: Final = frozenset(runs)

    def take(self, region: int, most: int) -> tuple[list["Masks"], int]:
        """Return at most `most` boxes that cover a region, and what of the region they leave over.

        Every box lies inside the region and what is free to cover; each holds a case of the region that no
        box before it holds.
        """
        diagrams = self.diagrams
        allowed = diagrams.either(region, self.free)
        boxes: list[Masks] = []
        while region != diagrams.no and len(boxes) < most:
            seed = self._heaviest(region)
            grown = [self._grown(seed, allowed, order) for order in self._orders()]
            best = self._tidied(max(grown, key=self._gain), region, allowed)
            boxes.append(best)
            region = diagrams.minus(region, diagrams.box(best))
        return boxes, region

    def _tidied(self, masks: "Masks", region: int, allowed: int) -> "Masks":
        """Leave out values with no case of the region, then free what need not be said any more."""
        diagrams = self.diagrams
        met = values_met(diagrams, diagrams.both(region, diagrams.box(masks)))
        tight = [
            mask if mask == full or level in self.runs else mask & met[level]
            for level, (mask, full) in enumerate(zip(masks, diagrams.full, strict=True))
        ]
        for level, full in enumerate(diagrams.full):
            if tight[level] != full and self.could_be(allowed, tight, level) == full:
                tight[level] = full
        return tuple(tight)

    def _orders(self) -> tuple[Sequence[int], ...]:
        forward = range(self.diagrams.depth)
        small_first = sorted(forward, key=lambda level: self.diagrams.sizes[level])
        return (forward, forward[::-1], small_first, small_first[::-1])

    def _gain(self, masks: "Masks") -> int:
        cases = 1
        for mask in masks:
            cases *= mask.bit_count()
        return cases

    def _heaviest(self, region: int) -> "Masks":
        """Follow the branch with the most cases down to the leaf: the path is a box inside the region."""
        diagrams = self.diagrams
        masks = list(diagrams.full)
        node = region
        while diagrams.level(node) < diagrams.depth:
            level = diagrams.level(node)
            mask, node = max(
                diagrams.parts(node), key=lambda part: part[0].bit_count() * diagrams.count(part[1])
            )
            masks[level] = longest_run(mask) if level in self.runs else mask
        return tuple(masks)

    def _grown(self, seed: "Masks", allowed: int, order: Sequence[int]) -> "Masks":
        masks = list(seed)
        for level in order:
            if masks[level] != self.diagrams.full[level]:
                could = self.could_be(allowed, masks, level)
                if level in self.runs and could != self.diagrams.full[level]:
                    could = run_around(masks[level], could)
                masks[level] = could
        return tuple(masks)

    def could_be(self, allowed: int, masks: Sequence[int], level: int) -> int:
        """Return the values an axis could have, the rest of a box unchanged, with all of it still allowed."""
        diagrams = self.diagrams
        inside: dict[int, bool] = {}

        def whole(node: int) -> bool:
            here = diagrams.level(node)
            if here == diagrams.depth:
                return node == diagrams.yes
            known = inside.get(node)
            if known is None:
                known = inside[node] = all(
                    whole(child) for mask, child in diagrams.parts(node) if mask & masks[here]
                )
            return known

        full = diagrams.full[level]
        reached = {allowed}
        waiting = [allowed]
        could = full
        while waiting:
            node = waiting.pop()
            here = diagrams.level(node)
            if here < level:
                for mask, child in diagrams.parts(node):
                    if mask & masks[here] and child not in reached:
                        reached.add(child)
                        waiting.append(child)
            elif here == level:
                good = 0
                for mask, child in diagrams.parts(node):
                    if whole(child):
                        good |= mask
                could &= good
            elif not whole(node):
                could = 0
        return could


def values_met(diagrams: "Diagrams", region: int) -> "Masks":
    """Return for each axis the values that some case of a region has."""
    met = [0] * diagrams.depth
    seen = {diagrams.no}
    waiting = [] if region == diagrams.no else [(0, region)]
    while waiting:
        above, node = waiting.pop()
        for skipped in range(above, diagrams.level(node)):
            met[skipped] = diagrams.full[skipped]
        if node in seen:
            continue
        seen.add(node)
        level = diagrams.level(node)
        for mask, child in diagrams.parts(node):
            if child != diagrams.no:
                met[level] |= mask
                waiting.append((level + 1, child))
    return tuple(met)


def longest_run(mask: int) -> int:
    """Return the longest unbroken run of a number's values, the first value taken along where it is there."""
    longest, row = 0, mask & ~UNKNOWN
    while row:
        run = row & ~(row + (row & -row))
        longest = max(longest, run, key=int.bit_count)
        row ^= run
    return longest | mask & UNKNOWN


def run_around(now: int, could: int) -> int:
    """Return the unbroken run of a number's values around those a box has now, of the values it could have.

    The first value, a number that is not known, stands outside the row and is taken along if it could be.
    """
    row = now & ~UNKNOWN
    if not row:
        return now
    low, high = (row & -row).bit_length() - 1, row.bit_length()
    low = max(1, (~could & (1 << low) - 1).bit_length())
    above = ~could >> high
    high += (above & -above).bit_length() - 1
    return could & ((1 << high) - (1 << low) | UNKNOWN)


# A large box grown around one case of a region that is too intricate to be told whole.

_BESIDE_MOST: Final = 400
"""With more boxes than this only one large box is grown: others would cost more than they tell."""


def largest_outside(
    covers: "Covers", box: "Masks", among: int, free: int
) -> tuple["Masks", tuple[int, ...]] | None:
    """Return a large box of cases outside, and one case in it; None if there is no case outside.

    Args:
        covers: the boxes.
        box: where to look.
        among: the boxes that the case lies outside of.
        free: those among them that the large box may run into all the same, such as impossible cases.
    """
    outside = Outside(covers, box, among)
    case = outside.case()
    if case is None:
        return None
    best = _largest_around(covers, box, case, among & ~free)
    tried = [(best, case)]
    for slice_ in beside(box, best) if len(covers.boxes) <= _BESIDE_MOST else ():
        other = Outside(covers, slice_, among).case()
        if other is not None:
            tried.append((_largest_around(covers, box, other, among & ~free), other))
    return max(tried, key=lambda each: cells(each[0]))


def _largest_around(covers: "Covers", box: "Masks", case: tuple[int, ...], among: int) -> "Masks":
    depth = covers.diagrams.depth
    forward = list(range(depth))
    small_first = sorted(forward, key=lambda level: box[level].bit_count())
    orders = [small_first, small_first[::-1], forward, forward[::-1]]
    if len(covers.boxes) > _BESIDE_MOST:
        del orders[1:]
    return max((_grown(covers, box, case, among, order) for order in orders), key=cells)


def _grown(covers: "Covers", box: "Masks", case: tuple[int, ...], among: int, order: list[int]) -> "Masks":
    """Widen one case axis by axis as far as it stays in the box and outside the others."""
    masks = [1 << value for value in case]
    met = [covers.meeting_any(level, mask) for level, mask in enumerate(masks)]
    for level in order:
        others = among
        for place, boxes in enumerate(met):
            if place != level:
                others &= boxes
        could = covers.values_outside(level, box[level], others)
        if level in covers.number_levels and could != covers.diagrams.full[level]:
            could = run_around(masks[level], could)
        masks[level] = could
        met[level] = covers.meeting_any(level, masks[level])
    return tuple(masks)


def typical(space: Space, region: int) -> Facts:
    """Return a case of a region with usual values wherever it has cases with them.

    Raises:
        ValueError: the region has no case.
    """
    diagrams = space.diagrams
    if region == diagrams.no:
        raise ValueError("no case lies in an empty region")
    found: dict[str, Any] = {}
    node = region
    for level, fact in enumerate(ORDER):
        inside = diagrams.level(node) == level
        children = diagrams.parts(node) if inside else ((diagrams.full[level], node),)
        allowed = 0
        for mask, child in children:
            if child != diagrams.no:
                allowed |= mask
        bit, found[fact] = _chosen(space, fact, allowed)
        node = next(child for mask, child in children if mask >> bit & 1)
    return Facts(**{fact: found[fact] for fact in FACTS})


def _chosen(space: Space, fact: str, allowed: int) -> tuple[int, Any]:
    """Return the usual value of those allowed, with its number on the axis, else the first one."""
    if fact in CATEGORY:
        values = space.axes.values(fact)
        bit = values.index(Facts._field_defaults[fact])
        if not allowed >> bit & 1:
            bit = (allowed & -allowed).bit_length() - 1
        return bit, values[bit]
    usual, cuts = NUMBERS[NUMBER[fact]].usual, space.axes.cuts(fact)
    bit = 0 if usual is None else bisect_right(cuts, Cut(usual, False))
    if allowed >> bit & 1:
        return bit, usual
    known = allowed & ~UNKNOWN
    if not known:
        return 0, None
    bit = (known & -known).bit_length() - 1
    return bit, _between(cuts[bit - 1], cuts[bit])


def _between(low: Cut, high: Cut) -> float:
    """Return a number between two cuts, a round one where there is room."""
    if high.at == inf:
        return low.at * 1.2 if low.at else 1.0
    if low.at == high.at:
        return low.at
    middle = (low.at + high.at) / 2
    return float(round(middle)) if low.at < round(middle) < high.at else middle
