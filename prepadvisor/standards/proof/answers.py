"""What standards answer, output by output, as diagrams whose leaves are answers with their rules.

Each output's diagram is small because few rules can win in it; what all outputs say of a case together is
found by walking their diagrams side by side, so the whole never has to be kept.
"""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.standards.engine import OUTPUTS, Output, Rule, Setting
from prepadvisor.standards.proof.audited import Ranking
from prepadvisor.standards.proof.diagram import TooIntricateError
from prepadvisor.standards.proof.outside import settled
from prepadvisor.standards.proof.space import Space

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.diagram import Diagrams, Masks

STEPS_MOST: Final = 200_000
"""So many values may be stepped through while an answer is worked out, or rows are counted: some seconds."""


class Answer(NamedTuple):
    """One output's value in some cases, and the ids of all rules that give it, sorted."""

    value: Setting | None
    rules: tuple[str, ...] = ()


class Answers:
    """The diagrams of all outputs over one space, with the answer of each leaf."""

    def __init__(self, space: Space, rules: Iterable[Rule], within: "Masks | None" = None) -> None:
        """Work out the diagram of every output, right inside a box, everywhere without one."""
        self.space: Final = space
        self.within: Final = space.diagrams.full if within is None else within
        self.diagrams: Final = LeafDiagrams(space.diagrams)
        rules = list(rules)
        self._of: Final = {name: _Working(self, output, rules).whole() for name, output in OUTPUTS.items()}

    def of(self, output: "OutputName") -> int:
        """Return the diagram of an output."""
        return self._of[output]

    def answer(self, leaf: int) -> Answer:
        """Return the answer of a leaf."""
        return self.diagrams.answers[leaf]

    def only_in(self, output: "OutputName", region: int) -> int:
        """Return the diagram of an output that has the answer None outside a region."""
        return self.diagrams.masked(self._of[output], region)


class LeafDiagrams:
    """Leaves that stand for answers, added to a store of diagrams."""

    def __init__(self, diagrams: "Diagrams") -> None:
        """Take the store that the diagrams are kept in."""
        self.store: Final = diagrams
        self.answers: Final[dict[int, Answer]] = {}
        self._leaves: Final[dict[Answer, int]] = {}

    def leaf(self, answer: Answer) -> int:
        """Return the leaf of an answer."""
        known = self._leaves.get(answer)
        if known is None:
            known = self._leaves[answer] = self.store.new_leaf()
            self.answers[known] = answer
        return known

    def masked(self, node: int, region: int) -> int:
        """Return a diagram with the answer None outside a region."""
        store, done = self.store, dict[tuple[int, int], int]()
        nothing = self.leaf(Answer(None))

        def found(node: int, region: int) -> int:
            if region == store.yes:
                return node
            if region == store.no:
                return nothing
            known = done.get((node, region))
            if known is None:
                level = min(store.level(node), store.level(region))
                parts: dict[int, int] = {}
                for mask, (one, other) in side_by_side(store, level, (node, region)):
                    below = found(one, other)
                    parts[below] = parts.get(below, 0) | mask
                known = done[node, region] = store.node(level, parts)
            return known

        return found(node, region)


def side_by_side(store: "Diagrams", level: int, nodes: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
    """Return the sets of values of an axis that no diagram tells apart, each with the diagrams below it."""
    together: dict[tuple[int, ...], int] = {(): store.full[level]}
    for node in nodes:
        finer: dict[tuple[int, ...], int] = {}
        parts = store.parts(node) if store.level(node) == level else ((store.full[level], node),)
        for below, values in together.items():
            for mask, child in parts:
                if values & mask:
                    key = (*below, child)
                    finer[key] = finer.get(key, 0) | values & mask
        together = finer
    return [(values, below) for below, values in together.items()]


class _Working:
    """Works out one output's diagram: axis by axis, the rules that a value leaves out fall away."""

    def __init__(self, answers: Answers, output: Output, rules: Sequence[Rule]) -> None:
        self._leaf = answers.diagrams.leaf
        self._output = output
        space = self._space = answers.space
        self._within = answers.within
        if output.is_union:
            self._rules = [rule for rule in rules if output.name in rule.set]
            self._as_strong = None
        else:
            ranking = Ranking(space, output.name, rules)
            self._rules = ranking.rules
            self._as_strong = [ranking.at_least(strength) for strength in ranking.strengths]
        self._covers = space.covers([space.masks(rule.when) for rule in self._rules])
        self._all = (1 << len(self._rules)) - 1
        self._settled = settled(self._all, self._covers.asks)
        self._known: dict[tuple[int, int], int] = {}
        self._steps = 0

    def whole(self) -> int:
        return self._from(0, self._covers.touching(self._within, self._all))

    def _from(self, level: int, alive: int) -> int:
        diagrams = self._space.diagrams
        sure = alive & self._settled[level]
        if sure and self._as_strong is not None:  # nothing weaker can win any more
            alive &= self._as_strong[(sure & -sure).bit_length() - 1]
        while level < diagrams.depth and not alive & self._covers.asks[level]:
            level += 1
        if level == diagrams.depth:
            return self._leaf(self._answer(alive))
        known = self._known.get((level, alive))
        if known is None:
            parts: dict[int, int] = {}
            inside = self._within[level]
            split = self._covers.split(level, inside, alive)
            self._steps += len(split)
            if self._steps > STEPS_MOST:
                raise TooIntricateError
            for still, values in split.items():
                child = self._from(level + 1, still)
                parts[child] = parts.get(child, 0) | values
            if diagrams.full[level] & ~inside:  # nobody asks there
                child = next(iter(parts))
                parts[child] |= diagrams.full[level] & ~inside
            known = self._known[level, alive] = diagrams.node(level, parts)
        return known

    def _answer(self, alive: int) -> Answer:
        met = [rule for place, rule in enumerate(self._rules) if alive >> place & 1]
        value = self._output.combine([rule.set[self._output.name] for rule in met])
        if not self._output.is_union:
            met = [rule for rule in met if rule.set[self._output.name] == value]
        return Answer(value, tuple(sorted(rule.id for rule in met)))
