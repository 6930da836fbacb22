"""The standards as an audit sees them.

Their space of cases, the rules by output, and boxes to tell a region by.
"""

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Final

from prepadvisor.cases.fact import Value
from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.boxes import BoxFinder
from prepadvisor.standards.diagram import Diagrams, Masks
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.standards.space import Space
from prepadvisor.standards.world import World


class RegionPart(NamedTuple):
    """A box of a region: its masks, the facts it limits, and how many cases of the region lie in it."""

    masks: Masks
    limits: Mapping[str, list[Value]]
    cases: int


class Audited:
    """Compiled standards with their space of cases."""

    def __init__(self, engine: Engine) -> None:
        """Cut the space by every rule, promise and impossible box of the standards."""
        self.engine: Final = engine
        boxes = engine.boxes
        boxes += [promise.where for promise in engine.promises]
        self.space: Final = Space(boxes, [entry.when for entry in engine.impossibles])
        self._rankings: dict[str, Ranking] = {}
        self._of_possible: dict[str, Ranking] = {}

    @property
    def diagrams(self) -> Diagrams:
        """The store of all diagrams."""
        return self.space.diagrams

    def masks(self, rule: Rule) -> Masks:
        """Return a rule's box as sets of value numbers."""
        return self.space.masks(rule.when)

    def ranking(self, output: OutputName) -> Ranking:
        """Return the rules of an output that is not a union, strongest first, over the cases that read it."""
        known = self._rankings.get(output)
        if known is None:
            outside, held = self.world.outside(output), self.world.held(output)
            known = Ranking(
                self.space,
                output,
                self.engine.rules,
                outside=outside,
                held=held,
                supports=self.world.supports(output),
            )
            self._rankings[output] = known
        return known

    def ranking_of_possible(self, output: OutputName) -> Ranking:
        """Return the same over every possible case."""
        known = self._of_possible.get(output)
        if known is None:
            known = self._of_possible[output] = Ranking(self.space, output, self.engine.rules)
        return known

    @cached_property
    def world(self) -> World:
        """The cases that a card can meet under these standards."""
        return World(self.space, self.engine.rules)

    @cached_property
    def texts(self) -> dict[tuple[str, str], list[Rule]]:
        """Every text of a union output, as (output, text), with the rules that add it."""
        found: dict[tuple[str, str], list[Rule]] = {}
        for rule in self.engine.rules:
            for output, setting in rule.set.items():
                if OUTPUTS[output].is_union and isinstance(setting, tuple):
                    for text in setting:
                        found.setdefault((output, text), []).append(rule)
        return found

    @cached_property
    def finder(self) -> BoxFinder:
        """Finds large boxes in a region of living cases; those nobody meets may be covered too."""
        free = self.diagrams.minus(self.diagrams.yes, self.world.judged)
        return BoxFinder(self.diagrams, free, self.space.axes.numbers)

    def parts(self, region: int, most: int) -> tuple[list[RegionPart], int]:
        """Return at most `most` large boxes of a region, and how many of its cases lie in none of them."""
        boxes, rest = self.finder.take(region, most)
        return [self.part(region, masks) for masks in boxes], self.diagrams.count(rest)

    def part(self, region: int, masks: Masks) -> RegionPart:
        """Return a box of a region."""
        inside = self.diagrams.both(region, self.diagrams.box(masks))
        return RegionPart(masks, self.space.axes.limits(masks), self.diagrams.count(inside))


def place_of(rules: Iterable[Rule]) -> tuple[str, int]:
    """Return file and line of the rule to begin mending at.

    The first of the house's, else of the base's.
    """
    first = min(rules, key=lambda rule: (rule.layer == BASE, rule.file, rule.line))
    return first.file, first.line


_NAMED_MOST: Final = 8


def named(rules: Iterable[Rule]) -> str:
    """Return rules in words, each with its place: "a" (ours.toml:12) and "b" (rules/base/fade.toml:30)."""
    rules = list(rules)
    words = [f'"{rule.id}" ({rule.file}:{rule.line})' for rule in rules[:_NAMED_MOST]]
    if len(rules) > _NAMED_MOST:
        words.append(f"{len(rules) - _NAMED_MOST} more")
    return " and ".join(words)
