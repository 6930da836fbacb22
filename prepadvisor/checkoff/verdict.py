"""Clear for the next coat, or each hold with its mend: the log of a job against its plan of work."""

import datetime as dt
from collections.abc import Mapping
from operator import attrgetter
from typing import TYPE_CHECKING, Any, assert_never

from prepadvisor.cases import with_lines
from prepadvisor.checkoff import telling as panels
from prepadvisor.checkoff.accepting import Rules, lead_word, strangers
from prepadvisor.checkoff.bench import Bench, benches
from prepadvisor.checkoff.judged import Around, Judged, Worked, judged, worked
from prepadvisor.checkoff.looks import wet_on_panel
from prepadvisor.checkoff.spoken import Spoken
from prepadvisor.checkoff.telling import Heard, primed_early, remarks, since_primed
from prepadvisor.logbook import Entry, Logbook, primed, upto_other_job, utc
from prepadvisor.records import STEP_OF, Advice, CannotCutOut, Job, StageName, Task, TaskState, Work
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor


def gate(job: Job, advice: Advice, house: "ShopFloor", now: dt.datetime) -> g.Gate:
    """Say whether a job is clear for what its stage ends in.

    It is clear only if every task that the plan owes in the stage that is worked now is done in its order and
    within its limits, nothing that a look found stands, and nothing in the advice holds. `done` in the job
    counts for nothing.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job, with its plan of work.
        house: the shop it is done in.
        now: the present time; with an offset, or taken as UTC.
    """
    return _Judge(job, advice, house, now).gate()


class _Judge:
    """Everything of one judgement, step by step."""

    def __init__(self, job: Job, advice: Advice, floor: "ShopFloor", now: dt.datetime) -> None:
        floor = floor.on(job)
        self.job, self.advice, self.floor, self.now = job, advice, floor, utc(now)
        work = advice.work
        self.stage: StageName = work.stages[0].id if work.stages else "paint"
        self.tasks = tuple(task for task in work.tasks if task.stage == self.stage)
        self.by_id = {task.id: task for task in self.tasks}
        self.book = Logbook.read(job.check, now, floor.shop.leads)
        self.told: list[g.CheckRemark] = []
        self.standing = self._of_this_job()
        self.by_number = {entry.number: entry for entry in self.standing}
        self.on_panel: dict[str, list[Task]] = {}
        for task in self.tasks:
            if "/" not in task.place:
                self.on_panel.setdefault(task.place, []).append(task)
        self.benches = benches(job, advice, self.tasks, floor)
        self.of_panel: dict[str, list[Bench]] = {}
        for bench in self.benches.values():
            self.of_panel.setdefault(bench.place.panel, []).append(bench)
        places = {name: bench.place for name, bench in self.benches.items()}
        self.spoken = Spoken(self.standing, places)
        self.primed = tuple(
            each for each in primed(job.check, job.job.number) if each.number in self.by_number
        )
        self.holds: list[g.GateHold] = []
        self.found: list[g.GateHold] = []
        self.states: dict[str, tuple[TaskState, str | None]] = {}
        self.ends: list[dt.datetime] = []

    def gate(self) -> g.Gate:
        """Judge every panel with its places."""
        planned = self._planned_holds()
        self.holds += [hold for name, some in planned.items() if name not in self.benches for hold in some]
        words = {name: self._words(bench) for name, bench in self.benches.items()}
        works = {
            name: worked(bench, words[name], self.advice.job.flake) for name, bench in self.benches.items()
        }
        first = self._first(works)
        verdicts: dict[str, Judged] = {}
        for stated in self.job.panel:
            own = self.of_panel.get(stated.id, [])
            early, late = self._panel_tasks(stated.id)
            self.holds += early
            for bench in own:
                held = self._not_decided(bench, planned.get(bench.place.id, []))
                self.holds += held
                if not bench.chain and bench.look is None:
                    if bench.place.id not in planned and self._should_be_planned(bench):
                        self.holds.append(g.GateHold(bench.place.id, g.NotPlanned(), g.CardAgain()))
                    continue
                verdict = judged(works[bench.place.id], self.by_id, self._around(bench, first))
                verdicts[bench.place.id] = verdict
                self.holds += verdict.holds
                self.found += verdict.found
                self.told += verdict.told
                self._keep(bench, verdict)
            self.holds += late
            self._wet_on(stated.id)
        strange, told = strangers(self.spoken.strange, self.spoken.places, self.floor.shop.leads)
        self.holds += strange
        self.told += told
        taken = {number for verdict in verdicts.values() for number in verdict.worked.accepted}
        early_primer, told = primed_early(self.job, self.primed, self.floor, taken, gate)
        self.holds += early_primer
        self.told += told
        heard = Heard(
            job=self.job,
            advice=self.advice,
            floor=self.floor,
            standing=self.standing,
            spoken=self.spoken,
            of_panel=self.of_panel,
            verdicts=verdicts,
        )
        self.told += remarks(heard)
        holds = tuple(dict.fromkeys(self.holds))
        clear = not holds and any(task.owed for task in self.tasks)
        return g.Gate(
            clear=clear,
            stage=self.stage,
            holds=holds,
            found=tuple(dict.fromkeys(self.found)),
            told=tuple(dict.fromkeys((*self.told, *self.book.remarks))),
            work=self._work(),
            expires=min(self.ends, default=None) if clear else None,
            said=self.job.check,
            drills={name: verdict.drills for name, verdict in verdicts.items() if verdict.drills},
        )

    def _of_this_job(self) -> tuple[Entry, ...]:
        """Leave out what was logged in a job of another number: the log starts over after it."""
        standing = self.book.standing
        upto = upto_other_job(standing, self.job.job.number)
        if not upto:
            return standing
        self.told.append(g.OtherJob(upto))
        return tuple(entry for entry in standing if entry.number > upto)

    def _words(self, bench: Bench) -> list[Entry]:
        return since_primed(self.spoken.at(bench.place), bench, self.primed)

    def _first(self, works: Mapping[str, Worked]) -> dict[str, Entry]:
        """Return the first entry that ever did each task, those of panels and looks too."""
        found: dict[str, Entry] = {}
        for work in works.values():
            found.update(work.replay.first)
            look = work.bench.look
            looks = [each for each in work.words if each.check.step == "inspected" and not each.ahead]
            if look is not None and looks:
                found[look.id] = looks[0]
        for task in self.tasks:
            if "/" not in task.place and task.do in STEP_OF:
                entries = self.spoken.of_whole(task.place, STEP_OF[task.do])
                counted = [entry for entry in entries if not entry.ahead]
                if counted:
                    found[task.id] = counted[0]
        return found

    def _around(self, bench: Bench, first: Mapping[str, Entry]) -> Around:
        return Around(
            first=first,
            beside=self._beside(bench),
            patches={
                patch: since
                for patch in bench.patches
                for since in (self.spoken.at(self.benches[f"{bench.place.panel}/{patch}"].place),)
                if f"{bench.place.panel}/{patch}" in self.benches
            },
            edited=[
                entry
                for entry in self.spoken.on_panel(bench.place.panel)
                if entry.edited and entry.check.feature in {"panel", "all"}
            ],
            now=self.now,
            flake=self.advice.job.flake,
        )

    def _beside(self, bench: Bench) -> list[Entry]:
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
        on_patches = {
            each.number
            for each in self.primed
            if each.panel == bench.place.panel and each.feature in bench.patches
        }
        return [*beside, *(self.by_number[number] for number in sorted(on_patches))]

    def _panel_tasks(self, panel: str) -> tuple[list[g.GateHold], list[g.GateHold]]:
        """Judge cleaning and wiping; the first holds come before the panel's places, the last after."""
        early: list[g.GateHold] = []
        late: list[g.GateHold] = []
        for task in self.on_panel.get(panel, ()):
            if not task.owed:
                continue
            entries = self.spoken.of_whole(panel, STEP_OF[task.do]) if task.do in STEP_OF else []
            if task.do == "clean":
                entry, fact = panels.cleaned(entries)
                if fact is not None:
                    mend: g.MendFact = (
                        g.CheckClock() if isinstance(fact, g.DatedAhead) else g.DoIt((g.Ask("clean"),))
                    )
                    early.append(g.GateHold(panel, fact, mend))
            elif task.do == "wipe":
                hours = self.floor.shop.gate_hours
                entry, fact = panels.wiped(entries, self.spoken.on_panel(panel), hours, self.now)
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
        if bench.look is not None:
            self._state(bench.look, verdict.seen.entry, verdict.seen.fact)
            if verdict.seen.fact is None and verdict.seen.entry is not None:
                left = self.floor.shop.look_hours - verdict.seen.age
                self.ends.append(self.now + dt.timedelta(hours=left))

    def _state(self, task: Task, entry: Entry | None, fact: g.HoldFact | None) -> None:
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
        self.states[task.id] = (state, entry.name if entry is not None else None)

    def _wet_on(self, panel: str) -> None:
        """Hold what was seen wet on a whole panel: lines or a rub-through, until mended and seen again."""
        patches = {
            bench.place.feature: self.spoken.at(bench.place)
            for bench in self.of_panel.get(panel, ())
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

    def _not_decided(self, bench: Bench, holds: list[g.GateHold]) -> list[g.GateHold]:
        """Leave out holds of the plan that the lead decides and has decided, by an acceptance there."""
        place = bench.advice
        if not holds or place is None:
            return holds
        open_to_him = [hold for hold in holds if _lead_decides(hold, bench)]
        if not open_to_him:
            return holds
        rules = Rules(self.floor.shop.leads, self.advice.job.flake, bench.basis)
        grade = place.done.grade if bench.kind != "run-on" else None
        word, told = lead_word(bench.place.id, self.spoken.at(bench.place), rules, grade)
        self.told += told
        return [hold for hold in holds if hold not in open_to_him] if word is not None else holds

    def _should_be_planned(self, bench: Bench) -> bool:
        """Say whether a place without work is a mistake: all are worked before paint, but on held panels."""
        return self.stage == "paint" and bench.place.panel not in self.advice.work.unplanned

    def _planned_holds(self) -> dict[str, list[g.GateHold]]:
        """Return the advice's holds by place; a spot without a finish holds though the advice be silent."""
        found: dict[str, list[g.GateHold]] = {}
        for hold in self.advice.holds:
            place = "/".join(hold.spot.split("/")[:2]) or "job"
            found.setdefault(place, []).append(g.GateHold(place, g.PlanHolds(hold), g.AsPlanned(hold)))
        for spot in self.advice.spots:
            place = f"{spot.panel}/{spot.feature}"
            if spot.finish is None and place not in found:
                found[place] = [g.GateHold(place, g.NotPlanned(), g.CardAgain())]
        stated = {panel.id: with_lines(panel, self.floor.outlines) for panel in self.job.panel}
        for panel in stated.values():
            for feature in (*(line.id for line in panel.feature), *(patch.id for patch in panel.patch)):
                place = f"{panel.id}/{feature}"
                if place not in self.benches and place not in found:
                    found[place] = [g.GateHold(place, g.NotPlanned(), g.CardAgain())]
        return found

    def _work(self) -> Work:
        def stated(task: Task) -> Task:
            values: tuple[Any, ...] = (*_PLANNED(task), *self.states.get(task.id, ("open", None)))
            return Task(*values)

        return self.advice.work._replace(tasks=tuple(map(stated, self.advice.work.tasks)))


def _lead_decides(hold: g.GateHold, bench: Bench) -> bool:
    if not isinstance(hold.fact, g.PlanHolds):
        return False
    return isinstance(hold.fact.hold.fact, CannotCutOut) or bench.kind == "run-on"


_PLANNED = attrgetter(*Task._fields[:-2])
"""All that the plan says of a task; its state and entry, the last two, are the check-off's."""
