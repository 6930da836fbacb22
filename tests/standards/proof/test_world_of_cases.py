"""The cases that a card meets, judges and answers, held against the same worked out cell by cell."""

import random
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from prepadvisor.cases import CATEGORIES, CATEGORY, ORDER, Facts
from prepadvisor.records import OutputName
from prepadvisor.standards.engine import Impossible, Rule, Setting, box_of
from prepadvisor.standards.proof.diagram import Masks
from prepadvisor.standards.proof.space import Space
from prepadvisor.standards.proof.world import World, freed
from tests.standards.proof.test_diagrams_and_boxes_told import regions
from tests.standards.proof.tiny import CASES, SIZES, in_region

EXAMPLES = 20
CELLS = 40
READ: tuple[OutputName, ...] = (
    "finish_finest", "finish_coarsest", "hand_last_coarsest", "hand_coarsest", "risk_limit", "machine",
)  # fmt: skip


def place_of(space: Space, case: Facts) -> tuple[int, ...]:
    """Return a case as value numbers."""
    found = []
    for fact in ORDER:
        value = getattr(case, fact)
        if fact in CATEGORY:
            found.append(list(space.axes.values(fact)).index(value))
        elif value is None:
            found.append(0)
        else:
            cuts = space.axes.cuts(fact)
            found.append(sum(cut.at < value or (cut.at == value and not cut.above) for cut in cuts))
    return tuple(found)


def lies_in(space: Space, region: int, case: tuple[int, ...]) -> bool:
    """Follow a case down to its leaf."""
    diagrams = space.diagrams
    while diagrams.level(region) < diagrams.depth:
        value = case[diagrams.level(region)]
        region = next(child for mask, child in diagrams.parts(region) if mask >> value & 1)
    return region == diagrams.yes


def cells_of(
    brute: SimpleNamespace, small: SimpleNamespace, count: int
) -> list[tuple[tuple[int, ...], Facts]]:
    """Return some cells of the grid, each as a whole case: a line has a length, an area is seen."""
    draw = random.Random(4)
    found = []
    for _ in range(count):
        at = tuple(draw.randrange(size) for size in brute.shape)
        values = (
            CATEGORIES[CATEGORY[fact]].values[place] for fact, place in zip(small.facts, at, strict=False)
        )
        stated = dict(zip(small.facts, values, strict=True))
        line = stated["feature"] not in ("face", "patch")
        case = Facts(**stated)._replace(
            film_um=brute.films[at[-1]], length_mm=400.0 if line else None, panel_m2=0.67
        )
        found.append((at, case))
    return found


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_a_case_is_met_judged_and_living_exactly_as_worked_out_cell_by_cell(
    small: SimpleNamespace, data: st.DataObject
) -> None:
    """Met by a card; decided, by hand where a rule keeps the machine off its place; and held by no rule."""
    hold_against_cells(small, data.draw(small.standards(machine=True)), CELLS)


SPECIAL: dict[str, tuple[list[dict[str, Any]], list[dict[str, Any]]]] = {
    "kept off a line in one zone": ([{"feature": ("edge",), "zone": ("fade",)}], []),
    "kept off an area": ([{"feature": ("face",), "flake": ("fine",)}], []),
    "kept off by hand alone": ([{"reach": ("hand",)}, {"feature": ("patch",)}], []),
    "cannot be by machine": (
        [{"feature": ("face", "edge")}],
        [{"reach": ("machine",), "flake": ("vapour",)}],
    ),
    "an area whose one zone cannot be": (
        [{"feature": ("face", "patch"), "zone": ("fade",)}],
        [{"feature": ("face",), "zone": ("clear",)}],
    ),
    "cannot be by hand": ([{"feature": ("face",)}], [{"reach": ("hand",), "flake": ("vapour",)}]),
    "cannot be at all": ([{"zone": ("fade",)}], [{"flake": ("vapour", "fine")}]),
    "an area that cannot be": ([{"role": ("blend",)}], [{"feature": ("face",), "zone": ("clear",)}]),
    "an area whose one zone cannot be by machine": (
        [{"feature": ("face", "patch"), "zone": ("fade",)}],
        [{"reach": ("machine",), "zone": ("clear",)}],
    ),
    "nothing kept off": ([], [{"flake": ("vapour",), "reach": ("hand",)}]),
}
"""Conditions of rules that keep the machine off, and what cannot be."""


@pytest.mark.parametrize("name", SPECIAL)
def test_places_that_are_kept_for_hand_are_judged_as_worked_out_cell_by_cell(
    small: SimpleNamespace, name: str
) -> None:
    """In one zone or all, lines and areas, where the one way or the other cannot be; a hold beside it."""
    off, cannot = SPECIAL[name]
    asked: list[tuple[Any, dict[OutputName, Setting]]] = [
        (small.condition(when, None), {"machine": "never"}) for when in off
    ]
    asked.append((small.condition({"flake": ("solid",)}, None), {"holds": ("Ask.",)}))
    rules = tuple(
        (Rule(f"r{at}", "Says.", condition.box(), sets, "x"), condition)
        for at, (condition, sets) in enumerate(asked)
    )
    impossible = [
        (Impossible(each.box(), "x"), each) for each in (small.condition(when, None) for when in cannot)
    ]
    hold_against_cells(small, small.drawn(rules, tuple(impossible), ()), 150)


def hold_against_cells(small: SimpleNamespace, drawn: Any, count: int) -> None:
    """Hold the world of some standards against their cells, some of them."""
    brute = small.brute(drawn)
    engine = drawn.engine()
    space = Space(engine.boxes, [entry.when for entry in engine.impossibles])
    world = World(space, engine.rules)
    met = brute.possible & brute.met_by_a_card()
    judged, held = brute.judged(met), brute.held()
    read = {output: counts(brute, output) for output in READ}
    unread = {output: [*world.outside(output), *world.held] for output in READ}
    unseen, supports = world.unseen, world.supports
    box = space.masks(box_of({"zone": ("clear", "fade"), "feature": ("edge", "face")}))
    part = World(space, engine.rules, within=box)
    for at, case in cells_of(brute, small, count):
        place = place_of(space, case)
        inside = lies_within(box, place)
        assert lies_in(space, part.met, place) == met[at]
        assert lies_in(space, part.judged, place) == (judged[at] and inside)
        assert lies_in(space, part.living, place) == (judged[at] and not held[at] and inside)
        assert lies_in(space, part.read("machine"), place) == (read["machine"][at] and inside)
        is_seen = bool(met[at] or judged[at])
        assert lies_in(space, world.met, place) == met[at]
        assert lies_in(space, world.judged, place) == judged[at]
        assert lies_in(space, world.seen, place) == is_seen
        assert lies_in(space, world.living, place) == (judged[at] and not held[at])
        assert world.sees(tuple(1 << value for value in place)) == is_seen
        assert within(place, unseen, supports) == is_seen
        for output in READ:
            assert lies_in(space, world.read(output), place) == read[output][at], output
            assert within(place, unread[output], supports) == read[output][at], output
    assert world.is_whole


def within(place: tuple[int, ...], outside: Sequence[Masks], supports: Sequence[Masks]) -> bool:
    """Say whether a case lies in none of some boxes, and in one of others where there are any."""
    return not any(lies_within(box, place) for box in outside) and (
        not supports or any(lies_within(box, place) for box in supports)
    )


def lies_within(box: Masks, place: tuple[int, ...]) -> bool:
    """Say whether a case lies in a box."""
    return all(mask >> value & 1 for mask, value in zip(box, place, strict=True))


def counts(brute: SimpleNamespace, output: OutputName) -> NDArray[np.bool_]:
    """Return the cells in which an output is read: machine before it is decided who does the place."""
    if output == "machine":
        met = brute.possible & brute.met_by_a_card() & brute.box({"reach": ("machine",)})
        return met & ~brute.held()  # type: ignore[no-any-return]
    return brute.read(output)  # type: ignore[no-any-return]


def test_an_axis_that_is_freed_may_have_any_value() -> None:
    """The cases that lie in a region with some value of that axis."""
    for _, diagrams, one, _ in regions(60):
        cases = in_region(diagrams, one)
        for level in range(len(SIZES)):
            rest = {(*case[:level], *case[level + 1 :]) for case in cases}
            expected = {case for case in CASES if (*case[:level], *case[level + 1 :]) in rest}
            assert in_region(diagrams, freed(diagrams, one, level)) == expected
