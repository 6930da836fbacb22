"""What changes between two standards: every case that is decided otherwise, in few boxes, largest first."""

from collections import deque
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from prepadvisor.cases.fact import Value
from prepadvisor.standards.boxes import BoxFinder
from prepadvisor.standards.covers import Covers, values_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.growth import largest_outside
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import Space, shared
from prepadvisor.standards.strengths import setting_of, unset_strength

BOXES_MOST: Final = 400
"""Boxes told at most, and at least a twentieth of them for one and the same change."""

NODES_MOST: Final = 250_000
"""So intricate may the changed cases become; beyond, only a large box of each rule's change is told."""


class Difference(NamedTuple):
    """One output's answer before and after.

    Of holds, cautions and notes one text: then before or after is None.
    """

    output: str
    before: Setting | None
    after: Setting | None


class Change(NamedTuple):
    """Cases that change alike: the facts of their box, what differs in it, and how many cases it holds."""

    limits: dict[str, list[Value]]
    differences: tuple[Difference, ...]
    cases: int


class Comparison(NamedTuple):
    """All changes, largest first, the number of cases that change at all, and of all possible cases.

    `untold` counts, change by change, the cases in none of the boxes, because there would be too many.
    `is_whole` is False for standards so different that only a part of the changes was worked out: then
    `cases` is a lower bound.
    """

    changes: tuple[Change, ...]
    cases: int
    possible: int
    untold: int
    is_whole: bool = True


def compare(before: Engine, after: Engine) -> Comparison:
    """Return every difference in what two standards decide, over all cases possible under both.

    The cases are those of all categories, with each number cut into the ranges that a rule of either tells
    apart.
    """
    boxes = [rule.when for engine in (before, after) for rule in engine.rules]
    impossible = dict.fromkeys(entry.when for engine in (before, after) for entry in engine.impossibles)
    space = Space(boxes, impossible)
    pieces: dict[Difference, list[int]] = {}
    for difference, piece in _pieces(space, before, after):
        pieces.setdefault(difference, []).append(piece)
    is_whole = len(space.diagrams) < NODES_MOST
    regions = {difference: _together(space, some) for difference, some in pieces.items()}
    changes, untold = _changes(space, regions)
    cases = max(map(space.diagrams.count, regions.values()), default=0)
    if is_whole and len(space.diagrams) < NODES_MOST:
        cases = space.diagrams.count(_together(space, list(regions.values())))
    else:
        is_whole = False
    return Comparison(changes, cases, space.diagrams.count(space.possible), untold, is_whole)


def _together(space: Space, regions: list[int]) -> int:
    """Return the cases in any of some regions, joining small ones first."""
    waiting = deque(regions or [space.diagrams.no])
    while len(waiting) > 1:
        waiting.append(space.diagrams.either(waiting.popleft(), waiting.popleft()))
    return waiting[0]


def _changes(space: Space, regions: dict[Difference, int]) -> tuple[tuple[Change, ...], int]:
    """Tell each region in boxes; differences with the same region are told together."""
    alike: dict[int, list[Difference]] = {}
    for difference, region in regions.items():
        alike.setdefault(region, []).append(difference)
    finder = BoxFinder(space.diagrams, space.cannot_be, space.axes.numbers)
    changes: list[Change] = []
    untold = 0
    largest_first = sorted(alike.items(), key=lambda each: -space.diagrams.count(each[0]))
    most = max(BOXES_MOST // 20, BOXES_MOST // max(1, len(alike)))
    for region, differences in largest_first:
        found, rest = finder.take(region, max(1, min(most, BOXES_MOST - len(changes))))
        untold += space.diagrams.count(rest)
        for masks in found:
            inside = space.diagrams.both(region, space.diagrams.box(masks))
            cases = space.diagrams.count(inside)
            changes.append(Change(space.axes.limits(masks), tuple(differences), cases))
    changes.sort(key=lambda change: (-change.cases, str(change.differences)))
    return tuple(changes), untold


def _pieces(space: Space, before: Engine, after: Engine) -> Iterator[tuple[Difference, int]]:
    for name, output in OUTPUTS.items():
        found = _of_texts if output.is_union else _of_answers
        for difference, region in found(space, name, before.rules, after.rules):
            if region != space.diagrams.no:
                yield difference, region


def _of_texts(
    space: Space, output: str, before: Iterable[Rule], after: Iterable[Rule]
) -> Iterator[tuple[Difference, int]]:
    old, new = _texts(output, before), _texts(output, after)
    for text in {**old, **new}:
        for region in _first_only(space, old.get(text, []), new.get(text, [])):
            yield Difference(output, text, None), region
        for region in _first_only(space, new.get(text, []), old.get(text, [])):
            yield Difference(output, None, text), region


def _texts(output: str, rules: Iterable[Rule]) -> dict[str, list[Rule]]:
    found: dict[str, list[Rule]] = {}
    for rule in rules:
        setting = rule.set.get(output, ())
        for text in setting if isinstance(setting, tuple) else ():
            found.setdefault(text, []).append(rule)
    return found


def _first_only(space: Space, some: list[Rule], others: list[Rule]) -> Iterator[int]:
    """Yield, rule by rule, the possible cases that one of some rules meets and none of the others."""
    covers = space.covers([space.masks(rule.when) for rule in others])
    everyone = (1 << len(covers.boxes)) - 1
    known = {rule.when for rule in others}
    for rule in some:
        if rule.when not in known:
            yield Outside(covers, space.masks(rule.when), everyone).region()


def _of_answers(
    space: Space, output: str, before: Iterable[Rule], after: Iterable[Rule]
) -> Iterator[tuple[Difference, int]]:
    old, new = Ranking(space, output, before), Ranking(space, output, after)
    for winner, other, turned in ((old, new, False), (new, old, True)):
        for strength, weaker, region in _where_stronger(space, winner, other):
            pair = (weaker, strength) if turned else (strength, weaker)
            yield Difference(output, *(setting_of(output, each) for each in pair)), region


def _where_stronger(space: Space, winner: Ranking, other: Ranking) -> Iterator[tuple[float, float, int]]:
    """Yield a strength, the other's lower strength, and the cases where the one stands against the other.

    Only a rule that the other standards do not have can win against them.
    """
    diagrams, first = space.diagrams, len(winner.rules)
    covers = space.covers([*winner.boxes, *other.boxes])
    cannot_be = winner.cannot_be << len(other.rules)
    known = set(zip(other.boxes, other.strengths, strict=True))
    unset = unset_strength(winner.output)
    for place, (box, strength) in enumerate(zip(winner.boxes, winner.strengths, strict=True)):
        if strength <= unset or (box, strength) in known:
            continue
        decided = winner.ahead(place) | cannot_be | other.at_least(strength) << first
        if len(diagrams) > NODES_MOST:
            yield from _one_box(space, other, strength, covers, box, decided, cannot_be)
            continue
        left = Outside(covers, box, decided).region()
        for weaker, rules in _falling(other, strength, unset):
            if left == diagrams.no:
                break
            still = left
            for rival in values_of(rules):
                common = shared(box, other.boxes[rival])
                if all(common):
                    still = diagrams.minus(still, diagrams.box(common))
            if still != left:
                yield strength, weaker, diagrams.minus(left, still)
            left = still
        if left != diagrams.no:
            yield strength, unset, left


def _one_box(
    space: Space, other: Ranking, strength: float, covers: Covers, box: Masks, decided: int, cannot_be: int
) -> Iterator[tuple[float, float, int]]:
    """Yield one large box of the cases that a rule changes, all of them against the same weaker rule."""
    case = Outside(covers, box, decided).case()
    if case is None:
        return
    place = other.decider(case)
    weaker = unset_strength(other.output)
    first = len(covers.boxes) - len(other.rules) - cannot_be.bit_count()
    rivals = other.everyone
    if place is not None and other.strengths[place] > weaker:
        weaker, rivals = other.strengths[place], other.ahead(place)
        box = shared(box, other.boxes[place])
    grown = largest_outside(covers, box, decided | rivals << first, cannot_be)
    if grown is not None:
        yield strength, weaker, space.region(grown[0])


def _falling(ranking: Ranking, below: float, unset: float) -> Iterator[tuple[float, int]]:
    """Yield the strengths below one, falling, each with the bitmap of its rules."""
    for strength in sorted({own for own in ranking.strengths if unset < own < below}, reverse=True):
        yield strength, ranking.at_least(strength) & ~ranking.at_least(_next_above(ranking, strength))


def _next_above(ranking: Ranking, strength: float) -> float:
    return min((own for own in ranking.strengths if own > strength), default=float("inf"))
