"""Where a card is laxer than a layer below asks, and by whom: rules that were replaced or withdrawn."""

from collections.abc import Iterator
from functools import cached_property
from typing import Final

from prepadvisor.cases.facts import Facts
from prepadvisor.records.advice import Deviation, Laxer
from prepadvisor.records.decision import Decision
from prepadvisor.standards.bitmaps import Bitmaps, places_of
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import Rule

_WORDS: Final = frozenset({"cautions", "notes"})
"""Texts that ask for nothing: a withdrawn one is not to be printed after all."""


class Loosened:
    """The rules of an engine that some layer above set aside, ready to be held against decisions."""

    def __init__(self, engine: Engine) -> None:
        """Take the rules that stand in the engine's deviations."""
        self._by: Final[dict[str, Deviation]] = {each.rule: each for each in engine.deviations}
        self._rules: Final = [rule for rule in engine.set_aside if rule.id in self._by]

    @cached_property
    def _bitmaps(self) -> Bitmaps:
        return Bitmaps([rule.when for rule in self._rules])

    def laxer(self, facts: Facts, decision: Decision) -> tuple[Laxer, ...]:
        """Return each answer to a case that a rule set aside would tighten, the strictest per output."""
        if not self._rules:
            return ()
        strictest: dict[str, Laxer] = {}
        for place in places_of(self._bitmaps.meeting(facts)):
            for found in self._against(self._rules[place], decision):
                known = strictest.get(found.output)
                if OUTPUTS[found.output].is_union or known is None or _stricter(found, known):
                    strictest[found.output if not OUTPUTS[found.output].is_union else str(found)] = found
        return tuple(strictest.values())

    def _against(self, rule: Rule, decision: Decision) -> Iterator[Laxer]:
        by = self._by[rule.id]
        for name, before in rule.set.items():
            output, after = OUTPUTS[name], getattr(decision, name)
            if name in _WORDS:
                continue
            if isinstance(before, tuple):
                for text in before:
                    if text not in after:
                        yield Laxer(
                            output=name, before=text, after=None, rule=rule.id, by=by.by, layer=by.layer
                        )
            elif after is None or output.strength(before) > output.strength(after):
                yield Laxer(output=name, before=before, after=after, rule=rule.id, by=by.by, layer=by.layer)


def _stricter(one: Laxer, other: Laxer) -> bool:
    strength = OUTPUTS[one.output].strength
    return strength(one.before) > strength(other.before)
