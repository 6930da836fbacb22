"""The report of a fit on paper: numbers, drawings, what is told, rows that disagree, jobs, the spray plan."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cards.figures.fit_figures import (
    curve_figure,
    intervals_figure,
    plan_figures,
    reliability_figure,
)
from prepadvisor.cards.fit.changed import changed_says
from prepadvisor.cards.fit.report import FitReport, disagreeing
from prepadvisor.cards.page.leaflet import Drawing, Grid, Heading, Item, Paragraph, leaflet
from prepadvisor.planning import WAYS
from prepadvisor.wording import (
    agreement_says,
    fixed_says,
    next_panel_says,
    number_name,
    row_says,
    rows_says,
    told_says,
)

if TYPE_CHECKING:
    from prepadvisor.cards.page.pages import Pages
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.records import Fit, FitCheck, NextPanel

_ROWS_SHOWN: Final = 8


class ReportFacts(NamedTuple):
    """What the page shows.

    Attributes:
        title: what the report is of.
        fit: the fit.
        check: whether rows agree with the numbers in force, None if not asked.
        chosen: panels to spray next.
        usual: whether they are chosen for usual decisions.
        changes: what changes on the shop's own jobs, as counts with their words; empty without jobs.
        jobs: each job that changes, in a sentence.
        spread_in_force: standard deviation of the curve by the numbers in force [ln A].
    """

    title: str
    fit: "Fit"
    check: "FitCheck | None"
    chosen: Sequence["NextPanel"]
    usual: bool
    changes: Sequence[tuple[int, str]]
    jobs: Sequence[str]
    spread_in_force: float


def fit_facts(report: FitReport) -> ReportFacts:
    """Return what the page shows of a report."""
    changes: list[tuple[int, str]] = []
    if report.replay is not None:
        tally = report.replay.tally
        changes = [(tally.places_changed, f"of {tally.places} places change")]
        changes += [(tally.ways[way], says) for way, says in WAYS.items() if tally.ways[way]]
    return ReportFacts(
        title=f"Fit of {report.panels}, {report.day.isoformat()}",
        fit=report.fit,
        check=report.check,
        chosen=report.chosen,
        usual=report.usual,
        changes=changes,
        jobs=tuple(changed_says(report.replay.changed)) if report.replay is not None else (),
        spread_in_force=report.spread_in_force,
    )


def fit_pages(facts: ReportFacts, paper: "PaperName" = "a4") -> "Pages":
    """Return the report set on pages."""
    return leaflet(facts.title, list(_items(facts)), paper)


def plan_pages(chosen: Sequence["NextPanel"], paper: "PaperName" = "a4") -> "Pages":
    """Return the spray plan alone set on pages."""
    return leaflet("Spray plan for test panels", list(_plan(chosen)), paper)


def _items(facts: ReportFacts) -> Iterator[Item]:
    fit = facts.fit
    yield Heading(facts.title, top=True)
    yield Paragraph(rows_says(fit))
    yield Heading("Numbers")
    moved = [(number_name(each.name), each) for each in (*fit.numbers, fit.scatter) if each.rows]
    columns = (
        ("number", 4.0, "left"), ("in force", 1.2, "right"), ("now", 1.2, "right"), ("90 %", 2.0, "right"),
        ("90 % before", 2.0, "right"), ("rows", 0.8, "right"),
    )  # fmt: skip
    yield Grid(
        "Numbers before and after",
        columns,  # type: ignore[arg-type]
        tuple(
            (
                name, f"{each.before:.3g}", f"{each.value:.3g}", f"{each.low:.3g} to {each.high:.3g}",
                f"{each.before_low:.3g} to {each.before_high:.3g}", str(each.rows),
            )
            for name, each in moved
        ),
    )  # fmt: skip
    if moved:
        yield Drawing((intervals_figure(moved),))
    if fit.fixed:
        yield Heading("What the data fix: threshold and depth together")
        yield from (Paragraph(fixed_says(each)) for each in fit.fixed)
    if fit.told:
        yield Heading("Read this")
        yield from (Paragraph(told_says(each)) for each in fit.told)
    if fit.fitted:
        yield Heading("Panels on the curve")
        before = curve_figure(fit.fitted, facts.spread_in_force, "by the numbers in force", before=True)
        after = curve_figure(fit.fitted, fit.scatter.value, "by the fit", before=False)
        yield Drawing((before, after))
    yield from _calibrations(fit)
    if odd := disagreeing(fit)[:_ROWS_SHOWN]:
        yield Heading("Rows that disagree most, by a fit without each")
        yield from (Paragraph(row_says(each)) for each in odd)
    if facts.check is not None:
        yield Heading("Against the numbers in force")
        yield from (Paragraph(agreement_says(each)) for each in (facts.check.whole, *facts.check.odd))
    if facts.changes:
        yield Heading("On your own jobs")
        yield from (Paragraph(f"{count}  {says}") for count, says in facts.changes)
        yield from map(Paragraph, facts.jobs)
    if facts.chosen:
        yield from _plan(facts.chosen)


def _calibrations(fit: "Fit") -> Iterator[Item]:
    if fit.before is None or fit.after is None:
        return
    yield Heading("Predicted against seen")
    yield Paragraph(
        f"Brier score (0 is perfect): numbers in force {fit.before.brier:.3f}; fitted {fit.after.brier:.3f}, "
        f"each row by a fit without it; saying the same of all rows {fit.before.chance_brier:.3f}. "
        f"Bars are exact 90 % intervals."
    )
    yield Drawing(
        (reliability_figure(fit.before, "numbers in force"), reliability_figure(fit.after, "fitted"))
    )


def _plan(chosen: Sequence["NextPanel"]) -> Iterator[Item]:
    yield Heading("Spray next")
    for number, each in enumerate(chosen, 1):
        yield Paragraph(next_panel_says(each), str(number))
    yield Heading("Spray plan: strips at a quarter of their size")
    for figure in plan_figures(chosen):
        yield Drawing((figure,))
    yield Paragraph(
        "Strips stand in an order drawn by lot. Number the panel on its back only; who reads it does not see "
        "this sheet. Half of each strip that takes a wet bed is masked off, so that it stands beside itself "
        "without. Dust, spray and solvents: protection as for any sanding and spraying; makers' sheets and "
        "local codes come first."
    )
