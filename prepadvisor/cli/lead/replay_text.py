"""The outcome of a replay in words, as JSON and as CSV; rows are written as they come: memory stays flat."""

import csv
import json
import sys
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.lead.replay_worker import COLUMNS, ReplayRow
from prepadvisor.planning import HOLD_WAYS, LARGEST_MOST, LOOSER, SHOP, WAYS, Sums
from prepadvisor.records import RANK
from prepadvisor.wording import paragraph

if TYPE_CHECKING:
    from prepadvisor.cli.lead.replay_worker import Counted, Worker
    from prepadvisor.planning import ByCause, ChangedBy, Tally
    from prepadvisor.records import Grade


_MINUTES_AN_HOUR: Final = 60


class ReplayWriter:
    """Writes a replay: rows as they come, the sums at the end."""

    def __init__(self, worker: "Worker") -> None:
        """Begin; the worker knows what money counts in and what differs beside rules."""
        self.worker: Final = worker

    def rows(self, rows: Sequence[ReplayRow]) -> None:
        """Write the rows of some jobs."""

    def end(self, total: "Counted") -> None:
        """Write what comes after all rows."""


class TextWriter(ReplayWriter):
    """For a person: the sums alone, each rule with some places by name."""

    def end(self, total: "Counted") -> None:
        """Print the whole."""
        print(as_text(total, self.worker))


class CsvWriter(ReplayWriter):
    """Rows for a spreadsheet."""

    def __init__(self, worker: "Worker") -> None:
        """Print the header."""
        super().__init__(worker)
        self._csv = csv.DictWriter(sys.stdout, COLUMNS, lineterminator="\n")
        self._csv.writeheader()

    def rows(self, rows: Sequence[ReplayRow]) -> None:
        """Print rows."""
        self._csv.writerows(rows)

    def end(self, total: "Counted") -> None:
        """Tell on standard error which files could not be read."""
        for _, why in total.unreadable:
            print(why, file=sys.stderr)


class JsonWriter(ReplayWriter):
    """One object: the rows under "changes", then the sums."""

    def __init__(self, worker: "Worker") -> None:
        """Print the beginning."""
        super().__init__(worker)
        self._some = False
        sys.stdout.write('{"changes": [')

    def rows(self, rows: Sequence[ReplayRow]) -> None:
        """Print rows."""
        for row in rows:
            sys.stdout.write((",\n" if self._some else "\n") + json.dumps(row, ensure_ascii=False))
            self._some = True

    def end(self, total: "Counted") -> None:
        """Print the sums."""
        sums = json.dumps(as_data(total, self.worker), ensure_ascii=False)
        sys.stdout.write(f"], {sums[1:]}\n")


WRITERS: Final[dict[str, type[ReplayWriter]]] = {"text": TextWriter, "csv": CsvWriter, "json": JsonWriter}


def as_data(total: "Counted", worker: "Worker") -> dict[str, object]:
    """Return the sums of a replay as JSON has them; minutes as numbers, discs by grade."""
    tally = total.tally
    return {
        "files": total.files,
        "jobs": {"read": tally.jobs, "changed": tally.jobs_changed, "held_otherwise": tally.jobs_held},
        "places": {"all": tally.places, "changed": tally.places_changed},
        "ways": {way: tally.ways[way] for way in WAYS if tally.ways[way]},
        "rules": [
            {
                "rule": cause.rule,
                "file": cause.file,
                "line": cause.line,
                "how": cause.how,
                "places": one.places,
                "jobs": one.jobs,
                "minutes": round(one.minutes, 1),
                "ways": {way: one.ways[way] for way in WAYS if one.ways[way]},
            }
            for cause, one in _by_gravity(tally)
        ],
        "largest": [
            {"job": each.name, "places": each.places, "minutes": round(each.minutes, 1)}
            for each in tally.largest
        ],
        **_sums(tally.sums, worker.currency),
        "held": _sums(tally.held, worker.currency),
        "data": [each._asdict() for each in worker.data_changes()],
        "unreadable": [{"file": file, "why": why} for file, why in total.unreadable],
    }


def _sums(sums: Sums, currency: str | None) -> dict[str, object]:
    found: dict[str, object] = {
        "minutes": {"before": round(sums.minutes[0], 1), "after": round(sums.minutes[1], 1)},
        "ml": {"before": sums.ml[0], "after": sums.ml[1]},
        "discs": {"before": _by_grade(sums.discs_before), "after": _by_grade(sums.discs_after)},
    }
    if currency is not None:
        before, after = (round(each, 2) for each in sums.money)
        found["money"] = {"before": before, "after": after, "currency": currency}
    return found


def _by_gravity(tally: "Tally") -> "list[tuple[ChangedBy, ByCause]]":
    return sorted(tally.causes.items(), key=lambda each: (each[1].gravity, each[0]))


def as_text(total: "Counted", worker: "Worker") -> str:
    """Return a replay for a person: holds, then what gets laxer, then the rest; one paragraph a rule."""
    tally = total.tally
    jobs, places = (tally.jobs_changed, tally.jobs), (tally.places_changed, tally.places)
    lines = ["{} of {} jobs change; {} of {} places change.".format(*jobs, *places)]
    causes = _by_gravity(tally)
    for title, some in (
        ("HELD, OR HELD NO MORE", [each for each in causes if not HOLD_WAYS.isdisjoint(each[1].ways)]),
        ("LAXER", [each for each in causes if each[1].gravity[:2] == (True, False)]),
        ("STRICTER AND OTHER", [each for each in causes if each[1].gravity[:2] == (True, True)]),
    ):
        if some:
            lines += ["", title, *(line for cause, one in some for line in _paragraph(cause, one))]
    if tally.ways:
        lines += ["", "WHICH WAY (a place can change in more than one)"]
        lines += [
            f"  {tally.ways[way]:>7}  {says}{'  (laxer)' if way in LOOSER else ''}"
            for way, says in WAYS.items()
            if tally.ways[way]
        ]
    if tally.largest:
        lines += ["", "LARGEST CHANGES"]
        lines += [
            f"  {each.places:>4} places {each.minutes:>+8.1f} min  {each.name}" for each in tally.largest
        ]
    if changes := worker.data_changes():
        lines += ["", "SHOP FILE, CONSTANTS, OUTLINES"]
        lines += [f"  {each.says}" for each in changes]
    lines += ["", *_totals("IN TOTAL", tally.sums, worker.currency)]
    if tally.jobs_held:
        count = f"{tally.jobs_held} job{'s' if tally.jobs_held > 1 else ''}"
        told = f"{count} with a place held under one of them only, not in the total: a hold saves no work."
        lines += ["", *paragraph(told), *_totals("", tally.held, worker.currency)]
    if total.unreadable:
        lines += ["", f"NOT READ: {len(total.unreadable)} of {total.files} files"]
        lines += [f"  {why}" for _, why in total.unreadable]
    return "\n".join(lines)


def _paragraph(cause: "ChangedBy", one: "ByCause") -> list[str]:
    if cause == SHOP:
        head = "no rule: another shop file, constants or outlines"
    else:
        gone = "" if cause.how == "new" else " no longer decides"
        head = f"{cause.rule}{gone} ({cause.file}:{cause.line})"
    ways = ", ".join(f"{WAYS[way]} {one.ways[way]}" for way in WAYS if one.ways[way])
    jobs = f"{one.jobs} job{'s' if one.jobs > 1 else ''}"
    says = f"{head}: {one.places} places in {jobs}: {ways}; {one.minutes:+.1f} min."
    some = ", ".join(f"{name} {place}" for name, place in one.first)
    more = f" and {one.places - LARGEST_MOST} more (--to csv names all)" if one.places > LARGEST_MOST else ""
    return [*paragraph(says, "  ", "    "), *paragraph(some + more, "      ")]


def _totals(title: str, sums: Sums, currency: str | None) -> list[str]:
    hours = [minutes / _MINUTES_AN_HOUR for minutes in sums.minutes]
    lines = [
        f"{title:<24}before      after",
        f"  hours             {hours[0]:>10.1f} {hours[1]:>10.1f}",
        f"  wet bed ml        {sums.ml[0]:>10} {sums.ml[1]:>10}",
    ]
    for grade in sorted({*sums.discs_before, *sums.discs_after}, key=RANK.__getitem__):
        before, after = sums.discs_before[grade], sums.discs_after[grade]
        lines.append(f"  discs {grade:<12}{before:>10} {after:>10}")
    if currency is not None:
        lines.append(f"  {currency or 'money':<18}{sums.money[0]:>10.2f} {sums.money[1]:>10.2f}")
    return lines


def _by_grade(discs: "Counter[Grade]") -> dict[str, int]:
    return {grade: discs[grade] for grade in sorted(discs, key=RANK.__getitem__)}
