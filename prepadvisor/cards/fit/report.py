"""One fit from files to facts: rows, jobs and house read, fitted, checked, replayed, and panels chosen."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from prepadvisor.cards.fit.changed import ReadJob, Replayed, replayed
from prepadvisor.cases import Facts
from prepadvisor.files import job_files, load_house, load_job, read_panels
from prepadvisor.measured import (  # fmt: skip
    ArchivedDecision,
    ColourSize,
    Fitted,
    InForce,
    InForceNext,
    Settings,
    applied,
    by_class,
    by_colour,
    candidates_of,
    checked,
    choose,
    class_unsure,
    classes_in_doubt,
    decisions_of,
    fit_rows,
    heaviest,
    job_rows,
    usual_decisions,
)
from prepadvisor.planning import advise
from prepadvisor.records import (
    BadInputError,
    ColourRecord,
    Fault,
    Fit,
    FitCheck,
    NextPanel,
    NextReason,
    PanelRow,
    RowFitted,
    key_of,
)

if TYPE_CHECKING:
    from prepadvisor.standards import House

_UNLIKELY: Final = 0.25

FitStage = Literal["jobs", "fit", "next", "replay"]
"""What a fit is at: reading jobs, fitting, choosing panels, our jobs by the numbers found."""

FitTold = Callable[[FitStage, int, int], None]
"""Is told of each step: the stage, how much of it is done, of how much. What it raises ends the fit."""


def _nobody(_stage: FitStage, _done: int, _of: int) -> None:
    """Tell nobody."""


class FitReport(NamedTuple):
    """A fit with what it leads to.

    Attributes:
        fit: the numbers and what is told of the data.
        in_force: constants and shop with the fit in force, and names of the numbers that changed.
        check: whether what was seen agrees with the numbers in force; None if not asked for.
        chosen: panels to spray next.
        usual: whether they were chosen for usual decisions, because there is no archive of jobs.
        replay: what the fit changes on the shop's own jobs; None without jobs.
        spread_in_force: standard deviation of ln(A/T) that the curve in force has, threshold's own.
        panels: name of the file of panels.
        day: the day of the fit.
    """

    fit: Fit
    in_force: InForceNext
    check: FitCheck | None
    chosen: tuple[NextPanel, ...]
    usual: bool
    replay: Replayed | None
    spread_in_force: float
    panels: str
    day: dt.date


def fitted_report(
    panels: str | None,
    jobs: Sequence[str],
    folders: Sequence[str],
    count: int,
    now: dt.datetime,
    *,
    check: bool,
    told: FitTold = _nobody,
) -> FitReport:
    """Read, fit, and work out what follows.

    Args:
        panels: file of test panels, or "-"; None where there is none yet.
        jobs: job files or folders of them.
        folders: house folders whose numbers are in force.
        count: how many panels to choose next.
        now: the time.
        check: whether to hold what was seen against the numbers in force.
        told: is told how far it is.

    Raises:
        BadInputError: with every fault of rows, jobs and house.
    """
    house, shipped = load_house(*folders), load_house()
    faults: list[Fault] = []
    rows: list[PanelRow] = []
    try:
        rows = read_panels(panels, now.date()) if panels is not None else []
    except BadInputError as error:
        faults += error.faults
    archive = _archive(jobs, house, faults, told)
    if faults:
        raise BadInputError(faults)
    rows += _rows_of(archive, house)
    told("fit", 0, 1)
    force = _force(house, shipped)
    fitted = fit_rows(rows, force)
    told("next", 0, 1)
    weighing = _in_doubt(rows, fitted, force) if count else fitted
    name = "standard input" if panels == "-" else Path(panels).name if panels else "no panels yet"
    note = f"fit of {len(rows)} rows, {name}"
    after = applied(
        house.constants, house.shop, fitted.fit, believed=fitted.believed, today=now.date(), note=note
    )
    decided = [(house.judged(read.job.colour), read.advice) for read in archive]
    decisions = decisions_of(decided, house.shop.shelf, fitted.start)
    usual = not decisions
    if usual:
        decisions = _usual(house, fitted)
    return FitReport(
        fit=fitted.fit,
        in_force=after,
        check=checked(_new_rows(fitted.fit, house)) if check and rows else None,
        chosen=_chosen(weighing, decisions, house, count),
        usual=usual,
        replay=_replayed(archive, house, after, told) if archive else None,
        spread_in_force=house.constants.uncertainty.thinnest_line.value,
        panels=name,
        day=now.date(),
    )


def disagreeing(fit: Fit) -> list[RowFitted]:
    """Return the rows whose answer had less than a chance of one in four by a fit without them, oddest first.

    "barely" is a narrow band, never likely: it disagrees where a line would all but surely show, or hide.
    """

    def is_odd(each: RowFitted) -> bool:
        match each.row.shows:
            case "yes":
                return each.left_out < _UNLIKELY
            case "no":
                return each.left_out > 1.0 - _UNLIKELY
            case "barely":
                return not _UNLIKELY / 4 < each.left_out < 1.0 - _UNLIKELY / 4

    return sorted(filter(is_odd, fit.fitted), key=lambda each: -each.surprise)


def colour_records(
    house: "House",
    panels: Path | None,
    jobs: Sequence[str],
    now: dt.datetime,
    *,
    told: FitTold = _nobody,
) -> dict[str, ColourRecord]:
    """Return what the shop's record has of each colour of its book, by the book's key.

    Args:
        house: the house with its book.
        panels: its table of test panels; one that is not there counts as empty.
        jobs: job files or folders of them, for outcomes and wet looks.
        now: the time.
        told: is told how far it is.

    Raises:
        BadInputError: with every fault of panels and jobs.
    """
    faults: list[Fault] = []
    rows = read_panels(panels, now.date()) if panels is not None and panels.is_file() else []
    archive = _archive(jobs, house, faults, told)
    if faults:
        raise BadInputError(faults)
    rows += _rows_of(archive, house)
    names = {key_of(entry.name): key for key, entry in house.book.items() if entry.name}
    return by_colour(rows, names | {key: key for key in house.book})


def _rows_of(archive: Sequence[ReadJob], house: "House") -> list[PanelRow]:
    """Return what jobs add to test panels."""
    return [
        row
        for read in archive
        for row in job_rows(read.job, read.advice, house.judged(read.job.colour), read.file, house.shop.leads)
    ]


def _archive(jobs: Sequence[str], house: "House", faults: list[Fault], told: FitTold) -> list[ReadJob]:
    found: list[ReadJob] = []
    files = _job_files(jobs)
    for done, name in enumerate(files):
        told("jobs", done, len(files))
        try:
            job = load_job(name, house)
        except BadInputError as error:
            faults += error.faults
        else:
            found.append(ReadJob(name, job, advise(job, house, seek_offers=False)))
    return found


def _job_files(jobs: Sequence[str]) -> list[str]:
    """Return the job files that are meant; of folders those that say [job]: a house is none."""
    if not jobs:
        return []
    named = {name for name in jobs if not Path(name).is_dir()}
    found = job_files(list(jobs))
    return [name for name in found if name in named or b"[job]" in Path(name).read_bytes()]


def _force(house: "House", shipped: "House") -> InForce:
    passport = house.shop.passport.get("wet_bed.set_solids")
    own = house.shop.wet_bed.set_solids
    start = shipped.shop.wet_bed.set_solids if passport and passport.known == "measured" else own
    return InForce(house.constants, shipped.constants, own, start, _sizes(house))


def _sizes(house: "House") -> dict[str, ColourSize]:
    """Return the colours of the book by the names a row may call them: its word and its name."""
    found: dict[str, ColourSize] = {}
    for entry in house.book.values():
        flake = None if entry.flake in {"unknown", "solid"} else entry.flake
        size = ColourSize(flake, entry.flake_um, entry.log_sd, entry.tilt_deg)
        found |= {name: size for name in (entry.name, entry.book) if name}
    return found


def _new_rows(fit: Fit, house: "House") -> tuple[RowFitted, ...]:
    """Return the rows that the numbers in force were not fitted to: those dated after the fit, if it says."""
    fitted_on = house.constants.sight.thinnest_line_arcsec.measured_on
    if fitted_on is None:
        return fit.fitted
    return tuple(each for each in fit.fitted if each.row.date is not None and each.row.date > fitted_on)


def _in_doubt(rows: Sequence[PanelRow], fitted: Fitted, force: InForce) -> Fitted:
    """Return the fit that panels are chosen by: sizes of the classes are in doubt as well."""
    return fit_rows(by_class(rows), force, doubted=classes_in_doubt(fitted.start))


def _usual(house: "House", fitted: Fitted) -> list[ArchivedDecision]:
    """Return what a shop without jobs decides: every class on the shelf, with its finishing and hand tool."""
    shop = house.shop
    limits = {
        flake: house.engine.decide(Facts(flake=flake, zone="fade")).risk_limit or 0.25
        for flake in fitted.start.flake
    }
    tools = dict.fromkeys((shop.finishing_tool, shop.hand_tool), 1.0)
    return usual_decisions(fitted.start, shop.shelf, tools, limits)


def _chosen(
    fitted: Fitted, decisions: Sequence[ArchivedDecision], house: "House", count: int
) -> tuple[NextPanel, ...]:
    if not count:
        return ()
    weighed = [one._replace(case=class_unsure(one.case, fitted.believed)) for one in heaviest(decisions)]
    candidates = candidates_of(weighed, house.shop.shelf)
    settings = Settings(fitted.believed.layout, fitted.start)
    found: list[NextPanel] = []
    before: list[int] = []
    for choice in choose(fitted.believed, candidates, weighed, settings, count):
        panel, about = candidates[choice.candidate], weighed[choice.decision].case
        because = NextReason(
            flake=about.label,
            tool=about.tool,
            grade=about.grade,
            coats=about.coats,
            zone=about.zone,
            decisions=choice.bears_on,
            chance=choice.chance,
            sure=choice.sure,
            settles=choice.settles,
            alike=sum(panel == candidates[one] for one in before),
        )
        before.append(choice.candidate)
        found.append(
            NextPanel(
                flake=panel.label,
                tool=panel.tool,
                grade=panel.grade,
                coats=panel.coats,
                gain=choice.gain,
                because=because,
            )
        )
    return tuple(found)


def _replayed(archive: Sequence[ReadJob], house: "House", after: InForceNext, told: FitTold) -> Replayed:
    changed = replace(house, constants=after.constants, shop=after.shop, dated=None)
    return replayed(archive, changed, lambda done, of: told("replay", done, of))
