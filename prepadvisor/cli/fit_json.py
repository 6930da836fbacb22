"""A fit as `--json` prints it: keys are added, never renamed."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from prepadvisor.cards.fit.report import FitReport
from prepadvisor.records.fit import Calibration, FittedNumber
from prepadvisor.wording.fit import fixed_says, next_says, told_says


def fit_json(report: FitReport, written: Sequence[Path]) -> dict[str, Any]:
    """Return the data of a report."""
    fit = report.fit
    return {
        "numbers": [_number(each) for each in fit.numbers],
        "rows": fit.rows,
        "next": [
            {
                "flake": each.flake,
                "tool": each.tool,
                "grade": each.grade,
                "coats": each.coats,
                "gain": each.gain,
                "says": next_says(each),
                "because": each.because._asdict(),
            }
            for each in report.chosen
        ],
        "scatter": _number(fit.scatter),
        "kinds": dict(fit.by_kind),
        "panels": fit.panels,
        "judges": fit.judges,
        "fixed": [{**each._asdict(), "says": fixed_says(each)} for each in fit.fixed],
        "told": [{**each._asdict(), "says": told_says(each)} for each in fit.told],
        "calibration": {"before": _calibration(fit.before), "after": _calibration(fit.after)},
        "check": None
        if report.check is None
        else {
            "agrees": report.check.agrees,
            "whole": report.check.whole._asdict(),
            "odd": [each._asdict() for each in report.check.odd],
        },
        "jobs": None
        if report.replay is None
        else {
            "read": report.replay.jobs,
            "changed": report.replay.jobs_changed,
            "places": report.replay.places,
            "places_changed": report.replay.places_changed,
        },
        "written": [str(path) for path in written],
    }


def _number(number: FittedNumber) -> dict[str, Any]:
    return {
        "name": number.name,
        "value": number.value,
        "low": number.low,
        "high": number.high,
        "before": number.before,
        "rows": number.rows,
        "before_low": number.before_low,
        "before_high": number.before_high,
    }


def _calibration(calibration: Calibration | None) -> dict[str, Any] | None:
    if calibration is None:
        return None
    return {
        "brier": calibration.brier,
        "chance_brier": calibration.chance_brier,
        "bins": [each._asdict() for each in calibration.bins],
    }
