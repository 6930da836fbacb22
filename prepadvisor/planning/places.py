"""What is done at one place: the verdict on a recorded scuff, the climb to its finish, and its record."""

from typing import TYPE_CHECKING

from prepadvisor.cases import may_stay
from prepadvisor.planning.ladder import Climb, clears, hand_limit, ladder
from prepadvisor.planning.planner import Planner, SpotPlan, film_max_um
from prepadvisor.planning.window import Trouble, highest_bed
from prepadvisor.records import (
    GRADES,
    GUIDE_COAT,
    RANK,
    BedWay,
    CrossesPatch,
    Done,
    DoneAdvice,
    DoneKind,
    DoneVerdict,
    GradeUnknown,
    GuideCoat,
    KeptOff,
    LadderStep,
    NoHandGrade,
    NoWayOut,
    NoWayUp,
    Place,
    PlaceNote,
    RingOf,
    RuleNote,
    Shop,
    TooCoarse,
    TooFine,
    TooMuchFilm,
    finest,
)

if TYPE_CHECKING:
    from prepadvisor.planning.drafts import Draft
    from prepadvisor.records import Grade

# The verdict on a recorded scuff, and the re-cut that mends one that is too coarse.


def grade_of(done: Done, shop: Shop) -> "Grade | None":
    """Return the grade of what was used; a pad stands for the coarse end of its range in the shop file."""
    if done.grade is not None:
        return done.grade
    return shop.pads.get(done.pad) if done.pad else None


def judge(
    made: "Draft", grade: "Grade | None", limit: "Grade | None", planner: Planner, hand: "Grade | None" = None
) -> DoneAdvice:
    """Judge the scuff recorded at a line.

    Hand as last touch is judged by the grit range; ahead of a DA only by the hand limit.

    Args:
        made: the place's joined spots.
        grade: what the place is finished with, None where it has no finish.
        limit: the coarsest hand grade ahead of the DA, None where hand is the last touch.
        planner: the shop's rates and limits.
        hand: the panel's hand grade ahead of the DA, None for the limit: what a re-cut is scuffed with again.
    """
    done = made.subject.was if made.subject.is_line else None
    used = grade_of(done, planner.house.shop) if done else None
    if done is None:
        return DoneAdvice()
    if used is None:
        return DoneAdvice(
            tool=done.tool,
            grade=None,
            verdict="not-recorded",
            recut=None,
            fact=GradeUnknown(),
        )
    verdict: DoneVerdict = "within"
    fact: DoneKind | None = None
    steps = None
    if grade is not None and _too_coarse(made, done, used, grade=grade, limit=limit, planner=planner):
        verdict = "too-coarse"
        steps = _recut(made, done, used, grade=grade, scuff=hand or limit, planner=planner)
        fact = TooCoarse(used, _bed_way(made, used, planner)) if steps is not None else NoWayOut(used)
    elif grade is not None and made.by_hand and _too_fine(made, used):
        verdict, fact = "too-fine", TooFine(used, grade)
    return DoneAdvice(tool=done.tool, grade=used, verdict=verdict, recut=steps, fact=fact)


def _too_coarse(
    made: "Draft", done: Done, used: "Grade", grade: "Grade", limit: "Grade | None", planner: Planner
) -> bool:
    if made.by_hand:
        return any(
            plan.spot.finish is not None and RANK[used] < RANK[plan.spot.finish.coarsest]
            for plan in made.plans
        )
    if limit is not None and RANK[used] < RANK[limit]:
        return True
    shop = planner.house.shop
    return not all(
        clears(
            done.tool, used, grade, rates=planner.rates, minutes_max=shop.clearing_minutes_per_dm2_max,
            film_max_um=film_max_um(made.subject, plan.decision),
        )
        for plan in made.plans
    )  # fmt: skip


def _too_fine(made: "Draft", used: "Grade") -> bool:
    return any(RANK[used] > RANK[finish.finest] for finish in made.finishes)


def _recut(
    made: "Draft", done: Done, used: "Grade", grade: "Grade", scuff: "Grade | None", planner: Planner
) -> tuple[LadderStep, ...] | None:
    """Return the grit steps that take a scuff out, None if the film or the shelf has no way."""
    subject, worst, hand_tool = made.subject, made.plans[0].decision, planner.house.shop.hand_tool
    tool = made.tool or hand_tool
    scuffed = planner.rates.depth_um[hand_tool, scuff] if scuff and not made.by_hand else 0.0
    climb = Climb(
        now=(done.tool, used),
        opening=None,
        finish=grade,
        finish_tool=tool,
        between_tool=tool if made.by_hand else planner.between_tool(subject, worst),
        area_m2=planner.strip_m2(subject.amount),
        step_ratio_min=made.step_ratio_min,
        film_max_um=made.film_max_um,
        guide_coat=_guide(made),
        surface=subject.surface,
        scuffed_um=scuffed,
    )
    return ladder(climb, planner.shelf, planner.rates)


def _guide(made: "Draft") -> str:
    """Return when powder goes on in a re-cut: as the place asks, at least ahead of the last pass."""
    words = {plan.decision.guide_coat for plan in made.plans}
    if made.by_hand or words == {"no"}:
        return "no"
    return "every-change" if "every-change" in words else "before-final"


def _bed_way(made: "Draft", used: "Grade", planner: Planner) -> BedWay:
    coloured = any(plan.spot.zone != "clear" for plan in made.plans)
    if coloured and not may_stay(planner.flake, used):
        return "never"
    if not any(plan.spot.wet_bed.need != "no" for plan in made.plans):
        return "none"
    return "lead"


# How a face or patch is climbed from what it is now to its finish, or why there is no way.


def steps_of(
    made: "Draft", grade: "Grade | None", planner: Planner
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
        guide_coat=_climb_guide(made),
        surface=subject.surface,
    )
    steps = ladder(climb, planner.shelf, planner.rates)
    if steps is not None:
        return steps, ()
    return None, (_no_way(climb, used or opening, planner),)


def _no_way(climb: Climb, start: "Grade | None", planner: Planner) -> Trouble:
    """Say what stops a climb: the film that may come off, else the grades that the shelf lacks.

    Grades of the best way over all there are count as lacking; where even that cuts too much, film stops it.
    """
    free = climb._replace(film_max_um=None)
    on_shelf = ladder(free, planner.shelf, planner.rates)
    best = ladder(climb, GRADES, planner.rates)
    anyhow = on_shelf or (ladder(free, GRADES, planner.rates) if best is None else None)
    if anyhow is not None and climb.film_max_um is not None:
        off = sum(step.film_off_um for step in anyhow)
        return Trouble(TooMuchFilm(start, climb.finish, off, climb.film_max_um))
    lacks = tuple(step.grade for step in best or () if step.grade not in planner.shelf)
    return Trouble(NoWayUp(start, climb.finish), (), lacks)


def _climb_guide(made: "Draft") -> str:
    words = {plan.decision.guide_coat for plan in made.plans}
    return "every-change" if "every-change" in words else "before-final" if "before-final" in words else "no"


def place(
    made: "Draft",
    grade: "Grade | None",
    steps: tuple[LadderStep, ...] | None,
    planner: Planner,
    hand: "Grade | None",
) -> Place:
    """Make the record of a place.

    Args:
        made: the joined spots.
        grade: what it is finished with, its panel's grade where it takes that.
        steps: a patch's grit steps, None elsewhere.
        planner: decides hand limits and judges what was done.
        hand: the panel's hand grade ahead of the DA.
    """
    subject, plans = made.subject, made.plans
    limits = [planner.hand_limit(subject, plan.decision, grade, by_hand=made.by_hand) for plan in plans]
    found = [one for one in limits if one]
    limit = finest(*found) if found and len(found) == len(limits) else None  # it must do in every zone
    guide = _highest_guide(plans)
    done = judge(made, grade, limit, planner, hand)
    notes = dict.fromkeys(
        RuleNote(str(reason.value), reason.rule)
        for plan in plans
        for reason in plan.decision.because
        if reason.output == "notes"
    )
    crossing = [CrossesPatch(f"{subject.panel.id}/{patch}") for patch in subject.crosses]
    ring = [RingOf(f"{subject.panel.id}/{subject.ring_of}")] if subject.ring_of else []
    return Place(
        id=subject.id,
        panel=subject.panel.id,
        feature=subject.feature,
        kind=subject.kind,
        name=subject.name,
        number=subject.number,
        reach="hand" if made.by_hand else subject.reach,
        seen=subject.seen,
        spots=tuple(plan.spot.id for plan in plans if not made.by_shop),
        surface=subject.surface,
        finish=grade,
        tool=made.tool if grade else None,
        hand_coarsest=limit,
        guide_coat=guide,
        interface_pad=any(plan.decision.machine == "interface-pad" for plan in plans) and not made.by_hand,
        wet_bed=highest_bed([plan.spot.wet_bed for plan in plans]),
        ladder=steps,
        done=done,
        split=made.split,
        ring_of=subject.ring_of,
        notes=(*ring, *crossing, *_kept_off(made), *notes),
    )


def _kept_off(made: "Draft") -> tuple[PlaceNote, ...]:
    """Say why a place that a machine reaches is finished by hand."""
    if not made.by_hand or made.subject.reach == "hand":
        return ()
    says = (
        reason.says
        for plan in made.plans
        for reason in plan.spot.because
        if (reason.output, reason.value) == ("machine", "never")
    )
    return tuple(KeptOff(one) for one in dict.fromkeys(says) if isinstance(one, str))


def no_hand_grade(made: "Draft", one: Place, planner: Planner) -> tuple[Trouble, ...]:
    """Say so where the shelf has no hand grade whose scratches the final pass takes out."""
    if one.finish is None or made.by_hand or not made.subject.is_line or one.hand_coarsest:
        return ()
    shop, limits = planner.house.shop, [plan.decision.hand_coarsest for plan in made.plans]
    needed = hand_limit(
        finest(*(limit for limit in limits if limit)) if any(limits) else None,
        one.finish,
        shop.hand_tool,
        shelf=GRADES,
        rates=planner.rates,
        minutes_max=shop.clearing_minutes_per_dm2_max,
        film_max_um=made.film_max_um,
    )
    lacks = (needed,) if needed else ()
    return (Trouble(NoHandGrade(one.finish, needed), (), lacks),)


def _highest_guide(plans: tuple[SpotPlan, ...]) -> GuideCoat:
    return max((plan.spot.guide_coat for plan in plans), key=GUIDE_COAT.index)
