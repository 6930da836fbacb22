"""The cases that a card can meet, and those it answers: what grades, beds and promises are judged over.

A case is *met* if judging some job leads to it. Where rules keep the machine off a place it is decided again
by hand: then the machine case is not *judged* and its twin by hand is. What no rule holds of it is *living*.
"""

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Final

from prepadvisor.cases import FACT, ORDER, Category, Group, Value, groups, spot_facts
from prepadvisor.records import AREA_KINDS, LINE_KINDS, OutputName
from prepadvisor.standards.engine import EVERYTHING, OUTPUTS, Box, Rule, box_of
from prepadvisor.standards.proof.diagram import Diagrams, Masks, TooIntricateError
from prepadvisor.standards.proof.space import UNKNOWN, Space, shared
from prepadvisor.standards.proof.told import BoxFinder

_BOXES_MOST: Final = 100_000
_NODES_MOST: Final = 30_000
"""So intricate may the cases become that are decided, or that nothing holds."""
_TWINS_MANY: Final = 100
_NODES_OF_MANY: Final = 8_000
"""Where very many places are kept for hand, most of them come out as intricate however long one tries."""

_MACHINE: Final = box_of({"reach": ("machine",)})
_HAND: Final = box_of({"reach": ("hand",)})


class World:
    """The cases of a space as a card meets them under some rules.

    Attributes:
        met: the possible cases that some job leads to.
        judged: those that are decided: met ones, and by hand where a rule keeps the machine off.
        seen: all that rules are ever asked about: met or judged.
        living: the judged ones that no rule holds.
        held: the boxes of the rules that hold; in a held case nobody reads any other output.
        is_whole: False where rules hold cases, or keep the machine off, in so intricate a way that judged,
            seen and living have more cases than they should. `outside`, `supports` and `held` are exact.
    """

    def __init__(
        self, space: Space, rules: Iterable[Rule], within: Masks | None = None, nodes_most: int = _NODES_MOST
    ) -> None:
        """Work out the regions.

        Args:
            space: the axes, cut for all of the rules, and what cannot be.
            rules: the rules in force.
            within: a box; judged and living are worked out for its cases only.
            nodes_most: so intricate may the judged and the living cases become each.
        """
        rules = list(rules)
        self._space: Final = space
        self._places: Final[dict[Masks, list[Masks]]] = {}
        diagrams = space.diagrams
        tied = [_region(diagrams, group) for group in groups()]
        self.met: Final = _all_of(diagrams, [space.possible, *tied])
        unmet = (box for region in tied for box in _boxes(space, diagrams.minus(diagrams.yes, region)))
        self._unmet: Final = list(dict.fromkeys([*space.cannot_be_boxes, *unmet]))
        never = dict.fromkeys(space.masks(rule.when) for rule in rules if rule.set.get("machine") == "never")
        machine, hand = space.masks(_MACHINE), space.masks(_HAND)
        self._kept_off: Final = [shared(one, machine) for one in never]
        self._twins: Final = [
            shared(box, hand) for kept_off in self._kept_off for box in self._places_of(kept_off)
        ]
        self.held: Final = [space.masks(rule.when) for rule in rules if "holds" in rule.set]
        self.is_whole = True
        self._nodes_most: Final = nodes_most
        self._within_box: Final = diagrams.full if within is None else within
        self._within: Final = diagrams.box(self._within_box)
        self.judged: Final = self._judged_ones()
        self.seen: Final = diagrams.either(self.met, self.judged)
        self.living: Final = self._unheld(self.judged)
        self._read: dict[str, int] = {}

    def read(self, output: OutputName) -> int:
        """Return the living cases in which card or gate read an output; of texts also held ones."""
        known = self._read.get(output)
        if known is None:
            diagrams, where = self._space.diagrams, self._space.masks(OUTPUTS[output].read)
            if OUTPUTS[output].is_union:
                region = self.seen
            elif output == "machine":
                region = self._unheld(diagrams.both(self.met, self._within))
            else:
                region = self.living
            known = self._read[output] = diagrams.both(region, diagrams.box(where))
        return known

    def sees(self, masks: Masks) -> bool:
        """Say whether rules are ever asked about some case of a box."""
        diagrams = self._space.diagrams
        if diagrams.both(diagrams.box(masks), self.met) != diagrams.no:
            return True
        twins = (diagrams.box(shared(masks, twin)) for twin in self._twins)
        return any(diagrams.both(twin, self._reached_by_hand) != diagrams.no for twin in twins)

    @property
    def unseen(self) -> list[Masks]:
        """Boxes that hold the cases rules are not asked about, where one of `supports` holds them."""
        if not self._kept_off:
            return self._unmet
        return [box for one in self._unmet for box in self._but_twins(one)]

    def outside(self, output: OutputName) -> list[Masks]:
        """Return boxes that, with those held, together hold every case in which an output is not read.

        Not asked of texts: they are judged over everything that can be.
        """
        unread = self._unread(OUTPUTS[output].read)
        if output == "machine" or not self._kept_off:
            return [*self._unmet, *unread]
        return [*(box for one in self._unmet for box in self._but_twins(one)), *self._kept_off, *unread]

    @property
    def supports(self) -> list[Masks]:
        """Boxes of which one must hold a case that counts beside `outside`; none for no such demand.

        A face or patch is done by hand only where some rule keeps the machine off it.
        """
        if not self._kept_off:
            return []
        lines = self._space.masks(box_of({"feature": LINE_KINDS}))
        return [self._space.masks(_MACHINE), lines, *self._twins]

    def _unread(self, read: Box) -> list[Masks]:
        """Return the boxes that leave out what one condition of a box asks, one for each condition."""
        full = self._space.masks(EVERYTHING)
        masks = self._space.masks(read)
        return [
            (*full[:level], full[level] & ~mask, *full[level + 1 :])
            for level, mask in enumerate(masks)
            if mask != full[level]
        ]

    def _but_twins(self, box: Masks) -> list[Masks]:
        """Return a box of cases that no job leads to, without places done by hand that a machine reaches.

        What cannot be by machine cannot be by hand instead either.
        """
        masks, reach = self._space.masks, ORDER.index("reach")
        machine, hand = masks(_MACHINE)[reach], masks(_HAND)[reach]
        if not box[reach] & machine:
            return [shared(box, masks(box_of({"feature": LINE_KINDS})))]
        if box[reach] & hand:
            return [box]
        either = (*box[:reach], machine | hand, *box[reach + 1 :])
        return [box, shared(either, masks(box_of({"feature": AREA_KINDS})))]

    def _places_of(self, kept_off: Masks) -> list[Masks]:
        """Return boxes of the places that have a met case in a box, in any zone, by machine or by hand.

        A place is done in one way over all its zones, so one zone kept off makes all of it by hand.
        """
        met = self._told_apart
        alike = tuple(
            sum(part for part in parts if part & mask) for parts, mask in zip(met, kept_off, strict=True)
        )
        freely = {ORDER.index(fact) for fact in ("reach", *spot_facts())}
        if alike not in self._places:
            diagrams = self._space.diagrams
            place = diagrams.both(self.met, diagrams.box(alike))
            for level in freely:
                place = freed(diagrams, place, level)
            self._places[alike] = _boxes(self._space, place)
        own = tuple(-1 if level in freely else mask for level, mask in enumerate(kept_off))
        return [shared(box, own) for box in self._places[alike]]

    @cached_property
    def _told_apart(self) -> list[list[int]]:
        """For each axis the sets of values that the met cases tell apart."""
        diagrams = self._space.diagrams
        apart = [[full] for full in diagrams.full]
        seen, waiting = {self.met}, [self.met]
        while waiting:
            node = waiting.pop()
            for mask, child in diagrams.parts(node):
                level = diagrams.level(node)
                halves = (half for one in apart[level] for half in (one & mask, one & ~mask))
                apart[level] = [half for half in halves if half]
                if child not in seen:
                    seen.add(child)
                    waiting.append(child)
        return apart

    @cached_property
    def _reached_by_hand(self) -> int:
        """The cases by hand whose twin by machine some job leads to."""
        diagrams = self._space.diagrams
        machine, hand = (diagrams.box(self._space.masks(box)) for box in (_MACHINE, _HAND))
        reached = freed(diagrams, diagrams.both(self.met, machine), ORDER.index("reach"))
        return diagrams.both(reached, hand)

    def _judged_ones(self) -> int:
        """Return the cases that are decided; where that is too intricate, all that could be."""
        diagrams, box = self._space.diagrams, self._within_box
        met, within = diagrams.both(self.met, self._within), self._within
        if not self._kept_off:
            return met
        many = len(self._twins) > _TWINS_MANY and self._nodes_most == _NODES_MOST
        hand = diagrams.both(self._reached_by_hand, within)
        try:
            with diagrams.at_most(_NODES_OF_MANY if many else self._nodes_most):
                twins = dict.fromkeys(shared(twin, box) for twin in self._twins)
                by_hand = diagrams.both(_any_of(diagrams, map(diagrams.box, twins)), hand)
                kept_off = [shared(one, box) for one in self._kept_off]
                return diagrams.either(_none_of(diagrams, met, kept_off), by_hand)
        except TooIntricateError:
            self.is_whole = False
            return diagrams.either(met, hand)

    def _unheld(self, region: int) -> int:
        """Return the cases of a region that no rule holds; where that is too intricate, more than these.

        The plainest boxes are taken away first, so that at least these are.
        """
        diagrams, numbers = self._space.diagrams, self._space.axes.numbers
        full = diagrams.full
        plainest = sorted(self.held, key=lambda box: sum(box[level] != full[level] for level in numbers))
        try:
            with diagrams.at_most(self._nodes_most):
                for box in plainest:
                    region = diagrams.minus(region, diagrams.box(box))
        except TooIntricateError:
            self.is_whole = False
        return region


def freed(diagrams: Diagrams, region: int, level: int) -> int:
    """Return the cases that lie in a region if one axis may have any value."""
    known: dict[int, int] = {}

    def of(node: int) -> int:
        at = diagrams.level(node)
        if at > level:
            return node
        if node not in known:
            parts: dict[int, int] = {}
            for mask, child in diagrams.parts(node):
                below = child if at == level else of(child)
                parts[below] = parts.get(below, 0) | mask
            if at == level:
                known[node] = _any_of(diagrams, parts)
            else:
                known[node] = diagrams.node(at, parts)
        return known[node]

    return of(region)


def _any_of(diagrams: Diagrams, regions: Iterable[int]) -> int:
    found = diagrams.no
    for region in regions:
        found = diagrams.either(found, region)
    return found


def _all_of(diagrams: Diagrams, regions: Iterable[int]) -> int:
    found = diagrams.yes
    for region in regions:
        found = diagrams.both(found, region)
    return found


def _none_of(diagrams: Diagrams, region: int, boxes: Iterable[Masks]) -> int:
    """Return the cases of a region that lie in none of some boxes."""
    for box in boxes:
        if region == diagrams.no:
            break
        region = diagrams.minus(region, diagrams.box(box))
    return region


def _boxes(space: Space, region: int) -> list[Masks]:
    """Return boxes that together are a region."""
    found, rest = BoxFinder(space.diagrams, space.diagrams.no, space.axes.numbers).take(region, _BOXES_MOST)
    if rest != space.diagrams.no:
        raise RuntimeError("the cases that a card does not meet are too intricate")
    return found


def _region(diagrams: Diagrams, group: Group) -> int:
    """Return the cases whose facts of a group stand together in one of its rows."""
    order = sorted(range(len(group.facts)), key=lambda at: ORDER.index(group.facts[at]))
    levels = [ORDER.index(group.facts[at]) for at in order]
    values = [_values(diagrams, group.facts[at]) for at in order]

    def below(rows: list[tuple[Value, ...]], depth: int) -> int:
        if depth == len(order):
            return diagrams.yes
        by_value: dict[Value, list[tuple[Value, ...]]] = {}
        for row in rows:
            by_value.setdefault(row[order[depth]], []).append(row)
        left = diagrams.full[levels[depth]]
        parts: dict[int, int] = {}
        for value, some in by_value.items():
            mask = values[depth](value)
            child = below(some, depth + 1)
            parts[child] = parts.get(child, 0) | mask
            left &= ~mask
        if left:
            parts[diagrams.no] = parts.get(diagrams.no, 0) | left
        return diagrams.node(levels[depth], parts)

    return below(list(group.rows), 0)


def _values(diagrams: Diagrams, name: str) -> Callable[[Value], int]:
    """Return what turns a fact's value in a row into a set of value numbers."""
    fact, full = FACT[name], diagrams.full[ORDER.index(name)]
    if isinstance(fact, Category):
        return lambda value: 1 << fact.values.index(value)
    return lambda known: full & ~UNKNOWN if known else UNKNOWN
