"""Ways past the gate that a careful lead would not let through, a test for each, by name.

Each starts from a job worked to the end by its plan. What a lead expects is common practice, no source.
"""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from prepadvisor.logbook import Writer
from prepadvisor.records import Check
from tests.checkoff.shopfloor import DOOR, Shopfloor, by_hand

pytestmark = pytest.mark.practice

E1, E2, E3, E4 = f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/E3", f"{DOOR}/E4"
H1, FACE, L1 = f"{DOOR}/H1", f"{DOOR}/face", f"{DOOR}/L1"
WING = "left-front-wing"


def index(log: tuple[Check, ...], where: str, step: str) -> int:
    """Return where the last entry of a step at a place stands."""
    return max(
        n for n, check in enumerate(log) if f"{check.panel}/{check.feature}" == where and check.step == step
    )


def redo(floor: Shopfloor, where: str) -> Shopfloor:
    """Work a place again as planned, look, and wipe."""
    own = [task for task in floor.advice.work.tasks if task.place == where and task.owed]
    steps = {"scuff": "scuffed", "powder": "guide-coated", "sand": "sanded"}
    for task in own:
        if task.do in steps:
            floor.put(where, steps[task.do], tool=task.tool or "", grade=task.grade or "")
    floor.put(where, "inspected", result="clear")
    return floor


def wipe(floor: Shopfloor) -> Shopfloor:
    """Wipe both panels."""
    return floor.put(f"{DOOR}/panel", "wiped").put(f"{WING}/panel", "wiped")


def look_all(floor: Shopfloor) -> Shopfloor:
    """Look at every place anew and wipe."""
    for task in floor.advice.work.tasks:
        if task.do == "look":
            floor.put(task.place, "inspected", result="clear")
    return wipe(floor)


def test_control_every_step_of_every_place_done(floor: Shopfloor) -> None:
    """CLEAR."""
    said = floor.gate()
    assert said.clear, [said.why(place) for place in said.held]


@pytest.mark.parametrize("hand", [False, True])
def test_two_log_lines_swapped_look_above_sanding(floor: Shopfloor, hand: bool) -> None:
    """HELD, with ids and without."""
    log = list(by_hand(floor.log) if hand else floor.log)
    look, sanding = index(floor.log, E1, "inspected"), index(floor.log, E1, "sanded")
    log[look], log[sanding] = log[sanding], log[look]
    assert E1 in floor.with_log(log).gate().held


@pytest.mark.parametrize("hand", [False, True])
def test_log_sorted_by_place(floor: Shopfloor, hand: bool) -> None:
    """HELD."""
    log = by_hand(floor.log) if hand else floor.log
    ordered = sorted(log, key=lambda check: (check.panel, check.feature))
    assert not floor.with_log(ordered).gate().clear


@pytest.mark.parametrize("hand", [False, True])
def test_log_reversed(floor: Shopfloor, hand: bool) -> None:
    """HELD."""
    log = by_hand(floor.log) if hand else floor.log
    assert not floor.with_log(reversed(log)).gate().clear


@pytest.mark.parametrize("hand", [False, True])
def test_guide_coat_line_deleted(floor: Shopfloor, hand: bool) -> None:
    """HELD."""
    log = list(by_hand(floor.log) if hand else floor.log)
    del log[index(floor.log, E1, "guide-coated")]
    assert E1 in floor.with_log(log).gate().held


def test_a_border_moved_after_the_looks_the_basis_lines_left_out(floor: Shopfloor) -> None:
    """HELD or told: a look without a basis rests on nothing."""
    said = floor.with_log(by_hand(floor.log, basis=False)).with_panel(colour_mm=200).gate()
    assert not said.clear or "rest on nothing" in said.told


def test_seen_with_lines_a_minute_later_clear_no_work_between(floor: Shopfloor) -> None:
    """HELD, and told."""
    floor.put(E1, "inspected", result="lines").put(E1, "inspected", result="clear")
    said = wipe(floor).gate()
    assert E1 in said.held
    assert "no work logged between" in said.told


def test_panel_id_in_capitals(floor: Shopfloor) -> None:
    """HELD: those entries count nowhere."""
    log = [check.model_copy(update={"panel": check.panel.upper()}) for check in floor.log]
    assert not floor.with_log(log).gate().clear


def test_a_look_alone_at_a_panel_id_in_capitals(floor: Shopfloor) -> None:
    """HELD at that name, whatever else is clear: somebody saw something there."""
    log = floor.log[-1].model_copy(
        update={"panel": DOOR.upper(), "feature": "E1", "step": "inspected", "result": "lines", "id": "z-1"}
    )
    assert f"{DOOR.upper()}/E1" in wipe(floor.add(log)).gate().held


def test_feature_with_a_trailing_blank(floor: Shopfloor) -> None:
    """HELD: blanks of any kind make another name."""
    log = [
        check.model_copy(update={"feature": "E1\u00a0"}) if check.feature == "E1" else check
        for check in floor.log
    ]
    assert not floor.with_log(log).gate().clear


def test_looks_written_by_hand_for_all(floor: Shopfloor) -> None:
    """HELD: every place needs a first look of its own."""
    log = [check for check in by_hand(floor.log) if check.step != "inspected"]
    look = next(check for check in by_hand(floor.log) if check.step == "inspected")
    log.insert(-2, look.model_copy(update={"feature": "all", "panel": DOOR}))
    log.insert(-2, look.model_copy(update={"feature": "all", "panel": WING}))
    assert {E1, H1, FACE} <= floor.with_log(log).gate().held


def test_looks_without_result(floor: Shopfloor) -> None:
    """HELD."""
    log = [check.model_copy(update={"result": None}) for check in floor.log]
    assert {E1, H1, FACE} <= floor.with_log(log).gate().held


def test_whole_log_written_by_hand_without_any_basis(floor: Shopfloor) -> None:
    """CLEAR, with a word that nothing ties it to this job."""
    said = floor.with_log(by_hand(floor.log, basis=False)).gate()
    assert said.clear
    assert "nothing ties them to this job" in said.told
    assert "from an older version or by hand" in said.told


def test_stages_2_to_3(floor: Shopfloor) -> None:
    """HELD."""
    assert not floor.with_job(stages=3).gate().clear


def test_another_colour_name(floor: Shopfloor) -> None:
    """HELD: it is another colour."""
    assert not floor.with_job(name="Winter grass").gate().clear


@pytest.mark.parametrize(
    "parts",
    [{"colour_mm": 300}, {"colour_from": ("rear",)}, {"role": "repair"}],
    ids=["border", "rear", "repair"],
)
def test_the_blend_laid_out_anew(floor: Shopfloor, parts: dict[str, Any]) -> None:
    """Border 150 to 300, colour from the rear, role blend to repair: HELD."""
    assert not floor.with_panel(**parts).gate().clear


def test_kind_front_door_to_bonnet(floor: Shopfloor) -> None:
    """CLEAR, or HELD where another outline changes what is asked."""
    floor.with_panel(kind="bonnet").gate()


@pytest.mark.parametrize(
    ("line", "path"),
    [
        ("E1", [[0.4, 0.06], [0.4, 0.94]]),
        ("E3", [[0.8, 0.05], [0.8, 0.6], [0.77, 0.86], [0.73, 1.0]]),
        ("E2", [[0.03, 1.0], [0.97, 1.0]]),
        ("E4", [[0.04, 1.0], [0.040001, 1.0]]),
    ],
)
def test_a_line_moved(floor: Shopfloor, line: str, path: list[list[float]]) -> None:
    """HELD: it is another line, within its zone or not, mirrored or shrunk."""
    assert f"{DOOR}/{line}" in floor.with_line(line, path=path).gate().held


def test_ids_of_two_like_lines_swapped(floor: Shopfloor) -> None:
    """HELD at both."""
    paths = {line.id: line.path for line in floor.job.panel[0].feature}
    floor.with_line("E2", path=paths["E4"]).with_line("E4", path=paths["E2"])
    assert {E2, E4} <= floor.gate().held


def test_hand_recess_never_touched(floor: Shopfloor) -> None:
    """HELD."""
    log = [check for check in by_hand(floor.log) if check.feature != "H1"]
    assert H1 in floor.with_log(log).gate().held


def test_wing_cleaned_and_wiped_only(floor: Shopfloor) -> None:
    """HELD."""
    log = [check for check in by_hand(floor.log) if check.panel == DOOR or check.step in {"cleaned", "wiped"}]
    assert not floor.with_log(log).gate().clear


def test_panel_id_changed(floor: Shopfloor) -> None:
    """HELD."""
    assert not floor.with_panel(id="other-door").gate().clear


def test_log_of_job_1042_under_job_2077(floor: Shopfloor) -> None:
    """HELD: this log is of another job, and it says so."""
    said = floor.with_job(number="2077", vehicle="estate", name="Harbour mist").gate()
    assert not said.clear
    assert "another number" in said.told
    assert {E1, H1, FACE, DOOR} <= said.held


def test_a_job_copied_to_another_number_starts_over(floor: Shopfloor) -> None:
    """Worked to the end under its own number it is CLEAR, and what went before is told."""
    copied = Shopfloor(floor.job, floor.house).with_job(number="2077")
    copied.now = floor.now
    said = copied.work_through().gate()
    assert said.clear
    assert "starts over" in said.told


def test_another_jobs_log_90_days_later_wiped_afresh(floor: Shopfloor) -> None:
    """HELD: every look is 90 days old and of another job."""
    floor.with_job(number="2077")
    floor.now += dt.timedelta(days=90)
    assert not wipe(floor).gate().clear


def test_own_looks_90_days_old_wiped_afresh(floor: Shopfloor) -> None:
    """HELD."""
    floor.now += dt.timedelta(days=90)
    said = wipe(floor).gate()
    assert {E1, H1, FACE} <= said.held
    assert "hours ago" in said.why(E1)


def test_own_looks_3_days_old_wiped_today(floor: Shopfloor) -> None:
    """Told."""
    floor.now += dt.timedelta(days=3)
    said = wipe(floor).gate()
    assert said.clear
    assert "looked at 72 hours ago" in said.told


def test_clock_a_day_back_at_the_gate(floor: Shopfloor) -> None:
    """HELD."""
    assert not floor.gate(dt.timedelta(days=-1)).clear


def test_25_hours_later(floor: Shopfloor) -> None:
    """HELD: the wipe is too old."""
    assert floor.gate(dt.timedelta(hours=25)).held == {DOOR, WING}


@pytest.mark.parametrize("hand", [False, True])
def test_every_entry_with_one_and_the_same_time(floor: Shopfloor, hand: bool) -> None:
    """CLEAR: the order of entry stands."""
    log = by_hand(floor.log) if hand else floor.log
    assert floor.with_log(check.model_copy(update={"at": floor.now}) for check in log).gate().clear


def test_look_dated_the_day_after_tomorrow(floor: Shopfloor) -> None:
    """HELD."""
    log = list(floor.log)
    at = index(floor.log, E1, "inspected")
    log[at] = log[at].model_copy(update={"at": log[at].at + dt.timedelta(days=2)})
    assert E1 in floor.with_log(log).gate().held


def test_wipe_dated_in_a_year(floor: Shopfloor) -> None:
    """HELD."""
    log = [
        check.model_copy(update={"at": check.at + dt.timedelta(days=365)}) if check.step == "wiped" else check
        for check in floor.log
    ]
    assert floor.with_log(log).gate().held == {DOOR, WING}


def coarse(floor: Shopfloor, where: str, grade: str) -> Shopfloor:
    """Log a scuff by hand coarser than allowed."""
    return floor.put(where, "scuffed", tool="hand-pad", grade=grade)


def test_after_the_look_a_coarse_scuff_by_a_machine_whose_clock_is_an_hour_slow(floor: Shopfloor) -> None:
    """HELD: the order is that of what was known."""
    floor.now -= dt.timedelta(hours=1)
    coarse(floor, E1, "P320")
    floor.now += dt.timedelta(hours=1)
    assert E1 in floor.gate().held


@pytest.mark.parametrize("grade", ["P320", "P80"])
@pytest.mark.parametrize(("by", "note"), [("K. M.", "customer has agreed"), ("J. B.", "ok"), ("J. B.", "x")])
def test_a_coarse_scuff_accepted_by_its_painter_or_without_reason(
    floor: Shopfloor, grade: str, by: str, note: str
) -> None:
    """HELD."""
    coarse(floor, E1, grade)
    accepted = Check(
        at=floor.now, by=by, panel=DOOR, feature="E1", step="accepted", note=note, basis=floor.log[-1].basis
    )
    floor.add(floor.writer.stamp(accepted, floor.log))
    assert E1 in wipe(floor).gate().held


@pytest.mark.parametrize("grade", ["P320", "P80"])
def test_very_fine_flake_and_a_scuff_coarser_than_p800_is_never_accepted(
    floor: Shopfloor, grade: str
) -> None:
    """HELD, whoever accepts it."""
    coarse(floor, E1, grade).put(E1, "accepted", by="J. B.", note="customer has agreed")
    said = floor.gate()
    assert E1 in said.held
    assert "nothing coarser than P800" in said.told


def test_a_hand_only_recess_in_the_fade_scuffed_p80_and_accepted(floor: Shopfloor) -> None:
    """HELD: a wet bed never saves P80."""
    coarse(floor, H1, "P80").put(H1, "inspected", result="clear")
    floor.put(H1, "accepted", by="J. B.", note="the wet bed covers it")
    assert H1 in wipe(floor).gate().held


def test_p80_by_hand_then_scuffed_finer_sanded_and_seen_clear(floor: Shopfloor) -> None:
    """HELD: one finer scuff runs over those scratches and leaves them."""
    coarse(floor, E1, "P80")
    said = wipe(redo(floor, E1)).gate()
    assert E1 in said.held
    assert "does not take out the P80" in said.why(E1)


def test_gloss_seen_and_accepted(floor: Shopfloor) -> None:
    """HELD: gloss peels."""
    floor.put(E3, "inspected", result="gloss").put(E3, "accepted", by="J. B.", note="customer has agreed")
    said = wipe(floor).gate()
    assert E3 in said.held
    assert "gloss peels" in said.told


@pytest.mark.parametrize("where", [E1, E3, FACE])
def test_rub_through(floor: Shopfloor, where: str) -> None:
    """HELD: then looked clear, accepted, worked again, and something else changed, all to no avail."""
    floor.put(where, "inspected", result="cut-through")
    assert where in floor.gate().held
    floor.put(where, "inspected", result="clear")
    assert where in wipe(floor.copy()).gate().held
    floor.put(where, "accepted", by="J. B.", note="hardly to be seen")
    assert where in wipe(floor.copy()).gate().held
    said = wipe(redo(floor.with_job(tone="mid"), where)).gate()
    assert where in said.held
    assert "rubbed through" in said.why(where)


def test_rub_through_then_a_house_limit_changed(floor: Shopfloor) -> None:
    """HELD: a change of basis mends nothing."""
    floor.put(E1, "inspected", result="cut-through")
    redo(floor.with_panel(colour_mm=180), E1)
    assert "rubbed through" in look_all(floor).gate().why(E1)


def test_rub_through_mended_by_a_patch(floor: Shopfloor) -> None:
    """CLEAR once a patch lies there, is worked, and everything was looked at again."""
    floor.put(E1, "inspected", result="cut-through")
    patch = {"id": "R9", "surface": "primer-surfacer", "at": [0.03, 0.5], "size_mm": [80, 100]}
    floor.with_panel(patch=[patch], colour_from=("front", "R9"))
    before = floor.gate()
    assert E1 in before.held
    floor.work_through()
    said = floor.gate()
    assert said.clear, [(place, said.why(place)) for place in said.held]


def test_rub_through_at_a_line_that_is_renamed_and_done_afresh(floor: Shopfloor) -> None:
    """HELD: what left the job took its rub-through along."""
    floor.put(E1, "inspected", result="cut-through").with_line("E1", id="E1a")
    said = floor.work_through().gate()
    assert E1 in said.held
    floor.put(E1, "accepted", by="J. B.", note="the line was renamed")
    assert E1 in floor.gate().held


def test_rub_through_on_the_face_then_another_line_added(floor: Shopfloor) -> None:
    """HELD."""
    floor.put(FACE, "inspected", result="cut-through")
    lines = [line.model_dump() for line in floor.job.panel[0].feature]
    extra = {"id": "N1", "kind": "body-line", "path": [[0.1, 0.7], [0.9, 0.7]], "reach": "machine"}
    said = floor.with_panel(feature=[*lines, extra]).work_through().gate()
    assert FACE in said.held


def test_an_edge_sanded_again_after_face_and_neighbours_were_looked_at(floor: Shopfloor) -> None:
    """HELD at the edge until looked at, the face stays: only hand work runs out over it."""
    floor.put(E2, "sanded", tool="da-soft", grade="P1000")
    assert floor.gate().held == {E2, DOOR}
    assert wipe(floor.put(E2, "inspected", result="clear")).gate().clear


def test_whole_face_sanded_again_after_every_line_was_looked_at(floor: Shopfloor) -> None:
    """HELD at crests and edges, else told."""
    floor.put(FACE, "sanded", tool="da-soft", grade="P1000").put(FACE, "inspected", result="clear")
    said = wipe(floor).gate()
    assert said.held == {E1, E2, E3, E4, L1}
    assert "the face was sanded" in said.told
    assert "recess" in said.told


def test_powder_on_the_face_after_its_sanding_look_wipe(floor: Shopfloor) -> None:
    """HELD at the face."""
    floor.put(FACE, "guide-coated").put(FACE, "inspected", result="clear")
    assert wipe(floor).gate().held == {FACE}


def test_powder_at_e1_after_its_sanding(floor: Shopfloor) -> None:
    """HELD."""
    assert E1 in floor.put(E1, "guide-coated").gate().held


@pytest.mark.parametrize("by", ["", "\u200b", "..."])
def test_every_entry_without_initials(floor: Shopfloor, by: str) -> None:
    """Told: nobody signed."""
    said = floor.with_log(check.model_copy(update={"by": by}) for check in floor.log).gate()
    assert "nobody signed" in said.told


@pytest.mark.parametrize("line", ["E1", "E2", "L1", "H1", "E3", "F1"])
def test_a_line_never_done_then_taken_out_of_the_job(
    fresh: Shopfloor, floor_of: Callable[[Any], Shopfloor], line: str
) -> None:
    """HELD, by the face, which was looked at with that line on the panel.

    And by the line, if it has a log.
    """
    worked = floor_of(fresh.job).work_through()
    log = [check for check in by_hand(worked.log) if check.feature != line]
    said = worked.with_log(log).without_line(line).gate()
    assert FACE in said.held


def test_a_line_done_then_taken_out_of_the_job_holds_until_it_is_named(floor: Shopfloor) -> None:
    """Places that have a log and left the job hold until the lead accepts them by name."""
    floor.without_line("E2")
    look_all(floor)
    assert floor.gate().held == {E2}
    floor.put(E2, "accepted", by="J. B.", note="no such edge on this car")
    assert floor.gate().clear


def test_a_patch_over_the_whole_panel_written_in(floor: Shopfloor) -> None:
    """HELD: the face left the job, the patch is owed."""
    patch = {"id": "R9", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [1050, 640]}
    said = floor.with_panel(patch=[patch]).gate()
    assert not said.clear
    assert f"{DOOR}/R9" in said.held


def test_only_acceptances_nothing_worked(fresh: Shopfloor) -> None:
    """HELD."""
    for task in fresh.advice.work.tasks:
        if task.do == "look":
            fresh.put(task.place, "accepted", by="J. B.", note="customer has agreed")
    said = wipe(fresh).gate()
    assert {E1, H1, FACE, DOOR} <= said.held


def test_hand_recess_scuffed_again_no_look(floor: Shopfloor) -> None:
    """HELD at the recess, the face, and the body line that it touches."""
    floor.put(H1, "scuffed", tool="hand-pad", grade="P1500")
    held = wipe(floor).gate().held
    assert {H1, FACE} <= held


def test_of_two_looks_that_did_not_know_of_each_other_the_adverse_one_stands(floor: Shopfloor) -> None:
    """HELD, whichever line stands last in the file."""
    read = floor.log
    mine = floor.put(E1, "inspected", result="clear").log[-1]
    theirs = mine.model_copy(update={"result": "lines", "id": "", "knew": "", "by": "J. B."})
    stamped = Writer("other").stamp(theirs, read)
    for log in ([*read, mine, stamped], [*read, stamped, mine]):
        assert E1 in wipe(Shopfloor(floor.job, floor.house).with_log(log)).gate().held


def test_lines_then_work_then_a_look_that_did_not_know_of_them(floor: Shopfloor) -> None:
    """HELD: who looked had not read that lines were seen."""
    read = floor.log
    floor.put(E1, "inspected", result="lines")
    floor.put(E1, "guide-coated").put(E1, "sanded", tool="da-soft", grade="P1000")
    look = floor.copy().put(E1, "inspected", result="clear").log[-1]
    late = Writer("other").stamp(look.model_copy(update={"id": "", "knew": ""}), read)
    assert E1 in wipe(floor.add(late)).gate().held


def test_lines_worked_over_and_seen_clear_by_who_knew(floor: Shopfloor) -> None:
    """CLEAR."""
    floor.put(E1, "inspected", result="lines")
    floor.put(E1, "guide-coated").put(E1, "sanded", tool="da-soft", grade="P1000")
    assert wipe(floor.put(E1, "inspected", result="clear")).gate().clear


def test_an_adverse_look_deleted_by_hand(floor: Shopfloor) -> None:
    """HELD: the next entry says it knew one that is gone."""
    log = wipe(floor.put(E1, "inspected", result="lines")).log
    gone = [check for check in log if check.result != "lines"]
    assert not floor.with_log(gone).gate().clear


def test_looks_renewed_for_a_whole_panel(floor: Shopfloor) -> None:
    """CLEAR after four days, by one entry a panel where nothing was done since; never where something was."""
    floor.now += dt.timedelta(days=5)
    assert not wipe(floor.copy()).gate().clear
    for panel in (DOOR, WING):
        floor.put(f"{panel}/all", "inspected", again=True, result="clear")
    assert wipe(floor.copy()).gate().clear
    floor.put(E2, "sanded", tool="da-soft", grade="P1000")
    floor.put(f"{DOOR}/all", "inspected", again=True, result="clear")
    assert E2 in wipe(floor).gate().held


def test_cleaned_again_after_the_wipe(floor: Shopfloor) -> None:
    """HELD: a panel is wiped last, and a cleaner leaves what a wipe takes off."""
    said = floor.put(f"{DOOR}/panel", "cleaned").gate()
    assert said.kinds(DOOR) == ["wiped-before"]
    assert floor.put(f"{DOOR}/panel", "wiped").gate().clear
