"""Ranges of numbers held against plain comparison, and an engine asked for what lies below a layer."""

from collections.abc import Iterator
from itertools import product
from math import inf

import numpy as np
import pytest

from prepadvisor.cases import CATEGORIES, CATEGORY, Facts
from prepadvisor.records import OUTLINES, RANK, Deviation, Grade, StandardsUsed
from prepadvisor.standards.engine import (
    NO_READING,
    Bitmaps,
    Box,
    Engine,
    Example,
    Impossible,
    Interval,
    Promise,
    Rule,
    Withdraw,
    bits_of,
    box_of,
    places_of,
)
from prepadvisor.standards.engine.conditions import NumberCuts

ENDS = (0.0, 1.0, 2.0)
NUMBERS = (None, 0.0, 0.5, 1.0, 1.5, 2.0, 3.0)


def ranges() -> Iterator[Interval]:
    """Go through all ranges between few ends, open and closed, with and without the unknown number."""
    for low, high, low_closed, high_closed, unknown in product(
        ENDS, (*ENDS, inf), (False, True), (False, True), (False, True)
    ):
        if high < inf or not high_closed:
            yield Interval(low, low_closed, high, high_closed, unknown)


def members(limits: Interval) -> set[float | None]:
    """Return the numbers of a range by its plain meaning."""
    return {
        number
        for number in NUMBERS
        if (limits.unknown if number is None else
            (limits.low < number or (limits.low_closed and limits.low == number))
            and (number < limits.high or (limits.high_closed and number == limits.high)))
    }  # fmt: skip


EVERY = tuple(ranges())


def test_a_range_holds_its_numbers() -> None:
    """Ends as they are closed or open; nothing known between ends that run backwards."""
    for limits in EVERY:
        assert {number for number in NUMBERS if limits.holds(number)} == members(limits)
        assert limits.numberless == (not members(limits) - {None})
        assert limits.empty == (not members(limits))


def test_what_two_ranges_share_and_whether_one_covers_the_other() -> None:
    """As sets; a range without a number has one form only."""
    told = [limits for limits in EVERY if not limits.numberless or limits == NO_READING]
    for one, other in product(told, told):
        both = one.overlap(other)
        assert members(both) == members(one) & members(other)
        assert not both.numberless or both == NO_READING._replace(unknown=both.unknown)
        assert one.covers(other) == (members(other) <= members(one))


def test_boxes_of_ranges_are_found_by_number() -> None:
    """Of many boxes those that a case lies in, one bit each; a box without a range holds any number."""
    boxes = [box_of({}, {"film_um": limits}) for limits in EVERY] + [box_of({})]
    bitmaps = Bitmaps(boxes)
    assert bitmaps.count == len(boxes)
    for number in NUMBERS:
        met = bitmaps.meeting(Facts(film_um=number))
        expected = [place for place, limits in enumerate(EVERY) if number in members(limits)]
        assert list(places_of(met)) == [*expected, len(EVERY)]
        assert bits_of(expected, len(boxes)) | 1 << len(EVERY) == met


def test_a_number_is_cut_into_its_ends_and_what_lies_between() -> None:
    """Of n ends 2 n + 1 pieces; no end lies at infinity, and no range without numbers cuts."""
    ranges = [Interval(90.0), Interval(90.0, True, 120.0, True), None, NO_READING, Interval(5.0, True, 3.0)]
    cuts = NumberCuts(ranges)
    assert cuts.points == [90.0, 120.0]
    assert cuts.pieces == [0b00100, 0b00111, 0b00111, 0b00111, 0b00101]
    assert cuts.unknown == 0b01100
    assert [cuts.piece(number) for number in (0.0, 90.0, 100.0, 120.0, 121.0)] == [0, 1, 2, 3, 4]


def test_a_box_is_empty_where_nothing_lies_in_it() -> None:
    """No value of a fact, or no number and none unknown."""
    assert not box_of({}).empty
    assert box_of({"flake": ()}).empty
    assert box_of({}, {"film_um": Interval(2.0, True, 1.0)}).empty
    assert not box_of({}, {"film_um": NO_READING}).empty
    assert box_of({"flake": ("fine",)}).overlap(box_of({"flake": ("solid",)})) is None
    assert box_of({"flake": ("fine",)}).covers(box_of({"flake": ()}))
    assert not box_of({"flake": ("fine",)}).covers(box_of({}))
    assert not box_of({}, {"film_um": Interval(1.0)}).covers(box_of({}))
    assert box_of({}).covers(box_of({}, {"film_um": Interval(1.0)}))


def test_a_box_of_an_open_fact_names_what_it_allows_or_leaves_out() -> None:
    """All but some is told by these; names come sorted, and stand as data without their places."""
    book = CATEGORIES[CATEGORY["book"]].values
    for name in ("b", "a"):
        book.place(name)  # type: ignore[attr-defined]
    some = box_of({"book": ("b", "a")})
    place = CATEGORY["book"]
    masks = list(box_of({}).masks)
    masks[place] = ~some.masks[place]
    but = Box(tuple(masks), some.ranges)
    assert (some.named("book"), some.left_out("book")) == (["a", "b"], ())
    assert (but.named("book"), set(but.left_out("book"))) == (["a", "b"], {"a", "b"})
    assert box_of({"flake": ("fine",)}).left_out("flake") == ()
    plain = some.plain[0]
    assert isinstance(plain, list)
    assert plain[place] == [False, 0, ["a", "b"]]
    assert but.plain[0][place] == [True, 1, ["a", "b"]]  # type: ignore[index]
    with pytest.raises(ValueError, match="cannot be one of"):
        box_of({"panel": ("nobody's kind",)})


def rule(name: str, rank: int, output: str = "P800", replaces: str | None = None) -> Rule:
    """Return a rule of a layer of some rank."""
    layer = ("base", "group", "site")[rank]
    return Rule(
        name, "x", box_of({}), {"finish_coarsest": output}, "x", layer, replaces=replaces, rank=rank  # type: ignore[dict-item]
    )  # fmt: skip


def test_standards_up_to_a_layer_are_as_they_were_without_those_above() -> None:
    """Rules, withdrawals, promises, examples and deviations; what a layer above set aside is back."""
    base, other = rule("base", 0, "P1500"), rule("other", 0)
    group, site = rule("group", 1, "P1200", replaces="base"), rule("site", 2, "P600")
    withdrawals = [Withdraw("group", "x", "site", rank=2)]
    everything = box_of({})
    told = tuple(
        Deviation(rule=name, kind="withdrawn", by=layer, says="x", file="", line=0, layer=layer, below="base")
        for name, layer in (("base", "group"), ("group", "site"), ("lost", "nobody"))
    )
    engine = Engine(
        [other, site], withdrawals=withdrawals, set_aside=[base, group],
        promises=[
            Promise("p", "wet_bed", "weaker", everything, along="flake", rank=rank) for rank in (0, 1, 2)
        ],
        examples=lambda: [Example({}, Facts(), {}, rank=rank) for rank in (2, 1, 0)],
        used=StandardsUsed(deviations=told),
    )  # fmt: skip
    assert engine.height == 2
    found = [engine.up_to(rank) for rank in (0, 1, 2)]
    assert [[each.id for each in below.rules] for below in found] == [
        ["base", "other"], ["group", "other"], ["other", "site"],
    ]  # fmt: skip
    assert [[each.id for each in below.set_aside] for below in found] == [[], ["base"], ["base", "group"]]
    assert [len(below.promises) for below in found] == [1, 2, 3]
    assert [len(below.examples) for below in found] == [1, 2, 3]
    assert [len(below.withdrawals) for below in found] == [0, 0, 1]
    assert [[each.rule for each in below.deviations] for below in found] == [
        [], ["base"], ["base", "group"],
    ]  # fmt: skip
    assert engine.base is found[0]
    assert engine.up_to(1) is found[1]
    assert [below.height for below in found] == [0, 1, 2]
    assert Engine([]).height == 0
    assert Engine([], withdrawals=withdrawals).height == 2


def test_standards_without_an_entry_have_back_what_it_set_aside() -> None:
    """A replacement, a withdrawal, a plain rule."""
    base, group = rule("base", 0, "P1500"), rule("group", 1, "P1200", replaces="base")
    withdrawal = Withdraw("base", "x", "group")
    replaced = Engine([group], set_aside=[base])
    assert [each.id for each in replaced.without(group).rules] == ["base"]
    withdrawn = Engine([rule("own", 1)], set_aside=[base], withdrawals=[withdrawal])
    assert [each.id for each in withdrawn.without(withdrawal).rules] == ["base", "own"]
    assert [each.id for each in withdrawn.without(withdrawn.rules[0]).rules] == []
    assert [each.id for each in withdrawn.without(withdrawn.rules[0]).set_aside] == ["base"]


def test_entries_stand_in_the_order_of_their_files() -> None:
    """Rules by id; what cannot be, promises, withdrawals and examples by file and line."""
    nowhere = box_of({"flake": ("solid",)})
    cannot = [Impossible(nowhere, text, file, line) for text, file, line in (
        ("c", "b.toml", 1), ("b", "a.toml", 9), ("a", "a.toml", 9), ("d", "a.toml", 2),
    )]  # fmt: skip
    engine = Engine([rule("b", 0), rule("a", 0)], cannot)
    assert [each.id for each in engine.rules] == ["a", "b"]
    assert [each.because for each in engine.impossibles] == ["d", "a", "b", "c"]
    assert engine.impossible(Facts(flake="solid")) == "d"
    assert engine.impossible(Facts(flake="fine")) is None


def test_a_house_with_kinds_of_its_own_cuts_cases_by_every_kind() -> None:
    """One box more, that names them all; without own kinds there is none."""
    plain, own = Engine([rule("a", 0)]), Engine([rule("a", 0)], kinds=["fin"])
    assert len(plain.boxes) == 1
    assert len(own.boxes) == 2
    assert own.boxes[1].values("panel") == (*OUTLINES, "fin")
    assert own.kinds == ("fin",)


def test_a_sweep_of_no_columns_is_the_one_usual_case() -> None:
    """Every fact has its start value."""
    swept = Engine([rule("a", 0)]).sweep({})
    assert {len(column) for column in swept.values()} == {1}
    assert swept["finish_coarsest"][0] == RANK[Grade("P800")]


def test_a_sweep_tells_the_name_that_was_named_last_from_the_one_before_and_from_any_to_come() -> None:
    """Colours of a book have their places in the order in which they are named, after "other"."""
    names = CATEGORIES[CATEGORY["book"]].values
    for name in ("named-last-but-one", "named-last"):
        names.place(name)  # type: ignore[attr-defined]
    rules = [
        Rule(name, "x", box_of({"book": (name,)}), {"finish_coarsest": grade}, "x")
        for name, grade in (("named-last-but-one", Grade("P800")), ("named-last", Grade("P1000")))
    ]
    engine = Engine(rules)
    asked = ["other", "named-last-but-one", "named-last"]
    codes = np.array([names.index(name) for name in asked])
    found = engine.sweep({"book": codes})["finish_coarsest"]
    assert list(found[1:]) == [RANK[Grade("P800")], RANK[Grade("P1000")]]
    names.place("named-since")  # type: ignore[attr-defined]
    later = np.array([names.index("named-since")])
    assert engine.sweep({"book": later})["finish_coarsest"][0] == found[0]


def test_an_entry_that_was_never_in_a_file_has_no_place() -> None:
    """Line 0 is none; rules, examples and promises are then the base's, a withdrawal the lowest layer's."""
    box = box_of({})
    ranked = (
        Rule("a", "x", box, {}, "x"), Withdraw("a", "x", "ours"), Example({}, Facts(), {}),
        Promise("p", "wet_bed", "weaker", box),
    )  # fmt: skip
    assert [(each.file, each.line) for each in (*ranked, Impossible(box, "x"))] == [("", 0)] * 5
    assert [each.rank for each in ranked] == [0, 1, 0, 0]
    assert [each.layer for each in ranked] == ["base", "ours", "base", "base"]
    assert Engine([]).used == StandardsUsed()
