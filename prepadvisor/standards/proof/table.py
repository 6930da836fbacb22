"""The decisions of standards as a table: from diagrams of all answers to rows that share no case."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import inf, nextafter
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import FACTS, NUMBER, ORDER
from prepadvisor.standards.engine import OUTPUTS, Box, Engine, Output, Rule, Setting
from prepadvisor.standards.proof.audited import Ranking
from prepadvisor.standards.proof.diagram import TooIntricateError as TooIntricateError
from prepadvisor.standards.proof.space import HIGHEST, LOWEST, UNKNOWN, Cut, Space
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.diagram import Diagrams, Masks

# What the standards answer, output by output, as diagrams whose leaves are answers with their rules.
#
# Each output's diagram is small because few rules can win in it; what all outputs say of a case together is
# found by walking their diagrams side by side, so the whole never has to be kept.


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

    def region(self, node: int, holds: Callable[[Answer], bool]) -> int:
        """Return the region of the cases whose answer meets a condition."""
        store, done = self.store, dict[int, int]()

        def found(node: int) -> int:
            known = done.get(node)
            if known is None:
                if store.level(node) == store.depth:
                    known = store.yes if holds(self.answers[node]) else store.no
                else:
                    parts: dict[int, int] = {}
                    for mask, child in store.parts(node):
                        below = found(child)
                        parts[below] = parts.get(below, 0) | mask
                    known = store.node(store.level(node), parts)
                done[node] = known
            return known

        return found(node)

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
        later = 0
        self._asked_later = [0] * (space.diagrams.depth + 1)
        for level in range(space.diagrams.depth - 1, -1, -1):
            later |= self._covers.asks[level] & self._all
            self._asked_later[level] = later
        self._known: dict[tuple[int, int], int] = {}
        self._steps = 0

    def whole(self) -> int:
        return self._from(0, self._covers.touching(self._within, self._all))

    def _from(self, level: int, alive: int) -> int:
        diagrams = self._space.diagrams
        settled = alive & ~self._asked_later[level]
        if settled and self._as_strong is not None:  # nothing weaker can win any more
            alive &= self._as_strong[(settled & -settled).bit_length() - 1]
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
            if self._steps > _STEPS_MOST:
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


CellValue = str | float | None
"""A cell: text, a number, or None for an empty one."""

_HELD: Final = "holds"


class BoxRow(NamedTuple):
    """A box of cases that are answered alike; `answers` by output, None where nobody reads that output."""

    masks: "Masks"
    answers: dict[str, Answer]


def columns() -> tuple[str, ...]:
    """Return the names of the table's columns: the facts, then each output and its rules."""
    facts: list[str] = []
    for fact in FACTS:
        facts += [f"{fact}_from", f"{fact}_below", f"{fact}_unknown"] if fact in NUMBER else [fact]
    return (*facts, *(name for output in OUTPUTS for name in (output, f"{output}_rule")))


_NODES_MOST: Final = 200_000
"""So intricate may the cases become before the first row is written: some hundred megabytes."""

_STEPS_MOST: Final = 200_000
"""So many values may be stepped through while an answer is worked out, or rows are counted: some seconds."""

_ROWS_MOST: Final = 5_000_000
"""More rows than this nobody waits for."""


class Table:
    """The rows of one house, made one after another; memory does not grow with their number."""

    def __init__(self, engine: Engine, where: Box | None = None) -> None:
        """Prepare the rows of all cases a card can meet, or of those in a box.

        Raises:
            TooIntricateError: where rules cut the cases so finely that no table could be worked with.
        """
        boxes = [*engine.boxes, *([] if where is None else [where])]
        self._space: Final = Space(boxes, [entry.when for entry in engine.impossibles])
        diagrams = self._space.diagrams
        inside = diagrams.full if where is None else self._space.masks(where)
        self._world: Final = World(self._space, engine.rules, inside, _NODES_MOST)
        self._reads: Final = {name: self._world.read(name) for name in OUTPUTS if name != _HELD}
        if not self._world.is_whole:
            raise TooIntricateError
        with diagrams.at_most(_NODES_MOST):
            self._answers = Answers(self._space, engine.rules, inside)
            self._parts: Final = self._answered(diagrams.box(inside))
        if sum(self._rows_below((region, *nodes.values())) for region, nodes in self._parts) > _ROWS_MOST:
            raise TooIntricateError

    def _answered(self, inside: int) -> tuple[tuple[int, dict["OutputName", int]], ...]:
        """Return the cases that nothing holds with all their answers, then the held ones with their holds."""
        diagrams, answers = self._space.diagrams, self._answers
        read: dict[OutputName, int] = {
            name: answers.only_in(name, region) for name, region in self._reads.items()
        }
        held = diagrams.minus(self._world.judged, self._world.living)
        return (
            (diagrams.both(self._world.living, inside), read),
            (diagrams.both(held, inside), {_HELD: answers.of(_HELD)}),
        )

    def _rows_below(self, nodes: tuple[int, ...]) -> int:
        """Return how many rows there will be; of very many only that they are more than are written."""
        store, known, steps = self._space.diagrams, dict[tuple[int, ...], int](), 0

        def below(nodes: tuple[int, ...]) -> int:
            nonlocal steps
            if nodes[0] == store.no:
                return 0
            level = min(map(store.level, nodes))
            if level == store.depth:
                return 1
            count = known.get(nodes)
            if count is None:
                split = side_by_side(store, level, nodes)
                steps += len(split)
                if steps > _STEPS_MOST:
                    raise TooIntricateError
                count = known[nodes] = sum(
                    sum(1 for _ in self._runs(level, values)) * below(children) for values, children in split
                )
            return count

        return below(nodes)

    def rows(self) -> Iterator[BoxRow]:
        """Yield the rows: those that nothing holds with all their answers, then the held ones."""
        for region, nodes in self._parts:
            yield from self._walk(region, nodes)

    def _walk(self, region: int, nodes: dict["OutputName", int]) -> Iterator[BoxRow]:
        store = self._space.diagrams
        masks = list(store.full)
        names = tuple(nodes)

        def below(nodes: tuple[int, ...]) -> Iterator[BoxRow]:
            if nodes[0] == store.no:
                return
            level = min(map(store.level, nodes))
            if level == store.depth:
                found = map(self._answers.answer, nodes[1:])
                yield BoxRow(tuple(masks), dict(zip(names, found, strict=True)))
                return
            for values, children in side_by_side(store, level, nodes):
                for run in self._runs(level, values):
                    masks[level] = run
                    yield from below(children)
            masks[level] = store.full[level]

        yield from below((region, *nodes.values()))

    def _runs(self, level: int, values: int) -> Iterator[int]:
        """Yield a set of values; of a number one unbroken range after another, the unknown with the first."""
        if level not in self._space.axes.numbers:
            yield values
            return
        known, row = values & UNKNOWN, values & ~UNKNOWN
        while row or known:
            low = row & -row
            run = row & ~(row + low)
            yield run | known
            row &= ~run
            known = 0

    def cells(self, row: BoxRow) -> dict[str, CellValue]:
        """Return a row as the table has it, by column."""
        cells: dict[str, CellValue] = dict.fromkeys(columns())
        for fact, mask in zip(ORDER, row.masks, strict=True):
            if fact in NUMBER:
                cells.update(self._number(fact, mask))
            elif mask != (1 << len(values := self._space.axes.values(fact))) - 1:
                cells[fact] = "|".join(_word(value) for bit, value in enumerate(values) if mask >> bit & 1)
        for output, answer in row.answers.items():
            value = answer.value
            cells[output] = " | ".join(value) or None if isinstance(value, tuple) else value
            cells[f"{output}_rule"] = "|".join(answer.rules) or None
        return cells

    def _number(self, fact: str, mask: int) -> Iterator[tuple[str, CellValue]]:
        row = mask & ~UNKNOWN
        start, end = LOWEST, HIGHEST
        if row:
            cuts = self._space.axes.cuts(fact)
            start, end = cuts[(row & -row).bit_length() - 2], cuts[row.bit_length() - 1]
        yield f"{fact}_from", None if start == LOWEST else _at_or_above(start)
        yield f"{fact}_below", None if end == HIGHEST else _at_or_above(end)
        yield f"{fact}_unknown", "yes" if not row else "any" if mask & UNKNOWN else "no"


def _at_or_above(cut: Cut) -> float:
    """Return the lowest number that lies above a cut."""
    return nextafter(cut.at, inf) if cut.above else cut.at


def _word(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
