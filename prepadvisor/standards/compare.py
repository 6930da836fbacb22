"""What changes between two standards: every case that is decided otherwise, in few boxes, largest first."""

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from prepadvisor.standards.boxes import BoxFinder
from prepadvisor.standards.covers import values_of
from prepadvisor.standards.domains import Value
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import Space, shared
from prepadvisor.standards.strengths import setting_of, unset_strength

BOXES_MOST: Final = 200
"""Boxes told at most for one and the same change."""


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

    `untold` counts the cases whose change is in none of the boxes, because there would be too many boxes.
    """

    changes: tuple[Change, ...]
    cases: int
    possible: int
    untold: int


def compare(before: Engine, after: Engine) -> Comparison:
    """Return every difference in what two standards decide, over all cases possible under both.

    The cases are those of all categories, with each number cut into the ranges that a rule of either tells
    apart.
    """
    boxes = [rule.when for engine in (before, after) for rule in engine.rules]
    impossible = dict.fromkeys(entry.when for engine in (before, after) for entry in engine.impossibles)
    space = Space(boxes, impossible)
    regions = dict(_regions(space, before, after))
    anywhere = space.diagrams.no
    for region in regions.values():
        anywhere = space.diagrams.either(anywhere, region)
    changes, untold = _changes(space, regions)
    count = space.diagrams.count
    return Comparison(changes, count(anywhere), count(space.possible), untold)


def _changes(space: Space, regions: dict[Difference, int]) -> tuple[tuple[Change, ...], int]:
    """Tell each region in boxes; differences with the same region are told together."""
    alike: dict[int, list[Difference]] = {}
    for difference, region in regions.items():
        alike.setdefault(region, []).append(difference)
    finder = BoxFinder(space.diagrams, space.cannot_be, space.axes.numbers)
    changes, untold = [], space.diagrams.no
    for region, differences in alike.items():
        found, rest = finder.take(region, BOXES_MOST)
        untold = space.diagrams.either(untold, rest)
        for masks in found:
            inside = space.diagrams.both(region, space.diagrams.box(masks))
            cases = space.diagrams.count(inside)
            changes.append(Change(space.axes.limits(masks), tuple(differences), cases))
    changes.sort(key=lambda change: (-change.cases, str(change.differences)))
    return tuple(changes), space.diagrams.count(untold)


def _regions(space: Space, before: Engine, after: Engine) -> Iterator[tuple[Difference, int]]:
    for name, output in OUTPUTS.items():
        found = _of_texts if output.is_union else _of_answers
        for difference, region in found(space, name, before.rules, after.rules).items():
            if region != space.diagrams.no:
                yield difference, region


def _of_texts(
    space: Space, output: str, before: Iterable[Rule], after: Iterable[Rule]
) -> dict[Difference, int]:
    regions = {}
    old, new = _texts(output, before), _texts(output, after)
    for text in {**old, **new}:
        gone = _first_only(space, old.get(text, []), new.get(text, []))
        come = _first_only(space, new.get(text, []), old.get(text, []))
        regions[Difference(output, text, None)] = gone
        regions[Difference(output, None, text)] = come
    return regions


def _texts(output: str, rules: Iterable[Rule]) -> dict[str, list[Rule]]:
    found: dict[str, list[Rule]] = {}
    for rule in rules:
        setting = rule.set.get(output, ())
        for text in setting if isinstance(setting, tuple) else ():
            found.setdefault(text, []).append(rule)
    return found


def _first_only(space: Space, some: list[Rule], others: list[Rule]) -> int:
    """Return the possible cases that one of some rules meets and none of the others."""
    covers = space.covers([space.masks(rule.when) for rule in others])
    everyone = (1 << len(covers.boxes)) - 1
    known = {rule.when for rule in others}
    region = space.diagrams.no
    for rule in some:
        if rule.when not in known:
            more = Outside(covers, space.masks(rule.when), everyone).region()
            region = space.diagrams.either(region, more)
    return region


def _of_answers(
    space: Space, output: str, before: Iterable[Rule], after: Iterable[Rule]
) -> dict[Difference, int]:
    old, new = Ranking(space, output, before), Ranking(space, output, after)
    regions: dict[Difference, int] = {}
    for winner, other, turned in ((old, new, False), (new, old, True)):
        for strength, weaker, region in _where_stronger(space, winner, other):
            pair = (weaker, strength) if turned else (strength, weaker)
            difference = Difference(output, *(setting_of(output, each) for each in pair))
            regions[difference] = space.diagrams.either(regions.get(difference, space.diagrams.no), region)
    return regions


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


def _falling(ranking: Ranking, below: float, unset: float) -> Iterator[tuple[float, int]]:
    """Yield the strengths below one, falling, each with the bitmap of its rules."""
    for strength in sorted({own for own in ranking.strengths if unset < own < below}, reverse=True):
        yield strength, ranking.at_least(strength) & ~ranking.at_least(_next_above(ranking, strength))


def _next_above(ranking: Ranking, strength: float) -> float:
    return min((own for own in ranking.strengths if own > strength), default=float("inf"))
