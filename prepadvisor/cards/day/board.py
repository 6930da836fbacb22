"""One line a job, sorted by what waits, and the sums of a day: wet bed, discs, powder, minutes."""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Literal

from prepadvisor.checkoff import gate
from prepadvisor.named import NamedTuple
from prepadvisor.planning import advise
from prepadvisor.records.advice import Advice
from prepadvisor.records.fault import BadInputError
from prepadvisor.records.gate import Gate
from prepadvisor.records.job import Job
from prepadvisor.records.work import StageName
from prepadvisor.standards.house import House
from prepadvisor.surface.grades import RANK, Grade
from prepadvisor.wording.gate_mends import mend_says
from prepadvisor.wording.names import Words


class DayJob(NamedTuple):
    """One job of the day.

    Attributes:
        path: its file.
        number: its number, empty where the file cannot be read.
        vehicle: the car.
        colour: the colour's name.
        clear: whether its gate is open.
        stage: "primer" or "paint": what is worked now; empty where the file cannot be read.
        next: the next thing to do in words, empty where nothing is.
        by: initials of the last entry, empty without one.
        age_h: hours since the last entry, null without one.
        mix_ml: wet bed to mix, as on its card.
        minutes: minutes of all its stages, as on its card.
        error: what is wrong with the file, empty where nothing is.
        held: whether the plan itself holds something, so that the card has a STOP.
        powder: how often powder goes on.
        discs: discs by grade, as on its card.
        imperial: whether its card is in US customary units.
    """

    path: str
    number: str = ""
    vehicle: str = ""
    colour: str = ""
    clear: bool = False
    stage: StageName | Literal[""] = ""
    next: str = ""
    by: str = ""
    age_h: float | None = None
    mix_ml: int = 0
    minutes: float = 0.0
    error: str = ""
    held: bool = False
    powder: int = 0
    discs: tuple[tuple[Grade, int], ...] = ()
    imperial: bool = False


class DaySums(NamedTuple):
    """What the day needs: the sums of its cards."""

    mix_ml: int
    minutes: float
    powder: int
    discs: dict[Grade, int]


class Day(NamedTuple):
    """All jobs of a folder, what waits longest first, and the sums."""

    jobs: tuple[DayJob, ...]
    sums: DaySums

    @property
    def exit_status(self) -> int:
        """2 where a file cannot be read, 1 where a gate is shut, else 0."""
        return 2 if any(job.error for job in self.jobs) else 0 if all(job.clear for job in self.jobs) else 1


Load = Callable[[Path], Job]
"""Reads a job file; raises BadInputError with every fault of it."""


def day_of(paths: Iterable[Path], load: Load, house: House, now: dt.datetime) -> Day:
    """Return the day of some job files. A file with faults is a line of its own and stops no other.

    Args:
        paths: the job files.
        load: reads one.
        house: the standards they are judged by.
        now: the present time, with its zone.
    """
    return day_of_lines(job_line(path, load, house, now) for path in paths)


def day_of_lines(lines: Iterable[DayJob]) -> Day:
    """Return the day of some lines: sorted by what waits, with their sums."""
    jobs = sorted(lines, key=_waiting)
    discs: Counter[Grade] = Counter()
    for job in jobs:
        discs.update(dict(job.discs))
    return Day(
        tuple(jobs),
        DaySums(
            sum(job.mix_ml for job in jobs),
            sum(job.minutes for job in jobs),
            sum(job.powder for job in jobs),
            {grade: discs[grade] for grade in sorted(discs, key=RANK.__getitem__)},
        ),
    )


def job_line(path: Path, load: Load, house: House, now: dt.datetime) -> DayJob:
    """Return the line of one job file."""
    try:
        job = load(path)
    except BadInputError as error:
        first = error.faults[0]
        more = f" (and {len(error.faults) - 1} more)" if len(error.faults) > 1 else ""
        return DayJob(str(path), error=f"{first}{more}")
    except OSError as error:
        return DayJob(str(path), error=f"{path}: {error.strerror or error}")
    advice = advise(job, house, seek_offers=False)
    return _line(path, job, advice, gate(job, advice, house, now), now)


def _line(path: Path, job: Job, advice: Advice, shown: Gate, now: dt.datetime) -> DayJob:
    last = max(job.check, key=lambda check: _utc(check.at), default=None)
    return DayJob(
        path=str(path),
        number=job.job.number,
        vehicle=job.job.vehicle,
        colour=job.colour.name,
        clear=shown.clear,
        stage=shown.stage,
        next=_next(advice, shown),
        by=last.by if last else "",
        age_h=round((_utc(now) - _utc(last.at)).total_seconds() / 3600, 2) if last else None,
        mix_ml=advice.mix_ml,
        minutes=advice.minutes,
        held=bool(advice.holds),
        powder=sum(task.do == "powder" and task.owed for task in advice.work.tasks),
        discs=tuple(advice.discs.items()),
        imperial=job.job.units == "imperial",
    )


def _next(advice: Advice, shown: Gate) -> str:
    """Return what is to be done first, where, in the words of the gate."""
    if not shown.holds:
        return ""
    words, hold = Words(advice), shown.holds[0]
    return f"{words.where(hold.place)}: {mend_says(hold.mend, words)}"


def _waiting(job: DayJob) -> tuple[int, float, str]:
    """Sort what needs a person first: what is found or held, then what waits longest, then what is clear."""
    rank = 0 if job.error else 1 if job.held else 3 if job.clear else 2
    return rank, -(job.age_h if job.age_h is not None else -1.0), job.path


def _utc(at: dt.datetime) -> dt.datetime:
    return at if at.tzinfo else at.replace(tzinfo=dt.UTC)
