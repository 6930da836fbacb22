"""Times in a log against planned ones: what a made-up shop takes comes out as it was put in."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from prepadvisor.checkoff import Bout, Pace, WorkKind, bouts, new_rates, paces
from prepadvisor.files import demo_jobs_dir, load_house, load_job, write_rates
from prepadvisor.planning import advise
from prepadvisor.records import Check, Job, Task
from prepadvisor.standards import House

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


def _logged(job: Job, *, apart_s: float, by: str = "K. M.", **more: object) -> Job:
    """Return the job with two scuffs that long apart, behind a cleaning an hour before."""
    scuffs = [check for check in job.check if check.step == "scuffed"][:2]
    head = next(check for check in job.check if check.step == "cleaned")
    log = [
        head.model_copy(update={"at": START, "by": by}),
        scuffs[0].model_copy(update={"at": START + dt.timedelta(hours=1), "by": by}),
        scuffs[1].model_copy(update={"at": START + dt.timedelta(hours=1, seconds=apart_s), "by": by, **more}),
    ]
    return job.model_copy(update={"check": tuple(log)})


@pytest.mark.parametrize(("apart_s", "count"), [(0, 1), (44, 1), (45, 1), (46, 2), (300, 2)])
def test_what_is_logged_within_three_quarters_of_a_minute_is_one_bout(
    shipped_house: House, apart_s: float, count: int
) -> None:
    """As the module says; the cleaning has no beginning and is none."""
    job = _logged(_worked(shipped_house), apart_s=apart_s)
    assert len(bouts(job, advise(job, shipped_house))) == count


@pytest.mark.parametrize(("minutes", "count"), [(1, 2), (89, 2), (90, 2), (91, 1)])
def test_a_bout_of_more_than_an_hour_and_a_half_had_something_else_in_it(
    shipped_house: House, minutes: int, count: int
) -> None:
    """90 minutes themselves count."""
    job = _logged(_worked(shipped_house), apart_s=60 * minutes)
    assert len(bouts(job, advise(job, shipped_house))) == count


def test_work_of_nobody_and_work_of_another_is_no_bout_of_this_one(shipped_house: House) -> None:
    """Without initials nobody took the time; the first of another person has no beginning."""
    job = _logged(_worked(shipped_house), apart_s=600, by="K. M.")
    for name in ("...", "J. B."):
        log = (*job.check[:2], job.check[2].model_copy(update={"by": name}))
        other = job.model_copy(update={"check": log})
        assert len(bouts(other, advise(other, shipped_house))) == 1


@pytest.mark.parametrize(("planned", "count"), [(0.0, 0), (0.1, 1), (0.9, 1)])
def test_a_bout_of_which_nothing_was_planned_tells_nothing(
    shipped_house: House, planned: float, count: int
) -> None:
    """Work that was done already takes no planned minutes; a tenth of one is something."""
    job = _logged(_worked(shipped_house), apart_s=10)
    advice = advise(job, shipped_house)
    tasks = tuple(task._replace(minutes=planned) for task in advice.work.tasks)
    found = bouts(job, advice._replace(work=advice.work._replace(tasks=tasks)))
    assert len(found) == count
    assert sum(pace.planned for pace in paces(found)) == pytest.approx(2 * planned)


RATES = [
    (WorkKind("clean"), {"clean_minutes": 2.0, "clean_minutes_per_m2": 2.0}),
    (WorkKind("powder"), {"guide_coat_minutes": 2.0}),
    (WorkKind("look"), {"look_minutes": 2.0}),
    (WorkKind("wipe"), {"wipe_minutes": 2.0}),
    (WorkKind("scuff", "edge"), {"hand_minutes_per_metre.edge": 2.0}),
    (WorkKind("scuff", "face"), {}),
    (WorkKind("sand", "clear"), {"pass_m2_per_minute": 0.5}),
    (WorkKind("sand", "primer-surfacer"), {"cut_faster.primer-surfacer": 0.5}),
]
"""Work that took twice its time: minutes double, speeds halve."""


@pytest.mark.parametrize(("kind", "factors"), RATES)
@pytest.mark.parametrize("count", [4, 5])
def test_each_kind_of_work_moves_its_own_rate(
    shipped_house: House, kind: WorkKind, factors: dict[str, float], count: int
) -> None:
    """By the ratio, from five bouts on, to three digits."""
    pace = Pace(kind=kind, bouts=count, planned=10.0, real=20.0, low=1.9, high=2.1)
    found = {rate.name: rate.after / rate.before for rate in new_rates([pace], shipped_house.shop)}
    assert found == pytest.approx(factors if count == 5 else {}, rel=5e-3)


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


EDGE, RECESS, CLEAR = WorkKind("scuff", "edge"), WorkKind("scuff", "recess"), WorkKind("sand", "clear")


def test_paces_of_bouts_worked_by_hand() -> None:
    """A mixed bout is shared as planned; quarters lie on the line between; nothing planned is nothing."""
    found = paces([
        Bout({CLEAR: 1.0}, 1.0), Bout({CLEAR: 1.0}, 5.0), Bout({CLEAR: 1.0, EDGE: 3.0}, 8.0),
        Bout({CLEAR: 1.0, RECESS: 0.0}, 3.0), Bout({WorkKind("wipe"): 2.0}, 1.0),
    ])  # fmt: skip
    assert found == (
        Pace(kind=EDGE, bouts=1, planned=3.0, real=6.0, low=2.0, high=2.0),
        Pace(kind=CLEAR, bouts=4, planned=4.0, real=11.0, low=1.75, high=3.5),
        Pace(kind=WorkKind("wipe"), bouts=1, planned=2.0, real=1.0, low=0.5, high=0.5),
    )
    assert (found[1].ratio, found[2].ratio) == (2.75, 0.5)


def _entries(house: House, *said: tuple[str, str, float, str]) -> tuple[Bout, ...]:
    """Return the bouts of a log of (place, step, minute, by) in the demo."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", house)
    log = []
    for where, step, minute, by in said:
        panel, feature = where.split("/")
        at = START + dt.timedelta(minutes=minute)
        stated = {"at": at, "by": by, "panel": panel, "feature": feature, "step": step}
        log.append(Check.model_validate(stated))
    job = job.model_copy(update={"check": tuple(log)})
    return bouts(job, advise(job, house))


DOOR = "left-front-door"


def test_each_entry_takes_the_planned_minutes_of_its_task_once(shipped_house: House) -> None:
    """The second scuff of an edge is not in the plan, so its bout tells nothing; nor does one for all."""
    minutes = {
        task.id: task.minutes
        for task in advise(
            load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house), shipped_house
        ).work.tasks
    }
    clean = (f"{DOOR}/panel", "cleaned", 0.0, "KM")
    edges = [(f"{DOOR}/{each}", "scuffed", 10.0, "KM") for each in ("E1", "E2")]
    face, again = (f"{DOOR}/face", "sanded", 15.0, "KM"), (f"{DOOR}/E1", "scuffed", 20.0, "KM")
    both = minutes[f"{DOOR}/E1.scuff.1"] + minutes[f"{DOOR}/E2.scuff.1"]
    scuffed, sanded = _entries(shipped_house, clean, *edges, face, again)
    assert (list(scuffed.planned), scuffed.took) == ([EDGE], 10.0)
    assert scuffed.planned[EDGE] == pytest.approx(both)
    assert sanded == Bout({CLEAR: minutes[f"{DOOR}/face.sand.1"]}, 5.0)
    for odd in ((f"{DOOR}/all", "scuffed", 10.0, "KM"), (f"{DOOR}/E1", "accepted", 10.0, "KM")):
        assert _entries(shipped_house, clean, *edges, odd) == ()
    other = [(where, step, at + 3, "J. B.") for where, step, at, _ in (edges[0], face)]
    assert sorted(each.took for each in _entries(shipped_house, clean, *other, edges[1])) == [5.0, 10.0]
    # a few seconds of another between make no bout of either; what is written late has its own time
    mixed = [
        (where, step, at, by) for where, step, at, by in (edges[0], (f"{DOOR}/E2", "scuffed", 10.5, "JB"))
    ]
    (own,) = _entries(shipped_house, clean, *mixed)
    assert own == Bout({EDGE: minutes[f"{DOOR}/E1.scuff.1"]}, 10.0)
    late = (face, (f"{DOOR}/L1", "scuffed", 4.0, "KM"))
    assert [each.took for each in _entries(shipped_house, clean, *late)] == [4.0, 11.0]
    wiped = (f"{DOOR}/panel", "wiped", 12.0, "KM")
    assert _entries(shipped_house, clean, wiped) == (
        Bout({WorkKind("wipe"): minutes[f"{DOOR}.wipe.1"]}, 12.0),
    )
