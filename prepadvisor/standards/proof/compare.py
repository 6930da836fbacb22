"""What changes between two standards: every case that is decided otherwise, with the rule behind it.

Answers are compared over the cases that a card can meet under both and that neither holds, each output only
where it is read; holds and other texts over all cases a card can meet under either.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.standards.proof.differing import (
    DIRECTIONS,
    NODES_MOST,
    Cause,
    Difference,
    Differing,
    DifferingCases,
    Direction,
)
from prepadvisor.standards.proof.told import BoxFinder, typical

if TYPE_CHECKING:
    from prepadvisor.cases import Facts, Value
    from prepadvisor.standards.engine import Engine
    from prepadvisor.standards.proof.space import Space

BOXES_MOST: Final = 400
"""Boxes told at most, and at least a twentieth of them for one and the same change."""


def gravest(differences: Iterable[Difference]) -> Direction:
    """Return the gravest direction of some differences."""
    return min((each.direction for each in differences), key=DIRECTIONS.index)


class Change(NamedTuple):
    """Cases that change alike: the facts of their box, what differs, how many, why, and one to picture."""

    limits: Mapping[str, list["Value"]]
    differences: tuple[Difference, ...]
    cases: int
    causes: tuple[Cause, ...]
    case: "Facts"

    @property
    def direction(self) -> Direction:
        """The gravest direction of its differences."""
        return gravest(self.differences)


class Comparison(NamedTuple):
    """All changes, gravest direction first and then largest, and how many cases change.

    `cases` and `living` count those that a card can meet, `possible` all possible ones. `untold` counts,
    change by change, the cases in none of the boxes, because there would be too many. `is_whole` is False for
    standards so different that only a part of the changes was worked out: then `cases` is a lower bound.
    """

    changes: tuple[Change, ...]
    cases: int
    possible: int
    untold: int
    is_whole: bool
    living: int


def compare(before: "Engine", after: "Engine") -> Comparison:
    """Return every difference in what two standards decide, over the cases that a card can meet.

    The cases are those of all categories, with each number cut into the ranges that a rule of either tells
    apart.
    """
    both = Differing(before, after)
    space, regions = both.space, _regions(both)
    changes, untold = _changes(both, regions)
    every = [piece.region for piece in regions.values()]
    count = space.diagrams.count
    is_whole = both.is_whole and len(space.diagrams) < NODES_MOST
    cases = count(_together(space, every)) if is_whole else max(map(count, every), default=0)
    return Comparison(
        changes=changes,
        cases=cases,
        possible=count(space.possible),
        untold=untold,
        is_whole=is_whole,
        living=count(both.met),
    )


def loosened(before: "Engine", after: "Engine") -> list[Change]:
    """Return only those changes of two standards that release or loosen, as `compare` tells them."""
    both = Differing(before, after)
    changes, _ = _changes(both, _regions(both, went_only=True))
    return [change for change in changes if change.direction in {"released", "laxer"}]


def _regions(both: Differing, *, went_only: bool = False) -> dict[tuple[Difference, Cause], DifferingCases]:
    """Return the cases of each difference, by its cause."""
    return {(difference, cause): piece for difference, cause, piece in both.pieces(went_only=went_only)}


def _together(space: "Space", regions: list[int]) -> int:
    """Return the cases in any of some regions, joining small ones first."""
    waiting = deque(regions or [space.diagrams.no])
    while len(waiting) > 1:
        waiting.append(space.diagrams.either(waiting.popleft(), waiting.popleft()))
    return waiting.pop()


def _changes(
    both: Differing, regions: dict[tuple[Difference, Cause], DifferingCases]
) -> tuple[tuple[Change, ...], int]:
    """Tell each region in boxes; differences with the same region and the same cause are told together."""
    space = both.space
    alike: dict[tuple[DifferingCases, Cause], list[Difference]] = {}
    for (difference, cause), piece in regions.items():
        alike.setdefault((piece, cause), []).append(difference)
    never_met = space.diagrams.minus(space.diagrams.yes, both.met)
    finder = BoxFinder(space.diagrams, never_met, space.axes.numbers)
    changes: list[Change] = []
    untold = 0
    count = space.diagrams.count
    order = [
        ((DIRECTIONS.index(gravest(differences)), -count(piece.region), cause), piece, differences)
        for (piece, cause), differences in alike.items()
    ]
    for (*_, cause), (region, box), differences in sorted(order, key=lambda each: each[0]):
        found, rest = [box] if box else [], space.diagrams.no
        if not found:
            found, rest = finder.take(region, boxes_for_one(len(alike), len(changes)))
        untold += count(rest)
        for masks in found:
            inside = space.diagrams.both(region, space.diagrams.box(masks))
            told = typical(space, inside)
            changes.append(
                Change(space.axes.limits(masks), tuple(differences), count(inside), (cause,), told)
            )
    changes.sort(
        key=lambda change: (DIRECTIONS.index(change.direction), -change.cases, str(change.differences))
    )
    return tuple(changes), untold


def boxes_for_one(alike: int, told: int) -> int:
    """Return in how many boxes one of so many changes is told at most, after so many boxes of others."""
    return max(1, min(max(BOXES_MOST // 20, BOXES_MOST // alike), BOXES_MOST - told))
