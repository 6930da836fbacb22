"""Many cases at once: the standards as lookup tables over numpy columns.

For every output the facts that its rules ask about are cut into classes that no rule tells apart. One table
over those classes holds the combined value; a row's answer is one look into it. Where a table would be too
large, the rules are laid over the rows one after another, the weakest first.
"""

from collections.abc import Mapping, Sequence
from math import prod
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from prepadvisor.cases import (
    CATEGORIES,
    CATEGORY,
    FACT,
    FACTS,
    NUMBER,
    NUMBERS,
    ORDER,
    TABLE,
    Category,
    Facts,
)
from prepadvisor.records import RANK, OutputName, is_grade
from prepadvisor.standards.engine.conditions import Box, NumberCuts, bits_of
from prepadvisor.standards.engine.rules import OUTPUTS, Output, Rule, Setting

FactColumn = NDArray[np.generic]
Columns = Mapping[str, FactColumn]
"""Fact to its column. A category is given as integer codes, the place of a value in its domain; a number as
floats, nan where it is unknown. A fact that is left out has the start value of `Facts` in every row."""

Codes = NDArray[np.intp]
Bools = NDArray[np.bool_]

_CELLS_MAX: Final = 1 << 21
_ROWS_AT_ONCE: Final = 1 << 14

_GROUP_MAX: Final = 512
"""A group of facts has at most so many joined codes."""


def _groups() -> tuple[tuple[int, ...], ...]:
    """Put facts that an audit asks one after another into groups, each number into one of its own."""
    groups: list[list[Category]] = [[]]
    for fact in (CATEGORIES[CATEGORY[name]] for name in ORDER if name in CATEGORY):
        if prod(len(each.values) for each in (*groups[-1], fact)) > _GROUP_MAX:
            groups.append([])
        groups[-1].append(fact)
    return (*(tuple(fact.at for fact in group) for group in groups), *((number.at,) for number in NUMBERS))


_GROUPS: Final = _groups()
"""Facts whose codes are joined into one, so that a row costs a table fewer looks; all steps stay in cache."""


class _Table(NamedTuple):
    """The combined values, flat; a row's place in `cells` is the sum of its steps, one per group asked."""

    steps: dict[int, Codes]
    cells: FactColumn
    key: bytes


def code(output: Output, value: Setting | None) -> float:
    """Return the number that stands for a value in an output's column.

    A grade is its rank in `GRADES` (-1 for none), a word its place in `output.words`, a number itself
    (nan for none), and a union whether there is any text.
    """
    if output.is_union:
        return bool(value)
    if value is None:
        return float("nan") if output.is_number else -1
    if is_grade(value):
        return RANK[value]
    return float(value) if isinstance(value, int | float) else output.strength(value)


class Sweeper:
    """The rules of one engine, ready to decide columns of cases."""

    def __init__(self, rules: Sequence[Rule]) -> None:
        """Cut the number facts; an output's table is made when it is first asked for."""
        self._cuts: Final = [
            NumberCuts([rule.when.ranges[fact] for rule in rules]) for fact in range(len(NUMBERS))
        ]
        self._sizes: Final = {  # of an open fact one more, for all that was named since: no rule names it
            fact.at: len(fact.values) + fact.is_open for fact in CATEGORIES
        }
        self._tables: Final[dict[OutputName, _Table | None]] = {}
        self._rules: Final[dict[OutputName, list[Rule]]] = {
            name: [rule for rule in rules if name in rule.set] for name in OUTPUTS
        }
        for name, output in OUTPUTS.items():
            if not output.is_union:
                self._rules[name].sort(key=lambda rule, of=output: of.strength(rule.set[of.name]))  # type: ignore[misc]

    def sweep(
        self, columns: Columns, outputs: Sequence[OutputName] = tuple(OUTPUTS)
    ) -> dict[OutputName, FactColumn]:
        """Decide all rows.

        Args:
            columns: one column per fact, all of the same length n.
            outputs: the names of the outputs wanted.

        Returns:
            One column of length n per output, coded as `code` says.

        Raises:
            KeyError: for a fact or an output that does not exist.
            ValueError: for columns of different lengths, or a code that its fact does not have.
        """
        rows = _rows(columns)
        codes = [self._codes(fact, columns.get(fact)) for fact in FACTS]
        answers: dict[OutputName, FactColumn] = {name: _unset(OUTPUTS[name], rows) for name in outputs}
        for start in range(0, rows, _ROWS_AT_ONCE):
            part = slice(start, start + _ROWS_AT_ONCE)
            chunk = [column[part] if column.ndim else column for column in codes]
            joined = [self._joined(group, chunk) for group in _GROUPS]
            places: dict[bytes, Codes] = {}
            for name in outputs:
                table = self._table(OUTPUTS[name])
                if table is None:
                    self._lay_over(OUTPUTS[name], chunk, answers[name][part])
                else:
                    if table.key not in places:
                        places[table.key] = _place(table, joined)
                    answers[name][part] = np.take(table.cells, places[table.key])
        return answers

    def _size(self, fact: int) -> int:
        """Return how many codes a category has."""
        return self._sizes[fact]

    def _joined(self, group: Sequence[int], chunk: Sequence[Codes]) -> Codes:
        """Return one code for all facts of a group."""
        code_ = chunk[group[0]]
        for fact in group[1:]:
            code_ = code_ * self._size(fact) + chunk[fact]
        return code_

    def _codes(self, fact: str, column: FactColumn | None) -> Codes:
        """Return the place of each row's value in the fact's domain, or of its piece of the number line."""
        known = FACT[fact]
        if isinstance(known, Category):
            values = known.values
            start: object = Facts._field_defaults[fact]
            codes = np.asarray(values.index(start) if column is None else column)
            if codes.size and (
                codes.dtype.kind not in "iub" or codes.min() < 0 or codes.max() >= len(values)
            ):
                raise ValueError(f"{fact} takes whole codes from 0 to {len(values) - 1}")
            if known.is_open:
                codes = np.minimum(codes, self._sizes[known.at] - 1)
            return codes.astype(np.intp, copy=False)
        cuts = self._cuts[NUMBER[fact]]
        numbers = np.asarray(np.nan if column is None else column, np.float64)
        points = np.asarray(cuts.points)
        pieces = np.searchsorted(points, numbers, "left") + np.searchsorted(points, numbers, "right")
        return np.where(np.isnan(numbers), len(cuts.pieces), pieces)

    def _members(self, fact: int, boxes: Sequence[Box]) -> list[int]:
        """Return, per code of a fact, the bits of the boxes that hold there."""
        known = TABLE[fact]
        if isinstance(known, Category):
            masks = [box.masks[CATEGORY[known.name]] for box in boxes]
            return [
                bits_of((place for place, mask in enumerate(masks) if mask >> bit & 1), len(boxes))
                for bit in range(self._sizes[fact])
            ]
        ranges = [box.ranges[NUMBER[known.name]] for box in boxes]
        unknown = bits_of(
            (place for place, limit in enumerate(ranges) if limit is None or limit.unknown), len(ranges)
        )
        return [*self._cuts[NUMBER[known.name]].bits_along(ranges), unknown]

    def _table(self, output: Output) -> _Table | None:
        """Return the output's table, None if it would be too large."""
        if output.name not in self._tables:
            self._tables[output.name] = self._made_table(output)
        return self._tables[output.name]

    def _made_table(self, output: Output) -> _Table | None:
        rules = self._rules[output.name]
        boxes = [rule.when for rule in rules]
        asked = [place for place, fact in enumerate(FACTS) if any(fact in box.asked for box in boxes)]
        members = [self._members(fact, boxes) for fact in asked]
        classes = [list(dict.fromkeys(bits)) for bits in members]
        shape = [len(bits) for bits in classes]
        if prod(shape) > _CELLS_MAX:
            return None
        cells = _unset(output, prod(shape)).reshape(shape)
        for place, rule in enumerate(rules):
            inside = [np.array([bits >> place & 1 for bits in axis], np.bool_) for axis in classes]
            cells[np.ix_(*inside) if inside else ()] = code(output, rule.set[output.name])
        strides = [prod(shape[axis + 1 :]) for axis in range(len(shape))]
        by_fact = {
            fact: np.array([axis.index(bits) * stride for bits in values], np.intp)
            for fact, values, axis, stride in zip(asked, members, classes, strides, strict=True)
        }
        steps = {
            place: self._joined_steps(group, by_fact)
            for place, group in enumerate(_GROUPS)
            if not by_fact.keys().isdisjoint(group)
        }
        key = repr([(place, step.tolist()) for place, step in steps.items()]).encode()
        return _Table(steps, cells.reshape(-1), key)

    def _joined_steps(self, group: Sequence[int], by_fact: Mapping[int, Codes]) -> Codes:
        """Return the summed step for each joined code of a group."""
        total = np.zeros(1, np.intp)
        for fact in group:
            step = by_fact[fact] if fact in by_fact else np.zeros(self._size(fact), np.intp)
            total = np.add.outer(total, step).reshape(-1)
        return total

    def _lay_over(self, output: Output, chunk: Sequence[Codes], answers: FactColumn) -> None:
        """Write the rules' values over the rows that meet them, the weakest rule first."""
        rows = answers.shape[0]
        for rule in self._rules[output.name]:
            met: Bools = np.ones(rows, np.bool_)
            for name in rule.when.asked:
                met &= self._meets(FACTS.index(name), rule.when, chunk)
                if not met.any():
                    break
            else:
                answers[met] = code(output, rule.set[output.name])

    def _meets(self, fact: int, box: Box, chunk: Sequence[Codes]) -> Bools:
        """Say row by row whether one condition is met."""
        codes, known = chunk[fact], TABLE[fact]
        if isinstance(known, Category):
            mask = box.masks[CATEGORY[known.name]]
            return np.array([mask >> bit & 1 for bit in range(self._sizes[fact])], np.bool_)[codes]
        limit = box.ranges[NUMBER[known.name]]
        if limit is None:
            return np.ones(codes.shape, np.bool_)
        first, last = self._cuts[NUMBER[known.name]].span(limit)
        met: Bools = (codes >= first) & (codes <= last)
        return met | (codes == len(self._cuts[NUMBER[known.name]].pieces)) if limit.unknown else met


def _rows(columns: Columns) -> int:
    unknown = columns.keys() - set(FACTS)
    if unknown:
        raise KeyError(f"no fact is called {', '.join(sorted(unknown))}")
    lengths = {column.shape[0] for column in columns.values()}
    if len(lengths) > 1:
        raise ValueError(f"columns of different lengths: {sorted(lengths)}")
    return lengths.pop() if lengths else 1


def _unset(output: Output, rows: int) -> FactColumn:
    kind = np.float64 if output.is_number else np.bool_ if output.is_union else np.int8
    return np.full(rows, code(output, output.unset), kind)


def _place(table: _Table, joined: Sequence[Codes]) -> Codes:
    place: Codes = np.zeros((), np.intp)
    for group, step in table.steps.items():
        place = place + np.take(step, joined[group])
    return place
