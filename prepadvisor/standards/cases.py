"""What rules say in every case at once: one decision diagram an output, and the cases that can be."""

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Final

from prepadvisor.standards.axes import Axes
from prepadvisor.standards.conditions import Box
from prepadvisor.standards.diagram import Diagrams, Masks
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.strengths import unset_strength
from prepadvisor.standards.strongest import Ranked, Strongest, union

IMPOSSIBLE: Final = "impossible"
"""The leaf of a case that cannot be."""


class Space:
    """Axes cut for some boxes, the store of diagrams over them, and the region of the cases that can be."""

    def __init__(self, boxes: Iterable[Box], impossible: Sequence[Box]) -> None:
        """Cut the axes by all boxes; the impossible ones are left out of `possible`."""
        self.axes: Final = Axes([*boxes, *impossible])
        self.diagrams: Final = Diagrams(self.axes.sizes)
        self._masks: dict[Box, Masks] = {}
        self.cannot_be: Final = union(self.diagrams, map(self.masks, impossible))
        self.possible: Final = self.diagrams.minus(self.diagrams.yes, self.cannot_be)

    def masks(self, box: Box) -> Masks:
        """Return a box as sets of value numbers."""
        known = self._masks.get(box)
        if known is None:
            known = self._masks[box] = self.axes.masks(box)
        return known

    def region(self, box: Box) -> int:
        """Return the region of the possible cases in a box."""
        return self.diagrams.both(self.diagrams.box(self.masks(box)), self.possible)


class Cases:
    """The outputs of a list of rules in every case of a space."""

    def __init__(self, space: Space, rules: Sequence[Rule]) -> None:
        """Keep the rules; diagrams are made when asked for."""
        self.space: Final = space
        self.rules: Final = tuple(rules)
        self.setting: Final[dict[str, list[Rule]]] = {output: [] for output in OUTPUTS}
        for rule in rules:
            for output in rule.set:
                self.setting[output].append(rule)
        self.strongest: Final = cache(self._strongest)
        self.strength: Final = cache(self._strength)
        self.texts: Final = cache(self._texts)

    def _strongest(self, output: str) -> Strongest:
        """Return the rules that set an output that is not a union, ranked by strength."""
        strength = OUTPUTS[output].strength
        return Strongest(
            self.space.diagrams,
            [
                Ranked(self.space.masks(rule.when), float(strength(rule.set[output])))
                for rule in self.setting[output]
            ],
        )

    def _strength(self, output: str) -> int:
        """Return the diagram of an output's strength; its unset strength where no rule is met."""
        everywhere = self.strongest(output).diagram(unset_strength(output))
        return self.space.diagrams.pair(
            lambda strength, can_be: strength if can_be else IMPOSSIBLE, everywhere, self.space.possible
        )

    def _texts(self, output: str) -> dict[str, list[Rule]]:
        """Return the texts of a union output, each with the rules that add it."""
        found: dict[str, list[Rule]] = {}
        for rule in self.setting[output]:
            for text in texts_of(rule.set[output]):
                found.setdefault(text, []).append(rule)
        return found

    def where(self, rules: Iterable[Rule]) -> int:
        """Return the region of the possible cases that at least one of the rules meets."""
        diagrams = self.space.diagrams
        return diagrams.both(
            union(diagrams, (self.space.masks(rule.when) for rule in rules)), self.space.possible
        )


def texts_of(setting: Setting) -> tuple[str, ...]:
    """Return the texts of a union output's value."""
    return setting if isinstance(setting, tuple) else (str(setting),)
