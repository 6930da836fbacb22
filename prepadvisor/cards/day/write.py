"""Writes the day as text, as a page, as CSV or as JSON; all four have the same lines."""

import csv
import io
import json
from html import escape
from typing import Any, Final, Literal

from prepadvisor.cards.day.board import Day, DayJob
from prepadvisor.records.work import CLEAR
from prepadvisor.wording.units import Units, minutes

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
    sums = day.sums
    discs = ", ".join(f"{grade} {count}" for grade, count in sums.discs.items())
    parts = [f"{len(day.jobs)} jobs", minutes(sums.minutes), f"wet bed {_units(day).volume(sums.mix_ml)}"]
    return "; ".join([*parts, f"powder {sums.powder} times", f"discs {discs or 'none'}"])


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
        who = f"{job.by or '-'}, {age(job.age_h)}"
        if job.error:
            lines.append(f"   {job.error}")
        else:
            lines.append(f"   {who}; {minutes(job.minutes)}; wet bed {_volume(job)}; {job.path}")
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
