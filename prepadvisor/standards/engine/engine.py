"""The compiled standards: what they say of a case, with the rules that decided, and what cannot be."""

import hashlib
import json
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cases import PANEL_KINDS, Facts
from prepadvisor.records import OUTLINES, Decision, Deviation, OutputName, Reason, StandardsUsed
from prepadvisor.standards.engine.asides import Kept, standing
from prepadvisor.standards.engine.conditions import Bitmaps, Box, bits_of, box_of, places_of
from prepadvisor.standards.engine.rules import (
    OUTPUTS,
    Example,
    Impossible,
    Output,
    Promise,
    Rule,
    Setting,
    Withdraw,
)

if TYPE_CHECKING:
    from prepadvisor.standards.engine.sweep import Columns, FactColumn, Sweeper


_REMEMBERED_MAX: Final = 1 << 16
"""Decisions kept at most, so that a long run over many cases keeps its memory flat."""

_Answers = tuple[tuple[Setting | None, ...], tuple[Reason, ...]]


class _Outputs:
    """Outputs answered with one look-up: what every met combination of the rules that set them comes to.

    Grades go together, and so do numbers and words, because the same few rules set them; texts are so many
    that each union stands alone.
    """

    __slots__ = ("_outputs", "_rules", "bits", "known")

    def __init__(self, outputs: Sequence[Output], rules: Sequence[Rule]) -> None:
        self._outputs = outputs
        self._rules = rules
        names = {output.name for output in outputs}
        self.bits = bits_of(
            (place for place, rule in enumerate(rules) if not names.isdisjoint(rule.set)), len(rules)
        )
        self.known: dict[int, _Answers] = {}

    def worked_out(self, met: int) -> _Answers:
        """Combine the rules at the bits of `met`, and keep what they come to in `known`."""
        if len(self.known) >= _REMEMBERED_MAX:
            self.known.clear()
        rules = [self._rules[place] for place in places_of(met)]
        each = [_combined(output, rules) for output in self._outputs]
        answers = self.known[met] = (
            tuple(value for value, _ in each),
            tuple(reason for _, reasons in each for reason in reasons),
        )
        return answers


def _kind(output: Output) -> str:
    return output.name if output.is_union else "grades" if output.is_grade else "numbers and words"


def _combined(output: Output, met: Sequence[Rule]) -> tuple[Setting | None, tuple[Reason, ...]]:
    """Return what the rules that are met come to for one output, and the deciding ones."""
    name = output.name
    rules = [rule for rule in met if name in rule.set]
    value = output.combine([rule.set[name] for rule in rules])
    stated: list[tuple[str | int | float, Rule]]
    if isinstance(value, tuple):
        stated = [(text, rule) for rule in rules for text in _texts(rule.set[name])]
    else:
        stated = [(value, rule) for rule in rules if value is not None and rule.set[name] == value]
    return value, tuple(
        Reason(
            output=name,
            value=said,
            rule=rule.id,
            layer=rule.layer,
            file=rule.file,
            line=rule.line,
            says=rule.says,
            source=rule.source,
        )
        for said, rule in stated
    )


def _texts(value: Setting) -> tuple[str, ...]:
    return value if isinstance(value, tuple) else ()


class Engine:
    """Compiled standards; frozen once built, and the same whatever the order of rules and files.

    Attributes:
        rules: the rules in force, sorted by id.
        set_aside: rules that a house replaced or withdrew, sorted by id.
        kept: rules that stay in force because nobody says what guards instead of their hold.
        withdrawals, promises, impossibles: the other entries, sorted by file and line.
        deviations: rules that a layer above replaced or withdrew, in that layer's words.
        used: name, version, files and deviations, for the foot of a card.
        kinds: panel kinds that the house states itself.
    """

    def __init__(
        self,
        rules: Sequence[Rule],
        impossibles: Sequence[Impossible] = (),
        *,
        examples: Callable[[], Iterable[Example]] = tuple,
        promises: Sequence[Promise] = (),
        withdrawals: Sequence[Withdraw] = (),
        set_aside: Sequence[Rule] = (),
        kept: Sequence[Kept] = (),
        used: StandardsUsed | None = None,
        kinds: Sequence[str] = (),
    ) -> None:
        """Compile checked entries; `layers.build` makes them of rule files."""
        self.rules: Final = tuple(sorted(rules, key=lambda rule: rule.id))
        self.set_aside: Final = tuple(sorted(set_aside, key=lambda rule: rule.id))
        self.impossibles: Final = tuple(
            sorted(impossibles, key=lambda entry: (entry.file, entry.line, entry.because))
        )
        self.promises: Final = tuple(sorted(promises, key=lambda entry: (entry.file, entry.line)))
        self.withdrawals: Final = tuple(sorted(withdrawals, key=lambda entry: (entry.file, entry.line)))
        self.kept: Final = tuple(kept)
        self.used: Final = used or StandardsUsed()
        self.kinds: Final = tuple(kinds)
        for kind in self.kinds:
            PANEL_KINDS.place(kind)
        self._read_examples = examples
        self._below: dict[int, Engine] = {}
        self._bitmaps = Bitmaps([rule.when for rule in self.rules])
        self._cannot_be = Bitmaps([entry.when for entry in self.impossibles])
        self._outputs = tuple(
            _Outputs(tuple(together), self.rules) for _, together in groupby(OUTPUTS.values(), key=_kind)
        )
        self._decided: dict[int, Decision] = {}

    @cached_property
    def examples(self) -> tuple[Example, ...]:
        """The worked examples, by file and line; read when first asked for, which no card does."""
        return tuple(sorted(self._read_examples(), key=lambda entry: (entry.file, entry.line)))

    @property
    def boxes(self) -> list[Box]:
        """The boxes that cut the space of cases: one a rule, and one that names every panel kind there is."""
        boxes = [rule.when for rule in self.rules]
        return [*boxes, box_of({"panel": (*OUTLINES, *self.kinds)})] if self.kinds else boxes

    @property
    def deviations(self) -> tuple[Deviation, ...]:
        """The rules that a layer above replaced or withdrew."""
        return self.used.deviations

    def decide(self, facts: Facts) -> Decision:
        """Return what the rules say of a case, with the deciding rules in `because`.

        A deciding rule is one whose value is the combined value; every rule that holds, cautions or notes is
        one. `because` runs by output, within an output by rule id.

        Raises:
            KeyError: for a value that a fact cannot have.
        """
        meeting = self._bitmaps.meeting(facts)
        decision = self._decided.get(meeting)
        return self._decide(meeting) if decision is None else decision

    def _decide(self, meeting: int) -> Decision:
        values: list[Any] = []
        because: tuple[Reason, ...] = ()
        for outputs in self._outputs:
            met = meeting & outputs.bits
            found, reasons = outputs.known.get(met) or outputs.worked_out(met)
            values += found
            because += reasons
        if len(self._decided) >= _REMEMBERED_MAX:
            self._decided.clear()
        values.append(because)
        decision = Decision._make(values)
        self._decided[meeting] = decision
        return decision

    def meeting(self, facts: Facts) -> tuple[Rule, ...]:
        """Return all rules that the case meets, deciding or not, sorted by id."""
        return tuple(self.rules[place] for place in places_of(self._bitmaps.meeting(facts)))

    def impossible(self, facts: Facts) -> str | None:
        """Return why the case cannot be, None if it can."""
        for place in places_of(self._cannot_be.meeting(facts)):
            return self.impossibles[place].because
        return None

    def sweep(
        self, columns: "Columns", outputs: Sequence[OutputName] = tuple(OUTPUTS)
    ) -> "dict[OutputName, FactColumn]":
        """Decide many cases at once in numpy columns; see `sweep.Sweeper.sweep` for their codes."""
        return self._sweeper.sweep(columns, outputs)

    @cached_property
    def _sweeper(self) -> "Sweeper":
        from prepadvisor.standards.engine.sweep import Sweeper

        return Sweeper(self.rules)

    @property
    def base(self) -> "Engine":
        """The shipped standards alone, as they are without the house: what a base example is true of."""
        return self.up_to(0)

    @property
    def height(self) -> int:
        """The rank of the highest layer that has a rule or a withdrawal; 0 for the base alone."""
        ranks = [rule.rank for rule in (*self.rules, *self.set_aside)]
        return max(ranks + [entry.rank for entry in self.withdrawals], default=0)

    def up_to(self, rank: int) -> "Engine":
        """Return the standards of the layers up to a rank, as they are without those above."""
        known = self._below.get(rank)
        if known is None:
            found = standing(
                [rule for rule in (*self.rules, *self.set_aside) if rule.rank <= rank],
                [entry for entry in self.withdrawals if entry.rank <= rank],
            )
            known = self._below[rank] = Engine(
                found.rules,
                self.impossibles,
                examples=lambda: (entry for entry in self.examples if entry.rank <= rank),
                promises=[entry for entry in self.promises if entry.rank <= rank],
                withdrawals=[entry for entry in self.withdrawals if entry.rank <= rank],
                set_aside=found.aside,
                kept=found.kept,
                used=self._used_up_to(rank),
                kinds=self.kinds,
            )
        return known

    def _used_up_to(self, rank: int) -> StandardsUsed:
        """Return the deviations of the layers up to a rank."""
        everything = [*self.rules, *self.set_aside]
        ranks = {entry.layer: entry.rank for entry in everything} | {
            entry.layer: entry.rank for entry in self.withdrawals
        }
        told = tuple(each for each in self.deviations if ranks.get(each.layer, rank + 1) <= rank)
        return StandardsUsed(deviations=told)

    def without(self, entry: "Rule | Withdraw") -> "Engine":
        """Return the standards as they are without one rule or withdrawal: what it set aside is back."""
        found = standing(
            [rule for rule in (*self.rules, *self.set_aside) if rule is not entry],
            [other for other in self.withdrawals if other is not entry],
        )
        return Engine(found.rules, self.impossibles, set_aside=found.aside, kept=found.kept, kinds=self.kinds)

    @cached_property
    def digest(self) -> str:
        """SHA-256 in hex of all that can change a decision or its reasons; places in files do not count."""
        content = [
            [
                [rule.id, rule.says, rule.when.plain, dict(sorted(rule.set.items())), rule.source]
                for rule in self.rules
            ],
            sorted([entry.because, entry.when.plain] for entry in self.impossibles),
        ]
        return hashlib.sha256(json.dumps(content, ensure_ascii=True).encode()).hexdigest()
