"""Lists of boxes over a tiny space, each question answered a second time by trying every case."""

import pytest

from prepadvisor.standards.proof.covers import Covers, Support, values_of
from prepadvisor.standards.proof.diagram import Diagrams, Masks, TooIntricateError
from prepadvisor.standards.proof.outside import Outside, beside
from prepadvisor.standards.proof.pairs import FoundPairs
from tests.standards.proof.tiny import (
    CASES,
    RUNS,
    SIZES,
    a_box,
    any_box,
    cases_of,
    chosen,
    draws,
    in_any,
    in_region,
    outside_of,
    some_masks,
    told,
)


def test_which_boxes_hold_or_meet_some_values_is_what_asking_each_box_says() -> None:
    """Accepting, holding, meeting: of one axis, for any set of its values, whole and broken."""
    for draw, (_, covers, boxes) in draws(60):
        for level, size in enumerate(SIZES):
            asks = [box[level] != (1 << size) - 1 for box in boxes]
            assert told(covers.asks[level], boxes) == asks
            for value in range(size):
                accepted = [bool(box[level] >> value & 1) for box in boxes]
                assert told(covers.accepting(level, value), boxes) == accepted
            for mask in some_masks(draw, level):
                held = [box[level] & mask == mask for box in boxes]
                met = [box[level] & mask != 0 for box in boxes]
                assert told(covers.holding(level, mask), boxes) == held
                assert told(covers.holding_all(level, mask), boxes) == held
                assert told(covers.meeting(level, mask), boxes) == met
                assert told(covers.meeting_any(level, mask), boxes) == met


def test_boxes_that_touch_share_a_case() -> None:
    """Of those asked about, exactly the ones with a case in common, and none of the rest."""
    for draw, each in draws(80):
        for _ in range(5):
            box, among = any_box(draw), draw.randint(0, each.everyone)
            touching = [
                bool(among >> place & 1) and bool(cases_of(box) & cases_of(other))
                for place, other in enumerate(each.boxes)
            ]
            assert told(each.covers.touching(box, among), each.boxes) == touching


def test_values_outside_are_those_that_none_of_the_boxes_has() -> None:
    """Of any set of values, for few boxes and for many."""
    for draw, each in draws(60):
        for level in range(len(SIZES)):
            for mask in some_masks(draw, level):
                some = draw.randint(0, each.everyone)
                left = mask
                for box in chosen(some, each.boxes):
                    left &= ~box[level]
                assert each.covers.values_outside(level, mask, some) == left


def test_a_split_puts_together_the_values_that_leave_the_same_boxes_in_play() -> None:
    """Every value asked about stands in one part, with the boxes that it leaves of those in play."""
    for draw, each in draws(60):
        for level in range(len(SIZES)):
            for inside in some_masks(draw, level):
                alive = draw.randint(0, each.everyone)
                expected: dict[int, int] = {}
                for value in values_of(inside):
                    left = sum(
                        1 << place
                        for place, box in enumerate(each.boxes)
                        if alive >> place & 1 and box[level] >> value & 1
                    )
                    expected[left] = expected.get(left, 0) | 1 << value
                assert each.covers.split(level, inside, alive) == expected


def test_an_axis_that_is_ignored_is_as_if_no_box_asked_it() -> None:
    """The others stay as they are; bits too; and the list it came from."""
    for draw, each in draws(40):
        for level in range(len(SIZES)):
            free = each.covers.ignoring(level)
            boxes = [(*box[:level], each.diagrams.full[level], *box[level + 1 :]) for box in each.boxes]
            box = any_box(draw)
            touching = [bool(cases_of(box) & cases_of(other)) for other in boxes]
            assert told(free.touching(box, each.everyone), boxes) == touching
            found = Outside(free, box, each.everyone).case()
            assert (found is not None) == bool(outside_of(box, boxes))
            before = [bool(cases_of(box) & cases_of(other)) for other in each.boxes]
            assert told(each.covers.touching(box, each.everyone), each.boxes) == before


def test_the_share_of_a_box_is_that_of_its_cases() -> None:
    """One share a box, of all cases there are."""
    for _, each in draws(20):
        shares = [len(cases_of(box)) / len(CASES) for box in each.boxes]
        assert each.covers.shares == pytest.approx(shares)


def test_the_boxes_that_hold_a_case_are_those_it_lies_in() -> None:
    """Asked case by case."""
    for _, each in draws(10):
        for case in sorted(CASES)[::7]:
            holding = [case in cases_of(box) for box in each.boxes]
            assert told(each.covers.holding_case(case), each.boxes) == holding


def test_the_boxes_that_hold_all_of_a_box_are_those_around_it() -> None:
    """Of some of them."""
    for draw, each in draws(40):
        box, among = any_box(draw), draw.randint(0, each.everyone)
        around = [
            bool(among >> place & 1) and cases_of(box) <= cases_of(other)
            for place, other in enumerate(each.boxes)
        ]
        assert told(each.covers.holding_box(box, among), each.boxes) == around


def test_after_very_many_pairs_two_rules_that_stand_in_some_are_not_asked_again() -> None:
    """400 pairs, each of both in three of them; before that, and of a rule in fewer, all are asked."""
    known = FoundPairs()
    for number in range(399):
        known.add("a" if number < 3 else number, "b" if number < 3 else -number)
    assert not known.is_enough("a", "b")
    known.add("c", "d")
    assert known.is_enough("a", "b")
    assert not known.is_enough("a", "c")
    assert not known.is_enough("c", "b")
    assert not known.is_enough("a", "new")
    for _ in range(2):
        known.add("e", "f")
    assert not known.is_enough("e", "a")
    assert not known.is_enough("a", "f")
    known.add("f", "e")
    assert known.is_enough("e", "f")
    assert [FoundPairs.number(pairs) for pairs in (1, 199, 200)] == ["1", "199", "At least 200"]


def test_the_parts_of_a_box_in_a_support_hold_what_both_share() -> None:
    """Of some of its boxes; each part once, and with one axis free that no box is asked of."""
    for draw, each in draws(40):
        box, among = any_box(draw), draw.randint(0, each.everyone)
        parts = Support(each.covers, among).parts(box)
        assert in_any(parts) == cases_of(box) & in_any(chosen(among, each.boxes))
        assert len(set(parts)) == len(parts)
        assert all(map(cases_of, parts))
        free = Support(each.covers.ignoring(2), among).parts(box)
        boxes = [(*one[:2], 63, one[3]) for one in chosen(among, each.boxes)]
        assert in_any(free) == cases_of(box) & in_any(boxes)


@pytest.mark.parametrize("places", [[], [0], [13], [14], [13, 14, 15], [0, 40, 90], list(range(20))])
def test_the_values_of_a_set_are_its_places_rising(places: list[int]) -> None:
    """Small sets and large ones."""
    assert list(values_of(sum(1 << place for place in places))) == places


def test_a_case_outside_is_found_exactly_if_there_is_one() -> None:
    """It lies in the box and in none of the others; the region holds all such cases."""
    for draw, each in draws(150):
        for _ in range(4):
            box, among = any_box(draw), draw.randint(0, each.everyone)
            expected = outside_of(box, chosen(among, each.boxes))
            outside = Outside(each.covers, box, among)
            found = outside.case()
            assert (found in expected) if expected else (found is None)
            assert in_region(each.diagrams, outside.region()) == expected


def test_where_there_are_supports_a_case_lies_in_one_of_each_list() -> None:
    """One list, as the region knows it, and two."""
    for draw, each in draws(80):
        first, second = ([a_box(draw) for _ in range(draw.randint(1, 3))] for _ in range(2))
        held = in_any(first)
        both = held & in_any(second)
        for _ in range(3):
            box, among = any_box(draw), draw.randint(0, each.everyone)
            left = outside_of(box, chosen(among, each.boxes))
            one = Outside(Covers(each.diagrams, each.boxes, RUNS, first), box, among)
            both_lists = (Covers(each.diagrams, boxes, RUNS) for boxes in (first, second))
            asked = (Support(index, index.everyone) for index in both_lists)
            two = Outside(each.covers.supported(*asked), box, among)
            for outside, expected in ((one, left & held), (two, left & both)):
                found = outside.case()
                assert (found in expected) if expected else (found is None)
            assert in_region(each.diagrams, one.region()) == left & held


def test_a_box_without_a_case_has_nothing_outside() -> None:
    """Some set of values in it is empty."""
    for _, each in draws(10):
        nothing = Outside(each.covers, (7, 0, 63, 15), each.everyone)
        assert nothing.case() is None
        assert nothing.region() == each.diagrams.no


def test_boxes_without_a_case_are_in_nobodys_way() -> None:
    """Empty on any axis, they touch nothing and leave all cases outside."""
    empty: list[Masks] = [(0, 3, 63, 15), (7, 0, 63, 15), (7, 3, 0, 15), (7, 3, 63, 0), (1, 0, 4, 15)]
    for draw, each in draws(30):
        boxes = [*each.boxes, *empty]
        covers = Covers(each.diagrams, boxes, RUNS)
        for box in (any_box(draw), each.diagrams.full):
            assert covers.touching(box, covers.everyone) == each.covers.touching(box, each.everyone)
            expected = outside_of(box, each.boxes)
            found = Outside(covers, box, covers.everyone)
            case = found.case()
            assert (case in expected) if expected else (case is None)
            assert in_region(each.diagrams, found.region()) == expected


def test_what_lies_beside_a_box_is_told_in_boxes_that_leave_nothing_out() -> None:
    """Together with what both share they are the whole box, and none of them touches the other box."""
    for draw, _ in draws(40):
        box, other = any_box(draw), any_box(draw)
        around = beside(box, other)
        assert in_any(around) == cases_of(box) - cases_of(other)


def test_a_region_that_takes_too_many_situations_is_given_up() -> None:
    """With as many as it takes it is found, with one less it is not."""
    diagrams = Diagrams(SIZES)
    boxes: list[Masks] = [(1, 1, 63, 15), (2, 2, 62, 15), (4, 3, 4, 15)]
    outside = Outside(Covers(diagrams, boxes, RUNS), diagrams.full, 7)
    expected = outside_of(diagrams.full, boxes)
    enough = next(most for most in range(100) if not gives_up(outside, most))
    assert 2 < enough < 20
    assert all(gives_up(outside, most) for most in range(enough))
    assert in_region(diagrams, outside.region(enough)) == expected


def gives_up(outside: Outside, most: int) -> bool:
    """Say whether a region is too intricate."""
    try:
        outside.region(most)
    except TooIntricateError:
        return True
    return False
