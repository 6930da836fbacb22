"""A fit in words, for a terminal or a printer."""

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.fit.changed import changed_says
from prepadvisor.cards.fit.report import FitReport, disagreeing
from prepadvisor.planning import WAYS
from prepadvisor.wording import (
    agreement_says,
    fixed_says,
    next_panel_says,
    number_name,
    paragraph,
    row_says,
    rows_says,
    told_says,
)

if TYPE_CHECKING:
    from prepadvisor.records import Calibration, Fit, FittedNumber

_ROWS_SHOWN: Final = 5


def fit_text(report: FitReport, written: Sequence[Path], out: str | None) -> str:
    """Return the report, at most 80 columns wide."""
    fit = report.fit
    lines = [f"FIT OF {report.panels}   {report.day.isoformat()}   {rows_says(fit)}"]
    lines += ["", *_numbers(fit)]
    for title, texts in said_blocks(report):
        lines += ["", title, *(line for text in texts for line in paragraph(text, "  ", "     "))]
    lines += ["", *_written(report, written, out)]
    return "\n".join(lines) + "\n"


def said_blocks(report: FitReport) -> list[tuple[str, list[str]]]:
    """Return what is to be read beside the numbers: titles, each with its sentences."""
    fit, found = report.fit, []
    if fit.fixed:
        title = "WHAT THE DATA FIX (threshold and depth are told apart only weakly, this is known)"
        found.append((title, [fixed_says(each) for each in fit.fixed]))
    if fit.told:
        found.append(("READ THIS", [told_says(each) for each in fit.told]))
    if odd := disagreeing(fit)[:_ROWS_SHOWN]:
        found.append(("ROWS THAT DISAGREE MOST (by a fit without each)", [row_says(each) for each in odd]))
    return [*found, *_calibrations(fit), *_checked(report), *_jobs(report), *_chosen(report)]


def _numbers(fit: "Fit") -> Iterator[str]:
    heads = ("NUMBERS", "before", "now", "90 % interval", "rows", "sharper")
    yield "{:<34} {:>6} {:>7}  {:<16} {:>4} {:>7}".format(*heads)
    for each in (*fit.numbers, fit.scatter):
        if not each.rows and each.name != "threshold_arcsec":
            continue
        span = f"{each.low:.3g} to {each.high:.3g}"
        yield (
            f"{number_name(each.name):<34} {each.before:>6.3g} {each.value:>7.3g}  {span:<16} "
            f"{each.rows:>4} {_narrower(each):>7}"
        )
    idle = [number_name(each.name) for each in fit.numbers if not each.rows]
    if idle and fit.rows:
        yield from paragraph(f"no rows, left as they are: {'; '.join(idle)}", "  ")


def _narrower(number: "FittedNumber") -> str:
    """Return how many times narrower the interval is than the one before, by its logarithm."""
    widths = [
        math.log(high / low) if 0 < low < high else 0.0
        for low, high in ((number.before_low, number.before_high), (number.low, number.high))
    ]
    return f"{widths[0] / widths[1]:.1f}x" if all(widths) else ""


def _calibrations(fit: "Fit") -> Iterator[tuple[str, list[str]]]:
    if fit.before is None or fit.after is None:
        return
    score = (
        f"numbers in force {fit.before.brier:.3f}; fitted {fit.after.brier:.3f}, each row by a fit "
        f"without it; saying the same of all rows {fit.before.chance_brier:.3f}"
    )
    heads = "predicted by the fit    showed     of    90 % interval"
    yield "HOW WELL LINES ARE PREDICTED (Brier score: 0 is perfect)", [score, heads, *_bins(fit.after)]


def _bins(calibration: "Calibration") -> Iterator[str]:
    for each in calibration.bins:
        span = f"{each.low:.0%} to {each.high:.0%}"
        yield f"{f'{each.predicted:.0%}':>12} {f'{each.showed:.0%}':>17} {each.rows:>6}    {span}"


def _checked(report: FitReport) -> Iterator[tuple[str, list[str]]]:
    check = report.check
    if check is None:
        return
    if not check.whole.rows:
        yield "AGAINST THE NUMBERS IN FORCE: nothing was seen since they were fitted", []
        return
    head = "agree" if check.agrees else "DISAGREE: fit again with all panels, or look for what changed"
    says = [agreement_says(each) for each in (check.whole, *check.odd)]
    yield f"AGAINST THE NUMBERS IN FORCE: they {head}", says


def _jobs(report: FitReport) -> Iterator[tuple[str, list[str]]]:
    if report.replay is None:
        return
    tally = report.replay.tally
    jobs = f"{tally.jobs_changed} of {tally.jobs} jobs change"
    ways = [f"{tally.ways[way]:>3}  {says}" for way, says in WAYS.items() if tally.ways[way]]
    yield (
        f"ON YOUR OWN JOBS: {jobs}, {tally.places_changed} of {tally.places} places",
        [*ways, *changed_says(report.replay.changed)],
    )


def _chosen(report: FitReport) -> Iterator[tuple[str, list[str]]]:
    if not report.chosen:
        return
    basis = (
        "for usual decisions: no archive of jobs was given" if report.usual else "for what your jobs decide"
    )
    says = [f"{place:>2} {next_panel_says(each)}" for place, each in enumerate(report.chosen, 1)]
    yield f"SPRAY NEXT, {basis}", says


def _written(report: FitReport, written: Sequence[Path], out: str | None) -> Iterator[str]:
    if written:
        yield f"written: {', '.join(map(str, written))}; versions before: {out}/earlier"
        yield f"work by them: prepadvisor card JOB.toml --house {out}"
    elif out is not None:
        yield "nothing written: no number has a row"
    elif report.in_force.changed:
        yield "nothing written; --out HOUSE puts the numbers in force"
