"""Minutes as a shop counts them. The expected values are common practice, no source, but for the equation."""

from collections.abc import Callable

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise, cleaning, hand_work
from prepadvisor.records import Advice, Task
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
