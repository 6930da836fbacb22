"""Minutes as a shop counts them. The expected values are common practice, no source, but for the equation."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise, cleaning, hand_work
from prepadvisor.records import DS50_UM, Advice, Job, Task
from prepadvisor.standards import House


def _rung(advice: Advice, grade: str) -> float:
    """Return the minutes of a panel's pass with a grade: powder and sanding of all places."""
    step = next(
        each
        for each in advice.work.steps
        if any(task.grade == grade and task.do == "sand" for task in _tasks(advice, each.tasks))
    )
    return sum(task.minutes for task in _tasks(advice, step.tasks))


def _tasks(advice: Advice, ids: tuple[str, ...]) -> list[Task]:
    by_id = {task.id: task for task in advice.work.tasks}
    return [by_id[one] for one in ids]


@pytest.mark.practice
def test_the_demo_door_takes_twenty_to_forty_minutes(shipped_house: House) -> None:
    """A door with five edges and lines by DA and two places by hand, from gloss."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    advice = advise(job, shipped_house)
    assert 20 <= next(panel.minutes for panel in advice.panels if panel.id == "left-front-door") <= 40


@pytest.mark.practice
def test_a_primed_wing_from_p320_to_p500_takes_eight_to_twelve_minutes(
    advise_on: Callable[..., Advice],
) -> None:
    """Blocked with P320; the way on to the next grade takes a little over half of that."""
    advice = advise_on(
        {"flake": "very-fine"}, kind="front-wing", role="repair", surface="primer-surfacer",
        length_mm=1100, height_mm=650, now={"tool": "block", "grade": "P320"}, colour_from=None,
        colour_mm=None, fade_mm=None,
    )  # fmt: skip
    assert 8 <= _rung(advice, "P500") <= 12
    assert 4 <= _rung(advice, "P800") <= 7


@pytest.mark.practice
@pytest.mark.parametrize(
    ("kind", "length_mm", "minutes"),
    [("edge", 1000, 1.5), ("edge", 100, 1.0), ("recess", 1000, 3.5), ("recess", 200, 1.0)],
)
def test_hand_work_goes_by_the_metre_and_takes_a_minute_at_least(
    shipped_house: House, kind: str, length_mm: float, minutes: float
) -> None:
    """An edge about 1.5 minutes a metre, a recess 3 to 4."""
    assert hand_work(length_mm, kind, shipped_house.shop) == pytest.approx(minutes)


@pytest.mark.practice
def test_cleaning_takes_two_minutes_and_three_for_each_square_metre(shipped_house: House) -> None:
    """Washed and degreased."""
    assert cleaning(2.0, shipped_house.shop) == pytest.approx(8.0)


def test_powder_is_timed_once_a_panel_and_pass(advise_on: Callable[..., Advice]) -> None:
    """Three lines powdered in one go cost what one does."""
    advice = advise_on()
    powders = [task.minutes for task in advice.work.tasks if task.do == "powder"]
    assert sorted(powders) == [0.0, 1.0]


def test_a_recorded_scuff_within_limits_is_owed_and_takes_no_time(
    job_of: Callable[..., object], shipped_house: House
) -> None:
    """Look, then tick."""
    job = job_of(feature=[
        {"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "machine",
         "done": {"tool": "hand-pad", "grade": "P1000"}},
    ])  # fmt: skip
    advice = advise(job, shipped_house)  # type: ignore[arg-type]
    scuff = next(task for task in advice.work.tasks if task.do == "scuff")
    assert (scuff.owed, scuff.minutes) == (True, 0.0)


def test_all_sums_are_sums_over_tasks(advise_on: Callable[..., Advice]) -> None:
    """Panel, place, stage and job add up from the same minutes; masking is in none of them."""
    advice = advise_on(now={"tool": "da", "grade": "P320"})
    total = sum(task.minutes for task in advice.work.tasks)
    assert advice.minutes == pytest.approx(total)
    assert sum(stage.minutes for stage in advice.work.stages) == pytest.approx(total)
    own = sum(place.minutes for place in advice.places)
    whole = [task for task in advice.work.tasks if "/" not in task.place]
    assert own + sum(task.minutes for task in whole) == pytest.approx(total)
    assert all(task.minutes == 0 for task in advice.work.tasks if task.do == "mask")


@pytest.mark.parametrize(
    ("surface", "first", "ends"),
    [("filler", "P80", "P320"), ("feather-edge", "P180", "P320"), ("primer-surfacer", "P320", "P800")],
)
def test_each_surface_opens_with_its_own_grade_and_is_cut_at_its_own_rate(
    job_of: Callable[..., Job], shipped_house: House, surface: str, first: str, ends: str
) -> None:
    """The equations of a step, each surface with numbers of its own: none goes by another's.

    Minutes: the larger of area over pass rate and area times depth below over r, and a disc; depth is 0.08
    (block) or 0.05 (DA) of the grain below, r = 10 (ds50 / 18.3)^0.65 µm/min dm² times how much faster it is.
    """
    faster = {"filler": 1.3, "feather-edge": 1.7, "primer-surfacer": 2.1}
    opened = {each: grade for each, grade in shipped_house.shop.first_grade.items() if each == surface}
    shop = shipped_house.shop.model_copy(update={"cut_faster": faster, "first_grade": opened})
    following = "base" if surface == "primer-surfacer" else "primer"
    patch = {"id": "R1", "surface": surface, "next": following, "at": [0.1, 0.5], "size_mm": [200, 300]}
    job = job_of(
        {"flake": "fine"}, patch=[patch], role="repair", colour_from=None, colour_mm=None, fade_mm=None
    )
    advice = advise(job, replace(shipped_house, shop=shop))
    stage = advice.work.stages[0].id
    done = [task for task in advice.work.tasks if task.do == "sand" and task.stage == stage]
    passes = [task for task in done if task.place == "door/R1"]
    assert (passes[0].grade, passes[-1].grade) == (first, ends)
    for below, task in pairwise(passes):
        assert below.grade is not None
        assert task.grade is not None
        rate = 10 * (min(DS50_UM[task.grade], 100) / 18.3) ** 0.65 * faster[surface]
        depth = {"block": 0.08, "da": 0.05}[str(below.tool)] * DS50_UM[below.grade]
        minutes = max(0.06 / 0.3, 6 * depth / rate) + 0.5
        assert task.minutes == pytest.approx(minutes), task.grade
