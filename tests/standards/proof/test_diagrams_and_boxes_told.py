"""Regions as decision diagrams and as boxes told to a person, held against plain sets of cases."""

import random
from collections.abc import Iterable, Iterator
from functools import reduce

import pytest

from prepadvisor.standards.proof.covers import Covers, values_of
from prepadvisor.standards.proof.diagram import Diagrams, Masks, TooIntricateError
from prepadvisor.standards.proof.space import cells
from prepadvisor.standards.proof.told import BoxFinder, largest_outside, longest_run, run_around, values_met
from tests.standards.proof.tiny import (
    CASES,
    RUNS,
    SIZES,
    Case,
    a_box,
    any_box,
    cases_of,
    chosen,
    draws,
    in_region,
    outside_of,
)


def regions(count: int) -> Iterator[tuple[random.Random, Diagrams, int, int]]:
    """Go through pairs of regions, each made of some boxes."""
    for seed in range(count):
        draw, diagrams = random.Random(seed), Diagrams(SIZES)
        one, other = (
            reduce(
                diagrams.either,
                (diagrams.box(any_box(draw)) for _ in range(draw.randint(0, 3))),
                draw.choice((diagrams.no, diagrams.no, diagrams.no, diagrams.yes)),
            )
            for _ in range(2)
        )
        yield draw, diagrams, one, other


def test_regions_are_joined_met_and_taken_away_as_sets_are() -> None:
    """Both, either, minus, and the count; equal sets are the same number."""
    for _, diagrams, one, other in regions(120):
        first, second = in_region(diagrams, one), in_region(diagrams, other)
        both, either = diagrams.both(one, other), diagrams.either(one, other)
        minus = diagrams.minus(one, other)
        assert in_region(diagrams, both) == first & second
        assert in_region(diagrams, either) == first | second
        assert in_region(diagrams, minus) == first - second
        assert [diagrams.count(each) for each in (one, both, either, minus)] == [
            len(first), len(first & second), len(first | second), len(first - second),
        ]  # fmt: skip
        assert diagrams.either(both, minus) == one
        assert diagrams.both(other, one) == both


def test_a_box_is_the_region_of_its_cases() -> None:
    """One with an empty side is nothing, one that asks nothing everything."""
    diagrams, draw = Diagrams(SIZES), random.Random(1)
    for _ in range(60):
        box = any_box(draw)
        assert in_region(diagrams, diagrams.box(box)) == cases_of(box)
    assert diagrams.box((7, 3, 0, 15)) == diagrams.no
    assert diagrams.box(diagrams.full) == diagrams.yes
    assert diagrams.count(diagrams.yes) == len(CASES)
    assert diagrams.count(diagrams.no) == 0


def test_the_size_of_a_region_is_its_nodes_up_to_a_limit() -> None:
    """Each node once, the leaves it reaches among them."""
    for _, diagrams, one, _ in regions(40):
        nodes, waiting = {one}, [one]
        while waiting:
            below = {child for _, child in diagrams.parts(waiting.pop())} - nodes
            nodes |= below
            waiting += below
        assert diagrams.size(one, 10_000) == len(nodes)
        for most in (1, 2, 3):
            assert diagrams.size(one, most) == min(most, len(nodes))


def test_only_so_many_more_nodes_are_made_where_that_is_asked() -> None:
    """A box on two axes takes two; afterwards, and for what is known already, there is no limit."""
    diagrams = Diagrams(SIZES)
    with pytest.raises(TooIntricateError), diagrams.at_most(1):
        diagrams.box((1, 1, 63, 15))
    with diagrams.at_most(2), diagrams.at_most(50):
        diagrams.box((2, 2, 63, 15))
        with pytest.raises(TooIntricateError):
            diagrams.box((2, 2, 2, 15))
    before = len(diagrams)
    with diagrams.at_most(0):
        assert in_region(diagrams, diagrams.box((2, 2, 63, 15))) == cases_of((2, 2, 63, 15))
    assert len(diagrams) == before
    assert in_region(diagrams, diagrams.box((2, 2, 2, 1))) == cases_of((2, 2, 2, 1))


def test_the_values_met_are_those_that_some_case_has() -> None:
    """Axis by axis."""
    for _, diagrams, one, _ in regions(80):
        cases = in_region(diagrams, one)
        expected = tuple(
            sum(1 << value for value in {case[level] for case in cases}) for level in range(len(SIZES))
        )
        assert values_met(diagrams, one) == expected


def test_an_axis_could_have_the_values_that_keep_all_of_the_box_allowed() -> None:
    """Tried value by value, the rest of the box unchanged."""
    for draw, diagrams, one, _ in regions(60):
        finder, allowed = BoxFinder(diagrams, diagrams.no), in_region(diagrams, one)
        masks = a_box(draw)
        for level, size in enumerate(SIZES):
            could = {
                value
                for value in range(size)
                if cases_of((*masks[:level], 1 << value, *masks[level + 1 :])) <= allowed
            }
            assert finder.could_be(one, masks, level) == sum(1 << value for value in could)


def test_boxes_taken_out_of_a_region_cover_it_and_nothing_that_is_not_free() -> None:
    """Each has a case of its own and one unbroken run of a number; what is left is the rest."""
    for _, diagrams, one, free in regions(80):
        for most in (1, 100):
            boxes, rest = BoxFinder(diagrams, free, RUNS).take(one, most)
            left, allowed = in_region(diagrams, one), in_region(diagrams, one) | in_region(diagrams, free)
            for box in boxes:
                assert cases_of(box) <= allowed
                assert cases_of(box) & left
                assert all(is_a_run(box[level]) for level in RUNS)
                left -= cases_of(box)
            assert in_region(diagrams, rest) == left
            assert len(boxes) <= most
            assert not left or len(boxes) == most


def is_a_run(mask: int) -> bool:
    """Say whether values are one unbroken run, the first value aside."""
    places = [place for place in values_of(mask) if place]
    return places == list(range(places[0], places[-1] + 1)) if places else True


def test_a_region_that_is_one_box_is_told_as_that_box() -> None:
    """Whatever its sides, with runs on the axes of numbers; with all else free nothing need be said."""
    draw, diagrams = random.Random(5), Diagrams(SIZES)
    for _ in range(60):
        box = a_box(draw)
        region = diagrams.box(box)
        assert BoxFinder(diagrams, diagrams.no, RUNS).take(region, 9) == ([box], diagrams.no)
        free = diagrams.minus(diagrams.yes, region)
        assert BoxFinder(diagrams, free, RUNS).take(region, 9) == ([diagrams.full], diagrams.no)


def test_the_larger_of_two_boxes_apart_is_told_first() -> None:
    """So a person reads of most cases first."""
    diagrams = Diagrams(SIZES)
    small, large = (1, 1, 2, 1), (2, 2, 60, 14)
    for region in (diagrams.either(*map(diagrams.box, pair)) for pair in ((small, large), (large, small))):
        assert BoxFinder(diagrams, diagrams.no, RUNS).take(region, 9)[0] == [large, small]


def test_a_box_leaves_out_values_without_a_case_unless_it_can_have_all() -> None:
    """Where value 2 of the first axis is nobody's, a box of value 0 does not name it beside."""
    diagrams = Diagrams(SIZES)
    region, free = diagrams.box((1, 1, 63, 15)), diagrams.box((4, 3, 63, 15))
    assert BoxFinder(diagrams, free, RUNS).take(region, 9)[0] == [(1, 1, 63, 15)]


def test_the_run_around_some_values_is_the_longest_that_could_be() -> None:
    """Grown value by value to both sides; the unknown number is taken along where it could be."""
    draw = random.Random(3)
    for _ in range(300):
        size = 8
        first, last = sorted((draw.randrange(1, size), draw.randrange(1, size)))
        now = (2 << last) - (1 << first)
        could = draw.randint(0, (1 << size) - 1) | now
        while first > 1 and could >> (first - 1) & 1:
            first -= 1
        while could >> (last + 1) & 1:
            last += 1
        expected = (2 << last) - (1 << first) | could & 1
        assert run_around(now, could) == expected
        assert run_around(now | could & 1, could) == expected
    assert run_around(1, 0b11111) == 1


def test_a_box_grown_outside_others_holds_its_case_and_none_of_what_it_must_not() -> None:
    """It may run into what is free, and no axis of it can be widened any more."""
    for draw, each in draws(100):
        box, among = a_box(draw), draw.randint(0, each.everyone)
        free = among & draw.randint(0, each.everyone)
        found = largest_outside(each.covers, box, among, free)
        outside = outside_of(box, chosen(among, each.boxes))
        allowed = outside_of(box, chosen(among & ~free, each.boxes))
        assert (found is None) == (not outside)
        if found is not None:
            masks, case = found
            assert case in outside
            assert case in cases_of(masks)
            assert cases_of(masks) <= allowed
            assert all(is_a_run(masks[level]) for level in RUNS)
            assert not any(wider(masks, level, allowed) for level in range(len(SIZES)))
            for order in (range(len(SIZES)), reversed(range(len(SIZES)))):
                assert cells(masks) >= len(cases_of(grown(case, order, allowed)))


def grown(case: Case, order: Iterable[int], allowed: frozenset[Case]) -> Masks:
    """Widen a case axis by axis as far as all of it stays allowed, a number to both sides value by value."""
    masks = [1 << value for value in case]
    for level in order:
        values = range(SIZES[level])
        could = [cases_of((*masks[:level], 1 << value, *masks[level + 1 :])) <= allowed for value in values]
        if level in RUNS and not all(could):
            kept = {case[level]} | ({0} if could[0] else set())
            for way in (-1, 1):
                value = case[level] + way
                while case[level] and 0 < value < SIZES[level] and could[value]:
                    kept.add(value)
                    value += way
            could = [value in kept for value in values]
        masks[level] = sum(1 << value for value in values if could[value])
    return tuple(masks)


def wider(masks: Masks, level: int, allowed: frozenset[Case]) -> bool:
    """Say whether a box could have one value more on an axis, beside its own on one of numbers."""
    could = [
        value
        for value in range(SIZES[level])
        if not masks[level] >> value & 1
        and cases_of((*masks[:level], 1 << value, *masks[level + 1 :])) <= allowed
    ]
    if level in RUNS and could and masks[level] > 1:
        places = values_of(masks[level] & ~1)
        could = [value for value in could if value in (0, places[0] - 1, places[-1] + 1)]
    elif level in RUNS:
        could = []
    return bool(could)


@pytest.mark.parametrize("apart", [1, 2, 4])
@pytest.mark.parametrize("number", [2, 8, 32])
def test_the_largest_box_is_looked_for_beside_the_first_one_as_well(apart: int, number: int) -> None:
    """Outside one box lie a block of 2 x 2 x 6 x 4 cases and one of 3 x 2 x 1 x 4: the first is told."""
    diagrams = Diagrams(SIZES)
    covers = Covers(diagrams, [(apart, 3, 63 & ~number | 1, 15)], ())
    found = largest_outside(covers, diagrams.full, 1, 0)
    assert found is not None
    assert found[0] == (7 & ~apart, 3, 63, 15)


def test_the_longest_run_of_a_number_is_taken_with_the_unknown() -> None:
    """Of 1, 2 and 4 to 6 the latter; the unknown number stands beside the row."""
    assert longest_run(0b1110110) == 0b1110000
    assert longest_run(0b1110111) == 0b1110001
    assert longest_run(0b0111011) == 0b0111001
    assert longest_run(0b0101110) == 0b0001110
    assert longest_run(0b1) == 0b1
