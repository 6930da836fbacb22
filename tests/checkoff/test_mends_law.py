"""A mend is true: who does what it says at a place, in its order, is rid of what held it."""

import random
from typing import Final

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records.gate import DoIt, GateHold, LookAgain
from prepadvisor.standards import House
from tests.checkoff.plain_gate import STEP
from tests.checkoff.shopfloor import Shopfloor, logged_anew
from tests.checkoff.test_plain_gate import spoilt

LOGS: Final = 16
LASTING: Final = {"film-spent", "saw-something", "rubbed-through"}
"""What more work does not end, or what is ended by a drill."""


def follow(floor: Shopfloor, hold: GateHold) -> None:
    """Do what a mend says, then look."""
    panel, _, feature = hold.place.partition("/")
    match hold.mend:
        case DoIt(asks=asks, look=look):
            for ask in asks:
                where = f"{panel}/panel" if ask.do in ("clean", "wipe") else hold.place
                how = {"tool": ask.tool or "", "grade": ask.grade or ""} if ask.tool else {}
                floor.put(where, STEP[ask.do], **how)
            if look or feature:
                floor.put(hold.place, "inspected", result="clear")
        case LookAgain():
            floor.put(hold.place, "inspected", result="clear")
        case _:
            pass


@pytest.mark.parametrize("name", ["very-fine-door-and-wing", "filler-up-to-primer"])
def test_what_is_done_as_its_mend_says_holds_no_more(name: str, shipped_house: House) -> None:
    """Wrong logs of one place; every hold there followed in turn; at last nothing holds the place."""
    job = load_job(demo_jobs_dir() / f"{name}.toml", shipped_house).model_copy(update={"check": ()})
    whole = list(Shopfloor(job, shipped_house).work_through().log)
    left, followed = [], 0
    for seed in range(LOGS):
        rng = random.Random(seed)
        panel, feature = rng.choice([(c.panel, c.feature) for c in whole if c.feature != "panel"])
        own = [check for check in whole if (check.panel, check.feature) == (panel, feature)]
        first = whole.index(own[0])
        others = [check for check in whole if check not in own]
        log = logged_anew([*others[:first], *spoilt(own, rng), *others[first:]])
        floor, place = Shopfloor(job, shipped_house).with_log(log), f"{panel}/{feature}"
        floor.now = log[-1].at
        for _ in range(6):
            here = [hold for hold in floor.gate().gate.holds if hold.place == place]
            mine = [hold for hold in here if hold.fact.kind not in LASTING]
            todo = [hold for hold in mine if isinstance(hold.mend, DoIt | LookAgain)]
            if not todo:
                break
            follow(floor, todo[0])
            followed += 1
        left += [(seed, place, kind) for kind in floor.gate().kinds(place) if kind not in LASTING]
    assert followed > LOGS / 3
    assert left == []
