"""One worker of a replay: reads job files, counts what a draft changes in them, and lays that out as rows."""

import gc
import signal
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from prepadvisor.planning import Tally, difference

if TYPE_CHECKING:
    from prepadvisor.planning import JobDifference, PlaceChange
    from prepadvisor.records import Advice, Job, Place
    from prepadvisor.standards import DataChange


# A replay as rows: one a changed place and one a changed job, before and after side by side.

ReplayRow = dict[str, str | float | int | None]

_PLACE: Final = ("finish", "hand", "wet_bed", "guide_coat", "held_by")
_JOB: Final = ("ml", "discs", "money")
COLUMNS: Final = (
    "kind",
    "job",
    "number",
    "place",
    "ways",
    *(f"{what}_{side}" for what in (*_PLACE, "minutes", *_JOB) for side in ("before", "after")),
    "rules",
    "where",
)
"""The columns; `kind` is "place" or "job", what a row does not have is empty."""


def rows_of(name: str, change: "JobDifference", before: "Advice", after: "Advice") -> Iterator[ReplayRow]:
    """Yield the rows of one job that changes: its places, then the job with its sums."""
    number = before.job.number
    for each in change.changes:
        yield _row("place", name, number, each.place, each.ways) | _place(each, before, after)
    yield _row("job", name, number, "", ()) | {
        "minutes_before": round(change.minutes[0], 2),
        "minutes_after": round(change.minutes[1], 2),
        "ml_before": change.ml[0],
        "ml_after": change.ml[1],
        "discs_before": sum(change.discs[0].values()),
        "discs_after": sum(change.discs[1].values()),
        "money_before": None if change.money is None else round(change.money[0], 2),
        "money_after": None if change.money is None else round(change.money[1], 2),
    }


def _row(kind: str, name: str, number: str, place: str, ways: tuple[str, ...]) -> ReplayRow:
    row: ReplayRow = dict.fromkeys(COLUMNS)
    return row | {"kind": kind, "job": name, "number": number, "place": place, "ways": "|".join(ways)}


def _place(change: "PlaceChange", before: "Advice", after: "Advice") -> ReplayRow:
    row: ReplayRow = {
        "rules": "|".join(dict.fromkeys(cause.rule for cause in change.causes)),
        "where": "|".join(dict.fromkeys(f"{cause.file}:{cause.line}" for cause in change.causes)),
    }
    for side, place, advice in (("before", change.before, before), ("after", change.after, after)):
        if place is not None:
            row |= {f"{what}_{side}": value for what, value in _answers(place, advice).items()}
    return row


def _answers(place: "Place", advice: "Advice") -> ReplayRow:
    bed = place.wet_bed
    held = dict.fromkeys(rule for hold in advice.holds if hold.spot in place.spots for rule in hold.rules)
    return {
        "finish": place.finish,
        "hand": place.hand_coarsest,
        "wet_bed": bed.need if bed.need == "no" else f"{bed.need} {bed.coats}",
        "guide_coat": place.guide_coat,
        "held_by": "|".join(held) or None,
        "minutes": round(place.minutes, 2),
    }


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
        from prepadvisor.planning import BothWays

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
        from prepadvisor.standards import data_changes

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
        from prepadvisor.records import BadInputError

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
