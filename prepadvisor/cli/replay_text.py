"""The outcome of a replay in words and as JSON."""

import json
from typing import TYPE_CHECKING, Final

from prepadvisor.planning.replay import WAYS
from prepadvisor.surface.grades import RANK

if TYPE_CHECKING:
    from prepadvisor.cli.replay_worker import Counted
    from prepadvisor.planning.replay import Tally

_MINUTES_AN_HOUR: Final = 60


def as_json(total: "Counted") -> str:
    """Return a replay as `--json` prints it; minutes as numbers, discs by grade."""
    tally = total.tally
    return json.dumps(
        {
            "files": total.files,
            "jobs": {"read": tally.jobs, "changed": tally.jobs_changed},
            "places": {"all": tally.places, "changed": tally.places_changed},
            "ways": {way: tally.ways[way] for way in WAYS if tally.ways[way]},
            "largest": [
                {"job": each.name, "places": each.places, "minutes": round(each.minutes, 1)}
                for each in tally.largest
            ],
            "minutes": {"before": round(tally.minutes_before, 1), "after": round(tally.minutes_after, 1)},
            "discs": {"before": _by_grade(tally.discs_before), "after": _by_grade(tally.discs_after)},
            "unreadable": [{"file": file, "why": why} for file, why in total.unreadable],
        },
        ensure_ascii=False,
    )


def as_text(total: "Counted") -> str:
    """Return a replay for a person."""
    tally = total.tally
    jobs, places = (tally.jobs_changed, tally.jobs), (tally.places_changed, tally.places)
    lines = ["{} of {} jobs change; {} of {} places change.".format(*jobs, *places)]
    if tally.ways:
        lines += ["", "WHICH WAY (a place can change in more than one)"]
        lines += [f"  {tally.ways[way]:>7}  {says}" for way, says in WAYS.items() if tally.ways[way]]
    if tally.largest:
        lines += ["", "LARGEST CHANGES"]
        lines += [
            f"  {each.places:>4} places {each.minutes:>+8.1f} min  {each.name}" for each in tally.largest
        ]
    lines += ["", *_totals(tally)]
    if total.unreadable:
        lines += ["", f"NOT READ: {len(total.unreadable)} of {total.files} files"]
        lines += [f"  {why}" for _, why in total.unreadable]
    return "\n".join(lines)


def _totals(tally: "Tally") -> list[str]:
    hours = [minutes / _MINUTES_AN_HOUR for minutes in (tally.minutes_before, tally.minutes_after)]
    lines = [
        "IN TOTAL                before      after",
        f"  hours             {hours[0]:>10.1f} {hours[1]:>10.1f}",
    ]
    for grade in sorted({*tally.discs_before, *tally.discs_after}, key=RANK.__getitem__):
        before, after = tally.discs_before[grade], tally.discs_after[grade]
        lines.append(f"  discs {grade:<12}{before:>10} {after:>10}")
    return lines


def _by_grade(discs: dict[str, int]) -> dict[str, int]:
    return {grade: discs[grade] for grade in sorted(discs, key=RANK.__getitem__)}
