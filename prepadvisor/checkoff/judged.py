"""One place judged: its tasks with their states, what its looks found, what holds, what is told."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, assert_never

from prepadvisor.checkoff.accepting import Rules, acceptances
from prepadvisor.checkoff.basis import mends
from prepadvisor.checkoff.bench import Bench, cuts_deeper
from prepadvisor.checkoff.film import ledger
from prepadvisor.checkoff.looks import Scene, Seen, look, wet_looks
from prepadvisor.checkoff.mend import Mender
from prepadvisor.checkoff.replay import Replay, out_of_limits, said
from prepadvisor.checkoff.spoken import WORK_STEPS
from prepadvisor.planning.work.film import Ledger, budget
from prepadvisor.records import RANK, Drill, Flake, Look, NamedTuple, Task
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry


class Worked(NamedTuple):
    """A place's work, before other places and its looks are held against it."""

    bench: Bench
    words: tuple["Entry", ...]
    replay: Replay
    ledger: Ledger
    accepted: Mapping[int, "Entry"]
    told: tuple[g.CheckRemark, ...]


def worked(bench: Bench, words: Sequence["Entry"], flake: Flake) -> Worked:
    """Replay the work at a place.

    Args:
        bench: the place.
        words: the entries that speak for it, in the order of the file.
        flake: the flake as judged.
    """
    floor = bench.ground.floor
    cuts = [entry for entry in words if entry.check.step in WORK_STEPS]
    asked = any(entry.check.step == "accepted" for entry in words)
    outside = out_of_limits(cuts, bench.chain, bench.ground) if asked else {}
    film = ledger(cuts, bench.chain, budget(bench.ground.spots, bench.panel), floor)
    spent = (film.over.number,) if film.over is not None else ()
    rules = Rules(floor.shop.leads, flake, bench.basis)
    accepted = acceptances(bench.place.id, words, outside, spent, rules)
    replay = Replay(bench.chain, bench.ground, accepted.of)
    replay.enter(cuts)
    return Worked(
        bench=bench, words=tuple(words), replay=replay, ledger=film, accepted=accepted.of, told=accepted.told
    )


class Around(NamedTuple):
    """What a place is held against outside itself.

    Attributes:
        first: the first entry that ever did each task of the job, by task id.
        beside: work at other places that its look must follow.
        patches: entries at each patch that touches it.
        edited: entries of the whole panel whose place in the file was changed by hand.
        now: the present time, in UTC.
        flake: the flake as judged.
    """

    first: Mapping[str, "Entry"]
    beside: Sequence["Entry"]
    patches: Mapping[str, Sequence["Entry"]]
    edited: Sequence["Entry"]
    now: dt.datetime
    flake: Flake


class Judged(NamedTuple):
    """What a place comes to: facts of its tasks, the look, holds, findings and what is told.

    `drills` has what its next look will ask for, where more was cut than is planned.
    """

    worked: Worked
    facts: Mapping[str, g.HoldFact]
    seen: Seen
    holds: tuple[g.GateHold, ...]
    found: tuple[g.GateHold, ...]
    told: tuple[g.CheckRemark, ...]
    drills: Mapping[Look, Drill | g.LeadDecides]


def _is_finding(fact: g.HoldFact) -> bool:
    """Say whether work found wanting is meant: not what is only left to do, came early, or is of a look."""
    match fact:
        case (
            g.CutTooCoarse() | g.CutTooFine() | g.StillCoarse() | g.ShowsLines() | g.WrongTool()
            | g.NotAsked() | g.NotRecorded()
        ):  # fmt: skip
            return True
        case (
            g.NotDone() | g.TooEarly() | g.Unordered() | g.ByHand() | g.DatedAhead() | g.NotLooked()
            | g.LookedBefore() | g.NoResult() | g.SawSomething() | g.RubbedThrough() | g.BasisMoved()
            | g.LookOld() | g.WipedBefore() | g.WipeOld() | g.LeftTheJob() | g.NotPlanned() | g.PlanHolds()
            | g.FilmSpent() | g.PrimedEarly()
        ):  # fmt: skip
            return False
        case _:
            assert_never(fact)


def judged(work: Worked, tasks: Mapping[str, Task], around: Around) -> Judged:
    """Judge a place.

    Args:
        work: its work, replayed.
        tasks: all tasks of the stage, by id.
        around: what it is held against.
    """
    bench, replay = work.bench, work.replay
    where = bench.place.id
    over = work.ledger.over
    spent = over is not None and over.number not in work.accepted
    fine = over is not None and isinstance(
        out_of_limits([over], bench.chain, bench.ground).get(over.number), g.CutTooFine
    )
    film = work.ledger if spent or over is None else None
    mender = Mender(bench, replay, film, around.flake, too_fine=fine)
    facts: dict[str, g.HoldFact] = {}
    holds: list[g.GateHold] = []
    found: list[g.GateHold] = []
    stop: g.LeadDecides | None = None
    if spent and over is not None:
        gone = g.FilmSpent(said(over), work.ledger.off_um, work.ledger.off_max_um or 0.0)
        stop = mender.of_film(gone)
        holds = [g.GateHold(where, gone, stop)]
        found = [*holds]
    for task in bench.chain:
        fact = replay.fact(task) or _early(task, replay.done[task.id], tasks, around.first)
        if fact is None:
            continue
        facts[task.id] = fact
        mend = mender.of_task(task, fact)
        if isinstance(mend, g.LeadDecides):
            stop = stop or mend
        elif stop is not None and isinstance(fact, g.NotDone):
            mend = stop  # nothing that follows is done before he has decided
        hold = g.GateHold(where, fact, mend)
        holds.append(hold)
        if _is_finding(fact):
            found.append(hold)
    scene = _scene(work, around)
    seen = look(scene)
    if seen.fact is None and seen.entry is not None and bench.look is not None:
        seen = seen._replace(fact=_early(bench.look, seen.entry, tasks, around.first))
    if seen.fact is not None and bench.look is not None:
        facts[bench.look.id] = seen.fact
    wet = wet_looks(scene)
    for fact in (*seen.found, *wet):
        hold = g.GateHold(where, fact, mender.of_look(fact, work.words))
        holds.insert(0 if isinstance(fact, g.RubbedThrough) else len(holds), hold)
        found.append(hold)
    if seen.fact is not None and not seen.found and bench.look is not None:
        holds.append(g.GateHold(where, seen.fact, mender.of_look(seen.fact, work.words)))
    told = (*work.told, *seen.told, *_other_than_asked(work))
    return Judged(
        worked=work,
        facts=facts,
        seen=seen,
        holds=tuple(holds),
        found=tuple(found),
        told=told,
        drills=mender.drills() if work.ledger.passes else {},
    )


def _early(
    task: Task, entry: "Entry", tasks: Mapping[str, Task], first: Mapping[str, "Entry"]
) -> g.HoldFact | None:
    """Return which task of another place an entry came before, None where it came before none."""
    for each in task.after:
        other = tasks.get(each)
        if other is None or other.place == task.place or not other.owed:
            continue
        before = first.get(each)
        if before is None or not (entry.knew(before) or entry.number == before.number):
            return g.TooEarly(said(entry), other.do, other.place, said(before) if before else None)
    return None


def _scene(work: Worked, around: Around) -> Scene:
    bench, replay = work.bench, work.replay
    edited = [entry for entry in replay.done.values() if entry.edited]
    mended = mends(work.words, bench.basis, bench.zones, around.patches, is_patch=bench.kind == "patch")
    return Scene(
        place=bench.place.id,
        words=work.words,
        beside=around.beside,
        basis=bench.basis,
        accepted=work.accepted,
        mended=mended,
        zones=bench.zones,
        hours=bench.ground.floor.shop.look_hours,
        now=around.now,
        edited=max(edited, key=lambda each: each.number) if edited else None,
        edited_panel=tuple(around.edited),
    )


def _other_than_asked(work: Worked) -> list[g.CheckRemark]:
    """Tell what is allowed but not as the card says: coarser, another grade at the end, a deeper tool."""
    told: list[g.CheckRemark] = []
    for task in work.bench.chain:
        entry = work.replay.done.get(task.id)
        if entry is None or task.do == "powder":
            continue
        tool, grade = entry.check.tool, entry.check.grade
        deeper = (
            tool is not None and task.tool is not None and tool != task.tool
            and cuts_deeper(tool, task.tool, work.bench.ground.floor)
        )  # fmt: skip
        coarser = grade is not None and task.grade is not None and RANK[grade] < RANK[task.grade]
        other = coarser or (work.replay.is_last_touch(task) and grade != task.grade)
        if deeper or other:
            told.append(
                g.OtherThanAsked(
                    work.bench.place.id,
                    said(entry),
                    task.tool if deeper else None,
                    task.grade if other else None,
                )
            )
    return told
