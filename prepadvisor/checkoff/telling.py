"""What is owed to a whole panel, what primer re-opens, and what is told of its faces."""

import datetime as dt
from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from prepadvisor.checkoff.basis import ShopFloor
from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import WORK_STEPS, Spoken
from prepadvisor.records import CREST_KINDS, Advice, Job
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.bench import Bench
    from prepadvisor.checkoff.judged import Judged
    from prepadvisor.logbook import Entry, Primed

# What is owed to a whole panel: cleaned before any work, wiped after everything, and not too long ago.

_BEFORE_THE_WIPE = WORK_STEPS | {"cleaned", "inspected", "primed"}


def cleaned(entries: Sequence["Entry"]) -> tuple["Entry | None", g.HoldFact | None]:
    """Return the entry that cleaned the panel first, and why it does not count; work is held against it.

    Args:
        entries: its cleanings, in the order of the file.
    """
    counted = [entry for entry in entries if not entry.ahead]
    if counted:
        return counted[0], None
    if entries:
        return None, g.DatedAhead(said(entries[-1]))
    return None, g.NotDone("clean", None, None)


def wiped(
    entries: Sequence["Entry"], on_panel: Sequence["Entry"], hours: float, now: dt.datetime
) -> tuple["Entry | None", g.HoldFact | None]:
    """Return the last wipe, and why it does not count.

    Args:
        entries: the wipes of the panel, in the order of the file.
        on_panel: all entries of the panel.
        hours: how long a wipe counts.
        now: the present time, in UTC.
    """
    if not entries:
        return None, g.NotDone("wipe", None, None)
    facts = [(entry, _fault(entry, on_panel, hours, now)) for entry in reversed(entries)]
    good = next((entry for entry, fact in facts if fact is None), None)
    return (good, None) if good is not None else facts[0]


def _fault(wipe: "Entry", on_panel: Sequence["Entry"], hours: float, now: dt.datetime) -> g.HoldFact | None:
    if wipe.ahead:
        return g.DatedAhead(said(wipe))
    later = [
        entry
        for entry in on_panel
        if entry.check.step in _BEFORE_THE_WIPE and not _renews(entry) and not wipe.knew(entry)
    ]
    if later:
        return g.WipedBefore(said(wipe), said(later[-1]))
    if wipe.edited:
        return g.ByHand(said(wipe))
    age = (now - wipe.at).total_seconds() / 3600
    return g.WipeOld(said(wipe), age, hours) if age > hours else None


def _renews(entry: "Entry") -> bool:
    """Say whether an entry is a look over the whole panel, which touches nothing."""
    return entry.check.step == "inspected" and entry.check.feature == "all" and not entry.is_adverse


# Primer in the log: what it re-opens, and whether the stage before it was clear when it was put on.


def since_primed(words: Sequence["Entry"], bench: "Bench", primed: Sequence["Primed"]) -> list["Entry"]:
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


JudgesGate = Callable[[Job, "Advice", ShopFloor, dt.datetime], g.Gate]
"""Judges the gate of a job with its advice, by a shop's floor, at a time."""


def primed_early(
    job: Job, primed: Sequence["Primed"], floor: ShopFloor, accepted: Container[int], judge: "JudgesGate"
) -> tuple[list[g.GateHold], list[g.CheckRemark]]:
    """Hold where primer was logged while the stage before it was not clear.

    The job is planned once more without the primer, and its gate judged by the entries above it. Primer that
    was written by hand over work of which the log has nothing at all is told: the log began after it.

    Args:
        job: the job with its log.
        primed: the primer that stands.
        floor: the shop; only a whole house can plan.
        accepted: numbers of entries that the lead accepted by name.
        judge: what judges the gate of the job without the primer.
    """
    from prepadvisor.planning import advise
    from prepadvisor.standards import House

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
        verdict = judge(before, advise(before, floor), floor, entry.at + dt.timedelta(seconds=1))
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


def _concerns(place: str, primed: "Primed") -> bool:
    if primed.feature == "panel":
        return place.partition("/")[0] == primed.panel
    return place in {
        primed.panel,
        f"{primed.panel}/{primed.feature}",
        f"{primed.panel}/{primed.feature}-ring",
    }


def faces_after_lines(
    benches: Mapping[str, "Bench"], spoken: Spoken, verdicts: Mapping[str, "Judged"]
) -> Iterator[g.CheckRemark]:
    """Tell where a face was sanded after lines of its panel were looked at that this does not re-open.

    Args:
        benches: the places of the panel.
        spoken: the entries that speak for each.
        verdicts: what each came to, by place id.
    """
    for face in (each for each in benches.values() if each.kind == "face"):
        sanded = [each for each in spoken.at(face.place) if each.check.step == "sanded"]
        later = tuple(
            name
            for name, bench in benches.items()
            if bench.kind not in {"face", *CREST_KINDS} and sanded
            and (verdict := verdicts.get(name)) is not None
            and verdict.seen.fact is None and verdict.seen.entry is not None
            and not verdict.seen.entry.knew(sanded[-1])
        )  # fmt: skip
        if later:
            yield g.FaceAfterLines(said(sanded[-1]), later)
