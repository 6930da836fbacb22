"""The cheaper way where trim could come off: a recess or cut-out that a DA then reaches."""

from collections.abc import Callable

from prepadvisor.records.advice import Advice, Offer, PanelAdvice, WetBedAdvice
from prepadvisor.records.job import Job, Panel
from prepadvisor.records.kinds import TrimOff
from prepadvisor.records.words import WET_BED

TRIM_KINDS = frozenset({"recess", "cut-out"})
"""Lines round trim that can usually be taken off."""


def offers(job: Job, advice: Advice, again: Callable[[Job], Advice]) -> tuple[Offer, ...]:
    """Return what taking trim off would change, for each panel whose wet bed a hand-only place decides.

    Args:
        job: the job as it stands.
        advice: its advice.
        again: advises a changed job.
    """
    found = []
    for panel, before in zip(job.panel, advice.panels, strict=True):
        deciding = _deciding(panel, before, advice)
        if not deciding:
            continue
        after = again(_trim_off(job, panel, deciding))
        offer = _offer(panel, deciding, (advice, before), (after, _panel(after, panel.id)))
        if offer is not None:
            found.append(offer)
    return tuple(found)


def _deciding(panel: Panel, before: PanelAdvice, advice: Advice) -> tuple[str, ...]:
    """Return the hand-only trim places that need as strong a wet bed as their panel gets."""
    if before.wet_bed.need != "required":
        return ()
    trim = {line.id for line in panel.feature if line.kind in TRIM_KINDS and line.judged_reach == "hand"}
    return tuple(
        place.feature
        for place in advice.places
        if place.panel == panel.id
        and place.feature in trim
        and (place.wet_bed.need, place.wet_bed.coats) == (before.wet_bed.need, before.wet_bed.coats)
    )


def _trim_off(job: Job, panel: Panel, lines: tuple[str, ...]) -> Job:
    reached = tuple(
        line.model_copy(update={"reach": "machine"}) if line.id in lines else line for line in panel.feature
    )
    changed = panel.model_copy(update={"feature": reached})
    panels = tuple(changed if one.id == panel.id else one for one in job.panel)
    return job.model_copy(update={"panel": panels})


def _panel(advice: Advice, panel_id: str) -> PanelAdvice:
    return next(one for one in advice.panels if one.id == panel_id)


def _offer(
    panel: Panel,
    lines: tuple[str, ...],
    before: tuple[Advice, PanelAdvice],
    after: tuple[Advice, PanelAdvice],
) -> Offer | None:
    was, becomes = before[1].wet_bed, after[1].wet_bed
    weaker = WET_BED.index(becomes.need) < WET_BED.index(was.need)
    if len(after[0].holds) > len(before[0].holds) or not (weaker or becomes.coats < was.coats):
        return None
    places = tuple(f"{panel.id}/{line.id}" for line in panel.feature if line.id in lines)
    return Offer(
        places=places,
        fact=TrimOff(places, was.need, was.coats, becomes.need, becomes.coats),
        wet_bed=WetBedAdvice(need=becomes.need, coats=becomes.coats),
        saves_minutes=max(0.0, before[0].minutes - after[0].minutes),
        saves_ml=max(0, before[0].mix_ml - after[0].mix_ml),
    )
