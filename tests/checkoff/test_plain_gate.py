"""Logs that were done wrongly in every way, judged as a plain reading of the plan judges them."""

import datetime as dt
import random
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import Check, Job
from prepadvisor.standards import House
from tests.checkoff.plain_gate import spent, standings
from tests.checkoff.shopfloor import Shopfloor, logged_anew
from tests.checkoff.test_any_job import jobs
from tests.recompute.jobs import GRADES

SLICE: Final = 24
LOGS: Final = 30
HOURS: Final = (0.1, 0.1, 23.0, 25.0, 95.0, 97.0)
RESULTS: Final = ("clear", "lines", "gloss", "cut-through")
TOOLS: Final = {
    "scuffed": (None, "hand-foam", "da-soft"), "sanded": (None, "da-soft", "da-hard", "block", "hand-pad"),
}  # fmt: skip


def spoilt(log: list[Check], rng: random.Random) -> list[Check]:
    """Return a log with a few things left out, done twice, out of turn, or with another tool or grade."""
    log = list(log)
    for _ in range(rng.randint(1, 5)):
        n = rng.randrange(len(log))
        match rng.choice(("drop", "again", "again", "later", "move", "grade", "grade", "tool", "result")):
            case "drop" if len(log) > 3:
                log.pop(n)
            case "again":
                log.append(log[n])
            case "later":
                log.insert(rng.randint(n, len(log)), log[n])
            case "move":
                log.insert(rng.randrange(len(log)), log.pop(n))
            case how:
                log[n] = _changed(log[n], how, rng)
    return logged_anew(log)


def _changed(check: Check, how: str, rng: random.Random) -> Check:
    if how == "result" and check.step == "inspected":
        return check.model_copy(update={"result": rng.choice(RESULTS)})
    if how == "grade" and check.grade:
        return check.model_copy(update={"grade": rng.choice((*GRADES, None))})
    if how == "tool" and check.tool:
        return check.model_copy(update={"tool": rng.choice(TOOLS[check.step])})
    return check


def differing(job: Job, house: House, log: list[Check], hours: float) -> Iterator[str]:
    """Give where the gate stands otherwise than a plain reading says."""
    floor = Shopfloor(job, house).with_log(log)
    floor.now = log[-1].at
    said, advice = floor.gate(dt.timedelta(hours=hours)), floor.advice
    expected = standings(advice, log, hours, (house.shop.gate_hours, house.shop.look_hours))
    tasks = {task.id: task for task in said.gate.work.tasks}
    owed = {name: standing for name, standing in expected.items() if tasks[name].owed}
    for name, standing in owed.items():
        if tasks[name].state != standing.state:
            yield f"{name}: {tasks[name].state} and not {standing}"
    depths: dict[str, float] = {
        tool: number.value for tool, number in house.constants.groove.depth_per_grain.items()
    }
    kinds = Counter((tasks[name].place, kind) for name, each in owed.items() for kind in each.holds)
    kinds.update(
        (place, "film-spent") for place in {tasks[name].place for name in owed}
        if "/" in place and spent(advice, log, place, depths)
    )  # fmt: skip
    told: Counter[tuple[str, str]] = Counter(
        (hold.place, hold.fact.kind) for hold in said.gate.holds if hold.fact.kind != "plan-holds"
    )
    if set(told) != set(kinds):
        yield f"holds {told - kinds} too many and {kinds - told} too few"
    planned = any(hold.fact.kind == "plan-holds" for hold in said.gate.holds)
    if said.clear is not (not kinds and not planned and bool(owed)):
        yield f"clear: {said.clear}"


def test_wrong_logs_are_judged_as_a_plain_reading_judges_them(tmp_path: Path, shipped_house: House) -> None:
    """Every task of any job: done, open or held, and by what."""
    found, count = list[str](), 0
    for seed, job in jobs(range(SLICE), tmp_path, shipped_house):
        floor = Shopfloor(job, shipped_house).work_through()
        if len(floor.log) > 3 and floor.advice.work.stages:
            rng = random.Random(seed)
            log, hours, count = spoilt(list(floor.log), rng), rng.choice(HOURS), count + 1
            found += [f"{seed} {each}" for each in differing(floor.job, shipped_house, log, hours)]
    assert count > SLICE / 2
    assert found == []


@pytest.mark.parametrize(
    "name", ["very-fine-door-and-wing", "filler-up-to-primer", "edge-scuffed-too-coarse"]
)
def test_wrong_logs_of_a_demo_are_judged_as_a_plain_reading_judges_them(
    name: str, shipped_house: House
) -> None:
    """Jobs that nothing in the plan holds, so that the gate opens where the plain reading says so."""
    job = load_job(demo_jobs_dir() / f"{name}.toml", shipped_house).model_copy(update={"check": ()})
    floor, found = Shopfloor(job, shipped_house).work_through(), list[str]()
    for seed in range(LOGS):
        rng = random.Random(seed)
        log, hours = spoilt(list(floor.log), rng), rng.choice(HOURS)
        found += [f"{seed} {each}" for each in differing(job, shipped_house, log, hours)]
    assert found == []
