"""A mend is true: who does what it says at a place, in its order, is rid of what held it.

No mend sends anybody into a stop: where film would not last for it the lead is asked beforehand, and what is
then left to do ends the hold likewise.
"""

import random
from collections.abc import Iterable
from typing import Final

import pytest

from prepadvisor.checkoff import EntryRefusedError
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import Check, Job
from prepadvisor.records.gate import (
    Ask,
    DoIt,
    Drill,
    GateHold,
    HoldFact,
    LeadDecides,
    LookAgain,
    Said,
    StillCoarse,
)
from prepadvisor.standards import House
from tests.checkoff.plain_gate import STEP
from tests.checkoff.shopfloor import Shopfloor, logged_anew
from tests.checkoff.test_plain_gate import spoilt

LOGS: Final = 10
JOBS: Final = ("very-fine-door-and-wing", "filler-up-to-primer", "solid", "coarse-silver", "vapour-bonnet")
COARSE: Final = ("P180", "P320", "P400", "P500", "P600", "P800")
LASTING: Final = {"film-spent", "rubbed-through"}
"""What more work does not end."""


def do(floor: Shopfloor, place: str, asks: Iterable[Ask]) -> None:
    """Do passes, in their order."""
    panel = place.partition("/")[0]
    for ask in asks:
        where = f"{panel}/panel" if ask.do in ("clean", "wipe") else place
        how = {"tool": ask.tool or "", "grade": ask.grade or ""} if ask.tool else {}
        floor.put(where, STEP[ask.do], **how)


def follow(floor: Shopfloor, hold: GateHold) -> str:
    """Do what a mend says, then look; return what is wrong with it, empty where nothing is."""
    spent = "film-spent" in floor.gate().kinds(hold.place)
    match hold.mend:
        case DoIt(asks=asks):
            do(floor, hold.place, asks)
        case Drill(first=asks):
            do(floor, hold.place, asks)
        case LookAgain():
            pass
        case LeadDecides():
            return _decided(floor, hold, hold.mend)
        case _:
            return ""
    floor.put(hold.place, "inspected", result="clear")
    stopped = not spent and "film-spent" in floor.gate().kinds(hold.place)
    return f"{hold.fact.kind}: its mend led into the stop" if stopped else ""


def _decided(floor: Shopfloor, hold: GateHold, mend: LeadDecides) -> str:
    """Try all that the lead may do; what he is not told to do must not help, what he is told must."""
    said = hold.fact.coarse if isinstance(hold.fact, StillCoarse) else getattr(hold.fact, "said", None)
    if isinstance(said, Said):
        tried = accepted(floor.copy(), hold.place, said.check.id)
        if (hold.fact not in tried) is not mend.may_accept:
            return f"{hold.fact}: accepting it helps {not mend.may_accept}"
    if mend.film is None:
        return ""
    tried_too = floor.copy()
    do(tried_too, hold.place, mend.film.asks)
    tried_too.put(hold.place, "inspected", result="clear")
    over = [each.fact for each in tried_too.gate().gate.holds if each.place == hold.place]
    spent = [fact for fact in over if fact.kind == "film-spent"]
    if not spent:
        return f"{hold.fact.kind}: {mend.film} and yet it is not too much"
    (stop,) = spent
    assert stop.kind == "film-spent"
    if stop.off_um != pytest.approx(mend.film.off_um):
        return f"{hold.fact.kind}: {stop.off_um} and not {mend.film.off_um} came off"
    left = accepted(tried_too, hold.place, stop.said.check.id)
    return "" if (stop not in left) is mend.film.may_follow else f"{stop} accepted: {left}"


def accepted(floor: Shopfloor, place: str, entry: str) -> list[HoldFact]:
    """Let the lead accept an entry and return what holds the place then."""
    floor.put(place, "accepted", by="L. D.", note="seen under the lamp, may stay", of=entry)
    return [hold.fact for hold in floor.gate().gate.holds if hold.place == place]


def wrong_log(whole: list[Check], rng: random.Random, place: str) -> list[Check]:
    """Return a log with one place done wrongly, in every other one with a coarse cut there at the end."""
    own = [check for check in whole if f"{check.panel}/{check.feature}" == place]
    first = whole.index(own[0])
    others = [check for check in whole if check not in own]
    own = spoilt(own, rng)
    cuts = [check for check in own if check.grade]
    if cuts and rng.random() < 0.5:
        again = [rng.choice(cuts) for _ in range(rng.choice((0, 0, 1, 3)))]
        coarse = rng.choice(cuts).model_copy(update={"grade": rng.choice(COARSE)})
        own += [*again, coarse]
    return logged_anew([*others[:first], *own, *others[first:]])


def breaches(job: Job, house: House, seeds: Iterable[int]) -> tuple[int, list[str]]:
    """Return how many mends were followed, and what was wrong."""
    whole = list(Shopfloor(job, house).work_through().log)
    places = sorted({f"{c.panel}/{c.feature}" for c in whole if c.feature != "panel"})
    wrong, followed = list[str](), 0
    for seed in seeds:
        rng = random.Random(seed)
        place = rng.choice(places)
        floor = Shopfloor(job, house).with_log(wrong_log(whole, rng, place))
        floor.now = floor.log[-1].at
        for _ in range(6):
            here = [hold for hold in floor.gate().gate.holds if hold.place == place]
            stops = [hold for hold in here if isinstance(hold.mend, LeadDecides)]
            todo = stops or [hold for hold in here if hold.fact.kind not in LASTING]
            if not todo:
                break
            try:
                fault = follow(floor, todo[0])
            except EntryRefusedError as refused:
                fault = f"{todo[0].mend} cannot be logged: {refused}"
            followed += 1
            wrong += [f"{seed} {place} {fault}"] if fault else []
            if fault or stops:
                break
        else:
            wrong += [f"{seed} {place} {kind}" for kind in floor.gate().kinds(place) if kind not in LASTING]
    return followed, wrong


@pytest.mark.parametrize("name", JOBS)
def test_what_is_done_as_its_mend_says_holds_no_more(name: str, shipped_house: House) -> None:
    """Wrong logs of one place; every hold there followed in turn; at last nothing holds the place."""
    job = load_job(demo_jobs_dir() / f"{name}.toml", shipped_house).model_copy(update={"check": ()})
    followed, wrong = breaches(job, shipped_house, range(LOGS))
    assert wrong == []
    assert followed > LOGS / 3
