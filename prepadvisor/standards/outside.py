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
        """Drop the boxes that do not touch, and see from which axis on each of the others holds all."""
        self.covers: Final = covers
        self.box: Final = box
        self.alive: Final = covers.touching(box, among) if all(box) else 0
        settled = [self.alive]
        for level in range(covers.diagrams.depth - 1, -1, -1):
            settled.append(settled[-1] & covers.holding(level, box[level]))
        self._settled: Final = settled[::-1]
        self._in_vain: Final[set[tuple[int, int]]] = set()

    def case(self) -> tuple[int, ...] | None:
        """Return one of the cases as value numbers, None if there is none."""
        case: list[int] = []
        return tuple(case) if all(self.box) and self._search(0, self.alive, case) else None

    def _search(self, level: int, alive: int, case: list[int]) -> bool:
        """Look first where the fewest boxes are left in play: there a case outside is found soonest."""
        if alive & self._settled[level]:
            return False
        if not alive:
            case.extend((mask & -mask).bit_length() - 1 for mask in self.box[level:])
            return True
        if (level, alive) in self._in_vain:
            return False
        branches = self.covers.split(level, self.box[level], alive)
        for still, values in sorted(branches.items(), key=lambda branch: branch[0].bit_count()):
            case.append((values & -values).bit_length() - 1)
            if self._search(level + 1, still, case):
                return True
            case.pop()
        self._in_vain.add((level, alive))
        return False

    def region(self) -> int:
        """Return all of the cases as a region."""
        diagrams, box = self.covers.diagrams, self.box
        if not all(box):
            return diagrams.no
        rest = [diagrams.yes]
        for level in range(diagrams.depth - 1, -1, -1):
            rest.append(self._node(level, {rest[-1]: box[level]}))
        rest.reverse()
        memo: dict[tuple[int, int], int] = {}

        def build(level: int, alive: int) -> int:
            if alive & self._settled[level]:
                return diagrams.no
            if not alive:
                return rest[level]
            known = memo.get((level, alive))
            if known is None:
                parts: dict[int, int] = {}
                for still, values in self.covers.split(level, box[level], alive).items():
                    child = build(level + 1, still)
                    parts[child] = parts.get(child, 0) | values
                known = memo[level, alive] = self._node(level, parts)
            return known

        return build(0, self.alive)

    def _node(self, level: int, parts: dict[int, int]) -> int:
        """Return the node of an axis; values outside the box lead nowhere."""
        diagrams = self.covers.diagrams
        left_out = diagrams.full[level] & ~self.box[level]
        if left_out:
            parts[diagrams.no] = parts.get(diagrams.no, 0) | left_out
        return diagrams.node(level, parts)
