"""What was not said and so was judged on the safe side."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from prepadvisor.cases import JudgedColour, finer_by_measure, lines_aside, zoning
from prepadvisor.planning.places import grade_of
from prepadvisor.records import (
    BookMissing,
    BookUnsealed,
    Caution,
    Colour,
    FadesMeet,
    FlakeUnknown,
    FromBook,
    LinesGone,
    MeasuredFiner,
    MistPastEnd,
    NamedTuple,
    NarrowFade,
    Panel,
    PatchNowUnstated,
    ReachUnstated,
    SandedUnknown,
    SeenUnstated,
    StagesUnstated,
    ThreeStages,
    ToneUnstated,
    key_of,
    nearest,
)
from prepadvisor.surface import farthest_mm

if TYPE_CHECKING:
    from prepadvisor.standards import House


class PanelAssumed(NamedTuple):
    """What the advice takes for granted on one panel, and its patches that do not say what is on them now."""

    cautions: tuple[Caution, ...]
    fresh: tuple[str, ...]


def assumptions(colour: Colour, house: "House", panels: Iterable[PanelAssumed]) -> list[Caution]:
    """List what the advice takes for granted because the job does not say it.

    Args:
        colour: the job's colour.
        house: judges it.
        panels: what is taken for granted on each panel.
    """
    as_judged, panels = house.judged(colour), tuple(panels)
    found = _of_book(colour, as_judged, house)
    if colour.flake == "unknown" and "flake" not in as_judged.from_book:
        found.append(FlakeUnknown())
    if colour.stages is None and "stages" not in as_judged.from_book:
        found.append(StagesUnstated())
    elif as_judged.stages >= 3 and colour.flake not in {"very-fine", "vapour"}:
        found.append(ThreeStages())
    if (finer := finer_by_measure(house.constants, as_judged)) is not None:
        found.append(MeasuredFiner(finer))
    found += [caution for panel in panels for caution in panel.cautions]
    if colour.tone is None and "tone" not in as_judged.from_book:
        found.append(ToneUnstated(as_judged.tone))
    fresh = [patch for panel in panels for patch in panel.fresh]
    if fresh:
        found.append(PatchNowUnstated(tuple(fresh)))
    return found


def assumed_of(panel: Panel, colour: JudgedColour, house: "House") -> PanelAssumed:
    """Return what the advice takes for granted on a panel.

    Args:
        panel: the panel with its lines.
        colour: the colour as judged.
        house: gives the mist, and which pads have a grade.
    """
    fresh = tuple(f"{panel.id}/{patch.id}" for patch in panel.patch if patch.now is None)
    return PanelAssumed(tuple(_of_panel(panel, colour, house)), fresh)


def _of_book(colour: Colour, as_judged: JudgedColour, house: "House") -> list[Caution]:
    """Tell what the colour book says of a colour, its seal, and where job and book differ."""
    if not colour.book:
        return []
    entry = house.entry(colour)
    if entry is None:
        near = nearest(key_of(colour.book), house.book)
        return [BookMissing(colour.book, house.book[near].book if near else "")]
    sealed_on = entry.sealed_on.isoformat() if entry.sealed_on else ""
    head: Caution = (
        FromBook(entry.book, entry.name, entry.sealed_by, sealed_on, entry.notes)
        if entry.is_sealed
        else BookUnsealed(entry.book)
    )
    return [head, *as_judged.differ]


def _of_panel(panel: Panel, colour: JudgedColour, house: "House") -> list[Caution]:
    found: list[Caution] = []
    unsaid = tuple(f"{panel.id}/{line.id}" for line in panel.feature if line.reach is None)
    if unsaid:
        found.append(ReachUnstated(unsaid))
    hidden = tuple(
        f"{panel.id}/{line.id}" for line in panel.feature if line.seen is None and not line.judged_seen
    )
    if hidden:
        found.append(SeenUnstated(hidden))
    outline = house.outlines.get(panel.kind)
    if outline is not None and panel.feature == outline.feature and (gone := lines_aside(panel, outline)):
        found.append(LinesGone(panel.id, gone))
    if panel.role != "clear-only" and panel.colour_mm is not None:
        zones = zoning(panel, house.shop.mist_mm)
        if zones.fade_end_mm > farthest_mm(zones.layout) + 1e-6:
            found.append(FadesMeet(panel.id) if _meets(panel) else MistPastEnd(panel.id))
        fade, least = panel.fade_mm or 0.0, house.shop.fade_least_mm
        if fade < least and colour.flake != "solid":
            found.append(NarrowFade(panel.id, fade, least))
    for where, was in [("face", panel.now), *((patch.id, patch.now) for patch in panel.patch)]:
        if was is not None and grade_of(was, house.shop) is None:
            found.append(SandedUnknown(f"{panel.id}/{where}"))
    return found


def _meets(panel: Panel) -> bool:
    """Say whether the colour comes in from two sides that face one another, so that its fades meet."""
    sides = set(panel.colour_from)
    return {"front", "rear"} <= sides or {"top", "bottom"} <= sides
