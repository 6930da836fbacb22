"""How each thing that holds is mended, as facts; no mend cuts more film than may come off."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, assert_never

from prepadvisor.cases import may_stay
from prepadvisor.checkoff.bench import Bench
from prepadvisor.planning.work.drills import DrillGround, DrillShop, ask, drill, drills_of, last_pass
from prepadvisor.planning.work.film import Ledger, once_planned, overrun
from prepadvisor.records import DS50_UM, RANK, Drill, Flake, Look, Task, Tool, is_finer
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.replay import Replay
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Grade


class Mender:
    """Mends at one place. Where one would cut more film than may come off, the lead decides beforehand.

    Args:
        bench: the place.
        replay: its work as the log leaves it.
        ledger: its film, None where the lead has accepted what came off.
        flake: the flake as judged.
        too_fine: whether the pass that took too much film is too fine as well, which nobody may accept.
    """

    def __init__(
        self, bench: Bench, replay: "Replay", ledger: Ledger | None, flake: Flake, *, too_fine: bool = False
    ) -> None:
        """Keep what mends depend on."""
        self._too_fine = too_fine
        self.bench = bench
        self.replay = replay
        self.ledger = ledger
        self.flake = flake

    def of_task(self, task: Task, fact: g.HoldFact) -> g.MendFact:
        """Return the mend of work that does not count."""
        return self._within_film(self._of_task(task, fact))

    def of_film(self, fact: g.FilmSpent) -> g.LeadDecides:
        """Return what is left where the film is spent."""
        return g.LeadDecides(may_accept=not self._too_fine and self._may_accept(fact.said.check.grade))

    def _of_task(self, task: Task, fact: g.HoldFact) -> g.MendFact:
        match fact:
            case g.DatedAhead():
                return g.CheckClock()
            case g.TooEarly():
                clean = (g.Ask("clean"),) if fact.do == "clean" and fact.before is None else ()
                return g.DoIt((*clean, *self._from(task, with_before=True)), self._minutes(task))
            case g.CutTooCoarse():
                return self._recut(task, fact)
            case g.StillCoarse():
                return self._climb(task, fact.coarse)
            case g.CutTooFine():
                return g.DoIt(self._from(task), self._minutes(task), look=True)
            case g.ShowsLines() | g.NotRecorded() | g.WrongTool():
                lead = self._may_accept(fact.said.check.grade)
                return g.DoIt(self._from(task), self._minutes(task), look=True, lead=lead)
            case g.NotAsked():
                return g.DoIt(self._from(task), self._minutes(task), look=True)
            case (
                g.NotDone() | g.Unordered() | g.ByHand() | g.WipedBefore() | g.WipeOld() | g.PrimedEarly()
                | g.NotLooked() | g.LookedBefore() | g.NoResult() | g.SawSomething() | g.RubbedThrough()
                | g.BasisMoved() | g.LookOld() | g.LeftTheJob() | g.NotPlanned() | g.PlanHolds()
                | g.FilmSpent()
            ):  # fmt: skip
                return g.DoIt((ask(task),))
            case _:
                assert_never(fact)

    def of_look(self, fact: g.HoldFact, entries: Sequence["Entry"]) -> g.MendFact:
        """Return the mend of a look that does not count or found something."""
        match fact:
            case g.SawSomething() | g.RubbedThrough() if fact.said.check.step == "seen-wet":
                rubbed, asks = isinstance(fact, g.RubbedThrough), last_pass(self.bench.chain)
                if not rubbed and (short := self._short(asks)):
                    return g.LeadDecides(self._may_accept(self._last_grade(entries)), short)
                return g.WetDrill("cut-through" if rubbed else "lines", asks)
            case g.SawSomething():
                return drill(fact.result, self._ground(entries), fact.times)
            case g.RubbedThrough():
                return drill("cut-through", self._ground(entries))
            case g.DatedAhead():
                return g.CheckClock()
            case g.LookOld():
                return g.LookAgain(renew=True)
            case g.ByHand():
                own = [task for task in self.bench.chain if self.replay.entry(task) is not None]
                spoken = [
                    task
                    for task in own
                    if (entry := self.replay.entry(task)) is not None and entry.number == fact.said.number
                ]
                edited = g.DoIt(self._from(spoken[0]), look=True) if spoken else g.LookAgain()
                return self._within_film(edited)
            case (
                g.NotLooked() | g.LookedBefore() | g.NoResult() | g.BasisMoved() | g.TooEarly()
                | g.Unordered() | g.NotDone() | g.NotRecorded() | g.WrongTool() | g.NotAsked()
                | g.CutTooCoarse() | g.CutTooFine() | g.StillCoarse() | g.ShowsLines() | g.WipedBefore()
                | g.WipeOld() | g.LeftTheJob() | g.NotPlanned() | g.PlanHolds() | g.FilmSpent()
                | g.PrimedEarly()
            ):  # fmt: skip
                return g.LookAgain()
            case _:
                assert_never(fact)

    def drills(self) -> dict[Look, Drill | g.LeadDecides]:
        """Return what a look there will ask for, with the film that the log leaves; none of a ring."""
        place, floor = self.bench.advice, self.bench.ground.floor
        if place is None:
            return {}
        shop = DrillShop(self.flake, floor.shop.shelf, floor.constants)
        full = self.ledger and once_planned(self.ledger, self.bench.chain, floor.constants)
        return drills_of(place, self.bench.chain, self.bench.zones, full, shop)

    def _ground(self, entries: Sequence["Entry"]) -> DrillGround:
        return DrillGround(
            chain=self.bench.chain,
            surface=self.bench.surface,
            zones=self.bench.zones,
            flake=self.flake,
            shelf=self.bench.ground.floor.shop.shelf,
            short=self._short,
            last_grade=self._last_grade(entries),
        )

    def _last_grade(self, entries: Sequence["Entry"]) -> "Grade | None":
        cuts = (each.check.grade for each in reversed(entries) if each.check.step in {"scuffed", "sanded"})
        return next(cuts, None)

    def _within_film(self, mend: g.MendFact) -> g.MendFact:
        """Return a mend as it is where film is left for it, else what is left to do."""
        if not isinstance(mend, g.DoIt):
            return mend
        short = self._short(mend.asks)
        return mend if short is None else g.LeadDecides(may_accept=mend.lead, film=short)

    def _short(self, asks: Sequence[g.Ask]) -> g.FilmShort | None:
        """Return what passes would take off where that is more than may come off, None where it is not."""
        if self.ledger is None:
            return None
        gone = overrun(self.ledger, asks, self.bench.chain, self.bench.ground.floor.constants)
        if gone is None:
            return None
        follow = not self._too_fine and self._may_accept(gone.grade)
        return g.FilmShort(tuple(asks), gone.off_um, gone.off_max_um, follow)

    def _from(self, task: Task, *, with_before: bool = False) -> tuple[g.Ask, ...]:
        """Return a task and what must follow it at its place, what it must follow and lacks first."""
        chain = self.bench.chain
        start = chain.index(task)
        before = [
            each
            for each in chain[:start]
            if with_before and each.id in task.after and each.id not in self.replay.done
        ]
        return tuple(map(ask, (*before, *chain[start:])))

    def _minutes(self, task: Task) -> float:
        chain = self.bench.chain
        return sum(each.minutes for each in chain[chain.index(task) :])

    def _recut(self, task: Task, fact: g.CutTooCoarse) -> g.MendFact:
        done, used = self.bench.recut, fact.said.check
        fits = done is not None and (done.tool, done.grade) == (used.tool, used.grade)
        if done is not None and fits and done.verdict == "too-coarse" and done.recut is None:
            return g.LeadDecides(may_accept=self._may_accept(used.grade))
        if done is not None and fits and done.recut:
            steps: list[g.Ask] = []
            for step in done.recut[:-1]:
                steps += [g.Ask("powder")] * step.guide_coat
                steps.append(
                    g.Ask(
                        "sand" if task.do == "sand" or "hand" not in step.tool else "scuff",
                        step.tool,
                        step.grade,
                    )
                )
            minutes = sum(step.minutes for step in done.recut[:-1]) + self._minutes(task)
            return g.DoIt((*steps, *self._from(task)), minutes, True, self._may_accept(used.grade))
        return self._climb(task, fact.said)

    def _climb(self, task: Task, coarse: g.Said) -> g.MendFact:
        """Return passes from a coarse cut to the task, none farther from the last than allowed."""
        grade = coarse.check.grade
        steps = (
            _steps(grade, task, self.bench.ground.floor.shop.shelf, self.bench.ground.ratio) if grade else ()
        )
        if steps is None:
            return g.LeadDecides(may_accept=self._may_accept(grade))
        tool: Tool | None = task.tool
        asks = tuple(g.Ask(task.do, tool, each) for each in steps)
        return g.DoIt((*asks, *self._from(task)), self._minutes(task), True, self._may_accept(grade))

    def _may_accept(self, grade: "Grade | None") -> bool:
        return may_stay(self.flake, grade)


def _steps(grade: "Grade", task: Task, shelf: Sequence["Grade"], ratio: float) -> tuple["Grade", ...] | None:
    """Return the grades between a coarse cut and the task's; None where the shelf has no way."""
    if task.grade is None:
        return ()
    found: list[Grade] = []
    now = grade
    while DS50_UM[task.grade] < ratio * DS50_UM[now] - 1e-9:
        near = [
            each for each in shelf if is_finer(each, now) and DS50_UM[each] >= ratio * DS50_UM[now] - 1e-9
        ]
        near = [each for each in near if is_finer(task.grade, each)]
        if not near:
            return None
        now = max(near, key=RANK.__getitem__)
        found.append(now)
    return tuple(found)
