"""Which cases of a box lie outside some other boxes: the one question that every proof comes down to.

Axis by axis, the boxes that a value leaves out fall away. A branch ends when a box still in play holds all
that is left of it (nothing lies outside) or when no box is in play (all of it does). Equal situations are
looked at once.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Diagrams, Masks

_ANY: Final = -1
"""No support is asked for any more: some box that supports a case holds all that is left."""


class TooIntricateError(Exception):
    """A search took more steps than it was given."""


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

    def case(self, most: int | None = None) -> tuple[int, ...] | None:
        """Return one of the cases as value numbers, None if there is none.

        Raises:
            TooIntricateError: after so many steps without an answer.
        """
        if not all(self.box):
            return None
        found = _Search(self._asking(), most).case()
        supports = self.covers.supports
        if found is None or supports is None or supports.any_holds(found):
            return found
        return _Search(self._asking(supports)).case()

    def region(self) -> int:
        """Return all of the cases as a region."""
        if not all(self.box):
            return self.covers.diagrams.no
        order = range(len(self.box))
        return _Region(self.covers.diagrams, self._asking(self.covers.supports, order)).all()

    def beside(self, masks: Masks) -> list[Masks]:
        """Return boxes that together hold those cases of the box that are not in another box."""
        return [
            (*self.box[:level], self.box[level] & ~mask, *self.box[level + 1 :])
            for level, mask in enumerate(masks)
            if self.box[level] & ~mask
        ]

    def _asking(self, supports: Covers | None = None, order: Sequence[int] = ()) -> "_Asking":
        """Return what is asked along an order of axes, of few values first if none is given."""
        supporting, asks = _ANY, [0] * len(self.box)
        if supports is not None:
            supporting = supports.touching(self.box, (1 << len(supports.boxes)) - 1)
            asks = _asked(supports, self.box, supporting)
        begin = (self.alive, supporting)
        return _Asking(self.covers, self.box, (self._asks, asks), order or self._order(asks), begin)

    def _order(self, supports_ask: Sequence[int]) -> list[int]:
        """Return the axes that are asked: those of few values first, of those the ones most boxes ask."""
        asked = [level for level in range(len(self.box)) if self._asks[level] or supports_ask[level]]
        return sorted(asked, key=lambda level: (self.box[level].bit_count(), -self._asks[level].bit_count()))


def _asked(covers: Covers, box: Masks, alive: int) -> list[int]:
    """Return for each axis those of some boxes that leave out something of a box there."""
    return [alive & ~covers.holding(level, mask) for level, mask in enumerate(box)]


class _Asking:
    """The axes still to be asked, step by step, and what is left in play after each."""

    def __init__(
        self,
        covers: Covers,
        box: Masks,
        asks: tuple[list[int], list[int]],
        order: Sequence[int],
        begin: tuple[int, int],
    ) -> None:
        self.box: Final = box
        self.order: Final = order
        self.begin: Final = begin
        self._covers = covers
        self._asks = [asks[0][level] for level in order]
        self._supports_ask = [asks[1][level] for level in order]
        self._settled = _settled(begin[0], self._asks)
        self._supports_settled = _settled(begin[1], self._supports_ask)

    def is_inside(self, place: int, alive: int) -> bool:
        """Say whether a box in play holds all that is left."""
        return bool(alive & self._settled[place])

    def supported(self, place: int, supporting: int) -> int:
        """Return the supports in play, `_ANY` where one of them holds all that is left."""
        return _ANY if supporting == _ANY or supporting & self._supports_settled[place] else supporting

    def is_asked(self, place: int, alive: int, supporting: int) -> bool:
        """Say whether the axis at a place tells anything apart."""
        return bool(
            alive & self._asks[place] or (supporting != _ANY and supporting & self._supports_ask[place])
        )

    def split(self, place: int, alive: int, supporting: int) -> Iterator[tuple[int, int, int]]:
        """Yield boxes left, supports left and the values of the axis at a place that leave these."""
        level = self.order[place]
        for still, values in self._covers.split(level, self.box[level], alive).items():
            if supporting == _ANY or self._covers.supports is None:
                yield still, _ANY, values
                continue
            for support, some in self._covers.supports.split(level, values, supporting).items():
                if support:
                    yield still, support, some


def _settled(begin: int, asks: Sequence[int]) -> list[int]:
    """Return for each place of an order the boxes that ask nothing from there on."""
    settled = [begin]
    for boxes in reversed(asks):
        settled.append(settled[-1] & ~boxes)
    return settled[::-1]


class _Search:
    """Looks for one case: axes of few values first, of those the ones that most boxes ask."""

    def __init__(self, asking: _Asking, most: int | None = None) -> None:
        self._asking = asking
        self._left = -1 if most is None else most
        self._in_vain: set[tuple[int, int, int]] = set()

    def case(self) -> tuple[int, ...] | None:
        case = [(mask & -mask).bit_length() - 1 for mask in self._asking.box]
        return tuple(case) if self._found(0, *self._asking.begin, case) else None

    def _found(self, place: int, alive: int, supporting: int, case: list[int]) -> bool:
        """Look first where the fewest boxes are left in play: there a case outside is found soonest."""
        asking = self._asking
        if asking.is_inside(place, alive):
            return False
        supporting = asking.supported(place, supporting)
        if not alive and supporting == _ANY:
            return True
        if not supporting:
            return False
        while not asking.is_asked(place, alive, supporting):
            place += 1
        if (place, alive, supporting) in self._in_vain:
            return False
        if not self._left:
            raise TooIntricateError
        self._left -= 1
        level = asking.order[place]
        for still, support, values in sorted(asking.split(place, alive, supporting), key=_boxes_left):
            if self._found(place + 1, still, support, case):
                case[level] = (values & -values).bit_length() - 1
                return True
        self._in_vain.add((place, alive, supporting))
        return False


def _boxes_left(branch: tuple[int, int, int]) -> int:
    return branch[0].bit_count()


class _Region:
    """Gathers all cases, with the axes in the order in which diagrams ask them."""

    def __init__(self, diagrams: Diagrams, asking: _Asking) -> None:
        self._diagrams = diagrams
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
