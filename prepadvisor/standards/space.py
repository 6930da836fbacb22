"""All cases that can be.

Axes cut for some boxes, the store of diagrams over them, and the impossible cases.
"""

from collections.abc import Iterable, Sequence
from operator import and_
from typing import Final

from prepadvisor.standards.axes import Axes
from prepadvisor.standards.conditions import Box
from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Diagrams, Masks


class Space:
    """The cases over which standards are proven; `possible` is the region of those that can be."""

    def __init__(self, boxes: Iterable[Box], impossible: Iterable[Box]) -> None:
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

    def masks(self, box: Box) -> Masks:
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


def shared(one: Masks, other: Masks) -> Masks:
    """Return the box of the cases in both boxes; some set of values is empty if there is none."""
    return tuple(map(and_, one, other))


def cells(masks: Masks) -> int:
    """Return the number of cases in a box, possible or not."""
    count = 1
    for mask in masks:
        count *= mask.bit_count()
    return count
