"""How each thing that holds is mended, as facts, and the film that passes beyond the plan have taken."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import may_stay
from prepadvisor.checkoff.bench import Bench, admits
from prepadvisor.checkoff.spoken import STEP_OF
from prepadvisor.named import NamedTuple
from prepadvisor.planning.work.drills import DrillGround, ask, drill, last_pass
from prepadvisor.records import DS50_UM, RANK, Flake, PanelAdvice, Spot, Task, Tool, is_finer
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor
    from prepadvisor.checkoff.replay import Replay
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Grade

# Film as a ledger: what the plan takes off a place plus every pass that was logged beyond it.
#
# The first pass of each task takes what the plan says. Each further pass takes off the depth of the
# scratches that it finds, those of the pass before it. Once that is more than may come off, or leaves less
# than must stay, nothing more is cut there until the lead has said so. It never changes what is planned.


class Ledger(NamedTuple):
    """What comes off a place.

    Attributes:
        off_um: planned and logged together.
        off_max_um: the most that may, None where film is not counted.
        over: the pass that went over it, None where none did.
        passes: cuts logged beyond the plan.
    """

    off_um: float
    off_max_um: float | None
    over: "Entry | None"
    passes: int

    def has_room(self, more_um: float) -> bool:
        """Say whether one more pass may be cut."""
        return self.off_max_um is None or self.off_um + more_um <= self.off_max_um + 1e-9


def budget(spots: Sequence[Spot], panel: PanelAdvice | None) -> float | None:
    """Return the most film in µm that may come off a place: the rules', or what the lowest reading leaves."""
    limits = [limit for spot in spots if (limit := _lowest(spot, "film_off_max_um")) is not None]
    if not limits:
        return None
    most = min(limits)
    least = [left for spot in spots if (left := _highest(spot, "film_left_min_um")) is not None]
    reading = panel.film.reading_um if panel is not None else None
    if reading is not None and least:
        most = min(most, reading - max(least))
    return most


def ledger(
    entries: Sequence["Entry"], chain: Sequence[Task], off_max_um: float | None, floor: "ShopFloor"
) -> Ledger:
    """Add up what comes off a place.

    Args:
        entries: what was logged there, in the order of the file.
        chain: the tasks of the place.
        off_max_um: the most that may come off.
        floor: the shop, for the depth of its tools' scratches.
    """
    counted = off_max_um is not None and any(task.film_off_um is not None for task in chain)
    total = sum(task.film_off_um or 0.0 for task in chain)
    if not counted:
        return Ledger(total, None, None, 0)
    used: set[str] = set()
    before: Entry | None = None
    over: Entry | None = None
    passes = 0
    for entry in entries:
        if entry.check.step not in {"scuffed", "sanded"}:
            continue
        own = [task for task in chain if STEP_OF.get(task.do) == entry.check.step]
        task = next((each for each in own if each.id not in used and admits(each, entry.check.grade)), None)
        if task is not None:
            used.add(task.id)
        elif before is not None:
            total += depth_um(before, floor)
            passes += 1
            if over is None and off_max_um is not None and total > off_max_um + 1e-9:
                over = entry
        before = entry
    return Ledger(total, off_max_um, over, passes)


def depth_um(entry: "Entry", floor: "ShopFloor") -> float:
    """Return the depth in µm of the scratches that a logged cut left; what is not recorded counts as none."""
    check = entry.check
    if check.tool is None or check.grade is None:
        return 0.0
    return floor.constants.groove.depth_per_grain[check.tool].value * DS50_UM[check.grade]


def _values(spot: Spot, output: str) -> list[float]:
    return [
        float(each.value)
        for each in spot.because
        if each.output == output and isinstance(each.value, int | float)
    ]


def _lowest(spot: Spot, output: str) -> float | None:
    return min(_values(spot, output), default=None)


def _highest(spot: Spot, output: str) -> float | None:
    return max(_values(spot, output), default=None)


class Mender:
    """Mends at one place.

    Args:
        bench: the place.
        replay: its work as the log leaves it.
        ledger: its film.
        flake: the flake as judged.
    """

    def __init__(self, bench: Bench, replay: "Replay", ledger: Ledger, flake: Flake) -> None:
        """Keep what mends depend on."""
        self.bench = bench
        self.replay = replay
        self.ledger = ledger
        self.flake = flake

    def of_task(self, task: Task, fact: g.HoldFact) -> g.MendFact:
        """Return the mend of work that does not count."""
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
                return g.DoIt(self._from(task), self._minutes(task), look=True, lead=True)
            case g.NotAsked():
                return g.DoIt(self._from(task), self._minutes(task), look=True)
            case _:
                return g.DoIt((ask(task),))

    def of_look(self, fact: g.HoldFact, entries: Sequence["Entry"]) -> g.MendFact:
        """Return the mend of a look that does not count or found something."""
        match fact:
            case g.SawSomething() | g.RubbedThrough() if fact.said.check.step == "seen-wet":
                rubbed = isinstance(fact, g.RubbedThrough)
                return g.WetDrill("cut-through" if rubbed else "lines", last_pass(self.bench.chain))
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
                return g.DoIt(self._from(spoken[0]), look=True) if spoken else g.LookAgain()
            case _:
                return g.LookAgain()

    def _ground(self, entries: Sequence["Entry"]) -> DrillGround:
        last = next((each for each in reversed(entries) if each.check.step in {"scuffed", "sanded"}), None)
        more = depth_um(last, self.bench.ground.floor) if last is not None else 0.0
        return DrillGround(
            chain=self.bench.chain,
            surface=self.bench.surface,
            zones=self.bench.zones,
            flake=self.flake,
            shelf=self.bench.ground.floor.shop.shelf,
            room=self.ledger.has_room(more),
            last_grade=last.check.grade if last is not None else None,
        )

    def _from(self, task: Task, *, with_before: bool = False) -> tuple[g.Ask, ...]:
        """Return a task and what must follow it at its place, what it must follow and lacks first."""
        chain = self.bench.chain
        start = chain.index(task) if task in chain else 0
        before = [
            each
            for each in chain[:start]
            if with_before and each.id in task.after and each.id not in self.replay.done
        ]
        return tuple(map(ask, (*before, *chain[start:])))

    def _minutes(self, task: Task) -> float:
        chain = self.bench.chain
        return sum(each.minutes for each in chain[chain.index(task) :]) if task in chain else 0.0

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
