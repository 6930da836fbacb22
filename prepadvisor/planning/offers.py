"""Ways that are cheaper, or that lift a stop: trim taken off, so that a DA reaches what only the hand did."""

from collections.abc import Callable

from prepadvisor.cases import is_fine
from prepadvisor.records import (
    TRIM_KINDS,
    WET_BED,
    Advice,
    Job,
    Offer,
    Panel,
    PanelAdvice,
    Place,
    RunsOn,
    TrimOff,
    WetBedAdvice,
)

LINES_WITH_OFFERS = TRIM_KINDS | {"run-on"}
"""Lines that an offer may be about."""


def offers(job: Job, advice: Advice, again: Callable[[Job], Advice]) -> tuple[Offer, ...]:
    """Return what taking trim off would change on each panel, and the ways at a border without an edge.

    Args:
        job: the job as it stands.
        advice: its advice.
        again: advises a changed job.
    """
    found = []
    for panel, before in zip(job.panel, advice.panels, strict=True):
        found += _where_it_runs_on(panel, before, advice)
        trim = _trim_that_decides(panel, before, advice)
        if not trim:
            continue
        after = again(_trim_off(job, panel, {place.feature for place in trim}))
        offer = _offer(trim, (advice, before), (after, _panel(after, panel.id)))
        if offer is not None:
            found.append(offer)
    return tuple(found)


def _where_it_runs_on(panel: Panel, before: PanelAdvice, advice: Advice) -> list[Offer]:
    held = _held(advice)
    places = tuple(
        place.id
        for place in advice.places
        if place.panel == panel.id and place.kind == "run-on" and place.id in held
    )
    bed = WetBedAdvice(before.wet_bed.need, before.wet_bed.coats)
    return [Offer(places=places, fact=RunsOn(places), wet_bed=bed)] if places else []


def _held(advice: Advice) -> set[str]:
    return {hold.spot.rpartition("/")[0] for hold in advice.holds}


def _trim_that_decides(panel: Panel, before: PanelAdvice, advice: Advice) -> list[Place]:
    """Return the hand-only trim places that hold, need the panel's bed, or ask a grade of their own."""
    held = _held(advice)
    trim = {line.id for line in panel.feature if line.kind in TRIM_KINDS and line.judged_reach == "hand"}
    mine = [place for place in advice.places if place.panel == panel.id and place.feature in trim]
    need = (before.wet_bed.need, before.wet_bed.coats)
    coloured = {spot.id for spot in advice.spots if spot.zone != "clear"}
    fine = is_fine(advice.job.flake)
    return [
        place
        for place in mine
        if place.id in held
        or (need[0] == "required" and (place.wet_bed.need, place.wet_bed.coats) == need)
        or (fine and place.seen and place.finish != before.face and coloured.intersection(place.spots))
    ]


def _trim_off(job: Job, panel: Panel, lines: set[str]) -> Job:
    reached = tuple(
        line.model_copy(update={"reach": "machine"}) if line.id in lines else line for line in panel.feature
    )
    changed = panel.model_copy(update={"feature": reached})
    panels = tuple(changed if one.id == panel.id else one for one in job.panel)
    return job.model_copy(update={"panel": panels})


def _panel(advice: Advice, panel_id: str) -> PanelAdvice:
    return next(one for one in advice.panels if one.id == panel_id)


def _offer(
    trim: list[Place], before: tuple[Advice, PanelAdvice], after: tuple[Advice, PanelAdvice]
) -> Offer | None:
    """Return the offer, None where it changes nothing or would hold what did not hold before."""
    was, becomes = before[1].wet_bed, after[1].wet_bed
    places = tuple(place.id for place in trim)
    lifted = _held(before[0]) - _held(after[0])
    by_hand = next((place.finish for place in trim if place.finish), None)
    done = {place.id: place.finish for place in after[0].places}
    by_da = next((done[place] for place in places if done.get(place)), None)
    weaker = WET_BED.index(becomes.need) < WET_BED.index(was.need) or becomes.coats < was.coats
    if _held(after[0]) - _held(before[0]) or not (weaker or lifted or by_hand != by_da):
        return None
    if WET_BED.index(becomes.need) > WET_BED.index(was.need) or becomes.coats > was.coats:
        return None
    fact = TrimOff(
        places=places,
        was=was.need,
        was_coats=was.coats,
        becomes=becomes.need,
        becomes_coats=becomes.coats,
        stops=len(lifted),
        by_hand=by_hand,
        by_da=by_da,
    )
    return Offer(
        places=places,
        fact=fact,
        wet_bed=WetBedAdvice(need=becomes.need, coats=becomes.coats),
        saves_minutes=max(0.0, before[0].minutes - after[0].minutes) if not lifted else 0.0,
        saves_ml=max(0, before[0].mix_ml - after[0].mix_ml) if not lifted else 0,
    )
