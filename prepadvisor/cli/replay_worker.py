"""One worker of a replay: reads job files and counts what a draft changes in them, some at a time."""

import gc
import signal
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from prepadvisor.cli.replay_rows import ReplayRow, rows_of
from prepadvisor.planning.replay import difference
from prepadvisor.planning.replay_tally import Tally

if TYPE_CHECKING:
    from prepadvisor.records.job import Job
    from prepadvisor.standards.data_changes import DataChange

Houses = tuple[tuple[str, ...], tuple[str, ...]]
"""The house folders in force, none for the shipped standards alone, and the draft's; lowest layer first."""


@dataclass
class Counted:
    """The sum of some files.

    How many, the tally of those that could be read, why the others could not, and the rows where asked for.
    """

    files: int = 0
    tally: Tally = field(default_factory=Tally)
    unreadable: list[tuple[str, str]] = field(default_factory=list)
    rows: list[ReplayRow] = field(default_factory=list)


class Worker:
    """Counts job files under two houses. The houses are read once."""

    def __init__(self, houses: Houses, *, with_rows: bool = False) -> None:
        """Read both houses.

        Raises:
            BadInputError: for a house folder with faults.
        """
        from prepadvisor.files import load_house
        from prepadvisor.planning.same_answers import BothWays

        self._before = load_house(*houses[0])
        self._after = load_house(*houses[1])
        self._both = BothWays(self._before, self._after)
        self._rates = self._before.shop.rates or self._after.shop.rates
        self.with_rows = with_rows

    @property
    def currency(self) -> str | None:
        """What money counts in; None where the shop states no rates."""
        return None if self._rates is None else self._rates.currency

    def data_changes(self) -> "tuple[DataChange, ...]":
        """Return what differs in the shop files, constants and outlines of both houses."""
        from prepadvisor.standards.data_changes import data_changes

        return data_changes(self._before, self._after)

    def count(self, files: Sequence[str]) -> Counted:
        """Count some files; jobs of one colour follow one another, as a colour's plans share much."""
        counted = Counted(files=len(files))
        rows: dict[str, list[ReplayRow]] = {}
        for name, job, after in sorted(self._jobs(files, counted), key=_by_colour):
            advice = self._both.advise(job, after)
            change = difference(*advice, self._rates)
            counted.tally.add(name, change)
            if self.with_rows and change.is_change:
                rows[name] = list(rows_of(name, change, *advice))
        counted.rows = [row for name in files for row in rows.pop(name, ())]
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
    return (
        f"{colour.book} {colour.flake} {colour.stages} {colour.tone} {colour.flake_um} {colour.tilt_deg} "
        f"{colour.log_sd}"
    )


_worker: Worker | None = None


def start(houses: Houses, with_rows: bool = False) -> None:
    """Make this process a worker. Leaves stopping to the process that started it."""
    global _worker  # one worker a process
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _worker = Worker(houses, with_rows=with_rows)
    gc.freeze()
    gc.disable()  # once a chunk is often enough, and a quarter faster


def count(files: Sequence[str]) -> Counted:
    """Count some files in this worker process."""
    if _worker is None:
        raise RuntimeError("start the worker first")
    return _worker.count(files)
