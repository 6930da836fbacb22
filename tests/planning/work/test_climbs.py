"""What the gate takes for each pass of a climb, what waits for primer, and what the booth ends at."""

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any, Final

import pytest

from prepadvisor.planning import advise
from prepadvisor.planning.work.ground import _between
from prepadvisor.records import Advice, Grade, Job, Task
from prepadvisor.standards import House
from prepadvisor.standards.engine import EVERYTHING, Engine, Rule
from tests.recompute.house import GRAIN

AdviseOn = Callable[..., Advice]
WHOLE: Final[dict[str, Any]] = {"role": "repair", "colour_from": None, "colour_mm": None, "fade_mm": None}
PANELS: Final[list[tuple[dict[str, Any], str | None]]] = [
    ({**WHOLE, "surface": "filler", "next": "primer"}, None),
    ({**WHOLE, "surface": "primer-surfacer"}, None),
    ({**WHOLE, "surface": "primer-surfacer", "now": {"tool": "da", "grade": "P320"}}, "P320"),
    ({**WHOLE, "surface": "feather-edge", "next": "primer", "now": {"tool": "da", "grade": "P80"}}, "P80"),
    ({"now": {"tool": "da", "grade": "P320"}, "film_um": [300]}, "P320"),
    ({"now": {"tool": "da", "grade": "P400"}}, "P400"),
]
"""A panel, and the grade that it was sanded with before."""
GRADES: Final = sorted(GRAIN, key=GRAIN.__getitem__, reverse=True)


def ratio(advice: Advice, place: str) -> float:
    """Return how far a step may jump at a place: the highest that its rules say."""
    (own,) = (each for each in advice.places if each.id == place)
    return max(
        float(reason.value) for spot in advice.spots if spot.id in own.spots for reason in spot.because
        if reason.output == "step_ratio_min"
    )  # fmt: skip


def climbs(advice: Advice) -> Iterator[tuple[str, list[Task]]]:
    """Yield the sanding passes of each place in the stage that is worked."""
    stage = advice.work.stages[0].id
    sanded = [task for task in advice.work.tasks if (task.do, task.stage) == ("sand", stage)]
    for place in dict.fromkeys(task.place for task in sanded):
        yield place, [task for task in sanded if task.place == place]


def expected(below: str | None, grade: str, ahead: str, least: float) -> tuple[str, str]:
    """Return the coarsest and finest grade that a pass between may have, by trying every grade.

    From the coarsest the next pass as planned is no jump too far; the finest is none too far from the last.
    """
    no_worse = [one for one in GRADES if below is None or GRAIN[one] < GRAIN[below]]
    low = [one for one in no_worse if GRAIN[ahead] >= least * GRAIN[one] - 1e-9] + [grade]
    high = [grade]
    if below is not None:
        up_to = [one for one in GRADES if GRAIN[grade] >= GRAIN[one] > GRAIN[ahead]]
        high += [one for one in up_to if GRAIN[one] >= least * GRAIN[below] - 1e-9]
    return max(low, key=GRAIN.__getitem__), min(high, key=GRAIN.__getitem__)


@pytest.mark.parametrize("own", [0.0, 0.5, 0.55])
@pytest.mark.parametrize(("panel", "now"), PANELS)
def test_a_pass_between_may_be_as_coarse_and_as_fine_as_no_jump_is_too_far(
    job_of: Callable[..., Job], shipped_house: House, panel: dict[str, Any], now: str | None, own: float
) -> None:
    """At faces and lines, as shipped and where a shop takes smaller steps; some are held then."""
    rule = Rule("own", "Says.", EVERYTHING, {"step_ratio_min": own}, "practice")
    engine = shipped_house.engine
    house = replace(shipped_house, engine=Engine([*engine.rules, rule], engine.impossibles, used=engine.used))
    advice, seen = advise(job_of(**panel), house), 0
    for place, tasks in climbs(advice):
        below = now
        for task, following in pairwise(tasks):
            assert task.grade is not None
            assert following.grade is not None
            least = ratio(advice, place)
            assert task.range == expected(below, task.grade, following.grade, least), task.id
            below, seen = task.grade, seen + 1
    assert seen or own


def test_a_pass_between_is_ranged_so_for_any_three_grades() -> None:
    """The jump that is just allowed among them: the very share of one grain in another."""
    rng, shelf = random.Random(1), [Grade(grade) for grade in GRADES[4:22]]
    for _ in range(3000):
        below, grade, ahead = sorted(rng.sample(shelf, 3), key=shelf.index)
        one, other = sorted(rng.sample(shelf, 2), key=shelf.index)
        least = rng.choice((0.4, 0.6, 0.63, 0.8, GRAIN[other] / GRAIN[one]))
        assert _between(("da", below), grade, ahead, least) == expected(below, grade, ahead, least)
        assert _between(None, grade, ahead, least) == expected(None, grade, ahead, least)


def test_the_paint_stage_of_what_is_primed_waits_for_the_wipe_ahead_of_primer(advise_on: AdviseOn) -> None:
    """The first work at each place of a panel that is primed whole; of a patch alone, only there."""
    whole = advise_on(**WHOLE, surface="filler", next="primer")
    first: dict[str, Task] = {}
    for task in whole.work.tasks:
        if task.stage == "paint" and "/" in task.place:
            first.setdefault(task.place, task)
    wipe = next(task for task in whole.work.tasks if task.do == "wipe")
    assert wipe.stage == "primer"
    assert {task.after for task in first.values()} == {(wipe.id,)}
    patch = {"id": "R1", "surface": "filler", "next": "primer", "at": [0.8, 0.5], "size_mm": [60, 60]}
    some = advise_on({"flake": "coarse"}, patch=[patch])
    wipe = next(task for task in some.work.tasks if task.do == "wipe")
    assert wipe.stage == "primer"
    waiting = {task.place for task in some.work.tasks if task.stage == "paint" and wipe.id in task.after}
    assert {place for place in waiting if "/" in place} <= {"door/R1", "door/R1-ring"}
    edge = next(task for task in some.work.tasks if task.place == "door/E2")
    assert edge.after == ("door.clean.1",)


def test_clear_ends_at_the_edges_of_the_panel(advise_on: AdviseOn) -> None:
    """From edge to edge, and at no other line; as deep as the panel is."""
    (clear,) = (entry for entry in advise_on().work.booth if entry.do == "clear")
    assert clear.ends_at == ("door/E1", "door/E2")
    assert clear.from_mm == 0.0
    assert clear.to_mm == pytest.approx(1050, abs=0.1)


def test_a_scuff_ahead_of_the_sander_may_be_as_fine_as_it_likes(advise_on: AdviseOn) -> None:
    """And as coarse as the place's hand limit, which is coarser than the grade of the sander after it."""
    advice = advise_on(**WHOLE, surface="primer-surfacer")
    (edge,) = (place for place in advice.places if place.id == "door/E1")
    scuff, last = (
        [task for task in advice.work.tasks if (task.place, task.do) == ("door/E1", do)][-1]
        for do in ("scuff", "sand")
    )
    assert scuff.range == (edge.hand_coarsest, GRADES[-1])
    assert edge.hand_coarsest is not None
    assert last.grade is not None
    assert GRAIN[edge.hand_coarsest] > GRAIN[last.grade]
