"""Which rules are the only one to win somewhere: the rest could go without any case noticing."""

from typing import Final

from prepadvisor.standards.strongest import Strongest


class SoleWinners:
    """Searches, rule by rule, for a case that comes out otherwise without it.

    `strength` is the diagram of the winning rank, with another leaf in impossible cases. The search walks
    it inside the rule's box, only where the rule's rank still can win, and gives up a branch once a rule of
    the same rank is met there for certain.
    """

    def __init__(self, strongest: Strongest, strength: int, unset: float) -> None:
        """Keep the rules of one output and what they come to."""
        self.rules: Final = strongest
        self.strength: Final = strength
        self.unset: Final = unset
        self._place: Final = {given: place for place, given in enumerate(strongest.order)}
        self._ranks_below: Final[dict[int, int]] = {}
        self._rank_bit: Final = {
            rank: 1 << place for place, rank in enumerate(sorted({rule.rank for rule in strongest.rules}))
        }

    def wins(self, given: int) -> bool:
        """Say whether the rule at a place of the given list alone decides some case."""
        place = self._place[given]
        rule = self.rules.rules[place]
        if rule.rank <= self.unset:
            return False
        same = 0
        for other, candidate in enumerate(self.rules.rules):
            if (
                other != place
                and candidate.rank == rule.rank
                and all(one & two for one, two in zip(rule.masks, candidate.masks, strict=True))
            ):
                same |= 1 << other
        return _Search(self, rule.masks, self._rank_bit[rule.rank]).found(0, self.strength, same)

    def ranks_below(self, node: int) -> int:
        """Return the ranks that win in some case of a diagram, as bits."""
        known = self._ranks_below.get(node)
        if known is None:
            diagrams = self.rules.diagrams
            if diagrams.level(node) == diagrams.depth:
                value = diagrams.value(node)
                known = self._rank_bit.get(value, 0) if isinstance(value, float) else 0
            else:
                known = 0
                for _, child in diagrams.parts(node):
                    known |= self.ranks_below(child)
            self._ranks_below[node] = known
        return known


class _Search:
    """One search: remembers where it has looked in vain."""

    def __init__(self, winners: SoleWinners, box: tuple[int, ...], rank: int) -> None:
        self.winners = winners
        self.box = box
        self.rank = rank
        self.in_vain: set[tuple[int, int, int]] = set()

    def found(self, level: int, node: int, same: int) -> bool:
        """Say whether some case from here on is decided by the rule alone."""
        rules = self.winners.rules
        diagrams = rules.diagrams
        if same & rules.settled[level] or not self.winners.ranks_below(node) & self.rank:
            return False
        here = diagrams.level(node)
        if level == diagrams.depth:
            return True
        if here > level and not same & rules.asks[level]:
            return self.found(level + 1, node, same)
        key = (level, node, same)
        if key in self.in_vain:
            return False
        branches = diagrams.parts(node) if here == level else ((diagrams.full[level], node),)
        for still, values in sorted(rules.split(level, same).items(), key=lambda part: part[0].bit_count()):
            inside = values & self.box[level]
            if inside:
                for mask, child in branches:
                    if mask & inside and self.found(level + 1, child, still):
                        return True
        self.in_vain.add(key)
        return False
