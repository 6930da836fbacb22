"""Times in a log against planned ones: what a made-up shop takes comes out as it was put in."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from prepadvisor.checkoff.timing import WorkKind, bouts, new_rates, paces
from prepadvisor.files import load_house, load_job
from prepadvisor.files.constants_layer import write_rates
from prepadvisor.files.paths import demo_jobs_dir
from prepadvisor.planning import advise
from prepadvisor.records.job import Check, Job
from prepadvisor.records.work import Task
from prepadvisor.standards.house import House

START = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)
SLOWER = {"clean": 1.2, "scuff": 2.0, "powder": 1.5, "sand": 1.1, "look": 3.0, "wipe": 1.0}


def _worked(house: House, *, by: str = "K. M.", slower: dict[str, float] | None = None) -> Job:
    """Return the demo with an entry a task, each after its planned minutes times what that work takes."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", house)
    work, at, log = advise(job, house).work, START, []
    by_id: dict[str, Task] = {task.id: task for task in work.tasks}
    for step in work.steps:
        owed = [by_id[task] for task in step.tasks if by_id[task].owed]
        for task, (where, done, *rest) in zip(owed, step.log, strict=True):
            panel, feature = where.split("/")
            stated = dict(zip(rest[::2], rest[1::2], strict=True))
            at += dt.timedelta(minutes=max(task.minutes * (slower or SLOWER)[task.do], 2e-6))
            log.append(
                Check.model_validate({
                    "at": at, "by": by, "panel": panel, "feature": feature, "step": done,
                    "tool": stated.get("--tool"), "grade": stated.get("--grade"),
                    "result": stated.get("--result"),
                })
            )  # fmt: skip
    return job.model_copy(update={"check": tuple(log)})


def test_work_that_takes_as_planned_has_the_ratio_of_one(shipped_house: House) -> None:
    """Nothing is gained or lost in sharing bouts out."""
    job = _worked(shipped_house, slower=dict.fromkeys(SLOWER, 1.0))
    found = paces(bouts(job, advise(job, shipped_house)))
    assert found
    assert all(pace.ratio == pytest.approx(1.0, rel=1e-4) for pace in found)


def test_a_slow_hand_is_told_from_a_sander(shipped_house: House) -> None:
    """Bouts of one kind give its own ratio; hand work on edges is one kind, on recesses another."""
    job = _worked(shipped_house)
    found = {pace.kind: pace for pace in paces(bouts(job, advise(job, shipped_house)))}
    assert found[WorkKind("scuff", "body-line")].ratio == pytest.approx(2.0, rel=0.05)
    assert found[WorkKind("scuff", "edge")].ratio == pytest.approx(2.0, rel=0.05)
    assert found[WorkKind("sand", "primer-surfacer")].ratio == pytest.approx(1.1, rel=0.05)


def test_rates_follow_the_ratio_and_need_five_bouts(shipped_house: House) -> None:
    """Minutes grow, speeds fall; a kind with too few bouts keeps its rate."""
    job = _worked(shipped_house)
    found = paces(bouts(job, advise(job, shipped_house)))
    rates = {rate.name: rate for rate in new_rates(found, shipped_house.shop)}
    few = {pace.kind for pace in found if pace.bouts < 5}
    assert not {rate.kind for rate in rates.values()} & few
    edge = rates["hand_minutes_per_metre.edge"]
    assert edge.after == pytest.approx(2 * edge.before, rel=0.05)


def test_the_first_bout_of_a_person_and_a_night_between_count_for_nothing(shipped_house: House) -> None:
    """A bout has no beginning before the first entry, and lunch is no sanding."""
    job = _worked(shipped_house)
    before = sum(bout.took for bout in bouts(job, advise(job, shipped_house)))
    late = [check.model_copy(update={"at": check.at + dt.timedelta(hours=14)}) for check in job.check[20:]]
    apart = job.model_copy(update={"check": (*job.check[:20], *late)})
    after = sum(bout.took for bout in bouts(apart, advise(apart, shipped_house)))
    assert 0 < after <= before
    alone = job.model_copy(update={"check": job.check[:1]})
    assert bouts(alone, advise(alone, shipped_house)) == ()


def test_written_rates_are_those_of_the_house_with_where_they_come_from(
    shipped_house: House, tmp_path: Path
) -> None:
    """Read back, they are in force, and what stood in the file stays."""
    (tmp_path / "shop.toml").write_text("# ours\nmist_mm = 120\n", encoding="utf-8")
    write_rates(tmp_path, {"hand_minutes_per_metre.edge": (2.5, 7), "look_minutes": (1.0, 30)}, START)
    text = (tmp_path / "shop.toml").read_text(encoding="utf-8")
    assert text.startswith("# ours\nmist_mm = 120\n")
    house = load_house(tmp_path)
    assert (house.shop.look_minutes, house.shop.mist_mm) == (1.0, 120)
    assert dict(house.shop.hand_minutes_per_metre.items())["edge"] == 2.5
    assert dict(house.shop.hand_minutes_per_metre.items())["recess"] == 3.5
    assert house.shop.passport["hand_minutes_per_metre.edge"].known == "measured"
    slower = replace(shipped_house, shop=house.shop)
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    assert advise(job, slower).minutes > advise(job, shipped_house).minutes
