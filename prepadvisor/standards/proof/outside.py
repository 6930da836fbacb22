"""Which cases of a box lie outside some other boxes: the one question that every proof comes down to.

Whether there is one is asked of `Carving`. All of them are gathered axis by axis: the boxes that a value
leaves out fall away. A branch ends when a box still in play holds all that is left of it (nothing lies
outside) or when no box is in play (all of it does). Equal situations are looked at once.
"""

from collections.abc import Iterator, Sequence
from itertools import accumulate
from sys import maxsize
from typing import Final

from prepadvisor.standards.proof.covers import Covers, Support
from prepadvisor.standards.proof.diagram import Diagrams, Masks, TooIntricateError

# Looks for one case of a box outside many others, however their numbers are scattered.
#
# What is left of the box is a list of pieces that share no case. A box that leaves out something of a piece
# on one axis only is taken off it there, so the piece shrinks and does not fall apart; when none is left
# that does, a large box is carved out, and what lies beside it is looked at next.

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


_ANY: Final = -1
"""No support is asked for any more: some box that supports a case holds all that is left."""


class Outside:
    """The cases of `box` that lie in none of those boxes of `covers` that `among` has a bit for.

    Where the covers have supports, a case must lie in one of those too.
    """

    def __init__(self, covers: Covers, box: Masks, among: int) -> None:
        """Drop the boxes that do not touch, and see on which axes each of the others leaves something out."""
        self.covers: Final = covers
        self.box: Final = box
        self.alive: Final = covers.touching(box, among) if all(box) else 0
        self._asks: Final = _asked(covers, box, self.alive)

    def case(self) -> tuple[int, ...] | None:
        """Return one of the cases as value numbers, None if there is none."""
        if not all(self.box):
            return None
        return self.supported_case(self.covers.supports)

    def supported_case(self, supports: Sequence[Support]) -> tuple[int, ...] | None:
        """Return one of the cases that lies in a box of each of some supports."""
        found = Carving(self.covers, self.box, self.alive, self._asks).case()
        if found is None:
            return None
        holding = (each.covers.holding_case(found) & each.among for each in supports)
        lacking = next((at for at, boxes in enumerate(holding) if not boxes), None)
        if lacking is None:
            return found
        others = (*supports[:lacking], *supports[lacking + 1 :])
        for part in supports[lacking].parts(self.box):
            found = Outside(self.covers, part, self.alive).supported_case(others)
            if found is not None:
                return found
        return None

    def region(self, most: int = maxsize) -> int:
        """Return all of the cases as a region.

        Raises:
            TooIntricateError: where more than so many situations are met on the way.
        """
        if not all(self.box):
            return self.covers.diagrams.no
        supporting, asks = _ANY, [0] * len(self.box)
        if self.covers.supports:
            ((supports, among),) = self.covers.supports
            supporting = supports.touching(self.box, among)
            asks = _asked(supports, self.box, supporting)
        asking = _Asking(self.covers, self.box, (self._asks, asks), (self.alive, supporting))
        return _Region(self.covers.diagrams, asking, most).all()


def beside(box: Masks, masks: Masks) -> list[Masks]:
    """Return boxes that together hold those cases of a box that are not in another box."""
    return [
        (*box[:level], box[level] & ~mask, *box[level + 1 :])
        for level, mask in enumerate(masks)
        if box[level] & ~mask
    ]


def _asked(covers: Covers, box: Masks, alive: int) -> list[int]:
    """Return for each axis those of some boxes that leave out something of a box there."""
    return [
        alive & ~(covers.holding_all(level, mask) | ~asks) if asks & alive else 0
        for (level, mask), asks in zip(enumerate(box), covers.asks, strict=True)
    ]


class _Asking:
    """What is asked, axis by axis, and what is left in play after each."""

    def __init__(
        self,
        covers: Covers,
        box: Masks,
        asks: tuple[list[int], list[int]],
        begin: tuple[int, int],
    ) -> None:
        self.begin: Final = begin
        self._box = box
        self._covers = covers
        self._settled = settled(begin[0], asks[0])
        self._supports_settled = settled(begin[1], asks[1])

    def is_inside(self, level: int, alive: int) -> bool:
        """Say whether a box in play holds all that is left."""
        return bool(alive & self._settled[level])

    def supported(self, level: int, supporting: int) -> int:
        """Return the supports in play, `_ANY` where one of them holds all that is left."""
        return _ANY if supporting == _ANY or supporting & self._supports_settled[level] else supporting

    def split(self, level: int, alive: int, supporting: int) -> Iterator[tuple[int, int, int]]:
        """Yield boxes left, supports left and the values of an axis that leave these."""
        for still, values in self._covers.split(level, self._box[level], alive).items():
            if supporting == _ANY or not self._covers.supports:
                yield still, _ANY, values
                continue
            for support, some in self._covers.supports[0].covers.split(level, values, supporting).items():
                if support:
                    yield still, support, some


def settled(begin: int, asks: Sequence[int]) -> list[int]:
    """Return for each axis, and behind the last, those of some boxes that ask nothing from there on."""
    return list(accumulate(reversed(asks), lambda boxes, asking: boxes & ~asking, initial=begin))[::-1]


class _Region:
    """Gathers all cases, with the axes in the order in which diagrams ask them."""

    def __init__(self, diagrams: Diagrams, asking: _Asking, most: int) -> None:
        self._diagrams = diagrams
        self._most = most
        self._asking = asking
        self._known: dict[tuple[int, int, int], int] = {}

    def all(self) -> int:
        return self._from(0, *self._asking.begin)

    def _from(self, level: int, alive: int, supporting: int) -> int:
        if self._asking.is_inside(level, alive):
            return self._diagrams.no
        supporting = self._asking.supported(level, supporting)
        if not supporting:
            return self._diagrams.no
        if level == self._diagrams.depth:
            return self._diagrams.yes
        known = self._known.get((level, alive, supporting))
        if known is None:
            if len(self._known) >= self._most:
                raise TooIntricateError
            parts: dict[int, int] = {}
            for still, support, values in self._asking.split(level, alive, supporting):
                child = self._from(level + 1, still, support)
                parts[child] = parts.get(child, 0) | values
            known = self._known[level, alive, supporting] = self._node(level, parts)
        return known

    def _node(self, level: int, parts: dict[int, int]) -> int:
        """Return the node of an axis; values outside the box, or in no support, lead nowhere."""
        left_out = self._diagrams.full[level]
        for values in parts.values():
            left_out &= ~values
        if left_out:
            parts[self._diagrams.no] = parts.get(self._diagrams.no, 0) | left_out
        return self._diagrams.node(level, parts)
