"""What was not said and so was judged on the safe side, in words for the card."""

from prepadvisor.cases.colour import finer_by_measure, judged
from prepadvisor.cases.zones import zoning
from prepadvisor.planning.done import grade_of
from prepadvisor.records.job import Job, Panel
from prepadvisor.standards.house import House
from prepadvisor.surface.layout import farthest_mm


def assumptions(job: Job, house: House) -> list[str]:
    """List what the advice takes for granted because the job does not say it.

    Args:
        job: the job.
        house: gives the mist, and which pads have a grade.
    """
    colour = job.colour
    said = []
    if colour.flake == "unknown":
        said.append(
            "Flake not known: judged as very fine. If it looks like liquid metal it is vapour: say so."
        )
    if colour.stages is None:
        said.append(
            "Stages not stated: judged as three-stage, very fine at least. Say 2 (colour, clear) "
            "or 3 (ground, translucent, clear)."
        )
    elif colour.stages >= 3 and colour.flake not in {"very-fine", "vapour"}:
        said.append("Three stages: judged as very fine at least.")
    if (finer := finer_by_measure(house.constants, judged(colour))) is not None:
        said.append(f"The measured flake is as fine as {finer}: state that class, the rules go by the class.")
    for panel in job.panel:
        said.extend(_of_panel(panel, house))
    return said


def _of_panel(panel: Panel, house: House) -> list[str]:
    said = []
    unsaid = [line.name or line.id for line in panel.feature if line.reach is None]
    if unsaid:
        said.append(f"{panel.id}: reach not stated, judged as hand only: {', '.join(unsaid)}.")
    if panel.role != "clear-only" and panel.colour_mm is not None:
        zones = zoning(panel, house.shop.mist_mm)
        if zones.fade_end_mm > farthest_mm(zones.layout) + 1e-6:
            said.append(
                f"{panel.id}: mist reaches past the panel's end: mask the next panel or clear it too."
            )
    for where, was in [("face", panel.now), *((patch.id, patch.now) for patch in panel.patch)]:
        if was is not None and grade_of(was, house.shop) is None:
            said.append(
                f"{panel.id}/{where}: what it was sanded with is not known: guide coat it and look first."
            )
    return said
