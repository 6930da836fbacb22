"""Each hold, mend and remark of the check-off with its facts whole, for one door and wing done just so."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.cases import with_usual_lines
from prepadvisor.checkoff.basis import mends
from prepadvisor.files import load_house
from prepadvisor.logbook import Entry, Logbook
from prepadvisor.planning import advise
from prepadvisor.records import Check, LinesGone
from prepadvisor.records import gate as g
from tests.checkoff.shopfloor import DOOR, START, Shopfloor

WING: Final = "left-front-wing"
FACE, E1, E2, E3, H1, F1 = (f"{DOOR}/{each}" for each in ("face", "E1", "E2", "E3", "H1", "F1"))
SAND: Final = {"tool": "da-soft", "grade": "P1000"}
Facts = Sequence[g.HoldFact]


def facts(floor: Shopfloor, place: str, hours: float = 0.0) -> Facts:
    """Return why a place holds."""
    return [hold.fact for hold in floor.gate(dt.timedelta(hours=hours)).gate.holds if hold.place == place]


def mend(floor: Shopfloor, place: str, kind: str) -> g.MendFact:
    """Return how one of its holds is mended."""
    (found,) = (
        hold.mend for hold in floor.gate().gate.holds if (hold.place, hold.fact.kind) == (place, kind)
    )
    return found


def told(floor: Shopfloor, kind: str) -> list[g.CheckRemark]:
    """Return what is told of a kind."""
    return [each for each in floor.gate().gate.told if each.kind == kind]  # type: ignore[misc]


def said(floor: Shopfloor, place: str, step: str, nth: int = -1) -> g.Said:
    """Return an entry of the log as facts name it, the last of its place and step."""
    panel, _, feature = place.partition("/")
    found = [
        g.Said(number, check)
        for number, check in enumerate(floor.log, 1)
        if (check.panel, check.feature, check.step) == (panel, feature or "panel", step)
    ]
    return found[nth]


def change(floor: Shopfloor, place: str, step: str, **parts: object) -> Shopfloor:
    """Change an entry in the file."""
    number = said(floor, place, step).number
    log = list(floor.log)
    log[number - 1] = log[number - 1].model_copy(update=parts)
    return floor.with_log(log)


def move(floor: Shopfloor, place: str, step: str, before: tuple[str, str]) -> Shopfloor:
    """Move an entry in the file above another, as an editor does."""
    log = list(floor.log)
    taken = log.pop(said(floor, place, step).number - 1)
    floor.with_log(log)
    log.insert(said(floor, *before).number - 1, taken)
    return floor.with_log(log)


# Looks.


def test_a_look_is_held_against_the_newest_of_what_came_after_it(floor: Shopfloor) -> None:
    """Work there, and the face at a crest; work at another edge is none of it."""
    for place, step in ((E1, "guide-coated"), (FACE, "sanded"), (E2, "guide-coated")):
        floor.put(place, step, **(SAND if step == "sanded" else {}))
    assert facts(floor, E1)[-1] == g.LookedBefore(said(floor, E1, "inspected"), said(floor, FACE, "sanded"))
    assert mend(floor, E1, "looked-before") == g.LookAgain()
    floor.put(E1, "sanded", **SAND)
    assert facts(floor, E1) == [g.LookedBefore(said(floor, E1, "inspected"), said(floor, E1, "sanded"))]


def test_a_hand_only_place_near_nothing_is_looked_at_after_its_own_work_alone(floor: Shopfloor) -> None:
    """The recess is no crest: the face sanded again does not re-open it, and that is told."""
    floor.put(FACE, "sanded", **SAND)
    assert facts(floor, H1) == []
    (note,) = told(floor, "face-after-lines")
    assert isinstance(note, g.FaceAfterLines)
    assert note == g.FaceAfterLines(said(floor, FACE, "sanded"), (H1, F1))
    floor.put(H1, "inspected", result="clear")
    assert told(floor, "face-after-lines") == [g.FaceAfterLines(said(floor, FACE, "sanded"), (F1,))]


def test_a_look_that_says_nothing_and_one_for_all_are_no_look(floor: Shopfloor) -> None:
    """Each with the entry it is about."""
    change(floor, E1, "inspected", result=None)
    assert facts(floor, E1) == [g.NoResult(said(floor, E1, "inspected"))]
    log = [
        check for check in floor.log if (check.panel, check.feature, check.step) != (DOOR, "E1", "inspected")
    ]
    floor.with_log(log)
    assert facts(floor, E1) == [g.NotLooked()]
    whole = said(floor, E2, "inspected").check.model_copy(update={"feature": "all", "id": "", "knew": ""})
    floor.add(whole)
    assert facts(floor, E1) == [g.NotLooked(g.Said(len(floor.log), floor.log[-1]))]


def test_the_last_look_that_counts_speaks_though_a_worse_one_follows(floor: Shopfloor) -> None:
    """One without a result after a clear one changes nothing."""
    number = said(floor, E1, "inspected").number
    floor.put(E1, "inspected", result="clear")
    change(floor, E1, "inspected", result=None)
    assert facts(floor, E1) == []
    (look,) = (task for task in floor.gate().gate.work.tasks if task.id == f"{E1}.look.1")
    assert (look.state, look.entry) == ("done", floor.log[number - 1].id)


def test_what_was_seen_names_how_many_looks_in_a_row_saw_it(floor: Shopfloor) -> None:
    """Lines, lines, gloss, lines: newest first, and a row begins anew with another finding."""
    for result in ("lines", "lines", "gloss", "lines"):
        floor.put(E3, "inspected", result=result)
    seen = [fact for fact in facts(floor, E3) if isinstance(fact, g.SawSomething)]
    assert [(fact.result, fact.times) for fact in seen] == [
        ("lines", 1),
        ("gloss", 1),
        ("lines", 2),
        ("lines", 1),
    ]
    numbers = [fact.said.number for fact in seen]
    assert numbers == sorted(numbers, reverse=True)
    (look,) = (task for task in floor.gate().gate.work.tasks if task.id == f"{E3}.look.1")
    assert (look.state, look.entry) == ("held", floor.log[-1].id)


@pytest.mark.parametrize("result", ["lines", "cut-through"])
def test_the_look_that_found_something_speaks_for_the_place_not_a_later_clear_one(
    floor: Shopfloor, result: str
) -> None:
    """Nothing was done between."""
    found = floor.put(E3, "inspected", result=result).log[-1].id
    floor.put(E3, "inspected", result="clear")
    (look,) = (task for task in floor.gate().gate.work.tasks if task.id == f"{E3}.look.1")
    assert (look.state, look.entry) == ("held", found)


def test_a_rub_through_stands_before_what_else_was_seen(floor: Shopfloor) -> None:
    """With the zones of its place, whatever was logged later."""
    floor.put(E3, "inspected", result="cut-through").put(E3, "inspected", result="lines")
    first, second = facts(floor, E3)
    assert isinstance(first, g.RubbedThrough)
    assert first.said == said(floor, E3, "inspected", -2)
    zones = {spot.zone for spot in floor.advice.spots if spot.id.startswith(f"{E3}/")}
    assert set(first.zones) == zones
    assert second == g.SawSomething(said(floor, E3, "inspected"), "lines", 1)


@pytest.mark.parametrize(
    ("looks", "pair"),
    [
        (("lines", "clear"), (-2, -1)),
        (("clear", "lines", "clear"), (-2, -1)),
        (("lines", "clear", "clear"), None),
        (("lines", "lines"), None),
        (("clear", "clear"), None),
        (("lines", "work", "clear"), None),
        (("work", "lines", "clear"), (-2, -1)),
        (("lines", "clear", "work"), (-2, -1)),
    ],
)
def test_clear_right_after_a_finding_without_work_between_is_told(
    floor: Shopfloor, looks: tuple[str, ...], pair: tuple[int, int] | None
) -> None:
    """The last look and the one before it alone."""
    for each in looks:
        if each == "work":
            floor.put(E3, "sanded", **SAND)
        else:
            floor.put(E3, "inspected", result=each)
    expected: list[g.CheckRemark] = []
    if pair is not None:
        first, then = (said(floor, E3, "inspected", nth) for nth in pair)
        expected = [g.ClearWithoutWork(E3, first, then)]
    assert told(floor, "clear-without-work") == expected


def test_hours_are_told_as_they_are(floor: Shopfloor) -> None:
    """A look of 97 hours where 96 count, a wipe of 25 where 24 do; an hour less and both stand."""
    wiped = floor.now
    floor.with_log(
        check.model_copy(update={"at": wiped - dt.timedelta(hours=72)})
        if check.step == "inspected"
        else check
        for check in floor.log
    )
    (look,) = facts(floor, E1, 24.5)
    assert isinstance(look, g.LookOld)
    assert (look.said, look.limit) == (said(floor, E1, "inspected"), 96)
    assert look.hours == pytest.approx(96.5)
    assert mend(floor_at(floor, 24.5), E1, "look-old") == g.LookAgain(renew=True)
    assert facts(floor, E1, 23.9) == []
    (wipe,) = facts(floor, DOOR, 24.5)
    assert isinstance(wipe, g.WipeOld)
    assert (wipe.said, wipe.limit) == (said(floor, DOOR, "wiped"), 24)
    assert wipe.hours == pytest.approx(24.5, abs=0.02)
    assert facts(floor, DOOR, 23.9) == []
    (aged,) = told(floor, "looks-aged")
    assert isinstance(aged, g.LooksAged)
    assert aged.hours == pytest.approx(72, abs=0.2)
    assert {E1, H1, FACE, f"{WING}/R1"} <= set(aged.places)


def floor_at(floor: Shopfloor, hours: float) -> Shopfloor:
    """Return the same so much later."""
    other = floor.copy()
    other.now += dt.timedelta(hours=hours)
    return other


def test_a_clear_gate_ends_with_the_first_look_or_wipe_that_does(floor: Shopfloor) -> None:
    """24 hours after the first wipe, or 96 after the first look, whichever is sooner."""
    first = min(check.at for check in floor.log if check.step == "wiped")
    assert floor.gate().gate.expires == first + dt.timedelta(hours=24)
    early = first - dt.timedelta(hours=80)
    change(floor, E2, "inspected", at=early)
    found = floor.gate().gate.expires
    assert found is not None
    assert abs(found - (early + dt.timedelta(hours=96))) < dt.timedelta(seconds=1)
    floor.put(E1, "guide-coated")
    assert floor.gate().gate.expires is None


# The file edited by hand.


def test_a_look_that_was_moved_is_looked_at_again(floor: Shopfloor) -> None:
    """It says it knew what stands below it: nobody knows what came first."""
    change(floor, E1, "inspected", knew="nobody-1")
    assert facts(floor, E1) == [g.ByHand(said(floor, E1, "inspected"))]
    assert mend(floor, E1, "by-hand") == g.LookAgain()


def test_work_that_was_moved_is_done_again_from_there_and_looked_at(floor: Shopfloor) -> None:
    """Its powder, of which the file does not say what it knew; scuffing before it stands."""
    change(floor, E1, "guide-coated", knew="nobody-1")
    assert facts(floor, E1) == [g.ByHand(said(floor, E1, "guide-coated"))]
    chain = [task for task in floor.advice.work.tasks if task.place == E1 and task.do in ("powder", "sand")]
    asks = tuple(g.Ask(task.do, task.tool, task.grade, task.range) for task in chain)
    assert mend(floor, E1, "by-hand") == g.DoIt(asks, look=True)
    assert E2 not in floor.gate().held


def test_a_wipe_that_was_moved_is_no_wipe(floor: Shopfloor) -> None:
    """The one before it that stands speaks instead, where there is one."""
    change(floor, DOOR, "wiped", knew="nobody-1")
    assert facts(floor, DOOR) == [g.ByHand(said(floor, DOOR, "wiped"))]
    assert mend(floor, DOOR, "by-hand") == g.WipeIt()


def test_an_entry_dated_ahead_is_for_the_clock(floor: Shopfloor) -> None:
    """Of cleaning, wiping and a look alike; the wipe before it is over, as the look is, by its own time."""
    ahead = floor.now + dt.timedelta(hours=5)
    for place, step in ((DOOR, "wiped"), (DOOR, "cleaned"), (E1, "inspected")):
        one = change(floor.copy(), place, step, at=ahead)
        assert g.DatedAhead(said(one, place, step)) in facts(one, place)
        assert mend(one, place, "dated-ahead") == g.CheckClock()


# Panels.


def test_the_wipe_names_what_came_after_it_and_skips_clear_looks_over_all(floor: Shopfloor) -> None:
    """The newest; a look that finds something is none to skip."""
    floor.put(f"{DOOR}/all", "inspected", again=True, result="clear")
    assert facts(floor, DOOR) == []
    floor.put(E1, "inspected", result="clear").put(E2, "inspected", result="clear")
    assert facts(floor, DOOR) == [g.WipedBefore(said(floor, DOOR, "wiped"), said(floor, E2, "inspected"))]
    assert facts(floor, WING) == []


def test_a_panel_not_cleaned_or_wiped_is_asked_for_just_that(fresh: Shopfloor) -> None:
    """Cleaning first, wiping last."""
    holds = [hold for hold in fresh.gate().gate.holds if hold.place == DOOR]
    assert [hold.fact for hold in holds] == [
        g.NotDone("clean", None, None),
        g.NotDone("wipe", None, None),
    ]
    assert [hold.mend for hold in holds] == [g.DoIt((g.Ask("clean"),)), g.WipeIt()]
    order = [hold.place for hold in fresh.gate().gate.holds]
    assert (order[0], order[order.index(WING) - 1]) == (DOOR, DOOR)


# Remarks.


def test_usual_lines_that_own_ones_set_aside_are_told(floor: Shopfloor) -> None:
    """Those of the outline that the panel has not, in the outline's order; none where all are its own."""
    own = [line.model_dump() for line in floor.job.panel[0].feature]
    usual = floor.house.outlines["front-door"].feature
    floor.with_panel(feature=[line for line in own if line["id"] in {"E1", "H1"}])
    aside = tuple(line.name for line in usual if line.id not in {"E1", "H1"})
    assert g.UsualLinesAside(DOOR, aside) in told(floor, "usual-lines-aside")
    floor.with_panel(feature=[])
    assert [note.panel for note in told(floor, "usual-lines-aside")] == [WING] * bool(  # type: ignore[union-attr]
        {line.id for line in floor.house.outlines["front-wing"].feature}
        - {line.id for line in floor.job.panel[1].feature}
    )


def test_lines_that_a_house_took_from_a_shipped_outline_are_told_on_card_and_gate(
    floor: Shopfloor, tmp_path: Path
) -> None:
    """By name; one that keeps its name under another id, or its id, is still there."""
    kept = """[[outline]]
kind = "front-door"
feature = [
    { id = "E1", kind = "edge", name = "front", reach = "machine", path = [[0, 0], [0, 1]] },
    { id = "X9", kind = "edge", name = "top edge", reach = "machine", path = [[0, 0], [1, 0]] },
]
"""
    (tmp_path / "panels.toml").write_text(kept, encoding="utf-8")
    usual = floor.house.outlines["front-door"].feature
    gone = tuple(line.name for line in usual if line.id != "E1" and line.name != "top edge")
    floor.house = load_house(tmp_path)
    floor.with_panel(feature=[])
    assert g.UsualLinesAside(DOOR, gone) in told(floor, "usual-lines-aside")
    job = with_usual_lines(floor.job, floor.house.outlines)
    assert LinesGone(DOOR, gone) in advise(job, floor.house).cautions


def test_a_panel_without_any_line_is_told(floor: Shopfloor) -> None:
    """Where neither it nor its outline has one; with an own line it is not."""
    outlines = {**floor.house.outlines}
    bare = outlines["front-door"].model_copy(update={"feature": ()})
    floor.house = replace(floor.house, outlines={**outlines, "front-door": bare})
    floor.with_panel(feature=[])
    assert told(floor, "no-lines") == [g.NoLines(DOOR)]
    floor.with_panel(feature=[{"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]]}])
    assert told(floor, "no-lines") == []


def test_entries_that_speak_for_nothing_are_told(floor: Shopfloor) -> None:
    """A panel's step at a place, work at the panel, an acceptance of the whole."""
    stated: list[dict[str, object]] = [
        {"feature": "E1", "step": "wiped"},
        {"feature": "panel", "step": "sanded", **SAND},
        {"feature": "all", "step": "accepted", "note": "all of it is fine"},
        {"feature": "panel", "step": "wiped", "result": "lines"},
    ]
    odd = [Check.model_validate({"at": floor.now, "by": "KM", "panel": DOOR, **each}) for each in stated]
    first = len(floor.log) + 1
    floor.add(*odd)
    assert told(floor, "counts-nowhere") == [
        g.CountsNowhere(g.Said(number, check)) for number, check in enumerate(odd, first)
    ]


def test_a_wet_bed_that_is_asked_for_is_told_with_its_coats(floor: Shopfloor) -> None:
    """For each panel that the advice has one for."""
    expected = [
        g.BedTold(panel.id, panel.wet_bed.coats)
        for panel in floor.advice.panels
        if panel.wet_bed.need != "no"
    ]
    assert [each.coats for each in expected] == [2, 1]
    assert told(floor, "bed-told") == expected


def test_another_grade_or_a_deeper_tool_that_is_allowed_is_told(floor: Shopfloor) -> None:
    """The grade at the last touch alone; the tool at each; as asked, nothing."""
    assert told(floor, "other-than-asked") == []
    floor.put(H1, "scuffed", tool="hand-foam", grade="P1500")
    assert told(floor, "other-than-asked") == []
    floor.put(E1, "scuffed", tool="hand-paper", grade="P1200")
    floor.put(E1, "guide-coated").put(E1, "sanded", tool="da-soft", grade="P1200")
    assert told(floor, "other-than-asked") == [
        g.OtherThanAsked(E1, said(floor, E1, "scuffed"), "hand-pad", None),
        g.OtherThanAsked(E1, said(floor, E1, "sanded"), None, "P1000"),  # type: ignore[arg-type]
    ]


# What mends a rub-through: the entry that its mend rests on.

BASIS: Final = {
    "fade": "zones:aaa patches:ppp",
    "colour": "zones:bbb patches:ppp",
    "patch": "zones:aaa patches:qqq",
}


def entries(*steps: tuple[str, str | None, str], ahead: int = 0) -> tuple[Entry, ...]:
    """Return entries of one writer at one place: step, result, basis; the one of a number is dated ahead."""
    checks = [
        Check.model_validate({
            "at": START + dt.timedelta(minutes=number, hours=9 * (number == ahead)), "by": "KM", "panel": "p",
            "feature": "E1", "step": step, "result": result, "basis": basis, "id": f"w-{number}",
            "knew": f"w-{number - 1}" if number > 1 else "none",
        })
        for number, (step, result, basis) in enumerate(steps, 1)
    ]  # fmt: skip
    return Logbook.read(tuple(checks), START + dt.timedelta(hours=2), ()).entries


RUB: Final = ("inspected", "cut-through", BASIS["fade"])
WORK: Final = ("sanded", None, "")


@pytest.mark.parametrize(
    ("steps", "basis", "zones", "ahead", "mend_number"),
    [
        ((RUB, WORK), "colour", ("colour",), 0, 2),
        ((RUB, WORK, WORK), "colour", ("colour",), 0, 3),
        ((RUB, WORK, WORK), "colour", ("colour",), 3, 2),
        ((WORK, RUB), "colour", ("colour",), 0, None),
        ((RUB, ("inspected", "clear", "")), "colour", ("colour",), 0, None),
        ((RUB, WORK), "fade", ("colour",), 0, None),
        ((RUB, WORK), "colour", ("colour", "fade"), 0, None),
        ((RUB, WORK), "colour", (), 0, None),
        ((("inspected", "cut-through", ""), WORK), "colour", ("colour",), 0, None),
    ],
)
def test_full_colour_all_over_mends_a_rub_through_once_it_was_worked_since(
    steps: tuple[tuple[str, str | None, str], ...],
    basis: str,
    zones: tuple[str, ...],
    ahead: int,
    mend_number: int | None,
) -> None:
    """It was planned otherwise when it was rubbed; what it rested on must be known."""
    words = entries(*steps, ahead=ahead)
    found = mends(words, BASIS[basis], zones, {}, is_patch=False)  # type: ignore[arg-type]
    rub = next(each.number for each in words if each.check.result == "cut-through")
    assert {number: each.number for number, each in found.items()} == (
        {} if mend_number is None else {rub: mend_number}
    )


@pytest.mark.parametrize(
    ("then", "basis", "steps", "is_patch", "mended"),
    [
        ("zones:aaa patches:ppp", "patch", (WORK,), False, True),
        ("zones:aaa patches:ppp", "fade", (WORK,), False, False),
        ("zones:aaa patches:ppp", "patch", (("inspected", "clear", ""),), False, False),
        ("zones:aaa", "fade", (WORK,), False, True),
        ("zones:aaa patches:ppp", "fade", (("primed", None, ""),), False, True),
        ("zones:aaa patches:ppp", "fade", (("primed", None, ""),), True, True),
        ("zones:aaa patches:ppp", "patch", (WORK,), True, False),
    ],
)
def test_a_patch_mends_a_rub_through_if_it_is_new_or_primed_since(
    then: str, basis: str, steps: tuple[tuple[str, str | None, str], ...], is_patch: bool, mended: bool
) -> None:
    """And was worked since, by who knew of the rub-through; a patch itself only by primer on it."""
    words = entries(("inspected", "cut-through", then), *steps)
    found = mends(words, BASIS[basis], ("fade",), {"R1": words[1:]}, is_patch=is_patch)
    assert set(found) == ({1} if mended else set())


def test_without_a_basis_work_on_a_patch_mends_only_where_all_of_it_came_after() -> None:
    """An old patch beside a rub-through is no mend of it."""
    words = entries(WORK, ("inspected", "cut-through", "zones:aaa"), WORK)
    assert mends(words, BASIS["fade"], ("fade",), {"R1": (words[0], words[2])}, is_patch=False) == {}
    assert set(mends(words, BASIS["fade"], ("fade",), {"R1": (words[2],)}, is_patch=False)) == {2}
    assert mends(words, BASIS["fade"], ("fade",), {"R1": ()}, is_patch=False) == {}
