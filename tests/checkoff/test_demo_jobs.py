"""Every demo job can be worked down to clear to mask by doing what its advice asks, and by nothing less."""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.checkoff import gate
from prepadvisor.checkoff.log_entry import Wanted, log_entry
from prepadvisor.files import load_job
from prepadvisor.files.paths import demo_jobs_dir
from prepadvisor.planning import advise
from prepadvisor.records.advice import Advice, Place
from prepadvisor.records.job import Check, Job

JOBS = sorted(demo_jobs_dir().glob("*.toml"))
START = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)


def _work(place: Place, hand_tool: str) -> Iterator[tuple[int, Wanted]]:
    """What the advice asks of a place, each with its turn: all scuffing first, powder, machine, looks."""
    tool, grades = (
        place.tool or "",
        dict.fromkeys(grade for _, grade in place.split) or {place.finish or "": None},
    )
    if place.kind in {"face", "patch"}:
        yield from ((2, Wanted(place.id, "sanded", tool=tool, grade=grade)) for grade in grades)
    elif place.reach == "hand":
        yield from ((0, Wanted(place.id, "scuffed", tool=tool, grade=grade)) for grade in grades)
    else:
        yield 0, Wanted(place.id, "scuffed", tool=hand_tool, grade=place.hand_coarsest or place.finish or "")
        if place.guide_coat != "no":
            yield 1, Wanted(place.id, "guide-coated")
        yield from ((2, Wanted(place.id, "sanded", tool=tool, grade=grade)) for grade in grades)
    yield 3, Wanted(place.id, "inspected", result="clear")


def _log(job: Job, advice: Advice, hand_tool: str) -> tuple[Check, ...]:
    work = sorted(
        (each for place in advice.places for each in _work(place, hand_tool)), key=lambda each: each[0]
    )
    wanted = [
        *(Wanted(f"{panel.id}/panel", "cleaned") for panel in job.panel),
        *(each for _, each in work),
        *(Wanted(f"{panel.id}/panel", "wiped") for panel in job.panel),
    ]
    return tuple(
        log_entry(job, advice, each._replace(by="KM"), START + dt.timedelta(minutes=minute))
        for minute, each in enumerate(wanted)
    )


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_doing_what_the_advice_asks_clears_the_job(path: Path, shipped_house: Any) -> None:
    """Nothing is refused on the way; only what the advice itself forbids still holds."""
    job = load_job(path, shipped_house)
    advice = advise(job, shipped_house)
    forbidden = {"/".join(hold.spot.split("/")[:2]) for hold in advice.holds}
    log = _log(job, advice, shipped_house.shop.hand_tool)
    said = gate(job.model_copy(update={"check": log}), advice, shipped_house, log[-1].at)
    if not forbidden:
        assert said.holds == ()
    assert {hold.place for hold in said.holds} <= forbidden
    assert said.clear is not bool(advice.holds)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_leaving_any_one_entry_out_holds_the_job(path: Path, shipped_house: Any) -> None:
    """In every zone, at every place."""
    job = load_job(path, shipped_house)
    advice = advise(job, shipped_house)
    log = _log(job, advice, shipped_house.shop.hand_tool)
    left_out = [
        log[at]
        for at in range(len(log))
        if gate(
            job.model_copy(update={"check": log[:at] + log[at + 1 :]}), advice, shipped_house, log[-1].at
        ).clear
    ]
    assert left_out == []
