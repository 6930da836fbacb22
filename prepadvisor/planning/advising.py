"""From a job and a house to the whole advice."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from prepadvisor.cases import JudgedColour, standing, with_usual_lines
from prepadvisor.planning.assumed import assumptions
from prepadvisor.planning.materials import discs, mix_ml
from prepadvisor.planning.offers import offers
from prepadvisor.planning.panels import PanelPlan, plan_panel
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.work.plan import plan_work
from prepadvisor.records import (
    Advice,
    Caution,
    Colour,
    HeldAfterPrimer,
    HoldKind,
    Job,
    JobSummary,
    RuleCaution,
    Shop,
)

if TYPE_CHECKING:
    from prepadvisor.standards import House

# A job as it stands by its log: patches and panels that primer is on.


def primed_places(job: Job) -> dict[str, set[str]]:
    """Return the patches, or "panel", that the log has as primed, by panel."""
    if not job.check:
        return {}
    from prepadvisor.logbook import primed  # only a job with a log pays for reading one

    on: dict[str, set[str]] = {}
    for one in primed(job.check, job.job.number):
        on.setdefault(one.panel, set()).add(one.feature)
    return on


def as_primed(job: Job, shop: Shop) -> Job:
    """Return a job with what is primed as primer surfacer, not yet sanded, grown by the lap.

    Args:
        job: the job with its log.
        shop: how far primer laps, and is keyed past that.
    """
    on = primed_places(job)
    if not on:
        return job
    panels = tuple(
        standing(panel, on.get(panel.id, set()), shop.lap_mm, shop.ring_mm).now for panel in job.panel
    )
    return job.model_copy(update={"panel": panels})


_KEPT = 16
_planners: dict[tuple[int, JudgedColour], Planner] = {}


def advise(job: Job, house: "House", *, seek_offers: bool = True) -> Advice:
    """Advise on a job: every spot, place and panel, materials, holds, offers and cautions.

    Args:
        job: a job whose panels fit (the file layer has checked it).
        house: the standards, shop, constants and outlines it is judged by.
        seek_offers: look for cheaper ways too, which advises again for each; `offers` is empty without.

    Returns:
        The advice. Places without a safe finish stand in `holds`; none is left out.
    """
    house = house.on(job)
    job = with_usual_lines(job, house.outlines)
    panels = _planned(job, house, {})
    advice = _advise(job, house, panels)
    if not seek_offers:
        return advice
    known = dict(zip(map(id, job.panel), panels, strict=True))
    found = offers(job, advice, lambda changed: _advise(changed, house, _planned(changed, house, known)))
    return advice._replace(offers=found) if found else advice


def _planned(job: Job, house: "House", known: Mapping[int, PanelPlan]) -> list[PanelPlan]:
    """Plan the panels of a job, but for those whose plan is known by their identity."""
    planner, shop = _planner(house, job.colour), house.shop
    on = primed_places(job)
    return [
        known.get(id(panel))
        or plan_panel(standing(panel, on.get(panel.id, set()), shop.lap_mm, shop.ring_mm), planner)
        for panel in job.panel
    ]


def _advise(job: Job, house: "House", panels: list[PanelPlan]) -> Advice:
    planned = plan_work(panels, _planner(house, job.colour))
    beds = [
        (one.advice.wet_bed.area_m2, one.advice.wet_bed.coats)
        for one in panels
        if one.advice.id not in planned.work.unplanned
    ]
    work, sums = planned.work, planned.minutes
    places = [place for one in panels for place in one.places]
    return Advice(
        job=_summary(job, house),
        standards=house.used,
        spots=tuple(plan.spot for one in panels for plan in one.plans),
        places=tuple(place._replace(minutes=sums.get(place.id, 0.0)) for place in places),
        panels=tuple(one.advice._replace(minutes=sums.get(one.advice.id, 0.0)) for one in panels),
        mix_ml=mix_ml(beds, house.shop.wet_bed, house.constants.mixing),
        discs=discs(planned.sanded_dm2, house.shop),
        minutes=sum(stage.minutes for stage in work.stages),
        work=work,
        holds=tuple(hold for one in panels for hold in one.holds),
        offers=(),
        cautions=_cautions(
            job, house, [one for one in panels if one.advice.id not in planned.work.unplanned]
        ),
    )


def _planner(house: "House", colour: Colour) -> Planner:
    """Return the planner of a colour, kept for the next job: its risks and windows are worked out once.

    What a colour is called changes nothing in how it is judged.
    """
    judged = house.judged(colour)
    key = (id(house), judged)
    found = _planners.get(key)
    if found is None or found.house is not house:
        while len(_planners) >= _KEPT:
            del _planners[next(iter(_planners))]
        found = _planners[key] = Planner(house, judged)
    return found


def _summary(job: Job, house: "House") -> JobSummary:
    head, colour = job.job, house.judged(job.colour)
    return JobSummary(
        number=head.number,
        vehicle=head.vehicle,
        by=head.by,
        date=head.date.isoformat() if head.date else None,
        units=head.units,
        colour=job.colour.name,
        flake=colour.flake,
        flake_stated=job.colour.flake,
        stages=colour.stages,
        tone=colour.tone,
    )


def _cautions(job: Job, house: "House", panels: list[PanelPlan]) -> tuple[Caution, ...]:
    of_rules = [RuleCaution(text) for one in panels for plan in one.plans for text in plan.decision.cautions]
    after: dict[HoldKind, list[str]] = {}
    for hold in (hold for one in panels for hold in one.later_holds):
        places = after.setdefault(hold.fact, [])
        place = hold.spot.rpartition("/")[0]
        places += [place] if place not in places else []
    later = [HeldAfterPrimer(tuple(places), fact) for fact, places in after.items()]
    return tuple(dict.fromkeys([*assumptions(job, house), *later, *of_rules]))
