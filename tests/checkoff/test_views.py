"""What a screen or a card ticks, against the states of the tasks themselves."""

from prepadvisor.checkoff import due, free_tasks, ticks, turns, views
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import Task
from prepadvisor.records.gate import CardAgain, GateHold, LeadDecides, NotPlanned
from prepadvisor.standards import House
from tests.checkoff.plain_gate import STEP
from tests.checkoff.shopfloor import DOOR, Shopfloor

E1, E2, H1 = f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/H1"


def spoilt(floor: Shopfloor) -> Shopfloor:
    """Leave one edge to be powdered again, another scuffed too coarse; the lead said a word on the first."""
    floor.put(E1, "scuffed", tool="hand-pad", grade="P1000")
    floor.put(E2, "scuffed", tool="hand-pad", grade="P320")
    return floor.put(E1, "accepted", by="J. B.", note="hidden under the trim")


def test_a_step_is_ticked_where_all_its_tasks_are_done(floor: Shopfloor) -> None:
    """And an acceptance where there is one, wherever anything is done."""
    said = spoilt(floor).gate().gate
    states: dict[str, dict[str, set[str]]] = {}
    for task in said.work.tasks:
        if task.owed and task.stage == said.stage:
            states.setdefault(task.place, {}).setdefault(STEP[task.do], set()).add(task.state)
    expected = {
        place: {step for step, own in steps.items() if own == {"done"}} for place, steps in states.items()
    }
    expected[E1].add("accepted")
    assert {place: done for place, done in ticks(said).items() if done} == {
        place: done for place, done in expected.items() if done
    }


def test_each_place_shows_its_steps_its_last_word_and_what_is_next(floor: Shopfloor) -> None:
    """Done where all is, held where one is, else open; next is what comes first in the order of the plan.

    P320 on E2, worked to the end, is too deep to be cut out within its film: nothing is next there.
    """
    one = spoilt(floor)
    said, advice = one.gate().gate, one.advice
    order = turns(said)
    seen = [task for step in sorted(said.work.steps, key=lambda step: step.n) for task in step.tasks]
    assert sorted(order, key=order.__getitem__) == seen
    shown = {place.id: place for panel in views(said, advice) for place in panel.places}
    assert set(shown) == {place.id for place in advice.places}
    for name, view in shown.items():
        own = [task for task in said.work.tasks if task.place == name and task.owed]
        for step in view.steps:
            states = {task.state for task in own if STEP[task.do] == step.step}
            assert step.state == ("done" if states == {"done"} else "held" if "held" in states else "open")
        left = sorted((task for task in own if task.state != "done"), key=lambda task: order[task.id])
        assert view.next == (left[0] if left and name != E2 else None)
        assert (view.stop is not None) is (name == E2)
        assert view.is_clear is (name not in {hold.place for hold in said.holds})
        assert view.look == "clear"
        assert (view.accepted is not None) is (name == E1)
    (powder,) = (step for step in shown[E1].steps if step.step == "guide-coated")
    assert powder.state == "open"


def test_a_panel_shows_its_cleaning_its_wipe_and_what_is_next_on_all_of_it(floor: Shopfloor) -> None:
    """Work after the wipe opens it again; a look that found lines is the last word of its place."""
    door, wing = views(floor.gate().gate, floor.advice)
    assert (door.is_clear, wing.is_clear, door.next, door.holds) == (True, True, None, ())
    floor.put(E1, "scuffed", tool="hand-pad", grade="P1000").put(H1, "inspected", result="lines")
    said = floor.gate().gate
    door, wing = views(said, floor.advice)
    boxes = [(step.step, step.state) for one in (door, wing) for step in (one.cleaned, one.wiped)]
    assert boxes == [("cleaned", "done"), ("wiped", "open"), ("cleaned", "done"), ("wiped", "done")]
    assert [task.id for task in (*door.cleaned.tasks, *door.wiped.tasks)] == [
        f"{DOOR}.clean.1", f"{DOOR}.wipe.1",
    ]  # fmt: skip
    assert door.holds == tuple(hold for hold in said.holds if hold.place == DOOR)
    assert door.holds
    assert (door.is_clear, wing.is_clear, wing.holds, wing.next) == (False, True, (), None)
    assert door.next is not None
    assert door.next.id == f"{E1}.powder.1"
    looks = {place.id: place.look for place in (*door.places, *wing.places)}
    assert looks == dict.fromkeys(looks, "clear") | {H1: "lines"}
    only_places = said._replace(holds=tuple(hold for hold in said.holds if hold.place != DOOR))
    assert [one.is_clear for one in views(only_places, floor.advice)] == [False, True]


def test_nothing_is_shown_as_done_before_it_is(fresh: Shopfloor) -> None:
    """No look, no word of the lead, every step open; cleaning is next on either panel."""
    for panel in views(fresh.gate().gate, fresh.advice):
        steps = [panel.cleaned, panel.wiped, *(step for place in panel.places for step in place.steps)]
        assert {step.state for step in steps} == {"open"}
        assert {(place.look, place.accepted) for place in panel.places} == {(None, None)}
        assert panel.next is not None
        assert (panel.next.place, panel.next.do) == (panel.id, "clean")


def test_a_panel_that_is_held_whole_has_nothing_done_and_nothing_next(fresh: Shopfloor) -> None:
    """A matt panel is planned by nobody."""
    door, wing = views(fresh.with_panel(special="matt").gate().gate, fresh.advice)
    assert (door.cleaned.state, door.cleaned.tasks, door.next) == ("open", (), None)
    assert wing.next is not None


def test_only_the_stage_that_is_worked_is_shown(shipped_house: House) -> None:
    """Filler first: what follows the primer is no work of today; its ring is shown with it."""
    job = load_job(demo_jobs_dir() / "filler-up-to-primer.toml", shipped_house)
    floor = Shopfloor(job.model_copy(update={"check": ()}), shipped_house)
    said = floor.gate().gate
    later = {task.id for task in said.work.tasks if task.stage != said.stage}
    assert later
    shown = views(said, floor.advice)
    assert any(place.feature.endswith("-ring") for panel in shown for place in panel.places)
    tasks = {
        task.id
        for panel in shown
        for step in (panel.cleaned, panel.wiped, *(each for place in panel.places for each in place.steps))
        for task in step.tasks
    }
    assert tasks == {task.id for task in said.work.tasks if task.owed and task.stage == said.stage}
    assert not later & {task.id for task in free_tasks(said)}


def test_what_is_due_is_what_was_found_then_the_task_that_has_its_turn_then_what_holds(
    fresh: Shopfloor, floor: Shopfloor
) -> None:
    """Of holds the one that only the lead can end comes first; a clear job has nothing."""
    said = fresh.gate().gate
    first = due(said)
    assert isinstance(first, Task)
    assert turns(said)[first.id] == min(turns(said)[task.id] for task in free_tasks(said)) == 0
    assert due(floor.gate().gate) is None
    found = floor.put(E2, "inspected", result="lines").gate().gate
    assert due(found) == found.found[0]
    clean, lead = GateHold(DOOR, NotPlanned(), CardAgain()), GateHold(E1, NotPlanned(), LeadDecides(True))
    done = found._replace(found=(), holds=(clean, lead, clean), work=found.work._replace(tasks=()))
    assert due(done) == lead
    assert due(done._replace(holds=(clean,))) == clean
