"""The plan of one panel: its places as they are and as they will be under primer; its film, bed and zones."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import WHOLE, Standing, Subject, Zoning, areas_m2, patch_rect, subjects, zoning
from prepadvisor.planning.drafts import Draft, draft, keyed_for_primer
from prepadvisor.planning.materials import bed_area_m2
from prepadvisor.planning.one_answer import PanelAnswer, one_answer
from prepadvisor.planning.window import highest_bed
from prepadvisor.records import (
    Done,
    FilmBudget,
    Hold,
    LadderStep,
    NamedTuple,
    Panel,
    PanelAdvice,
    PanelWetBed,
    Place,
    TooLittleLeft,
    Zone,
    ZoneBand,
)
from prepadvisor.surface import farthest_mm

if TYPE_CHECKING:
    from prepadvisor.planning.planner import Planner, SpotPlan
    from prepadvisor.planning.work.ground import Ground


class PanelPlan(NamedTuple):
    """A panel's advice with its spots, places and holds, the work at its places, and its zones.

    What waits for primer is advised as it stands now; `paint` is its work from what it will be, `primer` the
    work until then. A ring that is keyed for primer is a place without spots: no rule decides it.
    `later_holds` are at what is worked up to primer now and will be held once that is on.
    """

    advice: PanelAdvice
    plans: tuple["SpotPlan", ...]
    places: tuple[Place, ...]
    holds: tuple[Hold, ...]
    primer: tuple["Ground", ...]
    paint: tuple["Ground", ...]
    standing: Standing
    zones: Zoning
    later_holds: tuple[Hold, ...] = ()


def plan_panel(standing: Standing, planner: "Planner") -> PanelPlan:
    """Plan one panel.

    Args:
        standing: the panel, its lines among it, as it is and as it will be.
        planner: answers its spots.
    """
    zones = zoning(standing.stated, planner.house.shop.mist_mm)
    later = subjects(standing.later, zones, standing.rings)
    paint = one_answer(_drafts(_with_ring_grade(later, planner), planner), planner, standing)
    if not standing.waiting:
        return _plan(standing, zones, paint, paint=paint, primer=(), planner=planner)
    if WHOLE in standing.waiting:
        now = one_answer(_drafts(subjects(standing.now, zones), planner), planner, standing)
        return _plan(standing, zones, now, paint=paint, primer=now.grounds, planner=planner)
    primer = one_answer(_waiting(standing, zones, later, planner), planner, standing)
    return _plan(standing, zones, _merged(paint, primer), paint=paint, primer=primer.grounds, planner=planner)


def decided_subjects(standing: Standing, zones: Zoning, planner: "Planner") -> list[Subject]:
    """Return what of a panel is decided by standards in the stage it is in; rings that are keyed are not."""
    waiting = standing.waiting
    if WHOLE in waiting:
        return subjects(standing.now, zones)
    later = _with_ring_grade(subjects(standing.later, zones, standing.rings), planner)
    painted = [one for one in later if not waiting & {one.feature, one.ring_of}]
    return [*painted, *(one for one in subjects(standing.now, zones) if one.feature in waiting)]


def _drafts(places: Sequence[Subject], planner: "Planner") -> list[Draft]:
    return [draft(subject, planner.spots(subject)) for subject in places]


def _with_ring_grade(places: Sequence[Subject], planner: "Planner") -> list[Subject]:
    """Let every ring stand as it was keyed ahead of primer."""
    if not any(place.ring_of for place in places):
        return list(places)
    keyed = Done(tool="da", grade=planner.house.shop.ring_grade)
    return [place._replace(was=keyed) if place.ring_of else place for place in places]


def _waiting(standing: Standing, zones: Zoning, later: Sequence[Subject], planner: "Planner") -> list[Draft]:
    """Return the patches that wait for primer, as they are now, and the rings that are keyed for it."""
    patches = [one for one in subjects(standing.now, zones) if one.feature in standing.waiting]
    rings = [one for one in later if one.ring_of in standing.waiting]
    return [*_drafts(patches, planner), *(keyed_for_primer(ring, planner) for ring in rings)]


def _merged(paint: PanelAnswer, primer: PanelAnswer) -> PanelAnswer:
    """Lay what waits for primer over the answer for the paint stage."""
    now = {place.feature for place in primer.places}
    drafts = {made.subject.feature: made for made in (*paint.drafts, *primer.drafts)}
    places = {place.feature: place for place in (*paint.places, *primer.places)}
    holds = [hold for hold in paint.holds if hold.spot.split("/")[1] not in now]
    return paint._replace(
        drafts=tuple(drafts.values()), places=tuple(places.values()), holds=(*holds, *primer.holds)
    )


def _plan(
    standing: Standing,
    zones: Zoning,
    answer: PanelAnswer,
    paint: PanelAnswer,
    primer: tuple["Ground", ...],
    planner: "Planner",
) -> PanelPlan:
    panel = standing.stated
    outline = planner.house.outlines.get(panel.kind)
    decided = [made for made in answer.drafts if not made.by_shop]
    plans = tuple(plan for made in decided for plan in made.plans)
    painted = tuple(plan for made in paint.drafts for plan in made.plans)
    film, thin = _film(panel, answer.drafts, answer.face_steps)
    waits = {place.feature for place in answer.places if _waits(place, standing)}
    ready = {ground.place.feature for ground in primer}
    stopped = (waits - ready) | ({"face"} if thin else set())
    works = tuple(ground for ground in paint.grounds if ground.place.feature not in stopped)
    advice = PanelAdvice(
        id=panel.id,
        kind=panel.kind,
        name=outline.name if outline else panel.kind.replace("-", " "),
        seen_as=outline.seen_as if outline else panel.kind,
        role=panel.role,
        face=answer.face,
        tool=next((made.tool for made in answer.drafts if made.goes_with_face and made.finish), None),
        hand=answer.hand,
        hand_only=answer.hand_only,
        wet_bed=_wet_bed(standing.later, zones, painted, planner),
        ladder=answer.face_steps,
        film=film,
        bands=_bands(standing.later, zones),
        exceptions=answer.exceptions,
    )
    later = tuple(hold for hold in paint.holds if hold.spot.split("/")[1] in waits & ready)
    holds = (*answer.holds, *thin)
    return PanelPlan(
        advice=advice,
        plans=plans,
        places=answer.places,
        holds=holds,
        primer=primer,
        paint=works,
        standing=standing,
        zones=zones,
        later_holds=later,
    )


def _waits(place: Place, standing: Standing) -> bool:
    return WHOLE in standing.waiting or bool(standing.waiting & {place.feature, place.ring_of})


def _film(
    panel: Panel, drafts: Sequence[Draft], steps: tuple[LadderStep, ...]
) -> tuple[FilmBudget, list[Hold]]:
    face = next((made for made in drafts if made.subject.kind == "face"), None)
    reading = min(panel.film_um, default=None)
    off = sum(step.film_off_um for step in steps)
    cap = face.film_max_um if face else None
    left = reading - off if reading is not None and cap is not None else None
    budget = FilmBudget(reading_um=reading, off_um=off, off_max_um=cap, left_um=left)
    if face is None or left is None or face.finish is None:
        return budget, []
    least = max(plan.decision.film_left_min_um or 0.0 for plan in face.plans)
    if left >= least:
        return budget, []
    hold = Hold(
        spot=face.plans[0].spot.id,
        fact=TooLittleLeft(left, least),
        rules=tuple(
            dict.fromkeys(
                reason.rule
                for plan in face.plans
                for reason in plan.decision.because
                if reason.output == "film_left_min_um"
            )
        ),
        lacks=(),
    )
    return budget, [hold]


def _wet_bed(panel: Panel, zones: Zoning, plans: tuple["SpotPlan", ...], planner: "Planner") -> PanelWetBed:
    bed = highest_bed([plan.spot.wet_bed for plan in plans])
    if bed.need == "no":
        return PanelWetBed()
    needs = {(plan.spot.zone, plan.spot.wet_bed.need) for plan in plans}
    over: tuple[Zone, ...] = ("colour",) if ("colour", "required") in needs else ()
    if needs & {("fade", "advised"), ("fade", "required")}:
        over = (*over, "fade")
    holes = tuple(patch_rect(panel, patch) for patch in panel.patch)
    area = bed_area_m2(zones, over, holes, planner.house.shop.wet_bed.overlap_mm)
    return PanelWetBed(need=bed.need, coats=bed.coats, area_m2=area, zones=over)


def _bands(panel: Panel, zones: Zoning) -> tuple[ZoneBand, ...]:
    holes = tuple(patch_rect(panel, patch) for patch in panel.patch)
    areas = dict(areas_m2(zones, zones.whole, holes))
    end = farthest_mm(zones.layout) if zones.layout.sides or zones.layout.rects else 0.0
    borders = {
        "colour": (0.0, min(zones.colour_end_mm, end)),
        "fade": (zones.colour_end_mm, min(zones.fade_end_mm, end)),
        "clear": (zones.fade_end_mm, end),
    }
    return tuple(
        ZoneBand(zone=zone, from_mm=borders[zone][0], to_mm=borders[zone][1], area_m2=area)
        for zone, area in areas.items()
    )
