"""One panel judged: its cleaning, the work and looks at its places, its wipe, against its own plan and log.

The verdict on a panel depends on its scene alone and, where a look or a wipe grows old, on the time: never on
other panels. So it is kept for as long as the scene stays, however many panels a job has.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from operator import attrgetter
from typing import TYPE_CHECKING, Any, Final, assert_never

from prepadvisor.checkoff import telling
from prepadvisor.checkoff.accepting import Rules, lead_word
from prepadvisor.checkoff.basis import lacking, parts_of
from prepadvisor.checkoff.bench import Bench, PanelScene, panel_benches
from prepadvisor.checkoff.judged import Around, Judged, Worked, judged, worked
from prepadvisor.checkoff.looks import wet_on_panel
from prepadvisor.checkoff.spoken import Spoken
from prepadvisor.records import STEP_OF, CannotCutOut, Drill, Look, NamedTuple, Task, TaskState
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry

_TO_THE_END: Final = dt.timedelta(seconds=1)
"""A verdict is not kept in the last second before something of it ends."""


class Looked(NamedTuple):
    """A look that counts.

    Attributes:
        place: where.
        number: its entry.
        since: from when its age counts.
        scope: which panels the job had then, as it wrote; empty where it did not.
    """

    place: str
    number: int
    since: dt.datetime
    scope: str


class JudgedPanel(NamedTuple):
    """What a panel comes to.

    Attributes:
        holds: what keeps the gate shut, in the order it is worked.
        found: what looks and the log found that is not mended.
        told: what is to be told of its places.
        faces: what is to be told of faces sanded after lines were looked at.
        drills: what the next look at a place will ask for, where more was cut than is planned.
        tasks: its tasks of the stage with their states, by id.
        ends: when each wipe and look that counts ends to count.
        looked: the looks that count.
        accepted: numbers of the entries that the lead accepted.
        bases: its looks that rest on nothing, or lack parts of what is written today.
        spoken: its entries by place.
        judged_at: the time that it was judged at.
        is_of_its_time: whether it says how old something is, so that each other time says otherwise.
    """

    holds: tuple[g.GateHold, ...]
    found: tuple[g.GateHold, ...]
    told: tuple[g.CheckRemark, ...]
    faces: tuple[g.CheckRemark, ...]
    drills: Mapping[str, Mapping[Look, Drill | g.LeadDecides]]
    tasks: Mapping[str, Task]
    ends: tuple[dt.datetime, ...]
    looked: tuple[Looked, ...]
    accepted: frozenset[int]
    bases: tuple[tuple[int, tuple[g.BasisPart, ...] | None], ...]
    spoken: Spoken
    judged_at: dt.datetime
    is_of_its_time: bool

    def stands(self, now: dt.datetime) -> bool:
        """Say whether it would be the same at another time, all else alike."""
        if now == self.judged_at:
            return True
        if self.is_of_its_time or now < self.judged_at:
            return False
        return all(now < end - _TO_THE_END for end in self.ends)


def panel_verdict(scene: PanelScene, now: dt.datetime) -> JudgedPanel:
    """Judge a panel.

    Args:
        scene: all that it depends on but the time.
        now: the present time, in UTC.
    """
    return _PanelJudge(scene, now).verdict()


class _PanelJudge:
    """One judgement, step by step."""

    def __init__(self, scene: PanelScene, now: dt.datetime) -> None:
        self.scene, self.now = scene, now
        self.by_id = {task.id: task for task in scene.tasks}
        self.by_number = {entry.number: entry for entry in scene.entries}
        self.benches = panel_benches(scene)
        self.spoken = Spoken(scene.entries, {name: bench.place for name, bench in self.benches.items()})
        self.planned = dict(scene.planned)
        self.holds: list[g.GateHold] = []
        self.found: list[g.GateHold] = []
        self.told: list[g.CheckRemark] = []
        self.tasks: dict[str, Task] = {}
        self.ends: list[dt.datetime] = []
        self.looked: list[Looked] = []

    def verdict(self) -> JudgedPanel:
        """Judge cleaning first, then place by place, then the wipe and what was seen wet."""
        works = {
            name: worked(bench, self._words(bench), self.scene.flake) for name, bench in self.benches.items()
        }
        first = self._first(works)
        verdicts: dict[str, Judged] = {}
        early, late = self._panel_tasks()
        self.holds += early
        for name, bench in self.benches.items():
            self.holds += self._not_decided(bench)
            if not bench.chain and bench.look is None:
                if name not in self.planned and self._should_be_planned():
                    self.holds.append(g.GateHold(name, g.NotPlanned(), g.CardAgain()))
                continue
            verdict = judged(works[name], self.by_id, self._around(bench, first))
            verdicts[name] = verdict
            self.holds += verdict.holds
            self.found += verdict.found
            self.told += verdict.told
            self._keep(bench, verdict)
        self.holds += late
        self._wet_on()
        of_its_time = any(isinstance(hold.fact, g.LookOld | g.WipeOld) for hold in self.holds)
        return JudgedPanel(
            holds=tuple(dict.fromkeys(self.holds)),
            found=tuple(dict.fromkeys(self.found)),
            told=tuple(self.told),
            faces=tuple(telling.faces_after_lines(self.benches, self.spoken, verdicts)),
            drills={name: verdict.drills for name, verdict in verdicts.items() if verdict.drills},
            tasks={task.id: self.tasks.get(task.id) or with_state(task) for task in self.scene.tasks},
            ends=tuple(self.ends),
            looked=tuple(self.looked),
            accepted=frozenset(each for verdict in verdicts.values() for each in verdict.worked.accepted),
            bases=bases_of_looks(self.scene.entries),
            spoken=self.spoken,
            judged_at=self.now,
            is_of_its_time=of_its_time,
        )

    def _words(self, bench: Bench) -> list["Entry"]:
        return telling.since_primed(self.spoken.at(bench.place), bench, self.scene.primed)

    def _first(self, works: Mapping[str, Worked]) -> dict[str, "Entry"]:
        """Return the first entry that ever did each task; nothing but wipe and mask ever follows a look."""
        found: dict[str, Entry] = {}
        for work in works.values():
            found.update(work.replay.first)
        for task in self.scene.tasks:
            if "/" not in task.place and task.do in STEP_OF:
                entries = self.spoken.of_whole(task.place, STEP_OF[task.do])
                counted = [entry for entry in entries if not entry.ahead]
                if counted:
                    found[task.id] = counted[0]
        return found

    def _around(self, bench: Bench, first: Mapping[str, "Entry"]) -> Around:
        panel = self.scene.panel.id
        return Around(
            first=first,
            beside=self._beside(bench),
            patches={
                patch: self.spoken.at(self.benches[f"{panel}/{patch}"].place)
                for patch in bench.patches
                if f"{panel}/{patch}" in self.benches
            },
            edited=[
                entry
                for entry in self.spoken.on_panel(panel)
                if entry.edited and entry.check.feature in {"panel", "all"}
            ],
            now=self.now,
            flake=self.scene.flake,
        )

    def _beside(self, bench: Bench) -> list["Entry"]:
        """Return the work at other places that the look must follow, and primer on patches that touch it."""
        if bench.look is None:
            return []
        wanted: dict[str, set[str]] = {}
        for each in bench.look.after:
            task = self.by_id.get(each)
            if task is not None and "/" in task.place and task.place != bench.place.id and task.do != "look":
                wanted.setdefault(task.place, set()).add(STEP_OF[task.do])
        beside = [
            entry
            for name, steps in wanted.items()
            if name in self.benches
            for entry in self.spoken.at(self.benches[name].place)
            if entry.check.step in steps and entry.check.feature != "all"
        ]
        on_patches = {each.number for each in self.scene.primed if each.feature in bench.patches}
        return [*beside, *(self.by_number[number] for number in sorted(on_patches))]

    def _panel_tasks(self) -> tuple[list[g.GateHold], list[g.GateHold]]:
        """Judge cleaning and wiping; the first holds come before the panel's places, the last after."""
        panel = self.scene.panel.id
        early: list[g.GateHold] = []
        late: list[g.GateHold] = []
        for task in self.scene.tasks:
            if "/" in task.place or not task.owed:
                continue
            entries = self.spoken.of_whole(panel, STEP_OF[task.do]) if task.do in STEP_OF else []
            if task.do == "clean":
                entry, fact = telling.cleaned(entries)
                if fact is not None:
                    mend: g.MendFact = (
                        g.CheckClock() if isinstance(fact, g.DatedAhead) else g.DoIt((g.Ask("clean"),))
                    )
                    early.append(g.GateHold(panel, fact, mend))
            elif task.do == "wipe":
                hours = self.scene.floor.shop.gate_hours
                entry, fact = telling.wiped(entries, self.spoken.on_panel(panel), hours, self.now)
                if fact is not None:
                    mend = g.CheckClock() if isinstance(fact, g.DatedAhead) else g.WipeIt()
                    late.append(g.GateHold(panel, fact, mend))
                elif entry is not None:
                    self.ends.append(entry.at + dt.timedelta(hours=hours))
            else:
                continue
            self._state(task, entry, fact)
        return early, late

    def _keep(self, bench: Bench, verdict: Judged) -> None:
        for task in bench.chain:
            self._state(task, verdict.worked.replay.entry(task), verdict.facts.get(task.id))
        if bench.look is None:
            return
        seen = verdict.seen
        self._state(bench.look, seen.entry, seen.fact)
        if seen.fact is None and seen.entry is not None and seen.since is not None:
            self.ends.append(seen.since + dt.timedelta(hours=self.scene.floor.shop.look_hours))
            scope = parts_of(seen.entry.check.basis).get("scope", "")
            self.looked.append(Looked(bench.place.id, seen.entry.number, seen.since, scope))

    def _state(self, task: Task, entry: "Entry | None", fact: g.HoldFact | None) -> None:
        state: TaskState
        match fact:
            case None:
                state = "done"
            case g.NotDone() | g.NotLooked() | g.LookedBefore() | g.WipedBefore() | g.BasisMoved():
                state = "open"
            case (
                g.TooEarly() | g.Unordered() | g.NotRecorded() | g.WrongTool() | g.NotAsked()
                | g.CutTooCoarse() | g.CutTooFine() | g.StillCoarse() | g.ShowsLines() | g.NoResult()
                | g.SawSomething() | g.RubbedThrough() | g.LookOld() | g.ByHand() | g.DatedAhead()
                | g.WipeOld() | g.LeftTheJob() | g.NotPlanned() | g.PlanHolds() | g.FilmSpent()
                | g.PrimedEarly()
            ):  # fmt: skip
                state = "held"
            case _:
                assert_never(fact)
        self.tasks[task.id] = with_state(task, state, entry.name if entry is not None else None)

    def _wet_on(self) -> None:
        """Hold what was seen wet on the whole panel: lines or a rub-through, until mended and seen again."""
        panel = self.scene.panel.id
        patches = {
            bench.place.feature: self.spoken.at(bench.place)
            for bench in self.benches.values()
            if bench.kind == "patch"
        }
        wet = self.spoken.of_whole(panel, "seen-wet")
        if not any(entry.is_adverse for entry in wet):
            return
        for fact in wet_on_panel(panel, wet, self.spoken.on_panel(panel), patches, self.now):
            drill = g.WetDrill("cut-through" if isinstance(fact, g.RubbedThrough) else "lines")
            hold = g.GateHold(panel, fact, drill)
            self.holds.append(hold)
            self.found.append(hold)

    def _not_decided(self, bench: Bench) -> list[g.GateHold]:
        """Leave out holds of the plan that the lead decides and has decided, by an acceptance there."""
        holds, place = list(self.planned.get(bench.place.id, ())), bench.advice
        if not holds or place is None:
            return holds
        open_to_him = [hold for hold in holds if _lead_decides(hold, bench)]
        if not open_to_him:
            return holds
        rules = Rules(self.scene.floor.shop.leads, self.scene.flake, bench.basis)
        grade = place.done.grade if bench.kind != "run-on" else None
        word, told = lead_word(bench.place.id, self.spoken.at(bench.place), rules, grade)
        self.told += told
        return [hold for hold in holds if hold not in open_to_him] if word is not None else holds

    def _should_be_planned(self) -> bool:
        """Say whether a place without work is a mistake: all are worked before paint, but on held panels."""
        return self.scene.stage == "paint" and not self.scene.is_held


def _lead_decides(hold: g.GateHold, bench: Bench) -> bool:
    if not isinstance(hold.fact, g.PlanHolds):
        return False
    return isinstance(hold.fact.hold.fact, CannotCutOut) or bench.kind == "run-on"


_PLANNED = attrgetter(*Task._fields[:-2])
"""All that the plan says of a task; its state and entry, the last two, are the check-off's."""


def with_state(task: Task, state: TaskState = "open", entry: str | None = None) -> Task:
    """Return a task with its state and the entry that speaks for it; one that is open has none yet."""
    if task.state == state and task.entry == entry:
        return task
    values: tuple[Any, ...] = (*_PLANNED(task), state, entry)
    return Task(*values)


def bases_of_looks(
    entries: Sequence["Entry"],
) -> tuple[tuple[int, tuple[g.BasisPart, ...] | None], ...]:
    """Return the looks that rest on nothing, with None, and those that lack parts, with the parts."""
    found: list[tuple[int, tuple[g.BasisPart, ...] | None]] = []
    for each in entries:
        if each.check.step == "inspected" and each.check.feature != "all":
            if not each.check.basis:
                found.append((each.number, None))
            elif parts := lacking(each.check.basis):
                found.append((each.number, parts))
    return tuple(found)
