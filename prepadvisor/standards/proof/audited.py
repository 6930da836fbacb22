"""The standards as an audit sees them: the space cut by rules, and the rules in order of strength.

Their space of cases, the rules by output, and boxes to tell a region by.
"""

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from math import inf
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.records import GRADES, OutputName
from prepadvisor.standards.engine import BASE, OUTPUTS, Engine, Rule, Setting
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.space import Space
from prepadvisor.standards.proof.told import BoxFinder
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.cases import Value
    from prepadvisor.standards.proof.covers import Covers
    from prepadvisor.standards.proof.diagram import Diagrams, Masks

# The rules of one output in order of strength: the first one that a case meets decides it.


class Ranking:
    """Rules that set one output, strongest first and among equals by id, each with its box and strength."""

    def __init__(
        self,
        space: Space,
        output: OutputName,
        rules: Iterable[Rule],
        outside: Sequence["Masks"] | None = None,
        held: Sequence["Masks"] = (),
        supports: Sequence["Masks"] = (),
    ) -> None:
        """Sort those of the rules that set the output.

        Args:
            space: the axes.
            output: its name.
            rules: all rules.
            outside: boxes of the cases that do not count, such as `World.outside(output)`; without it the
                impossible ones.
            held: boxes of cases that do not count either, but are told apart, such as `World.held`.
            supports: boxes of which one must hold a case that counts, such as `World.supports`.
        """
        free = space.cannot_be_boxes if outside is None else outside
        self.outside: Final = (*free, *held)
        self._free: Final = len(free)
        self.supports: Final = tuple(supports)
        strength = OUTPUTS[output].strength
        self.output: Final = output
        self.rules: Final = sorted(
            (rule for rule in rules if output in rule.set),
            key=lambda rule: (-strength(rule.set[output]), rule.id),
        )
        self.boxes: Final[list[Masks]] = [space.masks(rule.when) for rule in self.rules]
        self.strengths: Final = [float(strength(rule.set[output])) for rule in self.rules]
        self._falling: Final = [-strength for strength in self.strengths]
        self._space: Final = space
        self._covers: Covers | None = None
        self._decided: dict[int, tuple[int, ...] | None] = {}
        self._alone: dict[int, tuple[int, ...] | None] = {}

    @property
    def everyone(self) -> int:
        """All rules, as a bitmap in which bit n stands for the n-th."""
        return (1 << len(self.rules)) - 1

    @property
    def covers(self) -> "Covers":
        """The rules' boxes followed by those of the cases that do not count."""
        if self._covers is None:
            self._covers = self._space.covers(self.boxes, self.outside, self.supports)
        return self._covers

    @property
    def cannot_be(self) -> int:
        """The boxes of the cases that do not count, as bits of `covers`."""
        return ((1 << len(self.outside)) - 1) << len(self.rules)

    @property
    def free(self) -> int:
        """Those of them that a box told to a person may run into: nobody ever meets such a case."""
        return ((1 << self._free) - 1) << len(self.rules)

    def ahead(self, place: int) -> int:
        """Return the rules that decide before the one at a place."""
        return (1 << place) - 1

    def at_least(self, strength: float) -> int:
        """Return the rules of at least a strength."""
        return (1 << bisect_right(self._falling, -strength)) - 1

    def case_decided(self, place: int) -> tuple[int, ...] | None:
        """Return a case that counts and that the rule at a place decides, None if it decides nowhere."""
        if place not in self._decided:
            among = self.ahead(place) | self.cannot_be
            self._decided[place] = Outside(self.covers, self.boxes[place], among).case()
        return self._decided[place]

    def case_alone(self, place: int) -> tuple[int, ...] | None:
        """Return a case that counts and in which no other rule is as strong as the one at a place."""
        if place not in self._alone:
            rivals = self.at_least(self.strengths[place]) ^ 1 << place
            among = rivals | self.cannot_be
            found = self.case_decided(place)
            if found is not None and rivals != self.ahead(place):
                found = Outside(self.covers, self.boxes[place], among).case()
            self._alone[place] = found
        return self._alone[place]

    def decider(self, case: tuple[int, ...]) -> int | None:
        """Return the place of the rule that decides a case, None if no rule is met."""
        holding = self.covers.holding_case(case) & self.everyone
        return (holding & -holding).bit_length() - 1 if holding else None


# The strength of an answer as a number, back to the answer, and which of two answers is the laxer one.

NO_BOUND: Final = -inf
"""The strength of an output that no rule sets and that has no start value."""


def unset_strength(output: OutputName) -> float:
    """Return the strength of an output that no rule sets."""
    unset = OUTPUTS[output].unset
    return NO_BOUND if unset is None else float(OUTPUTS[output].strength(unset))


def setting_of(output: OutputName, strength: float) -> Setting | None:
    """Return the value that has this strength, None for no bound."""
    if strength == NO_BOUND:
        return None
    known = OUTPUTS[output]
    match known.kind:
        case "grade finest":
            return GRADES[int(strength)]
        case "grade coarsest":
            return GRADES[int(-strength)]
        case "number lowest":
            return int(-strength) if known.whole else -strength
        case "number highest":
            return int(strength) if known.whole else strength
        case _:
            return known.words[int(strength)]


def fineness(output: OutputName, strength: float) -> float:
    """Return how fine the grade of a strength is; no bound is coarser than any grade."""
    return -strength if OUTPUTS[output].kind == "grade coarsest" and strength != NO_BOUND else strength


def told(output: OutputName, strength: float) -> str:
    """Return an answer in words, such as "P800", "2 coats" or "no bound"."""
    return told_setting(output, setting_of(output, strength))


def told_setting(output: OutputName, setting: Setting | str | None) -> str:
    """Return an answer in words, None being "no bound"."""
    if setting is None:
        return "no bound"
    text = f"{setting:g}" if isinstance(setting, float) else str(setting)
    unit = OUTPUTS[output].unit
    return f"{text} {'coat' if unit == 'coats' and setting == 1 else unit}".rstrip()


class RegionPart(NamedTuple):
    """A box of a region: its masks, the facts it limits, and how many cases of the region lie in it."""

    masks: "Masks"
    limits: Mapping[str, list["Value"]]
    cases: int


class Audited:
    """Compiled standards with their space of cases."""

    def __init__(self, engine: Engine) -> None:
        """Cut the space by every rule, promise and impossible box of the standards."""
        self.engine: Final = engine
        boxes = engine.boxes
        boxes += [promise.where for promise in engine.promises]
        self.space: Final = Space(boxes, [entry.when for entry in engine.impossibles])
        self.not_judged: Final[set[str]] = set()
        self._rankings: dict[str, Ranking] = {}
        self._of_possible: dict[str, Ranking] = {}
        self._of_texts: dict[tuple[str, str], Covers] = {}

    @property
    def diagrams(self) -> "Diagrams":
        """The store of all diagrams."""
        return self.space.diagrams

    def masks(self, rule: Rule) -> "Masks":
        """Return a rule's box as sets of value numbers."""
        return self.space.masks(rule.when)

    def ranking(self, output: OutputName) -> Ranking:
        """Return the rules of an output that is not a union, strongest first, over the cases that read it."""
        known = self._rankings.get(output)
        if known is None:
            outside, held = self.world.outside(output), self.world.held
            known = Ranking(
                self.space,
                output,
                self.engine.rules,
                outside=outside,
                held=held,
                supports=self.world.supports,
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
                for text in setting if isinstance(setting, tuple) else ():
                    found.setdefault((output, text), []).append(rule)
        return found

    def covers_of_text(self, output: str, text: str) -> "Covers":
        """Return the boxes of the rules with a text, in their order, and nothing else."""
        known = self._of_texts.get((output, text))
        if known is None:
            boxes = [self.masks(rule) for rule in self.texts[output, text]]
            known = self._of_texts[output, text] = self.space.index(boxes)
        return known

    @cached_property
    def finder(self) -> BoxFinder:
        """Finds large boxes in a region of living cases; those nobody meets may be covered too."""
        free = self.diagrams.minus(self.diagrams.yes, self.world.judged)
        return BoxFinder(self.diagrams, free, self.space.axes.numbers)

    def parts(self, region: int, most: int) -> tuple[list[RegionPart], int]:
        """Return at most `most` large boxes of a region, and how many of its cases lie in none of them."""
        boxes, rest = self.finder.take(region, most)
        return [self.part(region, masks) for masks in boxes], self.diagrams.count(rest)

    def part(self, region: int, masks: "Masks") -> RegionPart:
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
