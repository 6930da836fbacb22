"""What was not said and so was judged on the safe side."""

from prepadvisor.cases.colour import finer_by_measure, judged
from prepadvisor.cases.zones import zoning
from prepadvisor.planning.done import grade_of
from prepadvisor.records.job import Colour, Job, Panel
from prepadvisor.records.kinds import (
    Caution,
    FadesMeet,
    FlakeUnknown,
    MeasuredFiner,
    MistPastEnd,
    NarrowFade,
    PatchNowUnstated,
    ReachUnstated,
    SandedUnknown,
    StagesUnstated,
    ThreeStages,
    ToneUnstated,
)
from prepadvisor.standards.house import House
from prepadvisor.surface.layout import farthest_mm


def assumptions(job: Job, house: House) -> list[Caution]:
    """List what the advice takes for granted because the job does not say it.

    Args:
        job: the job.
        house: gives the mist, and which pads have a grade.
    """
    colour = job.colour
    found: list[Caution] = []
    if colour.flake == "unknown":
        found.append(FlakeUnknown())
    if colour.stages is None:
        found.append(StagesUnstated())
    elif colour.stages >= 3 and colour.flake not in {"very-fine", "vapour"}:
        found.append(ThreeStages())
    if (finer := finer_by_measure(house.constants, judged(colour))) is not None:
        found.append(MeasuredFiner(finer))
    for panel in job.panel:
        found.extend(_of_panel(panel, colour, house))
    if colour.tone is None:
        found.append(ToneUnstated(judged(colour).tone))
    fresh = [f"{panel.id}/{patch.id}" for panel in job.panel for patch in panel.patch if patch.now is None]
    if fresh:
        found.append(PatchNowUnstated(tuple(fresh)))
    return found


def _of_panel(panel: Panel, colour: Colour, house: House) -> list[Caution]:
    found: list[Caution] = []
    unsaid = tuple(f"{panel.id}/{line.id}" for line in panel.feature if line.reach is None)
    if unsaid:
        found.append(ReachUnstated(unsaid))
    if panel.role != "clear-only" and panel.colour_mm is not None:
        zones = zoning(panel, house.shop.mist_mm)
        if zones.fade_end_mm > farthest_mm(zones.layout) + 1e-6:
            found.append(FadesMeet(panel.id) if _meets(panel) else MistPastEnd(panel.id))
        fade, least = panel.fade_mm or 0.0, house.shop.fade_least_mm
        if fade < least and judged(colour).flake != "solid":
            found.append(NarrowFade(panel.id, fade, least))
    for where, was in [("face", panel.now), *((patch.id, patch.now) for patch in panel.patch)]:
        if was is not None and grade_of(was, house.shop) is None:
            found.append(SandedUnknown(f"{panel.id}/{where}"))
    return found


def _meets(panel: Panel) -> bool:
    """Say whether the colour comes in from two sides that face one another, so that its fades meet."""
    sides = set(panel.colour_from)
    return {"front", "rear"} <= sides or {"top", "bottom"} <= sides
