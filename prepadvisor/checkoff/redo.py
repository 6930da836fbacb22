"""What became of finished work: how often lines were seen weeks later, by what the place was prepared with.

Every rate stands with a 95 % interval that allows for places of one job going together. Places out of sight
are counted apart: that nobody saw a line there says nothing.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from prepadvisor.cases import JudgedColour, flake_numbers
from prepadvisor.checkoff.shares import share_by_job
from prepadvisor.logbook import Logbook
from prepadvisor.planning import LINE_ZONES, LineModel
from prepadvisor.records import AREA_KINDS, ZONES, Advice, Check, Job, Outcome, Place, Tool, Zone, is_grade

if TYPE_CHECKING:
    from prepadvisor.records import Grade
    from prepadvisor.standards import House

FACTORS: Final = ("flake", "colour", "zone", "tool", "grade", "coats", "reach")
"""What rates are told by: flake, colour, zone, last tool and grade, coats of wet bed, hand-only or not."""


_BOOTH: Final = frozenset({"sealed", "bedded", "coloured", "cleared"})
"""Coats that are logged in the booth."""


class Finished(NamedTuple):
    """A place that was reported on: what it was prepared with, whether lines were seen, what decided.

    `hand` is the scuff ahead of a machine, `tool` and `grade` the last touch; "not recorded" where the log
    has none. `zone` is the strictest that it lies in; `coats` are those of the wet bed as logged. `reach` is
    "hand only" or "machine". `in_sight` is whether any of it can be seen from outside; `cleared` whether the
    job ever was clear to mask. `risk` is what the line model predicts for what was done, None where it has
    nothing to say or the work was not recorded.
    """

    job: str
    place: str
    flake: str
    hand: str
    tool: Tool | Literal["not recorded"]
    grade: "Grade | Literal['not recorded']"
    coats: str
    reach: str
    in_sight: bool
    seen: bool
    note: str
    rules: tuple[str, ...]
    zone: Zone | Literal["not known"] = "not known"
    cleared: bool = True
    risk: float | None = None
    colour: str = ""


class Rate(NamedTuple):
    """How often lines were seen: places, of those seen, jobs, the share, and its 95 % interval.

    `worth` is the number of independent places that carry as much as these. `predicted` is the mean risk of
    the `judged` places among them that the line model has something to say of, None without any.
    """

    factor: str
    value: str
    places: int
    seen: int
    share: float
    low: float
    high: float
    jobs: int
    worth: float
    predicted: float | None = None
    judged: int = 0


def finished(job: Job, advice: Advice, *, cleared: bool = True) -> tuple[Finished, ...]:
    """Return every place of a job that was reported on, by the last word on each.

    A report for "all" speaks for the places of its panel that have none of their own.

    Args:
        job: the job with its log and outcomes.
        advice: the advice for exactly this job.
        cleared: whether the job ever was clear to mask.
    """
    work: dict[str, list[Check]] = {}
    for entry in Logbook.read(job.check).standing:
        if entry.check.step in {"scuffed", "sanded", *_BOOTH}:
            work.setdefault(entry.check.panel, []).append(entry.check)
    zones = {spot.id: spot.zone for spot in advice.spots}
    rules = {spot.id: tuple(because.rule for because in spot.because) for spot in advice.spots}
    visible = {f"{spot.panel}/{spot.feature}" for spot in advice.spots if spot.seen}
    found = []
    for place in advice.places:
        report = _report(job, place)
        if report is not None:
            named = {place.feature, "all"}
            own = [check for check in work.get(place.panel, []) if check.feature in named]
            booth = [check for check in work.get(place.panel, []) if check.step in _BOOTH]
            made = _finished(
                job, advice, place, own=own, report=report, rules=rules, visible=place.id in visible
            )
            zone: Zone | Literal["not known"] = max(
                (zones[spot] for spot in place.spots if spot in zones), key=ZONES.index, default="not known"
            )
            coats = _coats(booth, place)
            found.append(made._replace(zone=zone, coats=coats, cleared=cleared))
    return tuple(found)


def _coats(booth: Iterable[Check], place: Place) -> str:
    """Return the coats of wet bed that were logged over a place; "not recorded" where no coat was."""
    steps = [check.step for check in booth if check.feature in {place.feature, "panel", "all"}]
    return str(steps.count("bedded")) if steps else "not recorded"


def with_risks(places: Iterable[Finished], colour: JudgedColour, house: "House") -> tuple[Finished, ...]:
    """Return places with what the line model predicts for what was done at each, coats as sprayed.

    Args:
        places: places of one job.
        colour: its colour as judged.
        house: the numbers in force.
    """
    flake, model = flake_numbers(house.constants, colour), LineModel(house.constants)
    solids = house.shop.wet_bed.set_solids
    found = []
    for place in places:
        coats = int(place.coats) if place.coats.isdecimal() else 0
        zone = next((each for each in LINE_ZONES if each == place.zone), None)
        known = place.in_sight and zone is not None and place.tool != "not recorded"
        if known and zone and flake is not None and is_grade(place.grade) and place.tool != "not recorded":
            line = model.estimate(flake, place.tool, place.grade, zone=zone, coats=coats, set_solids=solids)
            found.append(place._replace(risk=line.risk))
        else:
            found.append(place)
    return tuple(found)


def in_sight(places: Iterable[Finished]) -> tuple[Finished, ...]:
    """Return the places that can be seen from outside: those that rates are told of."""
    return tuple(place for place in places if place.in_sight)


def rates(places: Iterable[Finished], factor: str) -> tuple[Rate, ...]:
    """Return the rates by one of `FACTORS`, the most often seen first."""
    groups: dict[str, list[Finished]] = {}
    for place in places:
        if value := str(getattr(place, factor)):
            groups.setdefault(value, []).append(place)
    made = [rate(factor, value, own) for value, own in groups.items()]
    return tuple(sorted(made, key=lambda each: (-each.share, -each.places, each.value)))


def rate(factor: str, value: str, places: Iterable[Finished]) -> Rate:
    """Return one rate of one or more places; those of one job number count as going together."""
    by_job: dict[str, list[bool]] = {}
    own = list(places)
    for place in own:
        by_job.setdefault(place.job, []).append(place.seen)
    share = share_by_job(by_job)
    risks = [place.risk for place in own if place.risk is not None]
    return Rate(
        factor=factor,
        value=value,
        places=share.places,
        seen=share.seen,
        share=share.share,
        low=share.low,
        high=share.high,
        jobs=share.jobs,
        worth=share.worth,
        predicted=sum(risks) / len(risks) if risks else None,
        judged=len(risks),
    )


def _report(job: Job, place: Place) -> Outcome | None:
    own = [each for each in job.outcome if (each.panel, each.feature) == (place.panel, place.feature)]
    shared = [each for each in job.outcome if (each.panel, each.feature) == (place.panel, "all")]
    reports = own or shared
    return reports[-1] if reports else None


def _finished(
    job: Job,
    advice: Advice,
    place: Place,
    own: list[Check],
    report: Outcome,
    rules: dict[str, tuple[str, ...]],
    visible: bool,
) -> Finished:
    by_hand = place.reach == "hand"
    last = _last(own, "scuffed" if by_hand else "sanded")
    ahead = None if by_hand or place.kind in AREA_KINDS else _last(own, "scuffed")
    return Finished(
        job=job.job.number,
        place=place.id,
        flake=advice.job.flake,
        colour=job.colour.book or job.colour.name,
        hand=f"{ahead.tool or 'not recorded'} {ahead.grade or ''}".strip() if ahead else "",
        tool=(last.tool if last else None) or "not recorded",
        grade=(last.grade if last else None) or "not recorded",
        coats="",
        reach="hand only" if by_hand else "machine",
        in_sight=visible,
        seen=report.seen,
        note=report.note,
        rules=tuple(dict.fromkeys(rule for spot in place.spots for rule in rules.get(spot, ()))),
    )


def _last(own: list[Check], step: str) -> Check | None:
    return next((check for check in reversed(own) if check.step == step), None)
