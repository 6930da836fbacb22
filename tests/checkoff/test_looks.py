"""How long a look counts, what renews it, and how many of the last ones are tried."""

import datetime as dt
from dataclasses import replace
from typing import Any, Final

import pytest

from prepadvisor.logbook import Writer
from prepadvisor.records import Check
from prepadvisor.records import gate as g
from tests.checkoff.shopfloor import DOOR, Shopfloor, by_hand, commands
from tests.checkoff.test_each_fact import facts, said

E1: Final = f"{DOOR}/E1"
HOUR: Final = dt.timedelta(hours=1)


def renewed(
    floor: Shopfloor, hours: float, *, writer: str = "", read: int | None = None, **parts: Any
) -> Shopfloor:
    """Log one look for all of the door so many hours on, by its writer or another one who read so many."""
    floor.now += hours * HOUR
    stated = {
        "at": floor.now,
        "by": "KM",
        "panel": DOOR,
        "feature": "all",
        "step": "inspected",
        "result": "clear",
    }
    check = Check.model_validate({**stated, **parts})
    known = floor.log if read is None else floor.log[:read]
    return floor.add((Writer(writer) if writer else floor.writer).stamp(check, known))


@pytest.mark.parametrize(
    ("parts", "renews"),
    [
        ({}, True),
        ({"result": None}, False),
        ({"writer": "other"}, True),
        ({"writer": "other", "read": 5}, False),
        ({"knew": "nobody-7"}, False),
    ],
)
def test_one_clear_entry_for_all_renews_the_looks_that_it_knew(
    floor: Shopfloor, parts: dict[str, Any], *, renews: bool
) -> None:
    """100 hours after the work, where 96 count: who had read little, and an edited file, renew nothing."""
    knew = parts.get("knew")
    renewed(floor, 90, **{key: value for key, value in parts.items() if key != "knew"})
    if knew is not None:
        floor.with_log((*floor.log[:-1], floor.log[-1].model_copy(update={"knew": knew})))
    kinds = floor.gate(10 * HOUR).kinds(E1)
    assert ("look-old" in kinds or "by-hand" in kinds) is not renews
    assert "look-old" not in floor.gate(HOUR).kinds(E1)


def test_a_look_counts_from_the_last_time_it_was_renewed(floor: Shopfloor) -> None:
    """Renewed at 50 and at 90 hours, it ends 96 hours after the second; the wipe has been renewed as well."""
    renewed(renewed(floor, 50), 40)
    last = floor.now
    for panel in (DOOR, "left-front-wing"):
        floor.put(f"{panel}/panel", "wiped")
    (fact,) = facts(floor, E1, 97)
    assert isinstance(fact, g.LookOld)
    assert fact.said == said(floor, E1, "inspected")
    assert fact.hours == pytest.approx(97 + (floor.now - last) / HOUR)
    assert facts(floor, E1, 95) == []


def test_what_was_worked_after_it_was_renewed_is_looked_at_anew(floor: Shopfloor) -> None:
    """And one for all, said after that, is no look of its own."""
    floor.put(E1, "guide-coated").put(E1, "sanded", tool="da-soft", grade="P1000")
    renewed(floor, 1)
    assert "looked-before" in floor.gate().kinds(E1)


def test_a_look_that_is_dated_a_little_ahead_counts_from_its_own_time(floor: Shopfloor) -> None:
    """Clocks differ by minutes: it ends 96 hours after the time that it states."""
    floor.with_log([check.model_copy(update={"at": floor.now}) for check in floor.log])
    house = floor.house.shop.model_copy(update={"gate_hours": 500})
    floor.house = replace(floor.house, shop=house)
    assert floor.gate(dt.timedelta(minutes=-5)).gate.expires == floor.now + 96 * HOUR


@pytest.mark.parametrize(("more", "held"), [(1, False), (19, False), (20, True)])
def test_the_last_twenty_looks_are_tried_for_one_that_counts(
    floor: Shopfloor, more: int, *, held: bool
) -> None:
    """Behind so many that say nothing the last good one is over; the newest is told."""
    blank = said(floor, E1, "inspected").check.model_copy(update={"result": None, "id": "", "knew": ""})
    for _ in range(more):
        floor.add(floor.writer.stamp(blank, floor.log))
    assert facts(floor, E1) == ([g.NoResult(said(floor, E1, "inspected"))] if held else [])


@pytest.mark.parametrize(
    ("steps", "times"),
    [
        (("lines",), [1]),
        (("lines", "lines"), [2, 1]),
        (("lines", "clear", "lines"), [1, 1]),
        (("lines", "work", "lines"), [2, 1]),
        (("lines", "work", "gloss", "lines"), [1, 1, 1]),
        (("low", "lines", "work", "lines", "work", "lines"), [3, 2, 1, 1]),
    ],
)
def test_looks_in_a_row_are_counted_whatever_was_worked_between(
    floor: Shopfloor, steps: tuple[str, ...], times: list[int]
) -> None:
    """Newest first: the second time in a row the step before is taken again; a clear look ends a row."""
    place = f"{DOOR}/face"
    for each in steps:
        if each == "work":
            floor.put(place, "guide-coated")
        else:
            floor.put(place, "inspected", result=each)
    seen = [fact for fact in facts(floor, place) if isinstance(fact, g.SawSomething)]
    assert [fact.times for fact in seen] == times


def test_of_entries_moved_by_hand_the_newest_that_speaks_for_the_work_is_told(floor: Shopfloor) -> None:
    """Powder and sanding of an edge; another edge has nothing to do with it."""
    log = [
        check.model_copy(update={"knew": "nobody-1"})
        if (check.panel, check.feature) == (DOOR, "E1") and check.step in {"guide-coated", "sanded"}
        else check
        for check in floor.log
    ]
    floor.with_log(log)
    assert facts(floor, E1) == [g.ByHand(said(floor, E1, "sanded"))]
    assert facts(floor, f"{DOOR}/E2") == []


@pytest.mark.parametrize("late", [True, False])
def test_work_before_what_it_must_follow_elsewhere_names_that_place_and_its_entry(
    fresh: Shopfloor, *, late: bool
) -> None:
    """What is done ahead of a recess that only the hand reaches: with the scuff that came late, if any."""
    hand = f"{DOOR}/H1"
    follows = [
        task for task in fresh.advice.work.tasks if f"{hand}.scuff.1" in task.after and task.place != hand
    ]
    first = next(task for task in follows if task.do in ("sand", "scuff", "powder"))
    own = [args for args in commands(fresh.advice) if args[0] == hand and args[1] == "scuffed"]
    fresh.run(args for args in commands(fresh.advice) if args not in own)
    if late:
        fresh.run(own)
    step = {"sand": "sanded", "scuff": "scuffed", "powder": "guide-coated"}[first.do]
    expected = g.TooEarly(
        said(fresh, first.place, step), "scuff", hand, said(fresh, hand, "scuffed") if late else None
    )
    assert expected in facts(fresh, first.place)
    if late:
        fresh.with_log(by_hand(check for check in fresh.log if check.step != "cleaned"))
        assert g.TooEarly(said(fresh, hand, "scuffed"), "clean", DOOR, None) in facts(fresh, hand)


@pytest.mark.parametrize("where", [f"{DOOR}/panel", E1])
def test_lines_seen_wet_stand_behind_gloss_that_was_seen_after_them(floor: Shopfloor, where: str) -> None:
    """Gloss in a wet coat is as it should be, and takes nothing back."""
    floor.put(where, "seen-wet", result="lines").put(where, "seen-wet", result="gloss")
    assert "saw-something" in floor.gate().kinds(where.removesuffix("/panel"))


def test_a_wipe_that_was_overtaken_is_open_with_its_entry(floor: Shopfloor) -> None:
    """Its task names the entry that no longer counts."""
    wiped = said(floor, DOOR, "wiped").check.id
    floor.put(E1, "guide-coated")
    (task,) = (each for each in floor.gate().gate.work.tasks if each.id == f"{DOOR}.wipe.1")
    assert (task.state, task.entry) == ("open", wiped)
