"""Primer in the log: what it re-opens, and whether the stage before it was clear when it was put on."""

import datetime as dt
from collections.abc import Container, Sequence

from prepadvisor.checkoff.bench import Bench
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.logbook import Entry, Primed
from prepadvisor.records import gate as g
from prepadvisor.records.job import Job


def since_primed(words: Sequence[Entry], bench: Bench, primed: Sequence[Primed]) -> list[Entry]:
    """Return the entries at a place that count since it was last primed, that entry the first of them.

    A patch starts anew under its primer, and so does the ring round it, which was keyed for that; every place
    does of a panel that was primed whole.
    """
    whole = [each for each in primed if each.panel == bench.place.panel]
    own = bench.place.feature
    anew = (each.number for each in whole if own in {each.feature, f"{each.feature}-ring"})
    every = (each.number for each in whole if each.feature == "panel")
    last = max((*anew, *every), default=0)
    return [entry for entry in words if entry.number >= last] if last else list(words)


def primed_early(
    job: Job, primed: Sequence[Primed], floor: ShopFloor, accepted: Container[int]
) -> tuple[list[g.GateHold], list[g.CheckRemark]]:
    """Hold where primer was logged while the stage before it was not clear.

    The job is planned once more without the primer, and its gate judged by the entries above it. Primer that
    was written by hand over work of which the log has nothing at all is told: the log began after it.

    Args:
        job: the job with its log.
        primed: the primer that stands.
        floor: the shop; only a whole house can plan.
        accepted: numbers of entries that the lead accepted by name.
    """
    from prepadvisor.checkoff.gate import gate
    from prepadvisor.planning import advise
    from prepadvisor.standards.house import House

    holds: list[g.GateHold] = []
    told: list[g.CheckRemark] = []
    if not isinstance(floor, House):
        return holds, told
    for each in primed:
        entry = job.check[each.number - 1]
        if each.number in accepted:
            continue
        above = tuple(check for check in job.check[: each.number - 1] if check.step != "primed")
        before = job.model_copy(update={"check": above})
        verdict = gate(before, advise(before, floor), floor, entry.at + dt.timedelta(seconds=1))
        mine = [hold for hold in verdict.holds if _concerns(hold.place, each)]
        if verdict.stage != "primer" or not mine:
            continue
        said = g.Said(each.number, entry)
        if not entry.id and not any(_concerns(f"{check.panel}/{check.feature}", each) for check in above):
            told.append(g.PrimedUnseen(said))
            continue
        held = tuple(dict.fromkeys(hold.place for hold in mine))
        where = f"{each.panel}/{each.feature}" if each.feature != "panel" else each.panel
        holds.append(g.GateHold(where, g.PrimedEarly(said, held), g.StrikeEarly(said)))
    return holds, told


def _concerns(place: str, primed: Primed) -> bool:
    if primed.feature == "panel":
        return place.partition("/")[0] == primed.panel
    return place in {
        primed.panel,
        f"{primed.panel}/{primed.feature}",
        f"{primed.panel}/{primed.feature}-ring",
    }
