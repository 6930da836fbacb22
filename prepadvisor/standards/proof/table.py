"""The decisions of standards as a table: from the diagrams of all answers to rows that share no case."""

from collections.abc import Iterator
from math import inf, nextafter
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import FACTS, NUMBER, ORDER
from prepadvisor.standards.engine import OUTPUTS, Box, Engine
from prepadvisor.standards.proof.answers import STEPS_MOST, Answer, Answers, side_by_side
from prepadvisor.standards.proof.diagram import TooIntricateError as TooIntricateError
from prepadvisor.standards.proof.space import HIGHEST, LOWEST, UNKNOWN, Cut, Space
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.diagram import Masks

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
                if steps > STEPS_MOST:
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
