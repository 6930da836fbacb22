"""The gate, one rule a test: what holds, what re-opens, what is only told."""

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from prepadvisor.checkoff import Gate
from prepadvisor.records.advice import Hold
from prepadvisor.records.job import Check
from prepadvisor.records.kinds import RuleHold

Entry = Callable[..., Check]
Log = tuple[Check, ...]


def _held(gate: Gate) -> set[str]:
    return {hold.place for hold in gate.holds}


def _why(gate: Gate, place: str) -> str:
    return " | ".join(hold.why for hold in gate.holds if hold.place == place)


def _mend(gate: Gate, place: str) -> str:
    return " | ".join(hold.mend for hold in gate.holds if hold.place == place)


def _put(log: Sequence[Check], *later: Check) -> Log:
    return (*log, *later)


def test_a_whole_log_is_clear(door: Any, whole_log: Log) -> None:
    """Everything owed is there, so nothing holds."""
    gate = door.gate(whole_log)
    assert gate.holds == ()
    assert gate.clear


def test_an_empty_log_holds_every_place_and_the_panel(door: Any) -> None:
    """Without a log nothing is done, in no zone."""
    features = ("face", "R1", "E1", "E2", "H1", "L1", "F1")
    assert _held(door.gate(())) == {"door", *(f"door/{feature}" for feature in features)}


def test_taking_any_entry_out_of_the_shortest_log_holds_the_gate(door: Any, whole_log: Log) -> None:
    """Each entry is needed: no scuff, guide coat, sanding, look, cleaning or wipe is spare."""
    spare = [
        check for at, check in enumerate(whole_log) if door.gate(whole_log[:at] + whole_log[at + 1 :]).clear
    ]
    assert spare == []


def test_gloss_left_in_the_clear_zone_holds(door: Any, whole_log: Log) -> None:
    """An edge that lies in clear only owes its scuff as well: unscuffed gloss peels."""
    log = [check for check in whole_log if (check.feature, check.step) != ("E2", "scuffed")]
    assert "not scuffed" in _why(door.gate(log), "door/E2")


@pytest.mark.parametrize("step", ["scuffed", "guide-coated", "sanded"])
def test_a_look_before_the_last_work_at_its_place_does_not_count(
    door: Any, whole_log: Log, entry: Entry, step: str
) -> None:
    """Lines made after the look were never looked at."""
    stated = {
        "scuffed": {"tool": "hand-pad", "grade": "P1000"},
        "sanded": {"tool": "da-soft", "grade": "P1000"},
    }
    log = _put(whole_log, entry(60, "L1", step, **stated.get(step, {})))
    assert "looked at before" in _why(door.gate(log), "door/L1")


def test_hand_work_after_the_look_at_the_face_reopens_the_face(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """A pad in an edge runs out over the face."""
    log = _put(whole_log, entry(60, "F1", "scuffed", tool="hand-pad", grade="P1000"))
    assert "door/face" in _held(door.gate(log))


def test_work_at_a_hand_place_reopens_the_look_at_a_line_that_touches_it(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """The recess H1 lies on the body line L1; the edges E1 and E2 are far from it."""
    log = _put(whole_log, entry(60, "H1", "scuffed", tool="hand-pad", grade="P1500"))
    assert _held(door.gate(log)) == {"door/H1", "door/L1", "door/face", "door"}


def test_machine_work_at_a_line_leaves_the_face_as_it_was(door: Any, whole_log: Log, entry: Entry) -> None:
    """Only hand work runs out over the face."""
    log = _put(whole_log, entry(60, "E1", "sanded", tool="da-soft", grade="P1000"))
    assert _held(door.gate(log)) == {"door/E1", "door"}


def test_one_entry_for_all_covers_the_work_of_every_place(door: Any, whole_log: Log, entry: Entry) -> None:
    """Nobody logs sixty entries in gloves."""
    looks = [check for check in whole_log if check.step in {"inspected", "wiped"}]
    log = [
        entry(0, "panel", "cleaned"),
        entry(1, "all", "scuffed", tool="hand-pad", grade="P1500"),
        entry(2, "all", "guide-coated"),
        entry(3, "all", "sanded", tool="da-soft", grade="P1000"),
        *looks,
    ]
    assert door.gate(log).clear


def test_one_look_for_all_covers_no_place_and_says_so(door: Any, whole_log: Log, entry: Entry) -> None:
    """Every place needs its own look."""
    work = [check for check in whole_log if check.step not in {"inspected", "wiped"}]
    gate = door.gate([*work, entry(60, "all", "inspected", result="clear"), entry(61, "panel", "wiped")])
    assert {hold.why for hold in gate.holds} == {"not looked at"}
    assert any("every place needs its own look" in told for told in gate.told)


def test_hand_work_after_the_machine_owes_the_machine_again(door: Any, whole_log: Log, entry: Entry) -> None:
    """A scuff ahead of the DA is cut out by it; one after it is not, and needs its guide coat too."""
    log = _put(
        whole_log,
        entry(60, "E1", "scuffed", tool="hand-pad", grade="P1000"),
        entry(61, "E1", "inspected", result="clear"),
        entry(62, "face", "inspected", result="clear"),
        entry(63, "panel", "wiped"),
    )
    gate = door.gate(log)
    assert "guide-coated before" in _why(gate, "door/E1")
    assert "sanded before" in _why(gate, "door/E1")


def test_guide_coat_after_the_sanding_has_to_be_sanded_out(door: Any, whole_log: Log, entry: Entry) -> None:
    """Powder left on the panel is in the way of the paint, asked for or not."""
    log = _put(whole_log, entry(60, "face", "guide-coated"), entry(61, "face", "inspected", result="clear"))
    assert "sanded before" in _why(door.gate(log), "door/face")


@pytest.mark.parametrize(
    ("feature", "step", "tool", "grade", "says"),
    [
        ("E1", "scuffed", "hand-pad", "P600", "P600 is coarser than the P1000 allowed"),
        ("E1", "scuffed", None, "P1000", "the tool is not recorded"),
        ("E1", "scuffed", "hand-pad", None, "the grade is not recorded"),
        ("E1", "scuffed", "da-soft", "P1000", "no hand tool"),
        ("H1", "scuffed", "hand-pad", "P2000", "P2000 is finer than the P1500 allowed"),
        ("H1", "scuffed", "hand-pad", "P1000", "P1000 is coarser than the P1500 allowed"),
        ("face", "sanded", "da-soft", "P800", "P800 is coarser than the P1000 allowed"),
        ("face", "sanded", "da-soft", "P2000", "P2000 is finer than the P1500 allowed"),
        ("face", "sanded", "hand-pad", "P1000", "where da-soft is asked"),
        ("face", "sanded", "da-hard", "P1000", "scratches deeper"),
        ("R1", "sanded", "da-soft", "P1500", "P1500 is finer than the P1000 allowed"),
    ],
)
def test_work_outside_its_limits_holds_though_it_was_seen_clear(
    door: Any,
    whole_log: Log,
    entry: Entry,
    feature: str,
    step: str,
    tool: str | None,
    grade: str | None,
    says: str,
) -> None:
    """A number that is wrong is not made right by a look."""
    log = [
        entry(at, feature, step, tool=tool, grade=grade) if (c.feature, c.step) == (feature, step) else c
        for at, c in enumerate(whole_log)
    ]
    assert says in _why(door.gate(log), f"door/{feature}")


def test_hand_ahead_of_a_machine_may_be_finer_than_asked(door: Any, whole_log: Log, entry: Entry) -> None:
    """Only the last touch has a fine end: the DA comes after this scuff."""
    log = [
        entry(at, "E1", "scuffed", tool="hand-pad", grade="P2000")
        if (c.feature, c.step) == ("E1", "scuffed")
        else c
        for at, c in enumerate(whole_log)
    ]
    assert door.gate(log).clear


def test_the_last_word_on_a_step_counts(door: Any, whole_log: Log, entry: Entry) -> None:
    """A coarse scuff is over once it was cut again with the right grade, sanded and seen clear."""
    coarse = entry(0.5, "H1", "scuffed", tool="hand-pad", grade="P800")
    log = [whole_log[0], coarse, *whole_log[1:]]
    log.sort(key=lambda check: check.at)
    assert door.gate(log).clear


def _coarse_edge(whole_log: Log, entry: Entry) -> list[Check]:
    coarse = entry(3, "E1", "scuffed", tool="hand-pad", grade="P600")
    return [coarse if (c.feature, c.step) == ("E1", "scuffed") else c for c in whole_log]


def test_the_lead_may_accept_what_is_outside_its_limits(door: Any, whole_log: Log, entry: Entry) -> None:
    """With initials and a reason it is clear, and everybody is told."""
    accepted = entry(60, "E1", "accepted", by="J. B.", note="hidden under the trim")
    gate = door.gate(_put(_coarse_edge(whole_log, entry), accepted))
    assert gate.clear
    assert "door/E1: accepted by J. B.: hidden under the trim" in gate.told


@pytest.mark.parametrize(("by", "note"), [("", "hidden"), ("J. B.", ""), ("  ", "hidden")])
def test_an_acceptance_without_initials_or_reason_counts_for_nothing(
    door: Any, whole_log: Log, entry: Entry, by: str, note: str
) -> None:
    """Nobody accepts anonymously or without saying why."""
    gate = door.gate(_put(_coarse_edge(whole_log, entry), entry(60, "E1", "accepted", by=by, note=note)))
    assert _held(gate) == {"door/E1"}


def test_an_acceptance_does_not_reach_work_logged_after_it(door: Any, whole_log: Log, entry: Entry) -> None:
    """What comes later is judged anew."""
    log = _put(
        _coarse_edge(whole_log, entry),
        entry(60, "E1", "accepted", by="J. B.", note="hidden"),
        entry(61, "E1", "scuffed", tool="hand-pad", grade="P400"),
    )
    assert "P400 is coarser" in _why(door.gate(log), "door/E1")


def test_an_acceptance_never_stands_for_a_step_or_a_look(door: Any, whole_log: Log, entry: Entry) -> None:
    """The lead may accept a grade, not work that was never done."""
    log = [
        check for check in whole_log if not (check.feature == "E1" and check.step in {"scuffed", "inspected"})
    ]
    gate = door.gate(_put(log, entry(60, "E1", "accepted", by="J. B.", note="in a hurry")))
    assert _why(gate, "door/E1") == "not scuffed | not looked at"


def test_lines_seen_tell_the_next_step_in_words(door: Any, whole_log: Log, entry: Entry) -> None:
    """Guide coat and the same grade with minutes; then one grade back; the wet bed last, with the lead."""
    gate = door.gate(_put(whole_log, entry(60, "E1", "inspected", result="lines")))
    words = _mend(gate, "door/E1")
    order = ["guide coat", "P1000 again", "min", "P800", "wet bed", "lead"]
    assert [words.index(each) for each in order] == sorted(words.index(each) for each in order)


def test_lines_seen_twice_go_one_grade_back_first(door: Any, whole_log: Log, entry: Entry) -> None:
    """The same grade has been tried."""
    looks = [entry(60, "E1", "inspected", result="lines"), entry(70, "E1", "inspected", result="lines")]
    words = _mend(door.gate(_put(whole_log, *looks)), "door/E1")
    assert "the same grade did not take them out; one grade back" in words


def test_lines_on_a_primer_patch_are_never_offered_a_wet_bed(door: Any, whole_log: Log, entry: Entry) -> None:
    """A wet bed lies on clear or colour only."""
    gate = door.gate(_put(whole_log, entry(60, "R1", "inspected", result="lines")))
    assert "no wet bed" in _mend(gate, "door/R1")


def test_lines_over_a_coarse_scuff_are_never_offered_a_wet_bed(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """From fine flake on no bed covers a scuff coarser than P800."""
    log = _put(
        whole_log,
        entry(60, "H1", "scuffed", tool="hand-pad", grade="P600"),
        entry(61, "H1", "inspected", result="lines"),
    )
    assert "no wet bed: none covers a scuff coarser than P800" in _mend(door.gate(log), "door/H1")


def test_gloss_seen_asks_for_a_scuff(door: Any, whole_log: Log, entry: Entry) -> None:
    """Gloss peels whatever was logged."""
    gate = door.gate(_put(whole_log, entry(60, "E2", "inspected", result="gloss")))
    assert "scuff it by hand with P800 or finer" in _mend(gate, "door/E2")


@pytest.mark.parametrize(
    ("feature", "says", "never"),
    [
        ("E1", "full colour", "painted whole"),
        ("H1", "full colour", "painted whole"),
        ("E2", "the colour must reach it, or the panel is painted whole", "isolate"),
    ],
)
def test_a_rub_through_is_replanned_by_its_zone(
    door: Any, whole_log: Log, entry: Entry, feature: str, says: str, never: str
) -> None:
    """In colour or fade it becomes full colour; in clear the colour must reach it; a bed never mends it."""
    words = _mend(
        door.gate(_put(whole_log, entry(60, feature, "inspected", result="cut-through"))), f"door/{feature}"
    )
    assert says in words
    assert never not in words
    assert "a wet bed never mends it" in words


def test_a_rub_through_is_not_sanded_and_looked_away(door: Any, whole_log: Log, entry: Entry) -> None:
    """The clear is gone whatever the next look says."""
    log = _put(
        whole_log,
        entry(60, "E1", "inspected", result="cut-through"),
        entry(61, "E1", "sanded", tool="da-soft", grade="P1000"),
        entry(62, "E1", "inspected", result="clear"),
        entry(63, "panel", "wiped"),
    )
    assert "rubbed through" in _why(door.gate(log), "door/E1")


def test_lines_then_clear_with_nothing_done_is_told(door: Any, whole_log: Log, entry: Entry) -> None:
    """The last word counts, for a key may be pressed by mistake; but nobody overlooks it."""
    log = _put(
        whole_log,
        entry(60, "E1", "inspected", result="lines"),
        entry(61, "E1", "inspected", result="clear"),
        entry(62, "panel", "wiped"),
    )
    gate = door.gate(log)
    assert gate.clear
    assert any("no work logged between" in told for told in gate.told)


def test_work_before_the_cleaning_holds_until_it_is_done_again(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """Sanding over dirt rubs it in."""
    late = entry(5.5, "panel", "cleaned")
    log = sorted([*whole_log[1:], late], key=lambda check: check.at)
    assert "cleaned only after work had begun" in _why(door.gate(log), "door")


def test_wiping_comes_last(door: Any, whole_log: Log, entry: Entry) -> None:
    """A look after the wipe is one more hand on the panel."""
    gate = door.gate(_put(whole_log, entry(60, "E1", "inspected", result="clear")))
    assert _held(gate) == {"door"}
    assert "wiped before" in _why(gate, "door")


@pytest.mark.parametrize(("hours", "clear"), [(24.0, True), (24.01, False)])
def test_clear_expires_after_the_shops_hours(door: Any, whole_log: Log, hours: float, clear: bool) -> None:
    """Dust and hands do not wait: 24 hours is the shop file's start value."""
    assert door.gate(whole_log, whole_log[-1].at + dt.timedelta(hours=hours)).clear is clear


def test_an_entry_from_the_future_does_not_count(door: Any, whole_log: Log) -> None:
    """It holds its place and says to check the clock."""
    gate = door.gate(whole_log, whole_log[-1].at - dt.timedelta(seconds=1))
    assert _held(gate) == {"door"}
    assert any("dated later than now" in told for told in gate.told)


def test_bad_news_from_the_future_holds_as_well(door: Any, whole_log: Log, entry: Entry) -> None:
    """A wrong clock must not hide a rub-through."""
    log = _put(whole_log, entry(6000, "E1", "inspected", result="cut-through"))
    assert "door/E1" in _held(door.gate(log, whole_log[-1].at + dt.timedelta(minutes=5)))


def test_a_look_dated_before_the_work_does_not_count_though_entered_after(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """A clock set back never turns an old look into a new one."""
    log = _put(
        whole_log,
        entry(60, "E2", "sanded", tool="da-soft", grade="P1000"),
        entry(59, "E2", "inspected", result="clear"),
        entry(61, "panel", "wiped"),
    )
    assert "the clock was set back" in _why(door.gate(log), "door/E2")


def test_entries_out_of_order_are_told(door: Any, whole_log: Log, entry: Entry) -> None:
    """Two clocks that differ are worth knowing even where nothing hangs on it."""
    log = _put(whole_log, entry(30, "R1", "inspected", result="clear"), entry(60, "panel", "wiped"))
    assert not any("dated before" in told for told in door.gate(whole_log).told)
    log = (*log[:-2], entry(10, "R1", "inspected", result="clear"), log[-1])
    assert any("dated before" in told for told in door.gate(log).told)


def test_what_the_advice_forbids_holds_whatever_is_logged(door: Any, whole_log: Log) -> None:
    """A spot without a finish cannot be prepared."""
    hold = Hold(spot="door/E1/colour", fact=RuleHold("colour straight on filler"))
    case = door._replace(advice=door.advice._replace(holds=(hold,)))
    gate = case.gate(whole_log)
    assert [(each.place, each.why) for each in gate.holds] == [("door/E1", "colour straight on filler")]


def test_a_spot_without_finish_holds_though_the_advice_is_silent(door: Any, whole_log: Log) -> None:
    """The gate does not rest on the advice's own list of holds."""
    spots = tuple(s._replace(finish=None) if s.feature == "E1" else s for s in door.advice.spots)
    case = door._replace(advice=door.advice._replace(spots=spots))
    assert "no finish" in _why(case.gate(whole_log), "door/E1")


def test_a_place_the_advice_left_out_holds(door: Any, whole_log: Log) -> None:
    """A gap in the advice is no way through the gate."""
    places = tuple(place for place in door.advice.places if place.feature != "E2")
    case = door._replace(advice=door.advice._replace(places=places))
    assert "the advice has no word" in _why(case.gate(whole_log), "door/E2")


def test_done_in_the_job_counts_for_nothing(door: Any, whole_log: Log) -> None:
    """It starts the planning; the gate goes by the log alone."""
    panel = door.job.panel[0]
    done = {"tool": "hand-pad", "grade": "P1000"}
    lines = tuple(line.model_validate({**line.model_dump(), "done": done}) for line in panel.feature)
    job = door.job.model_copy(update={"panel": (panel.model_copy(update={"feature": lines}),)})
    log = [check for check in whole_log if check.step != "scuffed"]
    assert "not scuffed" in _why(door._replace(job=job).gate(log), "door/E1")


def test_a_required_wet_bed_is_told_and_holds_nothing(door: Any, whole_log: Log) -> None:
    """It comes after masking."""
    from prepadvisor.records.advice import PanelAdvice, PanelWetBed

    panel = PanelAdvice(
        id="door", kind="front-door", role="blend", wet_bed=PanelWetBed(need="required", coats=2)
    )
    gate = door._replace(advice=door.advice._replace(panels=(panel,))).gate(whole_log)
    assert gate.clear
    assert any("wet bed required, 2 coats" in told for told in gate.told)


def test_entries_for_places_that_are_not_there_are_told(door: Any, whole_log: Log, entry: Entry) -> None:
    """A place may have been planned away since; its entries count nowhere."""
    gate = door.gate(_put(whole_log, entry(60, "E9", "scuffed", tool="hand-pad", grade="P1000")))
    assert any('no place "E9"' in told for told in gate.told)


def test_the_steps_of_a_place_say_what_is_open_done_and_reopened(
    door: Any, whole_log: Log, entry: Entry
) -> None:
    """A screen shows the states; the next step is in words."""
    log = _put(whole_log[:9], entry(9, "E1", "scuffed", tool="hand-pad", grade="P1000"))
    place = next(p for p in door.gate(log).panels[0].places if p.feature == "E1")
    assert [(step.step, step.state) for step in place.steps] == [
        ("scuffed", "done"),
        ("guide-coated", "reopened"),
        ("sanded", "reopened"),
        ("inspected", "open"),
    ]
    assert place.next.startswith("put dry guide coat on")


def test_the_panel_says_scuffing_first_and_the_looks_last(door: Any, whole_log: Log) -> None:
    """By hand before the machine, so that nothing is looked at twice."""
    assert door.gate(whole_log[:1]).panels[0].next.startswith("E1: scuff it by hand")


def test_a_face_that_no_machine_may_touch_is_sanded_by_hand(door: Any, whole_log: Log, entry: Entry) -> None:
    """A house may keep the machine off a thin face; then sanding it by hand is what is owed."""
    spots = tuple(s._replace(reach="hand") if s.feature == "face" else s for s in door.advice.spots)
    places = tuple(
        p._replace(reach="hand", tool="hand-pad") if p.feature == "face" else p for p in door.advice.places
    )
    case = door._replace(advice=door.advice._replace(spots=spots, places=places))
    assert "where no machine may be used" in _why(case.gate(whole_log), "door/face")
    log = [
        entry(at, "face", "sanded", tool="hand-foam", grade="P1000")
        if (c.feature, c.step) == ("face", "sanded")
        else c
        for at, c in enumerate(whole_log)
    ]
    assert case.gate(log).clear


def test_a_split_place_owes_each_of_its_grades(door: Any, whole_log: Log, entry: Entry) -> None:
    """Where no one grade suits both zones of a face, each zone is sanded with its own and then looked at."""
    zones = {"colour": ("P1500", "P1500"), "fade": ("P1500", "P1500"), "clear": ("P800", "P1000")}

    def narrowed(spot: Any) -> Any:
        if spot.feature != "face":
            return spot
        coarsest, finest = zones[spot.zone]
        finish = spot.finish._replace(coarsest=coarsest, finest=finest, chosen=coarsest)
        return spot._replace(finish=finish)

    split = (("colour", "P1500"), ("fade", "P1500"), ("clear", "P1000"))
    places = tuple(p._replace(split=split) if p.feature == "face" else p for p in door.advice.places)
    spots = tuple(map(narrowed, door.advice.spots))
    case = door._replace(advice=door.advice._replace(spots=spots, places=places))
    assert "not sanded" in _why(case.gate(whole_log), "door/face")
    again = _put(
        whole_log,
        entry(60, "face", "sanded", tool="da-soft", grade="P1500"),
        entry(61, "face", "inspected", result="clear"),
        entry(62, "panel", "wiped"),
    )
    assert case.gate(again).clear
