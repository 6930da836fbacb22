"""Which cases of a box lie outside some other boxes: the one question that every proof comes down to.

Axis by axis, the boxes that a value leaves out fall away. A branch ends when a box still in play holds all
that is left of it (nothing lies outside) or when no box is in play (all of it does). Equal situations are
looked at once.
"""

from typing import Final

from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Masks


class Outside:
    """The cases of `box` that lie in none of those boxes of `covers` that `among` has a bit for."""

    def __init__(self, covers: Covers, box: Masks, among: int) -> None:
        """Drop the boxes that do not touch, and see on which axes each of the others leaves something out."""
        self.covers: Final = covers
        self.box: Final = box
        self.alive: Final = covers.touching(box, among) if all(box) else 0
        self._asks: Final = [self.alive & ~covers.holding(level, mask) for level, mask in enumerate(box)]

    def case(self) -> tuple[int, ...] | None:
        """Return one of the cases as value numbers, None if there is none."""
        if not all(self.box):
            return None
        return _Search(self.covers, self.box, self.alive, self._asks).case()

    def region(self) -> int:
        """Return all of the cases as a region."""
        return (
            _Region(self.covers, self.box, self.alive, self._asks).all()
            if all(self.box)
            else self.covers.diagrams.no
        )

    def beside(self, masks: Masks) -> list[Masks]:
        """Return boxes that together hold those cases of the box that are not in another box."""
        return [
            (*self.box[:level], self.box[level] & ~mask, *self.box[level + 1 :])
            for level, mask in enumerate(masks)
            if self.box[level] & ~mask
        ]


class _Search:
    """Looks for one case: axes of few values first, of those the ones that most boxes ask."""

    def __init__(self, covers: Covers, box: Masks, alive: int, asks: list[int]) -> None:
        self._covers = covers
        self._box = box
        self._alive = alive
        self._asks = asks
        asked = [level for level, boxes in enumerate(asks) if boxes]
        self._order = sorted(asked, key=lambda level: (box[level].bit_count(), -asks[level].bit_count()))
        settled = [alive]
        for level in reversed(self._order):
            settled.append(settled[-1] & ~asks[level])
        self._settled = settled[::-1]
        self._in_vain: set[tuple[int, int]] = set()

    def case(self) -> tuple[int, ...] | None:
        case = [(mask & -mask).bit_length() - 1 for mask in self._box]
        return tuple(case) if self._found(0, self._alive, case) else None

    def _found(self, place: int, alive: int, case: list[int]) -> bool:
        """Look first where the fewest boxes are left in play: there a case outside is found soonest."""
        if alive & self._settled[place]:
            return False
        if not alive:
            return True
        while not alive & self._asks[self._order[place]]:
            place += 1
        if (place, alive) in self._in_vain:
            return False
        level = self._order[place]
        branches = self._covers.split(level, self._box[level], alive)
        for still, values in sorted(branches.items(), key=_boxes_left):
            if self._found(place + 1, still, case):
                case[level] = (values & -values).bit_length() - 1
                return True
        self._in_vain.add((place, alive))
        return False


def _boxes_left(branch: tuple[int, int]) -> int:
    return branch[0].bit_count()


class _Region:
    """Gathers all cases, with the axes in the order in which diagrams ask them."""

    def __init__(self, covers: Covers, box: Masks, alive: int, asks: list[int]) -> None:
        self._covers = covers
        self._box = box
        self._alive = alive
        self._asks = asks
        self._settled = [alive]
        for boxes in reversed(asks):
            self._settled.append(self._settled[-1] & ~boxes)
        self._settled.reverse()
        self._known: dict[tuple[int, int], int] = {}

    def all(self) -> int:
        return self._from(0, self._alive)

    def _from(self, level: int, alive: int) -> int:
        if alive & self._settled[level]:
            return self._covers.diagrams.no
        if level == self._covers.diagrams.depth:
            return self._covers.diagrams.yes
        known = self._known.get((level, alive))
        if known is None:
            parts: dict[int, int] = {}
            for still, values in self._covers.split(level, self._box[level], alive).items():
                child = self._from(level + 1, still)
                parts[child] = parts.get(child, 0) | values
            known = self._known[level, alive] = self._node(level, parts)
        return known

    def _node(self, level: int, parts: dict[int, int]) -> int:
        """Return the node of an axis; values outside the box lead nowhere."""
        diagrams = self._covers.diagrams
        left_out = diagrams.full[level] & ~self._box[level]
        if left_out:
            parts[diagrams.no] = parts.get(diagrams.no, 0) | left_out
        return diagrams.node(level, parts)
