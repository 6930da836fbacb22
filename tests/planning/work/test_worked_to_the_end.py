"""A job worked by its own plan is clear; with one owed thing left out, or done too early, it is not."""

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from prepadvisor.planning import as_primed
from prepadvisor.records import Job, Task
from prepadvisor.standards import House
from tests.checkoff.shopfloor import Shopfloor

few_cases = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
AnyJob = st.SearchStrategy[Job]


def _unheld(data: st.DataObject, any_job: AnyJob, house: House) -> Shopfloor:
    floor = Shopfloor(data.draw(any_job), house)
    assume(not floor.advice.holds)
    return floor


def _first_stage(floor: Shopfloor) -> tuple[list[Task], list[tuple[str, ...]]]:
    """Return the owed tasks of the first stage in order, and the command that logs each."""
    work = floor.advice.work
    by_id = {task.id: task for task in work.tasks}
    stage = work.stages[0].id
    tasks, runs = [], []
    for step in work.steps:
        if step.stage == stage:
            tasks += [by_id[task] for task in step.tasks if by_id[task].owed]
            runs += list(step.log)
    return tasks, runs


@given(data=st.data())
@few_cases
def test_all_logs_in_order_end_in_a_clear_gate(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Of the first stage, for any job that nothing holds."""
    floor = _unheld(data, any_job, shipped_house)
    stage = floor.advice.work.stages[0].id
    _, runs = _first_stage(floor)
    seen = floor.run(runs).gate()
    assert seen.clear, [hold.fact for hold in seen.gate.holds]
    assert seen.gate.stage == stage


@given(data=st.data())
@few_cases
def test_any_owed_task_left_out_holds_at_its_place(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Nothing that is owed can be left out unseen."""
    floor = _unheld(data, any_job, shipped_house)
    tasks, runs = _first_stage(floor)
    left = data.draw(st.integers(0, len(tasks) - 1))
    seen = floor.run(run for at, run in enumerate(runs) if at != left).gate()
    assert not seen.clear
    assert tasks[left].place in seen.held, tasks[left].id


@given(data=st.data())
@few_cases
def test_any_owed_task_done_too_early_holds_at_its_place(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Done before one it must follow, it does not count."""
    floor = _unheld(data, any_job, shipped_house)
    tasks, runs = _first_stage(floor)
    at = {task.id: n for n, task in enumerate(tasks)}
    bound = [(task, other) for task in tasks for other in task.after if other in at]
    task, other = data.draw(st.sampled_from(bound))
    moved = runs.pop(at[task.id])
    runs.insert(at[other], moved)
    seen = floor.run(runs).gate()
    assert not seen.clear
    assert task.place in seen.held, (task.id, other)


@pytest.mark.parametrize("flake", ["solid", "very-fine"])
def test_primer_is_worked_cleared_logged_and_the_same_job_goes_on(
    job_of: "object", shipped_house: House, flake: str
) -> None:
    """Filler up to primer, primed, then the same job up to the mask: nobody retypes it."""
    patch = {"id": "R1", "surface": "filler", "next": "primer", "at": [0.3, 0.5], "size_mm": [200, 150]}
    job = job_of({"flake": flake}, role="repair", patch=[patch], colour_from=None, colour_mm=None,
                 fade_mm=None)  # type: ignore[operator]  # fmt: skip
    floor = Shopfloor(job, shipped_house)
    _, runs = _first_stage(floor)
    seen = floor.run(runs).gate()
    assert (seen.clear, seen.gate.stage) == (True, "primer")
    seen = floor.put("door/R1", "primed").gate()
    assert (seen.clear, seen.gate.stage) == (False, "paint")
    assert seen.gate.found == ()  # what keyed the ring for primer is no coarse cut under paint
    (grown,) = as_primed(floor.job, shipped_house.shop).panel[0].patch
    assert (grown.surface, grown.next, grown.now) == ("primer-surfacer", "base", None)
    assert grown.size_mm == (300.0, 250.0)  # 200 x 150, and 50 mm of lap on every side
    first = next(task for task in floor.advice.work.tasks if task.place == "door/R1")
    assert first.do == "powder"
    blocked = next(task for task in floor.advice.work.tasks if (task.place, task.do) == ("door/R1", "sand"))
    assert (blocked.tool, blocked.grade) == ("block", "P320")
    _, runs = _first_stage(floor)
    seen = floor.run(runs).gate()
    assert (seen.clear, seen.gate.stage) == (True, "paint")
