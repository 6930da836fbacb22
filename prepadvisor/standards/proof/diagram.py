"""Decision diagrams: regions of cases, kept exactly and small by sharing equal parts.

A case has one value on each axis. A diagram asks axis after axis, always in the same order, skips an axis
that does not matter and ends in one of two leaves: in the region or not. Equal parts exist once, so two
diagrams of the same region are the same number. Values are bits: a set of values of one axis is an int, a box
one such int per axis.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from sys import maxsize
from typing import Final

Masks = tuple[int, ...]
"""A box: for each axis the set of its values, as bits."""

Parts = tuple[tuple[int, int], ...]
"""The branches of a node: set of values, node they lead to; the sets are disjoint and cover the axis."""


class TooIntricateError(Exception):
    """A region would take more nodes than it was given."""


class Diagrams:
    """A store of diagrams over the same axes.

    Nodes are ints; `no` and `yes` are the two leaves of a region.
    """

    def __init__(self, sizes: Sequence[int]) -> None:
        """Take the number of values of each axis."""
        self.sizes: Final = tuple(sizes)
        self.full: Final[Masks] = tuple((1 << size) - 1 for size in sizes)
        self.depth: Final = len(self.sizes)
        self.no: Final = 0
        self.yes: Final = 1
        self._level: list[int] = [self.depth, self.depth]
        self._parts: list[Parts] = [(), ()]
        self._nodes: dict[tuple[int, Parts], int] = {}
        self._counts: dict[int, int] = {}
        self._region_memo: dict[tuple[str, int, int], int] = {}
        self._most = maxsize

    @contextmanager
    def at_most(self, more: int) -> Iterator[None]:
        """Let what is done inside make only so many more nodes.

        Raises:
            TooIntricateError: where it would make more.
        """
        before, self._most = self._most, min(self._most, len(self) + more)
        try:
            yield
        finally:
            self._most = before

    def __len__(self) -> int:
        return len(self._level)

    def new_leaf(self) -> int:
        """Return a further leaf, for diagrams that answer more than in or out."""
        self._level.append(self.depth)
        self._parts.append(())
        return len(self._level) - 1

    def node(self, level: int, parts: dict[int, int]) -> int:
        """Return the diagram that asks the axis `level`; `parts` maps a child to its set of values."""
        if len(parts) == 1:
            return next(iter(parts))
        branches = tuple(sorted((mask, child) for child, mask in parts.items()))
        key = (level, branches)
        known = self._nodes.get(key)
        if known is None:
            if len(self._level) >= self._most:
                raise TooIntricateError
            known = self._nodes[key] = len(self._level)
            self._level.append(level)
            self._parts.append(branches)
        return known

    def level(self, node: int) -> int:
        """Return the axis that a node asks; `depth` for a leaf."""
        return self._level[node]

    def parts(self, node: int) -> Parts:
        """Return the branches of a node."""
        return self._parts[node]

    def box(self, masks: Masks) -> int:
        """Return the region of the cases inside a box."""
        if not all(masks):
            return self.no
        node = self.yes
        for level in range(self.depth - 1, -1, -1):
            inside = masks[level]
            if inside != self.full[level]:
                node = self.node(level, {node: inside, self.no: self.full[level] & ~inside})
        return node

    def both(self, one: int, other: int) -> int:
        """Return the cases in both regions."""
        if one == other or other == self.yes:
            return one
        if one == self.yes:
            return other
        if self.no in {one, other}:
            return self.no
        return self._of_regions("and", self.both, min(one, other), max(one, other))

    def either(self, one: int, other: int) -> int:
        """Return the cases in at least one of two regions."""
        if one == other or other == self.no:
            return one
        if one == self.no:
            return other
        if self.yes in {one, other}:
            return self.yes
        return self._of_regions("or", self.either, min(one, other), max(one, other))

    def minus(self, one: int, other: int) -> int:
        """Return the cases of a region that are not in the other."""
        if one == other or one == self.no or other == self.yes:
            return self.no
        if other == self.no:
            return one
        return self._of_regions("minus", self.minus, one, other)

    def _of_regions(self, name: str, again: Callable[[int, int], int], one: int, other: int) -> int:
        key = (name, one, other)
        known = self._region_memo.get(key)
        if known is None:
            known = self._region_memo[key] = self._split(again, one, other)
        return known

    def _split(self, again: Callable[[int, int], int], one: int, other: int) -> int:
        level = min(self._level[one], self._level[other])
        full = self.full[level]
        ones = self._parts[one] if self._level[one] == level else ((full, one),)
        others = self._parts[other] if self._level[other] == level else ((full, other),)
        parts: dict[int, int] = {}
        for mask_one, child_one in ones:
            for mask_other, child_other in others:
                mask = mask_one & mask_other
                if mask:
                    child = again(child_one, child_other)
                    parts[child] = parts.get(child, 0) | mask
        return self.node(level, parts)

    def size(self, region: int, most: int) -> int:
        """Return how many nodes a region has, or `most` if it has more."""
        seen, waiting = {region}, [region]
        while waiting and len(seen) < most:
            for _, child in self._parts[waiting.pop()]:
                if child not in seen:
                    seen.add(child)
                    waiting.append(child)
        return min(len(seen), most)

    def count(self, region: int) -> int:
        """Return the number of cases in a region."""
        return self._below(region) * self._skipped(0, self._level[region])

    def _below(self, node: int) -> int:
        if self._level[node] == self.depth:
            return int(node == self.yes)
        known = self._counts.get(node)
        if known is None:
            below = self._level[node] + 1
            known = self._counts[node] = sum(
                mask.bit_count() * self._below(child) * self._skipped(below, self._level[child])
                for mask, child in self._parts[node]
            )
        return known

    def _skipped(self, first: int, last: int) -> int:
        cases = 1
        for size in self.sizes[first:last]:
            cases *= size
        return cases
