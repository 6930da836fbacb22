"""The order of the work against a reference graph library, and what every plan of work must have.

Reference: networkx, `is_directed_acyclic_graph`, `descendants` and `topological_sort`.
"""

from collections import Counter
from collections.abc import Callable

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.planning import advise
from prepadvisor.planning.work.plan import joined_steps, panel_steps
from prepadvisor.planning.work.tasks import TaskGroup
from prepadvisor.records import (
    DA_TOOLS,
    RANK,
    Advice,
    Do,
    Grade,
    Job,
    StageName,
    Task,
    Tool,
    Work,
    is_finer,
)
from prepadvisor.standards import House

any_case = settings(max_examples=60, suppress_health_check=list(HealthCheck))
AnyJob = st.SearchStrategy[Job]


def graph_of(work: Work) -> "nx.DiGraph[str]":
    """Return the tasks as a graph, an arc from each to those that must follow it."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(task.id for task in work.tasks)
    graph.add_edges_from((before, task.id) for task in work.tasks for before in task.after)
    return graph


def at(work: Work, place: str, do: str, stage: str | None = None) -> list[Task]:
    """Return the tasks of one kind at a place."""
    return [
        task for task in work.tasks if (task.place, task.do) == (place, do) and stage in (None, task.stage)
    ]


@given(data=st.data())
@any_case
def test_the_order_is_feasible(data: st.DataObject, any_job: AnyJob, shipped_house: House) -> None:
    """No task waits for itself or for one that there is not; tasks and steps stand in a feasible order."""
    work = advise(data.draw(any_job), shipped_house).work
    graph = graph_of(work)
    assert set(graph) == {task.id for task in work.tasks}
    assert len(graph) == len(work.tasks)
    assert nx.is_directed_acyclic_graph(graph)
    rank = {task.id: at for at, task in enumerate(work.tasks)}
    assert all(rank[before] < rank[after] for before, after in graph.edges)
    step = {task: each.n for each in work.steps for task in each.tasks}
    assert all(step[before] <= step[after] for before, after in graph.edges)


@given(data=st.data())
@any_case
def test_steps_hold_every_task_once_and_log_every_owed_one(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Nothing falls between two steps, and what is owed can be logged as planned."""
    work = advise(data.draw(any_job), shipped_house).work
    assert Counter(task for step in work.steps for task in step.tasks) == Counter(
        task.id for task in work.tasks
    )
    assert [step.n for step in work.steps] == list(range(1, len(work.steps) + 1))
    by_id = {task.id: task for task in work.tasks}
    for step in work.steps:
        owed = [by_id[task] for task in step.tasks if by_id[task].owed]
        assert len(step.log) == len(owed)
        assert {task.stage for task in owed} <= {step.stage}
        for run, task in zip(step.log, owed, strict=True):
            assert run[0] in (task.place, f"{task.place}/panel")
            assert (task.grade in run) if task.grade else ("--grade" not in run)


@given(data=st.data())
@any_case
def test_each_stage_is_whole(data: st.DataObject, any_job: AnyJob, shipped_house: House) -> None:
    """Cleaning comes before all of it, a look after the last work of each place, the wipe after all looks."""
    job = data.draw(any_job)
    advice = advise(job, shipped_house)
    work = advice.work
    after = {task: nx.descendants(graph_of(work), task) for task in (each.id for each in work.tasks)}
    for panel in job.panel:
        mine = [task for task in work.tasks if task.place.split("/")[0] == panel.id]
        if not mine:
            assert panel.id in work.unplanned
            continue
        (clean,) = at(work, panel.id, "clean")
        assert {task.id for task in mine} == {clean.id} | after[clean.id]
        for stage in {task.stage for task in mine if task.do == "wipe"}:
            (wipe,) = at(work, panel.id, "wipe", stage)
            (mask,) = at(work, panel.id, "mask", stage)
            assert mask.id in after[wipe.id]
            here = [task for task in mine if task.stage == stage]
            for place in {task.place for task in here} - {panel.id}:
                (look,) = at(work, place, "look", stage)
                assert wipe.id in after[look.id]
                assert all(
                    look.id in after[task.id] for task in here if task.place == place and task.do != "look"
                )


@given(data=st.data())
@any_case
def test_held_places_have_no_task_and_all_others_a_look(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """What is on hold is not worked; nothing else is left out; no work at a place waits for a look."""
    advice = advise(data.draw(any_job), shipped_house)
    spots = [hold.spot for hold in advice.holds]  # a ring has no zones, its hold names the place itself
    held = {
        place.id for place in advice.places if any(f"{spot}/".startswith(f"{place.id}/") for spot in spots)
    }
    looked = {task.place for task in advice.work.tasks if task.do == "look"}
    worked = {task.place for task in advice.work.tasks if "/" in task.place}
    assert not held & worked
    assert {place.id for place in advice.places} - held == looked
    looks = {task.id for task in advice.work.tasks if task.do == "look"}
    after_looks = {task.do for task in advice.work.tasks if looks & set(task.after)}
    assert after_looks <= {"wipe", "mask"}


@given(data=st.data())
@any_case
def test_hand_work_comes_before_powder_and_powder_before_the_sanding_that_takes_it_out(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Scuff, powder, sand at a line; hand-only work before the face's last pass, and no powder on it."""
    advice = advise(data.draw(any_job), shipped_house)
    work, graph = advice.work, graph_of(advice.work)
    for place in advice.places:
        sands, scuffs, powders = (at(work, place.id, do, "paint") for do in ("sand", "scuff", "powder"))
        if place.reach == "hand":
            assert not powders
            assert not sands
            faces = at(work, f"{place.panel}/face", "sand", "paint")
            if scuffs and faces:
                assert faces[-1].id in nx.descendants(graph, scuffs[-1].id)
            continue
        for powder in powders:
            assert any(powder.id in task.after for task in sands)
        if scuffs and sands:
            assert sands[-1].id in nx.descendants(graph, scuffs[-1].id)


@given(data=st.data())
@any_case
def test_powder_goes_on_wherever_a_coarser_cut_is_sanded_out(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Where the rules ask for it at every change; never on gloss."""
    job = data.draw(any_job)
    advice = advise(job, shipped_house)
    by_id = {task.id: task for task in advice.work.tasks}
    for place in advice.places:
        sands = [task for task in advice.work.tasks if task.place == place.id and task.do == "sand"]
        if place.ring_of or not sands or place.split:
            continue
        for before, task in zip([None, *sands], sands, strict=False):
            powdered = any(by_id[one].do == "powder" for one in task.after)
            scuffed = any(by_id[one].do == "scuff" for one in task.after)
            if place.guide_coat == "no":
                assert not powdered, task.id
            elif before is not None and before.stage == task.stage:
                assert task.grade is not None
                assert before.grade is not None
                assert powdered == (is_finer(task.grade, before.grade) or not scuffed), task.id


@given(data=st.data())
@any_case
def test_grades_stay_where_the_gate_takes_them(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Every chosen grade lies in its range, every last touch in the range of every zone it goes over."""
    advice = advise(data.draw(any_job), shipped_house)
    spots = {spot.id: spot for spot in advice.spots}
    for task in advice.work.tasks:
        if task.grade is None:
            assert task.range is None
            continue
        assert task.range is not None
        low, high = task.range
        assert RANK[low] <= RANK[task.grade] <= RANK[high], task.id
        assert task.do != "sand" or task.tool == "block" or task.tool in DA_TOOLS
    for place in advice.places:
        work = [task for task in advice.work.tasks if task.place == place.id and task.do in ("sand", "scuff")]
        if place.split or not work or not place.spots or work[-1].stage != work[0].stage:
            continue
        for spot in place.spots:
            finish = spots[spot].finish
            assert finish is not None
            assert work[-1].range is not None
            low, high = work[-1].range
            assert RANK[finish.coarsest] <= RANK[low] <= RANK[high] <= RANK[finish.finest], place.id


def test_tasks_that_wait_for_one_another_are_refused() -> None:
    """A plan that cannot be worked is a fault of the program, and says which tasks."""
    one = Task("p/a.sand.1", "paint", "p/a", "sand", after=("p/b.sand.1",))
    other = Task("p/b.sand.1", "paint", "p/b", "sand", after=("p/a.sand.1",))
    with pytest.raises(ValueError, match=r"p/a\.sand\.1, p/b\.sand\.1"):
        panel_steps([TaskGroup(0, None, None, (one,)), TaskGroup(0, None, None, (other,))], 1.0)


def test_a_door_is_read_in_seven_steps(advise_on: Callable[..., Advice]) -> None:
    """A door with three lines by DA and one by hand: clean, hand, scuff, powder and DA, look, wipe, mask."""
    advice = advise_on()
    by_id = {task.id: task for task in advice.work.tasks}
    read = ["+".join(dict.fromkeys(by_id[task].do for task in step.tasks)) for step in advice.work.steps]
    assert read == ["clean", "scuff", "scuff", "powder+sand", "look", "wipe", "mask"]


def group(
    place: str, turn: int, tool: Tool | None, grade: str | None, *does: Do, stage: StageName = "paint"
) -> TaskGroup:
    """Return what is done in one go at a place, its tasks each after the one before."""
    tasks: list[Task] = []
    for do in does:
        after = (tasks[-1].id,) if tasks else ()
        tasks.append(Task(f"{place}.{do}.{turn}", stage, place, do, after=after))
    return TaskGroup(turn, tool, Grade(grade) if grade else None, tuple(tasks))


def test_a_step_is_what_has_one_stage_turn_grade_and_tool_coarse_first() -> None:
    """By stage, turn, grade from coarse to fine, and tool; two panels with equal steps share one."""
    one = [
        group("p/E1", 5, "da-soft", "P1000", "powder", "sand"),
        group("p/E2", 5, "da", "P1000", "sand"),
        group("p/E3", 5, "da-soft", "P800", "sand"),
        group("p/E4", 5, "da-soft", "P1000", "powder", "sand"),
        group("p", 0, None, None, "clean"),
        group("p/R1", 5, "da", "P80", "sand", stage="primer"),
    ]
    other = [group("q/E1", 5, "da-soft", "P1000", "powder", "sand")]
    tasks, steps = joined_steps([panel_steps(one, 1.5), panel_steps(other, 1.5)])
    assert [step.tasks for step in steps] == [
        ("p/R1.sand.5",),
        ("p.clean.0",),
        ("p/E3.sand.5",),
        ("p/E2.sand.5",),
        ("p/E1.powder.5", "p/E4.powder.5", "q/E1.powder.5", "p/E1.sand.5", "p/E4.sand.5", "q/E1.sand.5"),
    ]
    named = [(step.id, step.n, step.stage) for step in steps]
    assert named[:2] == [("primer.1", 1, "primer"), ("paint.2", 2, "paint")]
    assert [task.id for task in tasks] == [name for step in steps for name in step.tasks]
    powder = {task.id: task.minutes for task in tasks if task.do == "powder"}
    assert powder == {"p/E1.powder.5": 1.5, "p/E4.powder.5": 0.0, "q/E1.powder.5": 1.5}


def test_a_step_waits_for_all_that_any_of_it_must_follow() -> None:
    """What must follow a later turn comes after it, however early its own turn is."""
    last = group("p/E1", 9, None, None, "wipe")
    first = group("p/E2", 1, None, None, "look")
    bound = first._replace(tasks=tuple(task._replace(after=(last.tasks[0].id,)) for task in first.tasks))
    _, steps = joined_steps([panel_steps([bound, last], 1.0)])
    assert [step.tasks for step in steps] == [("p/E1.wipe.9",), ("p/E2.look.1",)]
