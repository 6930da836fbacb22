"""What follows in the booth: the coats each panel ends in, in the order a sprayer lays them, and the looks.

Full colour first where it must hide, the wet bed over the fade, the colour blended into it while it is wet,
clear over everything last. Where the bed lies in full colour too, it comes before the colour there. A panel
or patch that is held has no entry.
"""

from collections.abc import Iterable, Sequence
from enum import IntEnum
from math import inf
from typing import TYPE_CHECKING, Any

from prepadvisor.planning.materials import bed_ml
from prepadvisor.records import FLAKES, BoothDo, BoothEntry, WetBed
from prepadvisor.surface import farthest_mm

if TYPE_CHECKING:
    from prepadvisor.planning.panels import PanelPlan


class _Turn(IntEnum):
    """When an entry is sprayed; those of one turn go together."""

    LOOK = 0
    SEAL = 1
    GROUND = 2
    COLOUR = 3
    BED = 4
    WET_LOOK = 5
    COLOUR_OVER_BED = 6
    BLEND = 7
    CLEAR = 8


TimedEntry = tuple[int, BoothEntry]
"""An entry of one panel with when it is sprayed; it has no number of its own as yet."""


def panel_booth(plan: "PanelPlan", flake: str, stages: int, material: WetBed) -> tuple[TimedEntry, ...]:
    """List what is sprayed and looked at on one panel.

    Args:
        plan: the plan of the panel.
        flake: the flake class judged by.
        stages: the colour's stages judged by: three, or a vapour-deposited flake, asks for a ground coat.
        material: the wet-bed material.
    """
    return tuple(_panel(plan, material, has_ground=stages >= 3 or flake == FLAKES[-1]))


def booth(timed: Sequence[TimedEntry]) -> tuple[BoothEntry, ...]:
    """Number what is sprayed and looked at in the booth, in its order.

    Args:
        timed: the entries of each panel that has work, in the order of the job.
    """
    turns = {turn: n for n, turn in enumerate(sorted({turn for turn, _ in timed}), 1)}
    return tuple(
        entry._replace(id=f"booth.{turns[turn]}.{entry.id}", n=turns[turn])
        for turn, entry in sorted(timed, key=lambda each: each[0])
    )


def _entry(do: BoothDo, panel: str, patch: str | None = None, **where: Any) -> BoothEntry:
    """Return an entry that waits for its turn: its id is where it is as yet."""
    place = panel if patch is None else f"{panel}.{patch}"
    return BoothEntry(id=place, n=0, do=do, panel=panel, patch=patch, **where)


def _panel(plan: "PanelPlan", material: WetBed, *, has_ground: bool) -> Iterable[tuple[_Turn, BoothEntry]]:
    panel, zones = plan.standing.later, plan.zones
    name, bed = panel.id, plan.advice.wet_bed
    end = farthest_mm(zones.layout) if zones.layout.sides or zones.layout.rects else None
    whole = inf if end is None else end
    worked = {ground.place.feature for ground in plan.paint}
    amounts = {band.zone for band in plan.advice.bands}
    coloured = panel.role != "clear-only"
    colour_to = _mm(min(zones.colour_end_mm, whole))
    if not coloured:
        yield _Turn.CLEAR, _clear(plan, end)
        return
    if "fade" in amounts:
        faded = min(zones.colour_end_mm + (panel.fade_mm or 0.0), whole)
        past = min(zones.fade_end_mm, whole) - faded
    covers = "colour" in amounts
    has_bed = bed.need != "no"
    if not has_bed:
        yield _Turn.LOOK, _entry("look", name, from_mm=0.0, to_mm=_mm(min(zones.fade_end_mm, whole)))
    if panel.next == "sealer":
        yield _Turn.SEAL, _entry("seal", name, from_mm=0.0, to_mm=colour_to)
    for patch in panel.patch:
        if patch.next == "sealer" and panel.next != "sealer" and patch.id in worked:
            yield _Turn.SEAL, _entry("seal", name, patch.id)
    if has_ground and covers:
        yield _Turn.GROUND, _entry("ground", name, from_mm=0.0, to_mm=colour_to)
    for patch in panel.patch:
        if patch.id in worked:
            yield _Turn.COLOUR, _entry("colour", name, patch.id)
    if has_bed:
        starts = 0.0 if "colour" in bed.zones else min(zones.colour_end_mm, whole)
        ends = min(zones.fade_end_mm + material.overlap_mm, whole) if "fade" in bed.zones else colour_to
        ml = round(bed_ml(bed.area_m2, bed.coats, material))
        over: dict[str, Any] = {"from_mm": _mm(starts), "to_mm": _mm(ends)}
        yield _Turn.BED, _entry("bed", name, **over, coats=bed.coats, ml=ml)
        yield _Turn.WET_LOOK, _entry("look", name, **over)
    if covers:
        turn = _Turn.COLOUR_OVER_BED if has_bed and "colour" in bed.zones else _Turn.COLOUR
        yield turn, _entry("colour", name, from_mm=0.0, to_mm=colour_to)
    if "fade" in amounts:
        yield _Turn.BLEND, _entry("blend", name, from_mm=colour_to, to_mm=_mm(faded), past_mm=past)
    yield _Turn.CLEAR, _clear(plan, end)


def _clear(plan: "PanelPlan", end: float | None) -> BoothEntry:
    """Return the clear of a panel, from edge to edge."""
    ends_at = tuple(place.id for place in plan.places if place.kind == "edge")
    return _entry("clear", plan.advice.id, from_mm=0.0, to_mm=_mm(end), ends_at=ends_at)


def _mm(value: float | None) -> float | None:
    return None if value is None or value == inf else value
