"""Entries that make sense are made, with their basis; those that do not are refused with every reason."""

import datetime as dt
from typing import Any

import pytest

from prepadvisor.checkoff.basis import bases
from prepadvisor.checkoff.log_entry import EntryRefusedError, Wanted, log_entry

NOW = dt.datetime(2026, 3, 2, 9, 40, 7, 5, tzinfo=dt.UTC)


def test_an_entry_has_its_time_and_what_it_rests_on(door: Any) -> None:
    """The time is now to the second; the basis is that of its place."""
    check = log_entry(door.job, door.advice, Wanted("door/E1", "inspected", "KM", result="clear"), NOW)
    assert (check.at, check.basis) == (NOW.replace(microsecond=0), bases(door.job, door.advice)["door/E1"])


def test_a_grade_is_written_in_its_one_spelling(door: Any) -> None:
    """A wand may send it in lower case."""
    wanted = Wanted("door/E1", "scuffed", "KM", tool="hand-pad", grade=" p1000 ")
    assert log_entry(door.job, door.advice, wanted, NOW).grade == "P1000"


def test_a_pads_name_stands_for_the_coarse_end_of_its_range(door: Any) -> None:
    """A pad known only by its colour is no grade; the shop file says what it may be at worst."""
    wanted = Wanted("door/E1", "scuffed", "KM", tool="hand-pad", pad="grey")
    check = log_entry(door.job, door.advice, wanted, NOW, {"grey": "P800"})
    assert (check.grade, check.note) == ("P800", "(pad grey)")


@pytest.mark.parametrize(
    ("wanted", "says"),
    [
        (Wanted("dor/E1", "scuffed"), 'no panel "dor"; did you mean "door"?'),
        (Wanted("door/E9", "scuffed"), 'no place "E9"'),
        (Wanted("door/e1", "scuffed"), 'no place "e1"; did you mean "E1"?'),
        (Wanted("door/../../x", "scuffed"), "no place"),
        (Wanted("door", "scuffed"), '"scuffed" is for a place'),
        (Wanted("door/panel", "sanded"), '"sanded" is for a place'),
        (Wanted("door/E1", "scuffd"), 'no step "scuffd"; did you mean "scuffed"?'),
        (Wanted("door/E1", "cleaned"), '"cleaned" is for the whole panel: write door/panel'),
        (Wanted("door/all", "wiped"), "for the whole panel"),
        (Wanted("door/all", "inspected", result="clear"), "every place needs its own look"),
        (Wanted("door/all", "accepted", "JB", note="x"), "every place needs its own look"),
        (Wanted("door/E1", "inspected"), "a look needs its result"),
        (Wanted("door/E1", "inspected", result="fine"), 'no result "fine"'),
        (Wanted("door/E1", "inspected", result="clear", grade="P1000"), "no tool and no grade"),
        (Wanted("door/E1", "scuffed", result="clear"), "has no result"),
        (Wanted("door/E1", "scuffed", tool="hand-pad", grade="1000"), '"1000" has no P'),
        (Wanted("door/E1", "scuffed", tool="hand-pad", grade="P1001"), "not a grade"),
        (Wanted("door/E1", "scuffed", tool="pad"), 'no tool "pad"'),
        (Wanted("door/E1", "scuffed", tool="hand-pad", pad="blue"), 'no pad "blue"'),
        (Wanted("door/E1", "scuffed", grade="P800", pad="grey"), "not both"),
        (Wanted("door/E1", "accepted", note="hidden"), "initials"),
        (Wanted("door/E1", "accepted", "JB"), "a reason"),
        (Wanted("door/E1", "accepted", " ", note=" "), "initials"),
        (Wanted("door/E1", "scuffed", tool="da"), "scuffing is by hand"),
        (Wanted("door/E1", "sanded", tool="hand-pad"), "hand-pad is a hand tool"),
        (Wanted("door/E1", "sanded", tool="block"), "block is a hand tool"),
        (Wanted("door/H1", "sanded", tool="da-soft", grade="P1500"), "worked by hand only"),
        (Wanted("door/H1", "guide-coated"), "powder stays in it as specks"),
        (Wanted("door/E1", "guide-coated", at=NOW + dt.timedelta(seconds=1)), "lies ahead of now"),
        (Wanted("door/E1", "guide-coated", at=NOW.replace(tzinfo=None)), "no offset"),
        (Wanted("door/E1", "guide-coated", "K\x1bM"), "control character"),
        (Wanted("door/E1", "guide-coated", note="x" * 500), "note"),
    ],
)
def test_what_makes_no_sense_is_refused(door: Any, wanted: Wanted, says: str) -> None:
    """Each with its reason in words."""
    with pytest.raises(EntryRefusedError) as refused:
        log_entry(door.job, door.advice, wanted, NOW, {"grey": "P800"})
    assert says in str(refused.value)


def test_all_reasons_are_told_at_once(door: Any) -> None:
    """Nobody wants to be refused three times."""
    wanted = Wanted("door/E9", "sanded", tool="hand-pad", grade="1000", at=NOW + dt.timedelta(days=1))
    with pytest.raises(EntryRefusedError) as refused:
        log_entry(door.job, door.advice, wanted, NOW)
    assert len(refused.value.faults) == 4


def test_a_patch_may_be_blocked(door: Any) -> None:
    """A primer patch is blocked flat before its finer steps."""
    wanted = Wanted("door/R1", "sanded", "KM", tool="block", grade="P320")
    assert log_entry(door.job, door.advice, wanted, NOW).tool == "block"


def test_work_without_tool_or_grade_is_logged_as_it_is(door: Any) -> None:
    """It then holds the gate as not recorded, which is the truth."""
    assert log_entry(door.job, door.advice, Wanted("door/E1", "scuffed", "KM"), NOW).grade is None
