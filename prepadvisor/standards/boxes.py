"""A region told in few large boxes, so that a person can read it."""

from collections.abc import Sequence
from typing import Final

from prepadvisor.standards.axes import UNKNOWN
from prepadvisor.standards.diagram import Diagrams, Masks


class BoxFinder:
    """Takes large boxes out of a region, largest first as far as a greedy search sees.

    `free` is a region that a box may also cover without saying anything wrong, such as the impossible
    cases; `runs` are the axes whose values lie in a row (numbers): a box takes one unbroken run there,
    `loose` being the values that stand outside the row (a number that is not known).
    """

    def __init__(self, diagrams: Diagrams, free: int, runs: Sequence[int] = ()) -> None:
        """Keep the region that is free to cover."""
        self.diagrams: Final = diagrams
        self.free: Final = free
        self.runs: Final = frozenset(runs)

    def take(self, region: int, most: int) -> tuple[list[Masks], int]:
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

    def _tidied(self, masks: Masks, region: int, allowed: int) -> Masks:
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

    def _gain(self, masks: Masks) -> int:
        cases = 1
        for mask in masks:
            cases *= mask.bit_count()
        return cases

    def _heaviest(self, region: int) -> Masks:
        """Follow the branch with the most cases down to the leaf: the path is a box inside the region."""
        diagrams = self.diagrams
        masks = list(diagrams.full)
        node = region
        while diagrams.level(node) < diagrams.depth:
            level = diagrams.level(node)
            mask, node = max(
                diagrams.parts(node), key=lambda part: part[0].bit_count() * diagrams.count(part[1])
            )
            masks[level] = mask
        return tuple(masks)

    def _grown(self, seed: Masks, allowed: int, order: Sequence[int]) -> Masks:
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


def values_met(diagrams: Diagrams, region: int) -> Masks:
    """Return for each axis the values that some case of a region has."""
    met = [0] * diagrams.depth
    seen = {diagrams.no}
    waiting = [(0, region)]
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
