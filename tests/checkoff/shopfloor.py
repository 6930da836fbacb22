"""A job worked to the end by its own plan, and what is done to it afterwards."""

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from prepadvisor.checkoff import Wanted, gate, log_entries, recuts
from prepadvisor.logbook import Writer
from prepadvisor.planning import advise
from prepadvisor.records import Advice, Check, Job, Panel
from prepadvisor.records.gate import Gate
from prepadvisor.standards import House
from prepadvisor.wording import Words, mend_says, remark_says
from prepadvisor.wording.gate import gate_why

START = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)
DOOR = "left-front-door"


class Said(NamedTuple):
    """What a gate says, in words."""

    gate: Gate
    advice: Advice

    @property
    def clear(self) -> bool:
        """Whether nothing holds."""
        return self.gate.clear

    @property
    def held(self) -> set[str]:
        """The places that hold."""
        return {hold.place for hold in self.gate.holds}

    def why(self, place: str) -> str:
        """Return why a place holds."""
        words = Words(self.advice)
        return " | ".join(gate_why(hold.fact, words) for hold in self.gate.holds if hold.place == place)

    def mend(self, place: str) -> str:
        """Return how a place is mended."""
        words = Words(self.advice)
        return " | ".join(mend_says(hold.mend, words) for hold in self.gate.holds if hold.place == place)

    def kinds(self, place: str) -> list[str]:
        """Return the kinds of what holds a place."""
        return [hold.fact.kind for hold in self.gate.holds if hold.place == place]

    @property
    def told(self) -> str:
        """Everything that is told."""
        return "\n".join(remark_says(each, Words(self.advice)) for each in self.gate.told)

    def states(self, place: str) -> dict[str, str]:
        """Return the state of each task of a place, by what it does and its count."""
        return {
            task.id.removeprefix(f"{place}."): task.state
            for task in self.gate.work.tasks
            if task.place == place
        }


class Shopfloor:
    """A job with its log, its writer and its house. Each minute of its clock one entry is logged."""

    def __init__(self, job: Job, house: House, by: str = "K. M.", writer: Writer | None = None) -> None:
        """Begin with a job as it is."""
        self.job = job
        self.house = house
        self.by = by
        self.writer = writer or Writer(f"w{len(job.check)}")
        self.now = max((check.at for check in job.check), default=START)
        self._advised: tuple[object, ...] = ()
        self._advice: Advice | None = None

    def copy(self) -> "Shopfloor":
        """Return one that goes on from here by itself, with another writer."""
        other = Shopfloor(self.job, self.house, self.by, Writer(f"{self.writer.token}x"))
        other.now = self.now
        return other

    @property
    def log(self) -> tuple[Check, ...]:
        """The entries."""
        return self.job.check

    @property
    def advice(self) -> Advice:
        """The advice for the job as it is; its log counts only by what is primed."""
        primed = tuple(check for check in self.log if check.step in {"primed", "struck"})
        asked = (self.job.job, self.job.colour, self.job.panel, primed)
        if self._advice is None or any(
            one is not other for one, other in zip(asked[:3], self._advised, strict=False)
        ):
            self._advice = None
        if self._advice is None or self._advised[3] != primed:
            self._advice, self._advised = advise(self.job, self.house), asked
        return self._advice

    def put(self, where: str, step: str, **stated: object) -> "Shopfloor":
        """Log one thing a minute later, as the command does."""
        self.now += dt.timedelta(minutes=1)
        wanted = Wanted(where, step, **{"by": self.by, **stated})  # type: ignore[arg-type]
        for check in log_entries(self.job, self.advice, wanted, self.now, self.house):
            self.add(self.writer.stamp(check, self.log))
        return self

    def add(self, *checks: Check) -> "Shopfloor":
        """Add entries as they are."""
        self.job = self.job.model_copy(update={"check": (*self.log, *checks)})
        return self

    def run(self, commands: Iterable[Sequence[str]]) -> "Shopfloor":
        """Log what commands of a plan say, such as ("p/E1", "scuffed", "--tool", "hand-pad")."""
        for where, step, *rest in commands:
            self.put(
                where, step, **{key[2:]: value for key, value in zip(rest[::2], rest[1::2], strict=True)}
            )
        return self

    def work_through(self) -> "Shopfloor":
        """Log all work of the stage as the plan has it."""
        return self.run(commands(self.advice))

    def with_log(self, log: Iterable[Check]) -> "Shopfloor":
        """Put another log in the place of this one."""
        self.job = self.job.model_copy(update={"check": tuple(log)})
        return self

    def with_job(self, **parts: object) -> "Shopfloor":
        """Change parts of the job's head or colour: number, name, flake and so on."""
        head = {key: value for key, value in parts.items() if key in {"number", "vehicle"}}
        colour = {key: value for key, value in parts.items() if key not in head}
        self.job = self.job.model_copy(
            update={
                "job": self.job.job.model_copy(update=head),
                "colour": self.job.colour.model_copy(update=colour),
            }
        )
        return self

    def with_panel(self, panel: str = DOOR, **parts: object) -> "Shopfloor":
        """Change parts of a panel; what is not valid is refused as in a file."""
        panels = tuple(
            Panel.model_validate({**each.model_dump(), **parts}) if each.id == panel else each
            for each in self.job.panel
        )
        self.job = self.job.model_copy(update={"panel": panels})
        return self

    def with_line(self, line: str, panel: str = DOOR, **parts: object) -> "Shopfloor":
        """Change parts of a line."""
        own = next(each for each in self.job.panel if each.id == panel)
        lines = [{**each.model_dump(), **(parts if each.id == line else {})} for each in own.feature]
        return self.with_panel(panel, feature=lines)

    def without_line(self, line: str, panel: str = DOOR) -> "Shopfloor":
        """Take a line out of the job."""
        own = next(each for each in self.job.panel if each.id == panel)
        return self.with_panel(panel, feature=[each.model_dump() for each in own.feature if each.id != line])

    def gate(self, later: dt.timedelta = dt.timedelta(minutes=5)) -> Said:
        """Judge the job a while after its last entry."""
        advice = self.advice
        return Said(
            gate(self.job, recuts(self.job, advice, self.house), self.house, self.now + later), advice
        )


def commands(advice: Advice) -> list[tuple[str, ...]]:
    """Return what to log in the stage that is worked, in the order of the plan."""
    stage = advice.work.stages[0].id
    steps = sorted(advice.work.steps, key=lambda step: step.n)
    return [args for step in steps if step.stage == stage for args in step.log]


def logged_anew(log: Iterable[Check]) -> list[Check]:
    """Return entries as one writer would have logged them in this order."""
    writer, found = Writer("n"), list[Check]()
    for minute, check in enumerate(log):
        at = START + dt.timedelta(minutes=minute)
        found.append(writer.stamp(check.model_copy(update={"id": "", "knew": "", "at": at}), found))
    return found


def by_hand(log: Iterable[Check], *, basis: bool = True) -> list[Check]:
    """Return a log as a person would write it: without ids."""
    gone = {"id": "", "knew": "", **({} if basis else {"basis": ""})}
    return [check.model_copy(update=gone) for check in log]
