"""What an output comes to in every case: of all rules that meet it the strongest answer, as one diagram."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from prepadvisor.standards.diagram import Diagrams, Masks


@dataclass(frozen=True)
class Ranked:
    """One rule's answer to one output: its box, and how strong the answer is (higher wins)."""

    masks: Masks
    rank: float


class Strongest:
    """The rules of one output, strongest first, with bitmaps of rules for each value of each axis.

    Bit n of a bitmap stands for `rules[n]`; `order[n]` is that rule's place in the list that was given.
    """

    def __init__(self, diagrams: Diagrams, rules: Sequence[Ranked]) -> None:
        """Sort the rules and make their bitmaps."""
        self.diagrams: Final = diagrams
        self.order: Final = sorted(range(len(rules)), key=lambda n: -rules[n].rank)
        self.rules: Final = [rules[n] for n in self.order]
        self.stronger: Final = self._stronger()
        self.asks: Final = [
            _bits(rule.masks[level] != full for rule in self.rules)
            for level, full in enumerate(diagrams.full)
        ]
        self.settled: Final = self._settled()
        self._accepts: dict[tuple[int, int], int] = {}

    def _stronger(self) -> list[int]:
        """For each rule the bitmap of the rules that beat it."""
        beaten_by: list[int] = []
        for place, rule in enumerate(self.rules):
            same = place and rule.rank == self.rules[place - 1].rank
            beaten_by.append(beaten_by[-1] if same else (1 << place) - 1)
        return beaten_by

    def _settled(self) -> list[int]:
        """For each axis the rules that ask nothing of it nor of any later one: they are met for certain."""
        settled = [(1 << len(self.rules)) - 1]
        for asked in reversed(self.asks):
            settled.append(settled[-1] & ~asked)
        return settled[::-1]

    def accepts(self, level: int, value: int) -> int:
        """Return the bitmap of the rules that a value of an axis leaves in play."""
        known = self._accepts.get((level, value))
        if known is None:
            bit = 1 << value
            known = self._accepts[level, value] = _bits(bool(rule.masks[level] & bit) for rule in self.rules)
        return known

    def split(self, level: int, alive: int) -> dict[int, int]:
        """Return, for the rules in play, the sets of values that they do not tell apart: rules left → values.

        Cuts an axis only where a rule in play cuts it, so that a long axis costs nothing where nothing cuts
        it.
        """
        asking = alive & self.asks[level]
        size = self.diagrams.sizes[level]
        left: dict[int, int] = {}
        if 4 * asking.bit_count() > size:
            for value in range(size):
                still = alive & self.accepts(level, value)
                left[still] = left.get(still, 0) | 1 << value
            return left
        left = {alive: self.diagrams.full[level]}
        while asking:
            bit = asking & -asking
            asking ^= bit
            inside = self.rules[bit.bit_length() - 1].masks[level]
            finer: dict[int, int] = {}
            for still, values in left.items():
                if values & inside:
                    finer[still] = values & inside
                if values & ~inside:
                    finer[still ^ bit] = values & ~inside
            left = finer
        return left

    def diagram(self, unset: float) -> int:
        """Return the diagram whose leaves are the rank that wins, `unset` where no stronger rule is met."""
        diagrams, asks, settled = self.diagrams, self.asks, self.settled
        memo: dict[tuple[int, int, float], int] = {}

        def build(level: int, alive: int, best: float) -> int:
            sure = alive & settled[level]
            if sure:
                place = (sure & -sure).bit_length() - 1
                best = self.rules[place].rank
                alive &= self.stronger[place]
            if not alive:
                return diagrams.leaf(best)
            while not alive & asks[level]:
                level += 1
            key = (level, alive, best)
            known = memo.get(key)
            if known is None:
                parts: dict[int, int] = {}
                for still, values in self.split(level, alive).items():
                    child = build(level + 1, still, best)
                    parts[child] = parts.get(child, 0) | values
                known = memo[key] = diagrams.node(level, parts)
            return known

        return build(0, _bits(rule.rank > unset for rule in self.rules), unset)


def union(diagrams: Diagrams, boxes: Iterable[Masks]) -> int:
    """Return the region of the cases in at least one of the boxes."""
    return Strongest(diagrams, [Ranked(masks, True) for masks in boxes]).diagram(False)


def _bits(flags: Iterable[bool]) -> int:
    bits = 0
    for place, flag in enumerate(flags):
        if flag:
            bits |= 1 << place
    return bits
