"""The rules of one output in order of strength: the first one that a case meets decides it."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from typing import Final

from prepadvisor.records.decision import OutputName
from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import Space


class Ranking:
    """Rules that set one output, strongest first and among equals by id, each with its box and strength."""

    def __init__(
        self,
        space: Space,
        output: OutputName,
        rules: Iterable[Rule],
        outside: Sequence[Masks] | None = None,
        held: Sequence[Masks] = (),
        supports: Sequence[Masks] = (),
    ) -> None:
        """Sort those of the rules that set the output.

        Args:
            space: the axes.
            output: its name.
            rules: all rules.
            outside: boxes of the cases that do not count, such as `World.outside(output)`; without it the
                impossible ones.
            held: boxes of cases that do not count either, but are told apart, such as `World.held(output)`.
            supports: boxes of which one must hold a case that counts, such as `World.supports(output)`.
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
    def covers(self) -> Covers:
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
        for place, box in enumerate(self.boxes):
            if all(mask >> value & 1 for mask, value in zip(box, case, strict=True)):
                return place
        return None
