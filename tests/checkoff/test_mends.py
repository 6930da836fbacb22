"""What mends ask for, whole: passes, minutes, look, the lead's word, as a painter would write them down."""

import datetime as dt
from typing import Any

import pytest

from prepadvisor.records import Check, Grade, Task
from prepadvisor.records.gate import Ask, DoIt, LeadDecides, LookAgain, MendFact, WetDrill
from tests.checkoff.shopfloor import DOOR, Shopfloor, by_hand

FACE, E1, E2, H1 = f"{DOOR}/face", f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/H1"


def mend(floor: Shopfloor, place: str, kind: str) -> MendFact:
    """Return the mend of what holds a place for a reason."""
    (found,) = (
        hold.mend for hold in floor.gate().gate.holds if (hold.place, hold.fact.kind) == (place, kind)
    )
    return found


def planned(floor: Shopfloor, place: str, start: str = "") -> tuple[tuple[Ask, ...], float]:
    """Return the tasks of a place but its look, from one on, as they are asked for, and their minutes."""
    chain: list[Task] = [
        task for task in floor.advice.work.tasks if task.place == place and task.do != "look"
    ]
    names = [task.id.removeprefix(f"{place}.") for task in chain]
    chain = chain[names.index(start) if start else 0 :]
    return tuple(Ask(task.do, task.tool, task.grade, task.range) for task in chain), sum(
        task.minutes for task in chain
    )


@pytest.mark.parametrize(("grade", "between"), [("P600", []), ("P500", ["P800"]), ("P400", ["P600"])])
def test_a_coarse_face_is_climbed_and_looked_at_again(
    floor: Shopfloor, grade: str, between: list[str]
) -> None:
    """Mean grains 35.0, 30.2, 25.8, 21.8, 18.3 µm, each at least 0.63 of the last; the lead has no say."""
    floor.put(FACE, "sanded", tool="da-soft", grade=grade)
    asks, minutes = planned(floor, FACE)
    more = tuple(Ask("sand", "da-soft", Grade(each)) for each in between)
    assert mend(floor, FACE, "cut-too-coarse") == DoIt((*more, *asks), minutes, look=True, lead=False)


def test_a_cut_a_little_too_coarse_may_be_accepted(floor: Shopfloor) -> None:
    """P800 is the coarsest that may stay under a very fine flake."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P800")
    asks, minutes = planned(floor, FACE)
    assert mend(floor, FACE, "cut-too-coarse") == DoIt(asks, minutes, look=True, lead=True)


def test_a_cut_that_is_still_coarse_is_climbed_from_the_coarse_one(floor: Shopfloor) -> None:
    """P320, then P1000 over it: P500 and P800 were left out."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P320").put(FACE, "sanded", tool="da-soft", grade="P1000")
    asks, minutes = planned(floor, FACE)
    found = mend(floor, FACE, "still-coarse")
    assert isinstance(found, DoIt)
    assert found.asks[-len(asks) :] == asks
    before = found.asks[: -len(asks)]
    assert {(ask.do, ask.tool) for ask in before} == {("sand", "da-soft")}
    assert (found.minutes, found.look, found.lead) == (minutes, True, False)


def test_a_cut_too_fine_is_done_again_and_looked_at(floor: Shopfloor) -> None:
    """From that pass on."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P3000")
    asks, minutes = planned(floor, FACE)
    assert mend(floor, FACE, "cut-too-fine") == DoIt(asks, minutes, look=True)


@pytest.mark.parametrize(
    ("stated", "kind"),
    [
        ({"tool": "da-hard", "grade": "P1000"}, "wrong-tool"),
        ({"tool": "da", "grade": "P1000"}, "shows-lines"),
        ({"tool": "", "grade": "P1000"}, "not-recorded"),
    ],
)
def test_a_tool_that_is_wrong_or_unknown_is_for_the_lead_or_done_again(
    floor: Shopfloor, stated: dict[str, Any], kind: str
) -> None:
    """With a look after it."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P1000")
    log = list(floor.log)
    changed = {key: value or None for key, value in stated.items()}
    log[-1] = log[-1].model_copy(update=changed)
    asks, minutes = planned(floor, FACE)
    assert mend(floor.with_log(log), FACE, kind) == DoIt(asks, minutes, look=True, lead=True)


def test_a_grade_that_nobody_knows_is_not_the_leads_to_accept_under_a_fine_flake(floor: Shopfloor) -> None:
    """It may be coarser than P800, which never may stay."""
    floor.put(FACE, "sanded", tool="da-soft")
    asks, minutes = planned(floor, FACE)
    assert mend(floor, FACE, "not-recorded") == DoIt(asks, minutes, look=True, lead=False)


def test_what_is_only_not_done_is_asked_for_alone(fresh: Shopfloor) -> None:
    """Each task of the place by itself."""
    asks, _ = planned(fresh, FACE)
    assert mend(fresh, FACE, "not-done") == DoIt(asks[:1])


def test_work_that_came_too_early_is_done_from_what_it_lacked(floor: Shopfloor) -> None:
    """Powder was forgotten: powder first, then the pass again."""
    log = [c for c in floor.log if (c.panel, c.feature, c.step) != (DOOR, "E1", "guide-coated")]
    floor.with_log(by_hand(log))
    asks, _ = planned(floor, E1, "powder.1")
    found = mend(floor, E1, "too-early")
    assert isinstance(found, DoIt)
    assert found.asks == asks
    assert found.minutes == pytest.approx(planned(floor, E1, "sand.1")[1])
    assert not found.look


def test_a_scuff_too_coarse_without_a_way_out_is_for_the_lead(floor: Shopfloor) -> None:
    """P80 in a recess that the hand alone reaches: the shelf's own steps, or the lead's word, never both."""
    floor.put(H1, "scuffed", tool="hand-pad", grade="P80")
    (found,) = (h.mend for h in floor.gate().gate.holds if h.place == H1 and h.fact.kind == "cut-too-coarse")
    if isinstance(found, DoIt):
        asks, minutes = planned(floor, H1)
        assert found.asks[-len(asks) :] == asks
        assert found.minutes >= minutes
        assert (found.look, found.lead) == (True, False)
    else:
        assert found == LeadDecides(may_accept=False)


def test_a_look_that_is_out_of_date_is_looked_again(floor: Shopfloor) -> None:
    """After the face was sanded once more."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P1000")
    assert mend(floor, FACE, "looked-before") == LookAgain()


def test_hand_work_that_nobody_asked_for_is_sanded_out(floor: Shopfloor) -> None:
    """The last pass again, and a look."""
    scuff = Check.model_validate(
        {"at": floor.now, "by": "KM", "panel": DOOR, "feature": "face", "step": "scuffed",
         "tool": "hand-pad", "grade": "P1000"}
    )  # fmt: skip
    asks, minutes = planned(floor, FACE)
    assert mend(floor.add(scuff), FACE, "not-asked") == DoIt(asks[-1:], minutes, look=True)


@pytest.mark.parametrize(("result", "kind"), [("lines", "saw-something"), ("cut-through", "rubbed-through")])
def test_what_a_wet_coat_shows_has_a_drill_of_its_own(floor: Shopfloor, result: str, kind: str) -> None:
    """The last pass over the place, without powder."""
    asks, _ = planned(floor, FACE)
    found = mend(floor.put(FACE, "seen-wet", result=result), FACE, kind)
    assert isinstance(found, WetDrill)
    assert (found.result, found.asks) == (result, asks[-1:])


def test_a_look_that_is_too_old_may_be_renewed_for_the_whole_panel(floor: Shopfloor) -> None:
    """By one entry."""
    holds = floor.gate(dt.timedelta(hours=floor.house.shop.look_hours + 1)).gate.holds
    assert {hold.mend for hold in holds if hold.fact.kind == "look-old"} == {LookAgain(renew=True)}


@pytest.mark.parametrize("place", [E1, E2, H1])
def test_a_scuff_that_is_recut_is_scuffed_by_hand_and_sanded_by_machine(fresh: Shopfloor, place: str) -> None:
    """And looked at after it."""
    floor = fresh.put(f"{DOOR}/panel", "cleaned")
    found = mend(floor.put(place, "scuffed", tool="hand-pad", grade="P500"), place, "cut-too-coarse")
    assert isinstance(found, DoIt)
    asks, _ = planned(floor, place)
    assert found.asks[-len(asks) :] == asks
    tools = {(ask.do, ask.tool) for ask in found.asks if ask.tool}
    assert all((do == "scuff") is (tool or "").startswith("hand") for do, tool in tools)
    assert (found.look, found.lead) == (True, False)


def test_what_follows_a_stop_waits_for_the_lead_and_nothing_else_does(
    floor: Shopfloor, fresh: Shopfloor
) -> None:
    """P320 over finished work is too deep for the film that is left; on fresh work it is cut out again."""
    holds = floor.put(E2, "scuffed", tool="hand-pad", grade="P320").gate().gate.holds
    (coarse, powder, sand, look) = (hold for hold in holds if hold.place == E2)
    assert [each.fact.kind for each in (coarse, powder, sand)] == ["cut-too-coarse", "not-done", "not-done"]
    assert powder.mend == coarse.mend == LeadDecides(may_accept=False)
    assert isinstance(sand.mend, LeadDecides)
    assert look.mend == LookAgain()
    fresh.put(f"{DOOR}/panel", "cleaned").put(E2, "scuffed", tool="hand-pad", grade="P500")
    mends = [
        hold.mend for hold in fresh.gate().gate.holds if (hold.place, hold.fact.kind) == (E2, "not-done")
    ]
    asks, _ = planned(fresh, E2)
    assert mends == [DoIt((each,)) for each in asks[1:]]
