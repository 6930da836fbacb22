"""Clear for the next coat, or each hold with its mend: the log of a job against its plan of work."""

import datetime as dt
from collections.abc import Iterable
from typing import TYPE_CHECKING

from prepadvisor.cases import flake_numbers, with_lines
from prepadvisor.checkoff.accepting import strangers
from prepadvisor.checkoff.basis import job_signs
from prepadvisor.checkoff.bench import PanelScene
from prepadvisor.checkoff.kept_verdicts import KeptVerdicts
from prepadvisor.checkoff.panel_verdict import JudgedPanel, bases_of_looks, with_state
from prepadvisor.checkoff.remarks import Heard, remarks
from prepadvisor.checkoff.spoken import Spoken
from prepadvisor.checkoff.telling import primed_early
from prepadvisor.logbook import Entry, Logbook, primed, upto_other_job, utc
from prepadvisor.records import Advice, Job, NamedTuple, StageName, Work
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor


def gate(
    job: Job, advice: Advice, house: "ShopFloor", now: dt.datetime, kept: KeptVerdicts | None = None
) -> g.Gate:
    """Say whether a job is clear for what its stage ends in.

    It is clear only if every task that the plan owes in the stage that is worked now is done in its order and
    within its limits, nothing that a look found stands, and nothing in the advice holds. `done` in the job
    counts for nothing.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job, with its plan of work.
        house: the shop it is done in.
        now: the present time; with an offset, or taken as UTC.
        kept: verdicts on panels judged before; nothing without. It never changes the gate.
    """
    return _Judge(job, advice, house.on(job), utc(now)).gate(kept or KeptVerdicts())


class _Parted(NamedTuple):
    """Holds of the plan: those of places that are worked or looked at, by panel, and all others."""

    at_places: dict[str, list[tuple[str, tuple[g.GateHold, ...]]]]
    others: tuple[g.GateHold, ...]


class _Judge:
    """Everything of one judgement: the log read, each panel judged, what it comes to together."""

    def __init__(self, job: Job, advice: Advice, floor: "ShopFloor", now: dt.datetime) -> None:
        self.job, self.advice, self.floor, self.now = job, advice, floor, now
        work = advice.work
        self.stage: StageName = work.stages[0].id if work.stages else "paint"
        self.book = Logbook.read(job.check, now, floor.shop.leads)
        self.told: list[g.CheckRemark] = []
        standing = self._of_this_job()
        numbers = {entry.number for entry in standing}
        self.primed = tuple(each for each in primed(job.check, job.job.number) if each.number in numbers)
        self.entries: dict[str, list[Entry]] = {}
        for entry in standing:
            self.entries.setdefault(entry.check.panel, []).append(entry)

    def gate(self, kept: KeptVerdicts) -> g.Gate:
        """Judge every panel, what the log says of none, and all together."""
        parts = kept.by_panel(self.advice, self.stage)
        planned = self._planned(parts.names, parts.unfinished)
        signs = job_signs(self.job, self.advice)
        grain = flake_numbers(self.floor.constants, self.floor.judged(self.job.colour))
        advised = {panel.id: panel for panel in self.advice.panels}
        verdicts: dict[str, JudgedPanel] = {}
        for panel in self.job.panel:
            scene = PanelScene(
                panel=panel,
                advice=advised.get(panel.id),
                places=parts.places.get(panel.id, ()),
                spots=parts.spots.get(panel.id, ()),
                stage=self.stage,
                tasks=parts.tasks.get(panel.id, ()),
                is_held=panel.id in self.advice.work.unplanned,
                planned=tuple(planned.at_places.get(panel.id, ())),
                signs=signs,
                flake=self.advice.job.flake,
                floor=self.floor,
                grain=grain,
                entries=tuple(self.entries.get(panel.id, ())),
                primed=tuple(each for each in self.primed if each.panel == panel.id),
            )
            verdicts[panel.id] = kept.verdict(scene, self.now)
        kept.forget_all_but(verdicts)
        for verdict in verdicts.values():
            self.told += verdict.told
        late = self._of_the_log(verdicts)
        panels = (hold for verdict in verdicts.values() for hold in verdict.holds)  # no two of one place
        holds = (*planned.others, *panels, *dict.fromkeys(late))
        ends = (end for verdict in verdicts.values() for end in verdict.ends)
        clear = not holds and any(task.owed for some in parts.tasks.values() for task in some)
        return g.Gate(
            clear=clear,
            stage=self.stage,
            holds=holds,
            found=tuple(found for verdict in verdicts.values() for found in verdict.found),
            told=tuple(dict.fromkeys((*self.told, *self.book.remarks))),
            work=self._work(verdicts.values()),
            expires=min(ends, default=None) if clear else None,
            said=self.job.check,
            drills={place: drill for verdict in verdicts.values() for place, drill in verdict.drills.items()},
        )

    def _of_this_job(self) -> tuple[Entry, ...]:
        """Leave out what was logged in a job of another number: the log starts over after it."""
        standing = self.book.standing
        upto = upto_other_job(standing, self.job.job.number)
        if not upto:
            return standing
        self.told.append(g.OtherJob(upto))
        return tuple(entry for entry in standing if entry.number > upto)

    def _of_the_log(self, verdicts: dict[str, JudgedPanel]) -> list[g.GateHold]:
        """Return what holds of entries for no place of the job and of early primer; tell of the log."""
        rest = [entry for panel, some in self.entries.items() if panel not in verdicts for entry in some]
        spoken = [*(verdict.spoken for verdict in verdicts.values()), Spoken(rest, {})]
        strange = _in_order_of_the_file(spoken)
        places = {name: place for each in spoken for name, place in each.places.items()} if strange else {}
        holds, told = strangers(strange, places, self.floor.shop.leads)
        self.told += told
        taken = frozenset[int]().union(*(verdict.accepted for verdict in verdicts.values()))
        early_primer, told = primed_early(self.job, self.primed, self.floor, taken, gate)
        self.told += told
        bases = [each for verdict in verdicts.values() for each in verdict.bases]
        heard = Heard(
            job=self.job,
            advice=self.advice,
            floor=self.floor,
            verdicts=tuple(verdicts.values()),
            bases=sorted((*bases, *bases_of_looks(rest)), key=lambda each: each[0]),
            nowhere=sorted(
                (entry for each in spoken for entry in each.nowhere), key=lambda each: each.number
            ),
            now=self.now,
        )
        self.told += remarks(heard)
        return [*holds, *early_primer]

    def _planned(self, names: frozenset[str], unfinished: Iterable[str]) -> _Parted:
        """Part the advice's holds by place; a spot without a finish holds though the advice be silent.

        Args:
            names: places that are worked or looked at.
            unfinished: places of the spots without a finish.
        """
        found: dict[str, list[g.GateHold]] = {}
        for hold in self.advice.holds:
            place = "/".join(hold.spot.split("/")[:2]) or "job"
            found.setdefault(place, []).append(g.GateHold(place, g.PlanHolds(hold), g.AsPlanned(hold)))
        for place in unfinished:
            if place not in found:
                found[place] = [g.GateHold(place, g.NotPlanned(), g.CardAgain())]
        for panel in self.job.panel:
            stated = with_lines(panel, self.floor.outlines)
            for feature in (*(line.id for line in stated.feature), *(patch.id for patch in stated.patch)):
                place = f"{panel.id}/{feature}"
                if place not in names and place not in found:
                    found[place] = [g.GateHold(place, g.NotPlanned(), g.CardAgain())]
        at_places: dict[str, list[tuple[str, tuple[g.GateHold, ...]]]] = {}
        others: list[g.GateHold] = []
        for place, holds in found.items():
            if place in names:
                at_places.setdefault(place.partition("/")[0], []).append((place, tuple(holds)))
            else:
                others += holds
        return _Parted(at_places, tuple(dict.fromkeys(others)))

    def _work(self, verdicts: Iterable[JudgedPanel]) -> Work:
        stated = {name: task for verdict in verdicts for name, task in verdict.tasks.items()}
        work = self.advice.work
        return work._replace(tasks=tuple(stated.get(task.id) or with_state(task) for task in work.tasks))


def _in_order_of_the_file(spoken: Iterable[Spoken]) -> dict[str, list[Entry]]:
    """Join entries for what is not in the job, by what they name."""
    found: dict[str, list[Entry]] = {}
    for each in spoken:
        for where, entries in each.strange.items():
            found[where] = sorted((*found.get(where, ()), *entries), key=lambda entry: entry.number)
    return dict(sorted(found.items(), key=lambda named: named[1][0].number))
