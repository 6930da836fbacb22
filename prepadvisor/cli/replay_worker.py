"""One worker of a replay: reads job files and counts what a draft changes in them, some at a time."""

import gc
import signal
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from prepadvisor.planning.replay import Tally, difference

if TYPE_CHECKING:
    from prepadvisor.records.job import Job

Houses = tuple[tuple[str, ...], tuple[str, ...]]
"""The house folders in force, none for the shipped standards alone, and the draft's; lowest layer first."""


@dataclass
class Counted:
    """The sum of some files.

    How many, the tally of those that could be read, and why the others could not.
    """

    files: int = 0
    tally: Tally = field(default_factory=Tally)
    unreadable: list[tuple[str, str]] = field(default_factory=list)


class Worker:
    """Counts job files under two houses. The houses are read once."""

    def __init__(self, houses: Houses) -> None:
        """Read both houses.

        Raises:
            BadInputError: for a house folder with faults.
        """
        from prepadvisor.files import load_house
        from prepadvisor.planning.same_answers import BothWays

        self._before = load_house(*houses[0])
        self._after = load_house(*houses[1])
        self._both = BothWays(self._before, self._after)

    def count(self, files: Sequence[str]) -> Counted:
        """Count some files; jobs of one colour follow one another, as a colour's plans share much."""
        counted = Counted(files=len(files))
        for name, job, after in sorted(self._jobs(files, counted), key=_by_colour):
            counted.tally.add(name, difference(*self._both.advise(job, after)))
        gc.collect()
        return counted

    def _jobs(self, files: Sequence[str], counted: Counted) -> Iterator["_Read"]:
        from prepadvisor.files import load_job
        from prepadvisor.records.fault import BadInputError

        redrawn = self._before.outlines != self._after.outlines
        for name in files:
            try:
                job = load_job(name, self._before)
                after = load_job(name, self._after) if redrawn else None
            except BadInputError as error:
                counted.unreadable.append((name, str(error.faults[0])))
                continue
            yield name, job, after


_Read = tuple[str, "Job", "Job | None"]


def _by_colour(read: _Read) -> str:
    colour = read[1].colour
    return f"{colour.flake} {colour.stages} {colour.tone} {colour.flake_um} {colour.tilt_deg} {colour.log_sd}"


_worker: Worker | None = None


def start(houses: Houses) -> None:
    """Make this process a worker. Leaves stopping to the process that started it."""
    global _worker  # one worker a process
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _worker = Worker(houses)
    gc.freeze()
    gc.disable()  # once a chunk is often enough, and a quarter faster


def count(files: Sequence[str]) -> Counted:
    """Count some files in this worker process."""
    if _worker is None:
        raise RuntimeError("start the worker first")
    return _worker.count(files)
