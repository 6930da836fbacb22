"""Many random jobs worked to their end by their own plan, primer among it. Run by name: pytest tests/long.

A slice of this runs with the usual tests: `tests/planning/work/test_worked_to_the_end.py`.
"""

import random
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from prepadvisor.cases import WHOLE, standing
from prepadvisor.files import load_house, load_job
from prepadvisor.records import BadInputError, Job
from prepadvisor.standards import House
from tests.checkoff.shopfloor import Shopfloor, commands
from tests.recompute.jobs import drawn

SEEDS = range(1500)
AHEAD = frozenset({"cleaned", "scuffed", "guide-coated", "sanded"})


@pytest.fixture(scope="module")
def house() -> House:
    """The shipped house."""
    return load_house()


def with_primer(seed: int) -> dict[str, Any]:
    """Return a random job, in every other one of which filler or a whole panel waits for primer."""
    rng = random.Random(seed)
    job = drawn(rng)
    for panel in job["panel"] if seed % 2 else []:
        if "colour_mm" not in panel and panel["role"] == "repair" and rng.random() < 0.5:
            panel |= {"surface": "electrocoat", "next": "primer"}
            panel.pop("now", None)
        elif panel["role"] != "clear-only":
            size = [round(rng.uniform(0.05, 0.2) * panel[side], 1) for side in ("length_mm", "height_mm")]
            patch: dict[str, Any] = {
                "id": "Z", "surface": rng.choice(("filler", "feather-edge")), "next": "primer",
                "at": [rng.choice((0.2, 0.5, 0.8)), 0.5], "size_mm": size,
            }  # fmt: skip
            if rng.random() < 0.5:
                patch["now"] = {"tool": rng.choice(("block", "da")), "grade": rng.choice(("P80", "P180"))}
            panel["patch"] = [patch]
            panel["surface"] = "aged-clear"
            panel["colour_from"] = [one for one in panel.get("colour_from", []) if one[0] != "R"] or ["Z"]
            if "colour_mm" not in panel:
                del panel["colour_from"]
    return job


def unheld(seed: int, house: House, folder: Path) -> Shopfloor | None:
    """Return a random job that loads and that nothing holds, None for another."""
    path = folder / "job.toml"
    path.write_text(tomli_w.dumps(with_primer(seed)), encoding="utf-8")
    try:
        floor = Shopfloor(load_job(path, house), house)
    except BadInputError:
        return None
    return None if floor.advice.holds else floor


def to_prime(job: Job, house: House) -> list[str]:
    """Return where primer goes on, as the log names it."""
    shop, found = house.shop, []
    for panel in job.panel:
        waits = standing(panel, set(), shop.lap_mm, shop.ring_mm).waiting
        if WHOLE in waits:
            found.append(f"{panel.id}/panel")
        else:
            found += [f"{panel.id}/{patch}" for patch in sorted(waits)]
    return found


def test_every_job_ends_clear_through_primer_and_with_one_thing_left_out_does_not(
    house: House, tmp_path: Path
) -> None:
    """First stage, primed where it waits, paint stage; one owed thing of it left out holds at its place."""
    worked = primed = 0
    for seed in SEEDS:
        floor = unheld(seed, house, tmp_path)
        if floor is None:
            continue
        rng = random.Random(seed)
        if floor.advice.work.stages[0].id == "primer":
            seen = floor.work_through().gate()
            assert seen.clear, (seed, seen.gate.holds)
            for where in to_prime(floor.job, house):
                floor.put(where, "primed")
            if floor.advice.holds:  # what the primer over it cannot bear was told before
                continue
            primed += 1
            assert not floor.gate().clear, seed
        by_id = {task.id: task for task in floor.advice.work.tasks}
        owed = [by_id[one] for step in floor.advice.work.steps for one in step.tasks if by_id[one].owed]
        runs = commands(floor.advice)
        left = rng.randrange(len(runs))
        short = floor.copy().run(run for at, run in enumerate(runs) if at != left).gate()
        done = {(check.panel, check.feature) for check in floor.log}
        panel, _, feature = owed[left].place.partition("/")
        if (panel, feature or "panel") not in done:  # an entry of the primer stage may stand for it
            assert owed[left].place in short.held, (seed, owed[left].id)
        seen = floor.run(runs).gate()
        assert seen.clear, (seed, [hold.fact for hold in seen.gate.holds])
        worked += 1
    assert worked > len(SEEDS) / 20
    assert primed > len(SEEDS) / 100


def test_what_is_done_ahead_of_primer_elsewhere_counts(house: House, tmp_path: Path) -> None:
    """Work but no look at what does not wait, ahead of the wipe for primer; then only the rest."""
    worked = 0
    for seed in SEEDS[1::2]:
        floor = unheld(seed, house, tmp_path)
        if floor is None or floor.advice.work.stages[0].id != "primer":
            continue
        waits = {task.place for task in floor.advice.work.tasks if task.stage == "primer"}
        stage, first = commands(floor.advice), floor.advice.work.steps[0].log
        floor.run(first)
        floor.run(
            run
            for step in floor.advice.work.steps
            for run in step.log
            if step.stage == "paint" and run[0] not in waits and run[1] in AHEAD
        )
        floor.run(stage[len(first) :])
        assert floor.gate().clear, seed
        for where in to_prime(floor.job, house):
            floor.put(where, "primed")
        if floor.advice.holds:
            continue
        seen = floor.gate()
        states = {task.id: task.state for task in seen.gate.work.tasks}
        early = [task for task in seen.gate.work.tasks if task.state == "done" and "/" in task.place]
        for step in floor.advice.work.steps:
            own = [one for one in step.tasks if states[one] != "done"]
            by_id = {task.id: task for task in floor.advice.work.tasks}
            logged = dict(zip((one for one in step.tasks if by_id[one].owed), step.log, strict=True))
            floor.run(logged[one] for one in own if one in logged)
        end = floor.gate()
        assert end.clear, (seed, [(hold.place, hold.fact) for hold in end.gate.holds])
        worked += bool(early)
    assert worked > len(SEEDS) / 200
