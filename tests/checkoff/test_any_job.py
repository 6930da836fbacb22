"""Random jobs of every kind: what the plan asks for clears them, and nothing less or in another order does.

A slice here; `tests/long` runs thousands.
"""

import random
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

import pytest
import tomli_w

from prepadvisor.files import load_job
from prepadvisor.records import BadInputError, Check, Job, Task
from prepadvisor.standards import House
from tests.checkoff.shopfloor import Said, Shopfloor, logged_anew
from tests.recompute.jobs import drawn

SLICE: Final = 40
BROKE: Final = (1170,)
"""Seeds that once failed."""
_STEPS: Final = {
    "clean": "cleaned", "scuff": "scuffed", "powder": "guide-coated", "sand": "sanded", "look": "inspected",
    "wipe": "wiped",
}  # fmt: skip


def jobs(seeds: Iterable[int], folder: Path, house: House) -> Iterator[tuple[int, Job]]:
    """Give the jobs of some seeds that load, nothing logged."""
    for seed in seeds:
        path = folder / "job.toml"
        path.write_text(tomli_w.dumps(drawn(random.Random(seed))), encoding="utf-8")
        try:
            yield seed, load_job(path, house).model_copy(update={"check": ()})
        except BadInputError:
            continue


def entries_of(floor: Shopfloor) -> dict[str, Check]:
    """Return the entry that each owed task of the stage was logged with, in the order of the log."""
    advice = floor.advice
    by_id = {task.id: task for task in advice.work.tasks}
    stage = advice.work.stages[0].id if advice.work.stages else "paint"
    steps = sorted(advice.work.steps, key=lambda step: step.n)
    owed = [by_id[each] for step in steps if step.stage == stage for each in step.tasks if by_id[each].owed]
    left = list(floor.log)
    found: dict[str, Check] = {}
    for task in owed:
        panel, _, feature = task.place.partition("/")
        at = next(
            n
            for n, check in enumerate(left)
            if (check.panel, check.feature, check.step) == (panel, feature or "panel", _STEPS[task.do])
            and check.grade == task.grade
        )
        found[task.id] = left.pop(at)
    assert not left
    return found


def faults(seed: int, job: Job, house: House, some: random.Random) -> Iterator[str]:
    """Give what is wrong with the gate of a job that is worked by its plan, and then by less or otherwise."""
    floor = Shopfloor(job, house).work_through()
    tasks = {task.id: task for task in floor.advice.work.tasks}
    said = floor.gate()
    if {kind for place in said.held for kind in said.kinds(place)} - {"plan-holds"}:
        yield f"{seed}: worked by its plan, held: {[(place, said.why(place)) for place in said.held]}"
        return
    if said.clear != (not floor.advice.holds and any(task.owed for task in tasks.values())):
        yield f"{seed}: clear {said.clear} with holds {floor.advice.holds}"
    entries = entries_of(floor)
    for name in some.sample(sorted(entries), min(6, len(entries))):
        rest = logged_anew(entry for other, entry in entries.items() if other != name)
        lacking = floor.with_log(rest).gate()
        if tasks[name].place not in lacking.held:
            yield f"{seed}: {name} left out, held only {lacking.held}"
        elif not _names(tasks[name], lacking):
            yield f"{seed}: {name} left out and yet done"
    yield from _early(seed, floor, tasks, entries, some)


def _names(task: Task, said: Said) -> bool:
    """Say whether a gate has a task as not done; of several powders it cannot know which is missing."""
    return any(
        each.state != "done" and (each.place, each.do) == (task.place, task.do)
        and (each.id == task.id or task.do == "powder")
        for each in said.gate.work.tasks
    )  # fmt: skip


def _early(
    seed: int, floor: Shopfloor, tasks: dict[str, Task], entries: dict[str, Check], some: random.Random
) -> Iterator[str]:
    pairs = [(name, before) for name in entries for before in tasks[name].after if before in entries]
    for name, before in some.sample(pairs, min(6, len(pairs))):
        order = [each for each in entries if each != name]
        order.insert(order.index(before), name)
        held = floor.with_log(logged_anew(entries[each] for each in order)).gate()
        if tasks[name].place not in held.held:
            yield f"{seed}: {name} done before {before}, held only {held.held}"


def test_what_the_plan_asks_clears_any_job_and_nothing_less_does(
    tmp_path: Path, shipped_house: House
) -> None:
    """Every task left out, or done before one it must follow, holds at its place."""
    found: list[str] = []
    count = 0
    for seed, job in jobs((*range(SLICE), *BROKE), tmp_path, shipped_house):
        count += 1
        found += faults(seed, job, shipped_house, random.Random(seed))
    assert count > SLICE / 2
    assert found == []


@pytest.mark.parametrize("how", ["reversed", "sorted", "swapped"])
def test_a_log_out_of_order_never_clears(tmp_path: Path, shipped_house: House, how: str) -> None:
    """Whatever job it is, with the ids it was written with."""
    cleared = []
    for seed, job in jobs(range(SLICE // 2), tmp_path, shipped_house):
        floor = Shopfloor(job, shipped_house).work_through()
        log = list(floor.log)
        if len(log) < 6 or not floor.gate().clear:
            continue
        if how == "reversed":
            log.reverse()
        elif how == "sorted":
            log.sort(key=lambda check: (check.panel, check.feature))
        else:
            one, other = sorted(random.Random(seed).sample(range(len(log)), 2))
            log[one], log[other] = log[other], log[one]
        if log != list(floor.log) and floor.with_log(log).gate().clear:
            cleared.append(seed)
    assert cleared == []
