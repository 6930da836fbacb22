"""The day: one line a job, sorted by what waits, and the sums; written as text, page, CSV or JSON."""

import csv
import datetime as dt
import io
import json
from collections import Counter
from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from prepadvisor.checkoff import due, gate_now
from prepadvisor.planning import advise
from prepadvisor.records import CLEAR, RANK, Advice, BadInputError, Job, NamedTuple, StageName
from prepadvisor.wording import Units, Words, counted, due_says, minutes

if TYPE_CHECKING:
    from prepadvisor.records import Gate, Grade
    from prepadvisor.standards import House

# One line a job, sorted by what waits, and the sums of a day: wet bed, discs, powder, minutes.


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
    discs: tuple[tuple["Grade", int], ...] = ()
    imperial: bool = False


class DaySums(NamedTuple):
    """What the day needs: the sums of its cards."""

    mix_ml: int
    minutes: float
    powder: int
    discs: dict["Grade", int]


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


def day_of(paths: Iterable[Path], load: Load, house: "House", now: dt.datetime) -> Day:
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


def job_line(path: Path, load: Load, house: "House", now: dt.datetime) -> DayJob:
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
    return _line(path, job, advice, gate_now(job, advice, house, now), now)


def _line(path: Path, job: Job, advice: Advice, shown: "Gate", now: dt.datetime) -> DayJob:
    last = max(job.check, key=lambda check: _utc(check.at), default=None)
    return DayJob(
        path=str(path),
        number=job.job.number,
        vehicle=job.job.vehicle,
        colour=advice.job.colour,
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


def _next(advice: Advice, shown: "Gate") -> str:
    """Return what is to be done first, where, in the words of the gate."""
    if not shown.holds:
        return ""
    following = due(shown)
    return due_says(following, Words(advice)) if following else ""


def _waiting(job: DayJob) -> tuple[int, float, str]:
    """Sort what needs a person first: what is found or held, then what waits longest, then what is clear."""
    rank = 0 if job.error else 1 if job.held else 3 if job.clear else 2
    return rank, -(job.age_h if job.age_h is not None else -1.0), job.path


def _utc(at: dt.datetime) -> dt.datetime:
    return at if at.tzinfo else at.replace(tzinfo=dt.UTC)


DayForm = Literal["text", "html", "csv", "json"]

_KEYS: Final = (
    "path", "number", "vehicle", "colour", "clear", "stage", "next", "by", "age_h", "mix_ml", "minutes",
    "error",
)  # fmt: skip
"""Keys of a job in JSON and columns in CSV; more may be added, none is renamed."""


def write_day(day: Day, to: DayForm = "text", title: str = "") -> str:
    """Return the day.

    Args:
        day: its jobs and sums.
        to: the form.
        title: what stands on top: the folder and the date.
    """
    if to == "json":
        data = {"jobs": [_data(job) for job in day.jobs], "sums": day.sums._asdict()}
        return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
    if to == "csv":
        return _csv(day)
    return _page(day, title) if to == "html" else _text(day, title)


def state(job: DayJob) -> str:
    """Return in words where a job stands."""
    if job.error:
        return "FAULTY FILE"
    if job.held:
        return "STOP"
    if job.clear:
        return CLEAR[job.stage or "paint"]
    if job.age_h is None:
        return "not begun"
    return "in primer stage" if job.stage == "primer" else "in work"


def age(hours: float | None) -> str:
    """Return how long ago the last entry was."""
    if hours is None:
        return "not begun"
    if hours < 1:
        return f"{max(round(hours * 60), 0)} min ago"
    return f"{hours:.0f} h ago" if hours < 48 else f"{hours / 24:.0f} days ago"


def _volume(job: DayJob) -> str:
    return Units(job.imperial).volume(job.mix_ml)


def _units(day: Day) -> Units:
    """Return the units of the sums: those of the cards where all have the same, else metric."""
    read = [job for job in day.jobs if not job.error]
    return Units(bool(read) and all(job.imperial for job in read))


def sums_says(day: Day) -> str:
    """Return what the day needs in a line."""
    return "; ".join(sums_parts(day))


def sums_parts(day: Day) -> tuple[str, ...]:
    """Return what the day needs, part by part: jobs, minutes, wet bed, powder, discs."""
    sums = day.sums
    discs = ", ".join(f"{grade} {count}" for grade, count in sums.discs.items())
    return (
        counted(len(day.jobs), "job"),
        minutes(sums.minutes),
        f"wet bed {_units(day).volume(sums.mix_ml)}",
        f"powder {counted(sums.powder, 'time')}",
        f"discs {discs or 'none'}",
    )


def _data(job: DayJob) -> dict[str, Any]:
    return {key: getattr(job, key) for key in _KEYS}


def _csv(day: Day) -> str:
    out = io.StringIO()
    table = csv.DictWriter(out, _KEYS, lineterminator="\n")
    table.writeheader()
    for job in day.jobs:
        table.writerow({key: _cell(value) for key, value in _data(job).items()})
    return out.getvalue()


def _cell(value: Any) -> Any:
    """Return a value as it goes into a table; no text that a spreadsheet would take as a formula."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str) and value[:1] in {"=", "+", "-", "@"}:
        return f"'{value}"
    return "" if value is None else value


def _text(day: Day, title: str) -> str:
    lines = [*([title] if title else []), sums_says(day), "=" * 80]
    for job in day.jobs:
        head = "  ".join(part for part in (job.number or job.path, job.colour, job.vehicle) if part)
        lines.append(f"{head[:60]:<61}{state(job):>19}")
        who = [f"{job.by}, {age(job.age_h)}" if job.by else age(job.age_h)] if job.age_h is not None else []
        if job.error:
            lines.append(f"   {job.error}")
        else:
            parts = [*who, minutes(job.minutes), f"wet bed {_volume(job)}", job.path]
            lines.append(f"   {'; '.join(parts)}")
        if job.next:
            lines.append(f"   NEXT {job.next}")
    return "\n".join(lines) + "\n"


def _page(day: Day, title: str) -> str:
    heads = ("job", "state", "next", "last entry", "time", "wet bed")
    rows = []
    for job in day.jobs:
        named = (job.number or job.path, job.colour, job.vehicle)
        name = "<br>".join(escape(part) for part in named if part)
        cells = (
            escape(state(job)), escape(job.error or job.next), escape(f"{job.by} {age(job.age_h)}".strip()),
            escape(minutes(job.minutes)), _volume(job),
        )  # fmt: skip
        rows.append(f'<tr><th scope="row">{name}</th>{"".join(f"<td>{cell}</td>" for cell in cells)}</tr>')
    head = "".join(f'<th scope="col">{name}</th>' for name in heads)
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{escape(title or "The day")}</title><style>
@page {{ margin: 10mm; }}
body {{ font: 11pt "DejaVu Sans Condensed", sans-serif; color: #000; margin: 0; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ border: 0.3mm solid #000; padding: 1mm 1.4mm; text-align: left; vertical-align: top; }}
tr {{ break-inside: avoid; }}
</style></head><body>
<h1>{escape(title or "The day")}</h1>
<p>{escape(sums_says(day))}</p>
<table><thead><tr>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table>
</body></html>
"""
