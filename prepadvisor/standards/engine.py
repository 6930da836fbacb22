"""The compiled standards: what they say of a case, with the rules that decided, and what cannot be."""

import hashlib
import json
from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Final

from prepadvisor.records.advice import Deviation, StandardsUsed
from prepadvisor.records.decision import Decision, Reason
from prepadvisor.records.facts import Facts
from prepadvisor.standards.bitmaps import Bitmaps, bits_of, places_of
from prepadvisor.standards.outputs import OUTPUTS, Output, Setting
from prepadvisor.standards.rules import BASE, Example, Impossible, Promise, Rule, Withdraw

if TYPE_CHECKING:
    from prepadvisor.standards.sweep import Column, Columns, Sweeper

_REMEMBERED_MAX: Final = 1 << 16
"""Decisions kept at most, so that a long run over many cases keeps its memory flat."""

_Answer = tuple[Setting | None, tuple[Reason, ...]]


class _OneOutput:
    """The rules that set one output, and what every met combination of them comes to."""

    __slots__ = ("_known", "_output", "_rules", "bits")

    def __init__(self, output: Output, rules: Sequence[Rule]) -> None:
        self._output = output
        self._rules = rules
        self.bits = bits_of(
            (place for place, rule in enumerate(rules) if output.name in rule.set), len(rules)
        )
        self._known: dict[int, _Answer] = {}

    def answer(self, meeting: int) -> _Answer:
        met = meeting & self.bits
        known = self._known.get(met)
        if known is None:
            if len(self._known) >= _REMEMBERED_MAX:
                self._known.clear()
            known = self._known[met] = self._combined([self._rules[place] for place in places_of(met)])
        return known

    def _combined(self, rules: Sequence[Rule]) -> _Answer:
        name = self._output.name
        value = self._output.combine([rule.set[name] for rule in rules])
        stated: list[tuple[str | int | float, Rule]]
        if isinstance(value, tuple):
            stated = [(text, rule) for rule in rules for text in _texts(rule.set[name])]
        else:
            stated = [(value, rule) for rule in rules if value is not None and rule.set[name] == value]
        return value, tuple(
            Reason(name, said, rule.id, rule.layer, rule.file, rule.line, rule.says, rule.source)
            for said, rule in stated
        )


def _texts(value: Setting) -> tuple[str, ...]:
    return value if isinstance(value, tuple) else ()


class Engine:
    """Compiled standards; frozen once built, and the same whatever the order of rules and files.

    Attributes:
        rules: the rules in force, sorted by id.
        set_aside: rules that a house replaced or withdrew, sorted by id.
        withdrawals, examples, promises, impossibles: the other entries, sorted by file and line.
        deviations: base rules that the house replaced or withdrew, in the house's words.
        used: name, version, files and deviations, for the foot of a card.
    """

    def __init__(
        self,
        rules: Sequence[Rule],
        impossibles: Sequence[Impossible] = (),
        *,
        examples: Sequence[Example] = (),
        promises: Sequence[Promise] = (),
        withdrawals: Sequence[Withdraw] = (),
        set_aside: Sequence[Rule] = (),
        used: StandardsUsed | None = None,
    ) -> None:
        """Compile checked entries; `layers.build` makes them of rule files."""
        self.rules: Final = tuple(sorted(rules, key=lambda rule: rule.id))
        self.set_aside: Final = tuple(sorted(set_aside, key=lambda rule: rule.id))
        self.impossibles: Final = tuple(
            sorted(impossibles, key=lambda entry: (entry.file, entry.line, entry.because))
        )
        self.examples: Final = tuple(sorted(examples, key=lambda entry: (entry.file, entry.line)))
        self.promises: Final = tuple(sorted(promises, key=lambda entry: (entry.file, entry.line)))
        self.withdrawals: Final = tuple(sorted(withdrawals, key=lambda entry: (entry.file, entry.line)))
        self.used: Final = used or StandardsUsed()
        self._bitmaps = Bitmaps([rule.when for rule in self.rules])
        self._cannot_be = Bitmaps([entry.when for entry in self.impossibles])
        self._outputs = tuple(_OneOutput(output, self.rules) for output in OUTPUTS.values())
        self._decided: dict[int, Decision] = {}

    @property
    def deviations(self) -> tuple[Deviation, ...]:
        """The base rules that the house replaced or withdrew."""
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
        answers = [output.answer(meeting) for output in self._outputs]
        because = tuple(reason for _, reasons in answers for reason in reasons)
        if len(self._decided) >= _REMEMBERED_MAX:
            self._decided.clear()
        decision = Decision._make([*(value for value, _ in answers), because])
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

    def sweep(self, columns: "Columns", outputs: Sequence[str] = tuple(OUTPUTS)) -> "dict[str, Column]":
        """Decide many cases at once in numpy columns; see `sweep.Sweeper.sweep` for their codes."""
        return self._sweeper.sweep(columns, outputs)

    @cached_property
    def _sweeper(self) -> "Sweeper":
        from prepadvisor.standards.sweep import Sweeper

        return Sweeper(self.rules)

    @cached_property
    def base(self) -> "Engine":
        """The shipped standards alone, as they are without the house: what a base example is true of."""
        return Engine(
            [rule for rule in (*self.rules, *self.set_aside) if rule.layer == BASE],
            self.impossibles,
            examples=[entry for entry in self.examples if entry.layer == BASE],
            promises=[entry for entry in self.promises if entry.layer == BASE],
        )

    @cached_property
    def digest(self) -> str:
        """SHA-256 in hex of all that can change a decision or its reasons; places in files do not count."""
        content = [
            [
                [rule.id, rule.says, rule.when, dict(sorted(rule.set.items())), rule.source]
                for rule in self.rules
            ],
            sorted([entry.because, entry.when] for entry in self.impossibles),
        ]
        return hashlib.sha256(json.dumps(content, ensure_ascii=True).encode()).hexdigest()
