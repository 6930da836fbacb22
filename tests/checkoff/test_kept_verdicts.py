"""What is kept of panels judged before never changes the gate or its views: held against judging all anew."""

import datetime as dt
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.checkoff import KeptVerdicts, KeptViews, gate, recuts, views
from prepadvisor.planning import KeptPieces, advise
from prepadvisor.records import Check, Job
from prepadvisor.standards import House
from tests.checkoff.shopfloor import Shopfloor
from tests.checkoff.test_any_job import jobs
from tests.checkoff.test_plain_gate import spoilt

SLICE: Final = (3, 5, 8, 12)
STEPS: Final = 14
HOURS: Final = (0.0, 0.0, 0.02, 1.0, 23.9, 24.1, 95.9, 96.1, -0.5, -30.0)
"""How far the clock goes on between two judgements; a reader's clock may also have been put back."""


def strayed(check: Check, rng: random.Random) -> Check:
    """Return an entry of the odd sorts: elsewhere, for all, struck, accepted, seen wet, ahead, by hand."""
    odd: tuple[dict[str, object], ...] = (
            {"feature": "nowhere"}, {"panel": "no-such-panel"}, {"feature": "all", "step": "inspected"},
            {"step": "accepted", "note": "looked at it by daylight", "by": "A. B."}, {"step": "primed"},
            {"step": "struck", "of": check.id, "note": "a slip"}, {"at": check.at + dt.timedelta(hours=30)},
            {"step": "seen-wet", "result": "lines"},
            {"step": "seen-wet", "feature": "panel", "result": "lines"},
            {"basis": ""}, {"knew": "none-such"}, {"step": "wiped", "feature": "panel"},
    )  # fmt: skip
    return check.model_copy(update={**rng.choice(odd), "id": f"odd{rng.randrange(10**9)}-1"})


def walk(job: Job, house: House, rng: random.Random) -> Iterator[tuple[Job, dt.datetime]]:
    """Give a job as it is worked, spoilt, changed, taken back and left lying, with the time at each."""
    floor = Shopfloor(job, house)
    floor.work_through()
    whole = list(floor.log)
    now, before = floor.now, [job]
    for _ in range(STEPS):
        match rng.choice(("log", "log", "log", "spoil", "stray", "size", "colour", "panel", "back", "wait")):
            case "log":
                job = job.model_copy(update={"check": tuple(whole[: rng.randint(0, len(whole))])})
            case "spoil" if len(job.check) > 3:
                job = job.model_copy(update={"check": tuple(spoilt(list(job.check), rng))})
            case "stray" if job.check:
                odd = strayed(rng.choice(job.check), rng)
                job = job.model_copy(update={"check": (*job.check, odd)})
            case "size":
                at = rng.randrange(len(job.panel))
                wider = job.panel[at].model_copy(update={"length_mm": job.panel[at].length_mm + 10})
                job = job.model_copy(update={"panel": (*job.panel[:at], wider, *job.panel[at + 1 :])})
            case "colour":
                name = job.colour.model_copy(update={"name": rng.choice("abc")})
                job = job.model_copy(update={"colour": name})
            case "panel" if len(job.panel) > 1:
                job = job.model_copy(update={"panel": job.panel[1:]})
            case "back":
                job = rng.choice(before)
        before.append(job)
        now += dt.timedelta(hours=rng.choice(HOURS))
        yield job, now


def differing(job: Job, house: House, rng: random.Random) -> Iterator[str]:
    """Give each step of a walk at which what is kept would say otherwise than judging all anew."""
    verdicts, shown, pieces = KeptVerdicts(), KeptViews(), KeptPieces()
    for at, (each, now) in enumerate(walk(job, house, rng)):
        advice = recuts(each, advise(each, house, kept=pieces), house)
        fresh = recuts(each, advise(each, house), house)
        kept, anew = gate(each, advice, house, now, verdicts), gate(each, fresh, house, now)
        if advice != fresh:
            yield f"step {at}: advised otherwise"
        if kept != anew:
            yield f"step {at}: {[(one, two) for one, two in zip(kept, anew, strict=True) if one != two]}"
        if views(kept, advice, shown) != views(anew, fresh):
            yield f"step {at}: shown otherwise"


def test_a_kept_verdict_is_the_verdict(tmp_path: Path, shipped_house: House) -> None:
    """At every step of a random walk through a job's days the gate is the same, whatever was known of it."""
    for seed, job in jobs(SLICE, tmp_path, shipped_house):
        found = list(differing(job, shipped_house, random.Random(seed)))
        assert not found, (seed, found[:2])


@pytest.mark.parametrize("hours", [23.0, 24.5, 97.0])
def test_what_grows_old_by_itself_is_judged_at_its_time(floor: Shopfloor, hours: float) -> None:
    """Nothing is logged, the clock alone goes on: a wipe runs out after a day, looks after four."""
    floor.work_through()
    kept, advice = KeptVerdicts(), floor.advice
    assert gate(floor.job, advice, floor.house, floor.now, kept).clear
    later = floor.now + dt.timedelta(hours=hours)
    then = gate(floor.job, advice, floor.house, later, kept)
    assert then.clear is (hours < 24)
    assert {hold.fact.kind for hold in then.holds} == (
        set() if hours < 24 else {"wipe-old"} if hours < 96 else {"wipe-old", "look-old"}
    )
    assert gate(floor.job, advice, floor.house, floor.now, kept).clear  # a clock put back
    assert then == gate(floor.job, advice, floor.house, later)


def test_only_the_panel_that_changed_is_judged_anew(floor: Shopfloor) -> None:
    """An entry at one panel leaves the tasks of others the very ones they were."""
    floor.work_through()
    kept, advice = KeptVerdicts(), floor.advice
    before = gate(floor.job, advice, floor.house, floor.now, kept)
    first, last = floor.job.panel[0].id, floor.job.panel[-1].id
    after = gate(floor.put(f"{first}/panel", "wiped").job, advice, floor.house, floor.now, kept)
    pairs = list(zip(before.work.tasks, after.work.tasks, strict=True))
    assert all(one is other for one, other in pairs if one.place.startswith(last))
    assert first != last
