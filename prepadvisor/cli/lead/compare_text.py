"""A comparison of two standards in words, as CSV and JSON: holds and loosenings first, a paragraph a rule."""

import csv
import io
import json
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.standards import (
    DIRECTIONS,
    OUTPUTS,
    Cause,
    Change,
    Comparison,
    Difference,
    Direction,
    in_words,
    told_setting,
)
from prepadvisor.wording import paragraph, thousands

if TYPE_CHECKING:
    from prepadvisor.planning import JobDifferences
    from prepadvisor.standards import DataChange


TITLES: Final[dict[Direction, str]] = {
    "held": "HELD NOW",
    "released": "HELD NO MORE",
    "laxer": "LAXER",
    "stricter": "STRICTER",
    "words": "OTHER WORDS ON THE CARD",
}
_BOXES_SHOWN: Final = 4
_BY: Final = {
    "new": "",
    "changed": " (changed)",
    "replaced": " (replaced)",
    "withdrawn": " (withdrawn)",
    "gone": " (no longer there)",
}


def as_data(
    found: Comparison,
    data: "Iterable[DataChange]" = (),
    jobs: "JobDifferences | None" = None,
    warnings: Sequence[str] = (),
) -> dict[str, object]:
    """Return a comparison as `--json` prints it."""
    told: dict[str, object] = {
        "changes": [
            {
                "direction": change.direction,
                "facts": {
                    fact: values[0] if len(values) == 1 else values for fact, values in change.limits.items()
                },
                "differences": [difference._asdict() for difference in change.differences],
                "cases": change.cases,
                "causes": [cause._asdict() for cause in change.causes],
            }
            for change in found.changes
        ],
        "cases": found.cases,
        "cells": found.possible,
        "living": found.living,
        "untold": found.untold,
        "is_whole": found.is_whole,
        "data": [each._asdict() for each in data],
        "warnings": list(warnings),
    }
    if jobs is not None:
        told["jobs"] = {
            "jobs": jobs.jobs,
            "spots": jobs.spots,
            "changed": jobs.changed,
            "differences": [
                {"rule": rule, **difference._asdict(), "direction": difference.direction, "spots": spots}
                for (rule, difference), spots in jobs.by_gravity()
            ],
        }
    return told


def as_json(
    found: Comparison,
    data: "Iterable[DataChange]" = (),
    jobs: "JobDifferences | None" = None,
    warnings: Sequence[str] = (),
) -> str:
    """Return a comparison as one line of JSON."""
    return json.dumps(as_data(found, data, jobs, warnings), ensure_ascii=False)


def as_csv(found: Comparison, data: "Iterable[DataChange]" = (), warnings: Sequence[str] = ()) -> str:
    """Return a comparison as rows: one a difference in a box, one a changed number, one a warning."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\n").writerow
    write(("direction", "rule", "by", "file", "line", "output", "before", "after", "cases", "facts"))
    for change in found.changes:
        for difference in change.differences:
            for cause in change.causes:
                answers = (difference.output, _value(difference.before), _value(difference.after))
                where = (cause.rule, cause.by, cause.file, cause.line)
                write((difference.direction, *where, *answers, change.cases, in_words(change.limits)))
    for each in data:
        write(("data", "", "", each.file, 0, each.key, _value(each.before), _value(each.after), "", ""))
    for says in warnings:
        write(("warning", "", "", "", 0, "", "", "", "", says))
    return out.getvalue().rstrip("\n")


def as_text(
    found: Comparison,
    data: "Iterable[DataChange]" = (),
    jobs: "JobDifferences | None" = None,
    *,
    show_all: bool = False,
) -> str:
    """Return a comparison for a person."""
    lines = [_summary(found)]
    for direction in DIRECTIONS:
        by_cause: dict[Cause, list[Change]] = {}
        for change in found.changes:
            if change.direction == direction:
                by_cause.setdefault(change.causes[0], []).append(change)
        if by_cause:
            lines += ["", TITLES[direction]]
        for cause, changes in by_cause.items():
            lines += _paragraph(cause, changes, jobs, None if show_all else _BOXES_SHOWN)
    if found.untold:
        lines += ["", f"… and {thousands(found.untold)} single changes in still smaller groups."]
    if changed := list(data):
        lines += ["", "SHOP FILE, CONSTANTS, OUTLINES"]
        lines += [f"  {each.says}" for each in changed]
    if jobs is not None:
        share = f"{jobs.changed} of {jobs.spots} spots in {jobs.jobs} jobs are decided otherwise."
        lines += ["", "IN YOUR OWN JOBS", *paragraph(share, "  ")]
    return "\n".join(lines)


def _summary(found: Comparison) -> str:
    if not found.cases:
        return f"Nothing differs in any of {thousands(found.living)} cases that a card can meet."
    least = "" if found.is_whole else "At least "
    share = f"{thousands(found.cases)} of {thousands(found.living)}"
    return f"{least}{share} cases that a card can meet are decided otherwise."


def _paragraph(
    cause: Cause, changes: list[Change], jobs: "JobDifferences | None", most: int | None
) -> list[str]:
    cases = sum(change.cases for change in changes)
    where = f" {cause.file}:{cause.line}" if cause.file else ""
    lines = ["", *paragraph(f"{cause.rule}{_BY[cause.by]}{where}  ({thousands(cases)} cases)", "  ", "    ")]
    if cause.says:
        lines += paragraph(f'"{cause.says}"', "  ", "    ")
    if jobs is not None:
        spots = sum(
            jobs.found.get((cause.rule, each), 0)
            for each in dict.fromkeys(each for change in changes for each in change.differences)
        )
        lines.append(f"    in your own jobs: {spots} spots")
    for change in changes[:most]:
        for difference in change.differences:
            lines += paragraph(_difference(difference), "    ", "      ")
        lines += paragraph(in_words(change.limits), "      ", "      ")
    if most is not None and len(changes) > most:
        lines.append(f"    … and {len(changes) - most} smaller groups of cases (--all tells them).")
    return lines


def _difference(difference: Difference) -> str:
    output, before, after = difference
    if OUTPUTS[output].is_union:
        one = output.removesuffix("s")
        return f'new {one}: "{after}"' if before is None else f'{one} gone: "{before}"'
    return f"{output}: {told_setting(output, before)} → {told_setting(output, after)}"


def _value(value: object) -> object:
    return " | ".join(map(str, value)) if isinstance(value, tuple) else value
