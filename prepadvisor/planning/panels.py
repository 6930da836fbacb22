"""One answer for a whole panel, because nobody changes discs at a line he cannot see.

The face and all lines a DA reaches get one final grade, the lines one hand grade ahead of it, hand-only
places one of their own; a place whose key limit forbids it is named as an exception. Patches stand alone.
"""

from typing import NamedTuple

from prepadvisor.cases.subjects import subjects
from prepadvisor.cases.zones import Zoning, areas_m2, patch_rect, zoning
from prepadvisor.planning.done import grade_of
from prepadvisor.planning.drafts import Draft, draft, one_grade
from prepadvisor.planning.ladder import Climb, ladder
from prepadvisor.planning.materials import bed_area_m2
from prepadvisor.planning.places import no_hand_grade, place
from prepadvisor.planning.planner import Planner, SpotPlan
from prepadvisor.planning.window import Trouble, highest_bed
from prepadvisor.records.advice import FilmBudget, Hold, LadderStep, PanelAdvice, PanelWetBed, Place, ZoneBand
from prepadvisor.records.job import Panel
from prepadvisor.records.kinds import (
    KeyAllowsNoFiner,
    NoWayUp,
    PanelException,
    SplitPlace,
    TooLittleLeft,
    TooMuchFilm,
)
from prepadvisor.records.words import Zone
from prepadvisor.surface.grades import GRADES, finest
from prepadvisor.surface.layout import farthest_mm


class PanelPlan(NamedTuple):
    """A panel's advice with its spots, places, holds, and what the work at each place follows from."""

    advice: PanelAdvice
    plans: tuple[SpotPlan, ...]
    places: tuple[Place, ...]
    holds: tuple[Hold, ...]
    worked: "tuple[Worked, ...]" = ()


class Worked(NamedTuple):
    """What the work at one place follows from: joined spots, record, grit steps, whether it is held."""

    draft: Draft
    place: Place
    steps: tuple[LadderStep, ...]
    held: bool


def plan_panel(panel: Panel, planner: Planner) -> PanelPlan:
    """Plan one panel.

    Args:
        panel: the panel, its lines among it.
        planner: answers its spots.
    """
    zones = zoning(panel, planner.house.shop.mist_mm)
    drafts = [draft(subject, planner.spots(subject)) for subject in subjects(panel, zones)]
    by_machine = [made for made in drafts if not made.by_hand and made.subject.kind != "patch"]
    by_hand = [made for made in drafts if made.by_hand]
    face, hand_only = one_grade(by_machine), one_grade(by_hand)
    places, holds, worked = [], [], []
    face_steps: tuple[LadderStep, ...] = ()
    exceptions = []
    for made in drafts:
        wanted = hand_only if made.by_hand else made.finish if made.subject.kind == "patch" else face
        grade = wanted if wanted and made.takes(wanted) else made.finish
        if made.finish and grade and (made.split or grade != wanted):
            exceptions.append(_exception(made, grade))
        steps, trouble = _steps(made, grade, planner)
        own = _holds(made, trouble)
        if made.subject.kind == "face":
            face_steps = steps or ()
        one = place(made, grade, steps if made.subject.kind == "patch" else None, planner)
        places.append(one)
        own += _holds(made, no_hand_grade(made, one, planner))
        holds.extend(own)
        worked.append(Worked(made, one, steps or (), held=bool(own) or grade is None))
    plans = tuple(plan for made in drafts for plan in made.plans)
    hand = [one.hand_coarsest for one in places if one.hand_coarsest]
    film, thin = _film(panel, drafts, face_steps)
    holds.extend(thin)
    advice = PanelAdvice(
        id=panel.id,
        kind=panel.kind,
        name=_name(panel, planner),
        role=panel.role,
        face=face,
        tool=next((made.tool for made in by_machine if made.finish), None),
        hand=finest(*hand) if hand else None,
        hand_only=hand_only,
        wet_bed=_wet_bed(panel, zones, plans, planner),
        ladder=face_steps,
        film=film,
        bands=_bands(panel, zones),
        exceptions=tuple(exceptions),
    )
    return PanelPlan(advice, plans, tuple(places), tuple(holds), tuple(worked))


def _name(panel: Panel, planner: Planner) -> str:
    outline = planner.house.outlines.get(panel.kind)
    return outline.name if outline else panel.kind.replace("-", " ")


def _exception(made: Draft, grade: str) -> PanelException:
    if made.split:
        return SplitPlace(made.subject.id, made.split)
    return KeyAllowsNoFiner(made.subject.id, grade)


def _steps(
    made: Draft, grade: str | None, planner: Planner
) -> tuple[tuple[LadderStep, ...] | None, tuple[Trouble, ...]]:
    """Return the grit steps of a face or patch, or why there is no way to its finish."""
    subject, shop = made.subject, planner.house.shop
    if subject.is_line or grade is None:
        return None, ()
    used = grade_of(subject.was, shop) if subject.was else None
    opening = shop.first_grade.get(subject.surface)
    tool = made.tool or shop.finishing_tool
    climb = Climb(
        now=(subject.was.tool, used) if subject.was and used else None,
        opening=("block", opening) if opening else None,
        finish=grade,
        finish_tool=tool,
        between_tool=planner.between_tool(subject, made.plans[0].decision),
        area_m2=subject.amount,
        step_ratio_min=made.step_ratio_min,
        film_max_um=made.film_max_um,
        guide_coat=_guide(made),
        surface=subject.surface,
    )
    steps = ladder(climb, planner.shelf, planner.rates)
    if steps is not None:
        return steps, ()
    start = used or opening
    uncapped = ladder(climb._replace(film_max_um=None), planner.shelf, planner.rates)
    if uncapped is None:
        return None, (_no_step(climb, start, planner),)
    off = sum(step.film_off_um for step in uncapped)
    return None, (Trouble(TooMuchFilm(start, grade, off, climb.film_max_um or 0.0)),)


def _no_step(climb: Climb, start: str | None, planner: Planner) -> Trouble:
    """Say which grades the shelf lacks for the way up: those of the best way over all grades there are."""
    every = ladder(climb, GRADES, planner.rates) or ladder(
        climb._replace(film_max_um=None), GRADES, planner.rates
    )
    lacks = tuple(step.grade for step in every or () if step.grade not in planner.shelf)
    return Trouble(NoWayUp(start, climb.finish), (), lacks)


def _guide(made: Draft) -> str:
    words = {plan.decision.guide_coat for plan in made.plans}
    return "every-change" if "every-change" in words else "before-final" if "before-final" in words else "no"


def _holds(made: Draft, trouble: tuple[Trouble, ...]) -> list[Hold]:
    found = [(plan.spot.id, one) for plan in made.plans for one in plan.trouble]
    found += [(made.plans[0].spot.id, one) for one in trouble]
    return [Hold(spot=spot, fact=one.fact, rules=one.rules, lacks=one.lacks) for spot, one in found]


def _film(panel: Panel, drafts: list[Draft], steps: tuple[LadderStep, ...]) -> tuple[FilmBudget, list[Hold]]:
    face = next((made for made in drafts if made.subject.kind == "face"), None)
    reading = min(panel.film_um, default=None)
    off = sum(step.film_off_um for step in steps)
    cap = face.film_max_um if face else None
    left = reading - off if reading is not None and cap is not None else None
    budget = FilmBudget(reading_um=reading, off_um=off, off_max_um=cap, left_um=left)
    least = max((plan.decision.film_left_min_um or 0.0 for plan in face.plans), default=0.0) if face else 0.0
    if face is None or left is None or left >= least:
        return budget, []
    hold = Hold(
        spot=face.plans[0].spot.id,
        fact=TooLittleLeft(left, least),
        rules=tuple(
            reason.rule
            for plan in face.plans
            for reason in plan.decision.because
            if reason.output == "film_left_min_um"
        ),
        lacks=(),
    )
    return budget, [hold]


def _wet_bed(panel: Panel, zones: Zoning, plans: tuple[SpotPlan, ...], planner: Planner) -> PanelWetBed:
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
