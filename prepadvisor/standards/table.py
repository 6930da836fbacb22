"""The decisions of standards as a table: rows that share no case, each a box with all its answers."""

from collections.abc import Iterator
from math import inf, nextafter
from typing import Final

from prepadvisor.cases.facts import FACTS, NUMBER, ORDER
from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.answers import Answer, Answers, side_by_side
from prepadvisor.standards.axes import HIGHEST, LOWEST, UNKNOWN, Cut
from prepadvisor.standards.conditions import Box
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.space import Space
from prepadvisor.standards.world import World

CellValue = str | float | None
"""A cell: text, a number, or None for an empty one."""

_HELD: Final = "holds"


class BoxRow(NamedTuple):
    """A box of cases that are answered alike; `answers` by output, None where nobody reads that output."""

    masks: Masks
    answers: dict[str, Answer]


def columns() -> tuple[str, ...]:
    """Return the names of the table's columns: the facts, then each output and its rules."""
    facts: list[str] = []
    for fact in FACTS:
        facts += [f"{fact}_from", f"{fact}_below", f"{fact}_unknown"] if fact in NUMBER else [fact]
    return (*facts, *(name for output in OUTPUTS for name in (output, f"{output}_rule")))


class Table:
    """The rows of one house, made one after another; memory does not grow with their number."""

    def __init__(self, engine: Engine, where: Box | None = None) -> None:
        """Prepare the rows of all cases a card can meet, or of those in a box."""
        boxes = [*engine.boxes, *([] if where is None else [where])]
        self._space: Final = Space(boxes, [entry.when for entry in engine.impossibles])
        self._world: Final = World(self._space, engine.rules)
        self._answers = Answers(self._space, engine.rules)
        self._inside = self._space.diagrams.yes
        if where is not None:
            self._inside = self._space.diagrams.box(self._space.masks(where))

    def rows(self) -> Iterator[BoxRow]:
        """Yield the rows: those that nothing holds with all their answers, then the held ones."""
        both = self._space.diagrams.both
        answers = self._answers
        read: dict[OutputName, int] = {
            name: answers.only_in(name, self._world.read(name)) for name in OUTPUTS if name != _HELD
        }
        yield from self._walk(both(self._world.living, self._inside), read)
        held = self._space.diagrams.minus(self._world.judged, self._world.living)
        yield from self._walk(both(held, self._inside), {_HELD: answers.of(_HELD)})

    def _walk(self, region: int, nodes: dict[OutputName, int]) -> Iterator[BoxRow]:
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
