"""Where two standards decide otherwise: every difference, the rule behind it and the cases it shows in."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from prepadvisor.standards.engine import OUTPUTS, Engine, Rule, Setting, box_of
from prepadvisor.standards.proof.audited import Ranking, setting_of, unset_strength
from prepadvisor.standards.proof.covers import Covers, values_of
from prepadvisor.standards.proof.diagram import Diagrams, Masks, TooIntricateError
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.space import Space, shared
from prepadvisor.standards.proof.told import largest_outside
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.records import OutputName

NODES_MOST: Final = 250_000
"""So intricate may the changed cases become; beyond, only a large box of each rule's change is told."""

_WHOLE_MOST: Final = 400
"""With more rules than this that one standards have alone, one large box of each rule's change is told."""
_NODES_A_RULE: Final = 30_000
"""So intricate may the cases become that one rule changes."""

Direction = Literal["held", "released", "laxer", "stricter", "words"]
DIRECTIONS: Final[tuple[Direction, ...]] = ("held", "released", "laxer", "stricter", "words")
"""What a change means for a painter, gravest first; "words" is another caution or note."""


class Difference(NamedTuple):
    """One output's answer before and after.

    Of holds, cautions and notes one text: then before or after is None.
    """

    output: "OutputName"
    before: Setting | str | None
    after: Setting | str | None

    @property
    def direction(self) -> Direction:
        """What the change means for a painter."""
        if OUTPUTS[self.output].is_union:
            if self.output != "holds":
                return "words"
            return "held" if self.before is None else "released"
        strength = [
            float("-inf") if value is None else float(OUTPUTS[self.output].strength(value))
            for value in (self.before, self.after)
        ]
        return "stricter" if strength[1] > strength[0] else "laxer"


class DifferingCases(NamedTuple):
    """Cases that change alike; `box` if that is all that is told of them."""

    region: int
    box: Masks | None = None


class Cause(NamedTuple):
    """The rule behind a change: one that decides now, or one that decided before and no longer does.

    `file` and `line` are where to look: of a rule that went those of what replaced or withdrew it, or its
    own where it is simply no longer there; `by` says which of these it is.
    """

    rule: str
    file: str
    line: int
    by: Literal["new", "changed", "replaced", "withdrawn", "gone"]
    says: str = ""


class Differing:
    """Two standards over one space, with the cases a card can meet under them."""

    def __init__(self, before: Engine, after: Engine) -> None:
        self.before: Final = before
        self.after: Final = after
        boxes = [box for engine in (before, after) for box in engine.boxes]
        impossible = dict.fromkeys(entry.when for engine in (before, after) for entry in engine.impossibles)
        one_only = sorted(set(before.kinds) ^ set(after.kinds))  # told as a change of outlines
        one_only_box = [box_of({"panel": one_only})] if one_only else []
        self.space: Final = Space(boxes, [*impossible, *one_only_box])
        self.worlds: Final = tuple(World(self.space, engine.rules) for engine in (before, after))
        either = self.space.diagrams.either
        old, new = self.worlds
        self.met: Final = either(either(old.met, old.judged), either(new.met, new.judged))
        self._went: Final = {each.rule: each for each in after.deviations}
        self._now: Final = {rule.id: rule for rule in after.rules}
        self.is_whole = all(world.is_whole for world in self.worlds)
        old_boxes, new_boxes = (Counter(rule.when for rule in engine.rules) for engine in (before, after))
        other = old_boxes - new_boxes, new_boxes - old_boxes
        self._one_by_one = max(each.total() for each in other) > _WHOLE_MOST

    def pieces(self, *, went_only: bool = False) -> Iterator[tuple[Difference, Cause, DifferingCases]]:
        """Yield every difference with its cause and some cases in which it shows, none of them twice.

        With `went_only` those that a rule which went is the cause of: what was stricter or said before.
        """
        no = self.space.diagrams.no
        for name, output in OUTPUTS.items():
            found = (self._of_texts if output.is_union else self._of_answers)(name, went_only)
            for difference, cause, piece in found:
                if piece.region != no:
                    yield difference, cause, piece

    def _new(self, rule: Rule) -> Cause:
        return Cause(rule.id, rule.file, rule.line, "new", rule.says)

    def _gone(self, rule: Rule) -> Cause:
        went = self._went.get(rule.id)
        if went is not None:
            return Cause(rule.id, went.file, went.line, went.kind, went.says)
        now = self._now.get(rule.id)
        if now is not None:
            return Cause(rule.id, now.file, now.line, "changed", now.says)
        return Cause(rule.id, rule.file, rule.line, "gone", rule.says)

    def _of_texts(
        self, output: "OutputName", went_only: bool
    ) -> Iterator[tuple[Difference, Cause, DifferingCases]]:
        old, new = _texts(output, self.before.rules), _texts(output, self.after.rules)
        for text in {**old, **new}:
            first, second = old.get(text, []), new.get(text, [])
            for rule, piece in self._first_only(first, second):
                yield Difference(output, text, None), self._gone(rule), piece
            for rule, piece in () if went_only else self._first_only(second, first):
                yield Difference(output, None, text), self._new(rule), piece

    def _first_only(self, some: list[Rule], others: list[Rule]) -> Iterator[tuple[Rule, DifferingCases]]:
        """Yield, rule by rule, the cases that one of some rules meets and none of the others."""
        space = self.space
        covers = space.covers([space.masks(rule.when) for rule in others], ())  # `met` says what can be
        known = {rule.when for rule in others}
        told = space.diagrams.no
        for rule in some:
            if rule.when in known:
                continue
            box = space.masks(rule.when)
            if not self._one_by_one:
                try:
                    with space.diagrams.at_most(_NODES_A_RULE):
                        region = Outside(covers, box, covers.everyone).region(_NODES_A_RULE)
                        region = space.diagrams.both(region, self.met)
                        fresh = space.diagrams.minus(region, told)
                        told = space.diagrams.either(told, region)
                except TooIntricateError:
                    pass
                else:
                    yield rule, DifferingCases(fresh)
                    continue
            self.is_whole = False
            grown = largest_outside(covers, box, covers.everyone, 0)
            if grown is not None:
                region = space.diagrams.both(space.diagrams.box(grown[0]), self.met)
                yield rule, DifferingCases(region, grown[0])

    def _of_answers(
        self, output: "OutputName", went_only: bool
    ) -> Iterator[tuple[Difference, Cause, DifferingCases]]:
        outside = list(dict.fromkeys(box for world in self.worlds for box in world.outside(output)))
        held = list(dict.fromkeys(box for world in self.worlds for box in world.held))
        old, new = (
            Ranking(self.space, output, engine.rules, outside, held) for engine in (self.before, self.after)
        )
        went, came = (old, new, False), (new, old, True)
        for winner, other, turned in (went,) if went_only else (went, came):
            for rule, strength, weaker, (region, box) in self._where_stronger(winner, other):
                pair = (weaker, strength) if turned else (strength, weaker)
                cause = self._new(rule) if turned else self._gone(rule)
                for world in self.worlds:
                    region = self.space.diagrams.both(region, world.read(output))
                yield (
                    Difference(output, *(setting_of(output, each) for each in pair)),
                    cause,
                    DifferingCases(region, box),
                )

    def _where_stronger(
        self, winner: Ranking, other: Ranking
    ) -> Iterator[tuple[Rule, float, float, DifferingCases]]:
        """Yield a rule, its strength, the other's lower one, and the cases where the one stands against it.

        Only a rule that the other standards do not have can win against them.
        """
        diagrams, first = self.space.diagrams, len(winner.rules)
        covers = self.space.covers([*winner.boxes, *other.boxes], winner.outside)
        supports = (boxes for world in self.worlds if (boxes := world.supports))
        supported = covers.supported(*map(self.space.support, supports))
        known = set(zip(other.boxes, other.strengths, strict=True))
        unset = unset_strength(winner.output)
        for place, (box, strength) in enumerate(zip(winner.boxes, winner.strengths, strict=True)):
            if strength <= unset or (box, strength) in known:
                continue
            rule = winner.rules[place]
            decided = (
                winner.ahead(place) | winner.cannot_be << len(other.rules) | other.at_least(strength) << first
            )
            if not self._one_by_one and len(diagrams) <= NODES_MOST:
                try:
                    with diagrams.at_most(_NODES_A_RULE):
                        left = Outside(covers, box, decided).region(_NODES_A_RULE)
                        parts = list(_against(diagrams, left, other, strength))
                except TooIntricateError:
                    pass
                else:
                    for weaker, region in parts:
                        yield rule, strength, weaker, DifferingCases(region)
                    continue
            self.is_whole = False
            free = winner.free << len(other.rules)
            found = _one_box(other, supported, box=box, decided=decided, free=free)
            if found is not None:
                lower, masks = found
                yield rule, strength, lower, DifferingCases(self.space.region(masks), masks)


def _texts(output: "OutputName", rules: Iterable[Rule]) -> dict[str, list[Rule]]:
    found: dict[str, list[Rule]] = {}
    for rule in rules:
        setting = rule.set.get(output, ())
        for text in setting if isinstance(setting, tuple) else ():
            found.setdefault(text, []).append(rule)
    return found


def _against(diagrams: Diagrams, left: int, other: Ranking, strength: float) -> Iterator[tuple[float, int]]:
    """Yield the cases in which a rule wins by each lower strength that the other standards have there."""
    unset = unset_strength(other.output)
    for weaker, rules in _falling(other, strength, unset):
        if left == diagrams.no:
            break
        still = left
        for rival in values_of(rules):
            still = diagrams.minus(still, diagrams.box(other.boxes[rival]))
        yield weaker, diagrams.minus(left, still)
        left = still
    yield unset, left


def _one_box(
    other: Ranking, covers: Covers, box: Masks, decided: int, free: int
) -> tuple[float, Masks] | None:
    """Return one large box of the cases that a rule changes, all of them against the same weaker rule."""
    case = Outside(covers, box, decided).case()
    if case is None:
        return None
    place = other.decider(case)
    weaker = unset_strength(other.output)
    first = len(covers.boxes) - len(other.rules) - len(other.outside)
    rivals = other.at_least(_next_above(other, weaker))
    if place is not None and other.strengths[place] > weaker:
        weaker, rivals = other.strengths[place], other.ahead(place)
        box = shared(box, other.boxes[place])
    grown = largest_outside(covers, box, decided | rivals << first, free)
    return None if grown is None else (weaker, grown[0])


def _falling(ranking: Ranking, below: float, unset: float) -> Iterator[tuple[float, int]]:
    """Yield the strengths below one, falling, each with the bitmap of its rules."""
    for strength in sorted({own for own in ranking.strengths if unset < own < below}, reverse=True):
        yield strength, ranking.at_least(strength) & ~ranking.at_least(_next_above(ranking, strength))


def _next_above(ranking: Ranking, strength: float) -> float:
    return min((own for own in ranking.strengths if own > strength), default=float("inf"))
