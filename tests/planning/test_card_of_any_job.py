"""The card of any job is the plan of work, no more and no less: boxes, order, rows, drills, minutes."""

import re
from collections import Counter
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.cards.page.text import write_text
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet, PanelSheet
from prepadvisor.planning import advise
from prepadvisor.records import RANK, Advice, Job, Task
from prepadvisor.standards import House
from prepadvisor.wording import minutes

AnyJob = st.SearchStrategy[Job]
any_case = settings(max_examples=25, suppress_health_check=list(HealthCheck))


def of_stage(advice: Advice) -> list[Task]:
    """Return the tasks of the stage that the card is for."""
    return [task for task in advice.work.tasks if task.stage == advice.work.stages[0].id]


def boxed(panel: PanelSheet) -> Iterator[str]:
    """Yield the task behind each box of a panel."""
    for step in panel.order:
        yield from step.tasks
    for ladder in panel.ladders:
        for box in ladder.boxes:
            yield from box.tasks
    for row in panel.rows:
        yield from row.tasks


def made(data: st.DataObject, any_job: AnyJob, house: House) -> tuple[Advice, CardSheet]:
    """Draw a job and make its card."""
    job = data.draw(any_job)
    advice = advise(job, house)
    return advice, card_sheet(Papers(job, advice, house))


@given(data=st.data())
@any_case
def test_every_owed_task_has_exactly_one_box(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """The gate asks for nothing that the card has no box for, and for nothing twice."""
    advice, sheet = made(data, any_job, shipped_house)
    boxes = Counter(task for panel in sheet.panels for task in boxed(panel))
    owed = {task.id for task in of_stage(advice) if task.owed}
    assert {task: count for task, count in boxes.items() if count > 1} == {}
    assert owed - set(boxes) == set()
    assert set(boxes) - owed <= {task.id for task in of_stage(advice) if task.do == "mask"}


@given(data=st.data())
@any_case
def test_the_order_of_a_panel_is_the_steps_that_have_work_there(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """With their numbers, in their order."""
    advice, sheet = made(data, any_job, shipped_house)
    stage = advice.work.stages[0].id
    place_of = {task.id: task.place for task in advice.work.tasks}
    for panel in sheet.panels:
        steps = [
            step.n
            for step in advice.work.steps
            if step.stage == stage and any(place_of[task].split("/")[0] == panel.id for task in step.tasks)
        ]
        assert [step.n for step in panel.order] == (steps if panel.rows else [])


@given(data=st.data())
@any_case
def test_a_row_shows_the_grade_of_its_last_pass_or_stop(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """And that grade lies in the range that the gate takes."""
    advice, sheet = made(data, any_job, shipped_house)
    by_id = {task.id: task for task in advice.work.tasks}
    held = {"/".join(hold.spot.split("/")[:2]) for hold in advice.holds}
    for row in (row for panel in sheet.panels for row in panel.rows):
        assert row.stop == (row.place in held)
        cuts = [by_id[task] for task in row.tasks if by_id[task].grade]
        shown = {grade for grade in (row.hand, row.machine) if grade not in {"-", "STOP"}}
        assert shown == {task.grade for task in cuts[-2:]} or shown <= {task.grade for task in cuts}
        for task in cuts:
            assert task.range is not None
            assert task.grade is not None
            assert RANK[task.range[0]] <= RANK[task.grade] <= RANK[task.range[1]]


@given(data=st.data())
@any_case
def test_no_drill_names_a_grade_that_no_rule_lets_be_used_on_its_panel(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Every grade in a drill is one that the plan itself uses or takes there."""
    advice, sheet = made(data, any_job, shipped_house)
    for panel in sheet.panels:
        tasks = [task for task in of_stage(advice) if task.place.split("/")[0] == panel.id]
        taken = {
            grade
            for task in tasks
            if task.range
            for grade in RANK
            if RANK[task.range[0]] <= RANK[grade] <= RANK[task.range[1]]
        }
        named = {grade for drill in panel.drills for grade in re.findall(r"P\d+", drill.says)}
        assert named <= taken


@given(data=st.data())
@any_case
def test_the_minutes_of_a_panel_are_the_sum_of_its_tasks(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Of the stage that the card is for."""
    advice, sheet = made(data, any_job, shipped_house)
    for panel in sheet.panels:
        took = sum(task.minutes for task in of_stage(advice) if task.place.split("/")[0] == panel.id)
        assert panel.minutes == (minutes(took) if panel.rows else "")


@given(data=st.data())
@any_case
def test_a_held_panel_prints_why_and_nothing_to_work_by(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """No row, no order, no drill; and nothing is said to block nothing."""
    advice, sheet = made(data, any_job, shipped_house)
    for panel in sheet.panels:
        if panel.id in advice.work.unplanned:
            assert panel.stop
            assert panel.instead
            assert (panel.rows, panel.order, panel.drills) == ((), (), ())
    assert ("NOTHING BLOCKS" in sheet.headline) == (not advice.holds)


@pytest.mark.parametrize("word", [" mm", " um", " µm", " m2"])
@given(data=st.data())
@settings(max_examples=8, suppress_health_check=list(HealthCheck))
def test_an_imperial_card_of_any_job_has_no_metric_unit(
    data: st.DataObject, word: str, any_job: AnyJob, shipped_house: House
) -> None:
    """Inches, mils, ounces and square feet in every sentence; only ml stand beside the ounces."""
    job = data.draw(any_job)
    job = job.model_copy(update={"job": job.job.model_copy(update={"units": "imperial"})})
    printed = write_text(card_sheet(Papers(job, advise(job, shipped_house), shipped_house)))
    assert not re.search(rf"\d{re.escape(word)}\b", printed)
