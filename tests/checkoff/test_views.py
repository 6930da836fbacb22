"""What a screen or a card ticks, against the states of the tasks themselves."""

from prepadvisor.checkoff import ticks, turns, views
from tests.checkoff.plain_gate import STEP
from tests.checkoff.shopfloor import DOOR, Shopfloor

E1, E2 = f"{DOOR}/E1", f"{DOOR}/E2"


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
    assert (powder.state, powder.again) == ("open", True)
