"""The record of a place: its grade, hand limit, guide coat, wet bed, what was done there, and minutes."""

from prepadvisor.planning.done import judge
from prepadvisor.planning.drafts import Draft
from prepadvisor.planning.hand_limit import hand_limit
from prepadvisor.planning.planner import Planner, SpotPlan
from prepadvisor.planning.window import Trouble, highest_bed
from prepadvisor.records.advice import LadderStep, Place
from prepadvisor.records.kinds import CrossesPatch, KeptOff, NoHandGrade, PlaceNote, RingOf, RuleNote
from prepadvisor.records.words import GUIDE_COAT, GuideCoat
from prepadvisor.surface.grades import GRADES, Grade, finest


def place(made: Draft, grade: Grade | None, steps: tuple[LadderStep, ...] | None, planner: Planner) -> Place:
    """Make the record of a place.

    Args:
        made: the joined spots.
        grade: what it is finished with, its panel's grade where it takes that.
        steps: a patch's grit steps, None elsewhere.
        planner: decides hand limits and judges what was done.
    """
    subject, plans = made.subject, made.plans
    limits = [
        planner.hand_limit(subject, plan.decision, grade, by_hand=plan.by_hand)
        for plan in plans
        if not plan.by_hand
    ]
    limit = finest(*(one for one in limits if one)) if any(limits) else None
    guide = _highest_guide(plans)
    done = judge(made, grade, limit, planner)
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


def _kept_off(made: Draft) -> tuple[PlaceNote, ...]:
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


def no_hand_grade(made: Draft, one: Place, planner: Planner) -> tuple[Trouble, ...]:
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
