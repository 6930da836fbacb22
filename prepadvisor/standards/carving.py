"""Looks for one case of a box outside many others, however their numbers are scattered.

What is left of the box is a list of pieces that share no case. A box that leaves out something of a piece
on one axis only is taken off it there, so the piece shrinks and does not fall apart; when none is left that
does, a large box is carved out, and what lies beside it is looked at next.
"""

from typing import Final

from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Masks

_TRIED_MOST: Final = 24
"""So many boxes are weighed before one is carved out."""


class Carving:
    """A search for a case of `box` in none of the boxes of `covers` that `alive` has a bit for.

    Each of those must share a case with the box; `asks` has for each axis those that leave out something of
    the box there.
    """

    def __init__(self, covers: Covers, box: Masks, alive: int, asks: list[int]) -> None:
        """Begin with the whole box."""
        self._covers: Final = covers
        self._levels: Final = [level for level, asking in enumerate(asks) if asking]
        self._masks: list[int] = list(box)
        self._alive = alive
        self._asks = list(asks)
        self._waiting: list[tuple[list[int], int, list[int]]] = []

    def case(self) -> tuple[int, ...] | None:
        """Return such a case as value numbers, None if there is none."""
        self._waiting = [(self._masks, self._alive, self._asks)]
        while self._waiting:
            self._masks, self._alive, self._asks = self._waiting.pop()
            if self._is_outside():
                return tuple((mask & -mask).bit_length() - 1 for mask in self._masks)
        return None

    def _is_outside(self) -> bool:
        """Shrink a piece until no box is left in it (True), or nothing of it or only pieces to look at."""
        while self._alive:
            alive, asks = self._alive, self._asks
            once = twice = thrice = 0
            for level in self._levels:
                asking = asks[level] & alive
                thrice |= twice & asking
                twice |= once & asking
                once |= asking
            if once != alive:
                return False  # a box that leaves nothing out
            single = once & ~twice
            if not single:
                self._carve(twice & ~thrice or alive)
                return False
            for level in self._levels:
                here = single & asks[level]
                if here and not self._narrow(level, self._without(level, here)):
                    return False
        return True

    def _without(self, level: int, boxes: int) -> int:
        """Return the values of the piece on an axis that none of some boxes has."""
        mask, found = self._masks[level], self._covers.boxes
        while boxes and mask:
            lowest = boxes & -boxes
            mask &= ~found[lowest.bit_length() - 1][level]
            boxes ^= lowest
        return mask

    def _narrow(self, level: int, mask: int) -> bool:
        """Leave the piece some of its values on an axis; False if none."""
        self._masks[level] = mask
        if not mask:
            return False
        self._alive &= self._covers.meeting_any(level, mask)
        self._asks[level] = self._alive & ~self._covers.holding_all(level, mask)
        return True

    def _carve(self, candidates: int) -> None:
        """Take the largest of some boxes out of the piece; what is beside it waits, the emptiest first."""
        covers, masks = self._covers, self._masks
        place = self._largest(candidates)
        taken, bit = covers.boxes[place], 1 << place
        beside: list[tuple[list[int], int, list[int]]] = []
        for level in self._levels:
            if not self._asks[level] & bit:
                continue
            self._masks, alive, asks = list(masks), self._alive, self._asks
            self._asks = list(asks)
            self._narrow(level, masks[level] & ~taken[level])
            beside.append((self._masks, self._alive, self._asks))
            self._masks, self._alive, self._asks = masks, alive, asks
            self._narrow(level, masks[level] & taken[level])
        beside.sort(key=lambda piece: -piece[1].bit_count())
        self._waiting += beside

    def _largest(self, boxes: int) -> int:
        """Return the place of the box that, over the whole space, has the largest share of cases."""
        shares = self._covers.shares
        best, largest = -1, -1.0
        for _ in range(_TRIED_MOST):
            if not boxes:
                break
            lowest = boxes & -boxes
            place = lowest.bit_length() - 1
            if shares[place] > largest:
                best, largest = place, shares[place]
            boxes ^= lowest
        return best
