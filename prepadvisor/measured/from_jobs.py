"""What jobs add to a fit: outcomes and wet looks as rows of their own kind, and the decisions they hold."""

import datetime as dt
import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import JudgedColour, flake_numbers
from prepadvisor.logbook import Logbook
from prepadvisor.measured.choosing import ArchivedDecision, Case
from prepadvisor.measured.force import ColourSize
from prepadvisor.measured.likelihood import SIZE
from prepadvisor.measured.model import ModelFlake
from prepadvisor.records import (
    RANK,
    Advice,
    Check,
    Constants,
    Grade,
    Job,
    PanelRow,
    Place,
    RowKind,
    SeenFlake,
    Shows,
    Spot,
    Tool,
)

if TYPE_CHECKING:
    from prepadvisor.measured.posterior import Posterior

CLASS_MARK: Final = "class "
"""What the name of a class begins with where it stands as a colour."""

_NEAR: Final = 1
_FINE_FROM: Final = Grade("P500")
_USABLE_FROM: Final = Grade("P240")
"""Grades of the shelf either side of the chosen one that a decision weighs as well."""


def job_rows(
    job: Job, advice: Advice, colour: JudgedColour, file: str, leads: Sequence[str] = ()
) -> list[PanelRow]:
    """Return the rows of a job: one for each outcome, by the last word on each, and one for each wet look.

    A report on a whole panel counts once, at the place where a line was most likely: places of one panel go
    together, and what was not seen there was not seen elsewhere. Places without an estimate of a line say
    nothing; where the last touch was not recorded the planned one counts as done.

    Args:
        job: the job with its log and outcomes.
        advice: the advice for exactly this job.
        colour: its colour as judged.
        file: what it is called.
        leads: initials of the shop's leads, who may strike what was found.
    """
    checks = [entry.check for entry in Logbook.read(job.check, leads=leads).standing]
    reported: dict[tuple[str, str], tuple[RowKind, Shows, str, str, dt.date]] = {}
    for outcome in job.outcome:
        shows: Shows = "yes" if outcome.seen else "no"
        reported[outcome.panel, outcome.feature] = (
            "outcome", shows, outcome.by, outcome.note, outcome.at.date(),
        )  # fmt: skip
    rows = [
        row
        for (panel, feature), (kind, shows, by, note, date) in reported.items()
        for row in _row_at(
            job,
            advice,
            colour,
            checks=checks,
            panel=panel,
            feature=feature,
            kind=kind,
            shows=shows,
            by=by,
            note=note,
            date=date,
            file=file,
        )
    ]
    for number, check in enumerate(checks):
        if check.step == "seen-wet" and check.result in {"clear", "lines"}:
            shows = "no" if check.result == "clear" else "yes"
            rows += _row_at(
                job,
                advice,
                colour,
                checks=checks[:number],
                panel=check.panel,
                feature=check.feature,
                kind="wet-look",
                shows=shows,
                by=check.by,
                note=check.note,
                date=check.at.date(),
                file=file,
            )
    return rows


def _row_at(
    job: Job,
    advice: Advice,
    colour: JudgedColour,
    checks: Sequence[Check],
    panel: str,
    feature: str,
    kind: RowKind,
    shows: Shows,
    by: str,
    note: str,
    date: dt.date,
    file: str,
) -> list[PanelRow]:
    spots = {spot.id: spot for spot in advice.spots}
    found: list[tuple[float, PanelRow]] = []
    for place in advice.places:
        if place.panel != panel or (feature != place.feature and feature not in {"all", "panel"}):
            continue
        touch = _last_touch(place, checks)
        for spot in (spots[name] for name in place.spots if name in spots):
            if spot.line is None or spot.finish is None:
                continue
            row = PanelRow(
                tool=(touch.tool if touch else None) or spot.finish.tool,
                grade=(touch.grade if touch else None) or spot.finish.chosen,
                shows=shows,
                flake=colour.flake,
                flake_um=job.colour.flake_um,
                tilt_deg=job.colour.tilt_deg,
                log_sd=job.colour.log_sd,
                colour=job.colour.book or job.colour.name,
                coats=_coats(spot, panel, checks),
                zone="colour" if spot.zone == "colour" else "fade",
                by=by,
                note=note,
                date=date,
                kind=kind,
                file=file,
            )
            found.append((spot.line.risk, row))
    return [max(found, key=lambda each: each[0])[1]] if found else []


def _last_touch(place: Place, checks: Sequence[Check]) -> Check | None:
    """Return the entry of the place's last cut: the DA's, or the hand's where hand comes last."""
    step = "scuffed" if place.reach == "hand" else "sanded"
    own = [
        check
        for check in checks
        if check.panel == place.panel and check.step == step and check.feature in {place.feature, "all"}
    ]
    return own[-1] if own else None


def _coats(spot: Spot, panel: str, checks: Sequence[Check]) -> int:
    """Return coats of wet bed sprayed: as logged, else as required."""
    logged = sum(check.panel == panel and check.step == "bedded" for check in checks)
    return logged or spot.wet_bed.coats_counted


def decisions_of(
    jobs: Iterable[tuple[JudgedColour, Advice]], shelf: Sequence[Grade], constants: Constants
) -> list[ArchivedDecision]:
    """Return the decisions of an archive: for each spot with an estimate its grade and those beside it.

    Args:
        jobs: colours of jobs as judged, with their advice.
        shelf: grades on the shelf.
        constants: the numbers in force.
    """
    grades = sorted(set(shelf), key=RANK.__getitem__)
    counted: Counter[tuple[Case, float]] = Counter()
    for colour, advice in jobs:
        numbers = flake_numbers(constants, colour)
        if numbers is None:
            continue
        flake = ModelFlake("", numbers.d50_um, numbers.log_sd, numbers.tilt_deg)
        for spot in advice.spots:
            if spot.line is None or spot.finish is None or spot.finish.chosen not in grades:
                continue
            at = grades.index(spot.finish.chosen)
            coats = spot.wet_bed.coats_counted
            for grade in grades[max(at - _NEAR, 0) : at + _NEAR + 1]:
                case = Case(
                    label=colour.flake,
                    flake=flake,
                    tool=spot.finish.tool,
                    grade=grade,
                    zone=spot.zone,
                    coats=coats,
                )
                counted[case, spot.risk_limit or 0.5] += 1
    return [ArchivedDecision(case, limit, float(times)) for (case, limit), times in counted.items()]


def usual_decisions(
    constants: Constants,
    shelf: Sequence[Grade],
    tools: Mapping[Tool, float],
    limits: Mapping[SeenFlake, float],
) -> list[ArchivedDecision]:
    """Return decisions for a shop without an archive: every class and grade of the shelf in the fade.

    Args:
        constants: the numbers in force.
        shelf: grades on the shelf.
        tools: tools that finish, with how much each counts.
        limits: limit of risk by flake class.
    """
    fine = [grade for grade in shelf if RANK[grade] >= RANK[_FINE_FROM]]
    found = []
    for name, own in constants.flake.items():
        flake = ModelFlake("", own.d50_um.value, own.log_sd.value, own.tilt_deg.value)
        for tool, weight in tools.items():
            for grade in fine:
                for coats in (0, 1):
                    case = Case(label=name, flake=flake, tool=tool, grade=grade, zone="fade", coats=coats)
                    found.append(ArchivedDecision(case, limits.get(name, 0.25), weight))
    return found


def candidates_of(
    decisions: Sequence[ArchivedDecision], shelf: Sequence[Grade], coats_most: int = 2
) -> list[Case]:
    """Return the panels that could be sprayed: flakes and tools of the decisions, grades on the shelf.

    Grades coarser than P240 leave grooves that no panel of a blend shows in doubt.
    """
    flakes = dict.fromkeys((one.case.label, one.case.flake) for one in decisions)
    tools: dict[str, None] = dict.fromkeys(one.case.tool for one in decisions)
    usable = [
        grade for grade in sorted(set(shelf), key=RANK.__getitem__) if RANK[grade] >= RANK[_USABLE_FROM]
    ]
    grades = usable or sorted(set(shelf), key=RANK.__getitem__)
    return [
        Case(label=label, flake=flake, tool=tool, grade=grade, zone="fade", coats=coats)
        for label, flake in flakes
        for tool in tools
        for grade in grades
        for coats in range(coats_most + 1)
    ]


def by_class(rows: Sequence[PanelRow]) -> list[PanelRow]:
    """Return rows whose class stands as a colour of its own, for choosing panels.

    The fit takes the sizes of the classes as they are. For what to spray next they are in doubt as well: else
    a panel in one flake would seem to tell all about another.
    """
    return [
        row._replace(colour=f"{CLASS_MARK}{row.flake}")
        if row.flake and not row.colour and row.flake_um is None
        else row
        for row in rows
    ]


def classes_in_doubt(constants: Constants) -> dict[str, ColourSize]:
    """Return the classes as colours in doubt: size and tilt together, as both move lines alike."""
    doubt = math.hypot(constants.uncertainty.d50.value, constants.uncertainty.tilt.value)
    return {f"{CLASS_MARK}{name}": ColourSize(name, sd=doubt) for name in constants.flake}


def class_unsure(case: Case, believed: "Posterior") -> Case:
    """Return a case whose flake's size is in doubt as its class's, where the unknowns have it."""
    name = f"{CLASS_MARK}{case.label}"
    known = f"{SIZE}{name}" in believed.layout.place
    return case._replace(flake=case.flake._replace(colour=name)) if known else case
