"""A fit in words, for a terminal or a printer."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from prepadvisor.cards.fit.report import FitReport
from prepadvisor.planning.replay import WAYS
from prepadvisor.records.fit import Calibration, Fit
from prepadvisor.wording.fit import (
    agreement_says,
    fixed_says,
    next_says,
    number_name,
    row_says,
    rows_says,
    told_says,
)
from prepadvisor.wording.paragraphs import paragraph

_ROWS_SHOWN: Final = 5
_SURPRISE: Final = 0.7
"""Rows whose answer had less than an even chance (−ln ½) disagree."""


def fit_text(report: FitReport, written: Sequence[Path], out: str | None) -> str:
    """Return the report."""
    fit = report.fit
    lines = [f"FIT OF {report.panels}   {report.day.isoformat()}   {rows_says(fit)}"]
    lines += ["", *_numbers(fit)]
    if fit.fixed:
        lines += ["", "WHAT THE DATA FIX (threshold and depth are told apart only weakly, this is known)"]
        lines += [line for each in fit.fixed for line in paragraph(fixed_says(each), "  ")]
    if fit.told:
        lines += ["", "READ THIS"]
        lines += [line for each in fit.told for line in paragraph(told_says(each), "  ")]
    lines += _disagreeing(fit)
    lines += _calibrations(fit)
    lines += _checked(report)
    lines += _jobs(report)
    lines += _chosen(report)
    lines += ["", *_written(report, written, out)]
    return "\n".join(lines) + "\n"


def _numbers(fit: Fit) -> Iterator[str]:
    heads = ("NUMBERS", "in force", "now", "90 % interval", "was", "rows")
    yield "{:<40} {:>9} {:>8}    {:<17}  {:<15} {}".format(*heads)
    for each in (*fit.numbers, fit.scatter):
        if not each.rows and each.name != "threshold_arcsec":
            continue
        now = f"{each.low:.3g} to {each.high:.3g}"
        was = f"{each.before_low:.3g} to {each.before_high:.3g}"
        name = number_name(each.name)
        yield f"  {name:<38} {each.before:>9.3g} {each.value:>8.3g}    {now:<17}  {was:<15} {each.rows:>3}"
    idle = [number_name(each.name) for each in fit.numbers if not each.rows]
    if idle and fit.rows:
        yield from paragraph(f"no rows, left as they are: {', '.join(idle)}", "  ")


def _disagreeing(fit: Fit) -> list[str]:
    odd = sorted(fit.fitted, key=lambda each: -each.surprise)[:_ROWS_SHOWN]
    odd = [each for each in odd if each.surprise > _SURPRISE]
    if not odd:
        return []
    says = [line for each in odd for line in paragraph(row_says(each), "  ")]
    return ["", "ROWS THAT DISAGREE MOST (by a fit without each)", *says]


def _calibrations(fit: Fit) -> list[str]:
    if fit.before is None or fit.after is None:
        return []
    return [
        "",
        "HOW WELL LINES ARE PREDICTED (Brier score: 0 is perfect)",
        *paragraph(
            f"numbers in force {fit.before.brier:.3f}; fitted {fit.after.brier:.3f}, each row by a fit "
            f"without it; saying the same of all rows {fit.before.chance_brier:.3f}",
            "  ",
        ),
        "  predicted by the fit    showed     of    90 % interval",
        *_bins(fit.after),
    ]


def _bins(calibration: Calibration) -> Iterator[str]:
    for each in calibration.bins:
        span = f"{each.low:.0%} to {each.high:.0%}"
        yield f"  {each.predicted:>12.0%} {each.showed:>17.0%} {each.rows:>6}    {span}"


def _checked(report: FitReport) -> list[str]:
    check = report.check
    if check is None:
        return []
    if not check.whole.rows:
        return ["", "AGAINST THE NUMBERS IN FORCE: nothing was seen since they were fitted"]
    head = "agree" if check.agrees else "DISAGREE: fit again with all panels, or look for what changed"
    says = [agreement_says(each) for each in (check.whole, *check.odd)]
    return ["", f"AGAINST THE NUMBERS IN FORCE: they {head}", *(f"  {each}" for each in says)]


def _jobs(report: FitReport) -> list[str]:
    tally = report.replay
    if tally is None:
        return []
    jobs = f"{tally.jobs_changed} of {tally.jobs} jobs change"
    lines = ["", f"ON YOUR OWN JOBS: {jobs}, {tally.places_changed} of {tally.places} places"]
    lines += [f"  {tally.ways[way]:>5}  {says}" for way, says in WAYS.items() if tally.ways[way]]
    return lines


def _chosen(report: FitReport) -> list[str]:
    if not report.chosen:
        return []
    basis = (
        "for usual decisions: no archive of jobs was given" if report.usual else "for what your jobs decide"
    )
    lines = ["", f"SPRAY NEXT, {basis}"]
    for place, each in enumerate(report.chosen, 1):
        first, *rest = paragraph(next_says(each), "     ")
        lines += [f"  {place:>2} {first.strip()}", *rest]
    return lines


def _written(report: FitReport, written: Sequence[Path], out: str | None) -> Iterator[str]:
    if written:
        yield f"written: {', '.join(map(str, written))}; versions before: {out}/earlier"
        yield f"work by them: prepadvisor card JOB.toml --house {out}"
    elif out is not None:
        yield "nothing written: no number has a row"
    elif report.in_force.changed:
        yield "nothing written; --out HOUSE puts the numbers in force"
