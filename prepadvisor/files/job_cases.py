"""Refuses a job that states what cannot be, by the standards' own list of impossible combinations."""

from prepadvisor.cases.fact import CaseSpot
from prepadvisor.cases.facts import facts_of
from prepadvisor.cases.subjects import Subject, subjects
from prepadvisor.cases.zones import zoning
from prepadvisor.records.fault import Problem
from prepadvisor.records.job import Job
from prepadvisor.records.nearest import did_you_mean, nearest
from prepadvisor.standards.house import House

_MEND = "compare role, surface, next, special and reach"


def impossible_places(job: Job, house: House) -> list[Problem]:
    """Return one problem for each place whose facts cannot be true together, in a zone it really touches."""
    problems: list[Problem] = []
    colour = house.judged(job.colour)
    for number, panel in enumerate(job.panel):
        told: set[str] = set()
        for subject in subjects(panel, zoning(panel, house.shop.mist_mm)):
            cases = (facts_of(CaseSpot(colour, subject, *part)) for part in subject.amounts)
            because = next(filter(None, map(house.engine.impossible, cases)), None)
            if because and because not in told:
                told.add(because)
                says = f"{_called(subject)} cannot be as stated: {because}"
                problems.append(Problem(("panel", number, *_key(subject)), says, _MEND))
    return problems


def unknown_kinds(job: Job, house: House) -> list[Problem]:
    """Return one problem for each panel of a kind that the house has no outline of."""
    return [
        Problem(("panel", number, "kind"), *_not_there(panel.kind, house))
        for number, panel in enumerate(job.panel)
        if panel.kind not in house.outlines
    ]


def _not_there(kind: str, house: House) -> tuple[str, str]:
    """Return what is wrong with a kind, and its mend."""
    if kind in house.engine.kinds:
        says = f'kind "{kind}" is stated by a layer that does not count for this job'
        return says, "compare the job's date and customer with [standards] of the layers"
    meant = did_you_mean(kind, house.outlines)
    own = "a kind of the shop's own is stated in its panels.toml, with an outline"
    return f'kind "{kind}" is not known', meant if nearest(kind, house.outlines) else f"{meant}; {own}"


def _called(subject: Subject) -> str:
    if subject.kind == "face":
        return f"the panel {subject.panel.id}"
    return f"the {'line' if subject.is_line else 'patch'} {subject.feature}"


def _key(subject: Subject) -> tuple[str | int, ...]:
    """Return where on its panel a fault of a place is shown; places are numbered lines first."""
    if subject.kind == "face":
        return ("surface",)
    if subject.is_line:
        return ("feature", subject.number - 1, "kind")
    return ("patch", subject.number - 1 - len(subject.panel.feature), "surface")
