"""The verdict on a recorded scuff, and the re-cut that mends one that is too coarse."""

from prepadvisor.cases.colour import may_stay
from prepadvisor.planning.drafts import Draft
from prepadvisor.planning.hand_limit import clears
from prepadvisor.planning.ladder import Climb, ladder
from prepadvisor.planning.planner import Planner, film_max_um
from prepadvisor.records.advice import DoneAdvice, LadderStep
from prepadvisor.records.job import Done
from prepadvisor.records.kinds import BedWay, DoneKind, GradeUnknown, NoWayOut, TooCoarse, TooFine
from prepadvisor.records.shop import Shop
from prepadvisor.records.words import DoneVerdict
from prepadvisor.surface.grades import RANK, Grade


def grade_of(done: Done, shop: Shop) -> Grade | None:
    """Return the grade of what was used; a pad stands for the coarse end of its range in the shop file."""
    if done.grade is not None:
        return done.grade
    return shop.pads.get(done.pad) if done.pad else None


def judge(made: Draft, grade: Grade | None, limit: Grade | None, planner: Planner) -> DoneAdvice:
    """Judge the scuff recorded at a line.

    Hand as last touch is judged by the grit range; ahead of a DA only by the hand limit.

    Args:
        made: the place's joined spots.
        grade: what the place is finished with, None where it has no finish.
        limit: the coarsest hand grade ahead of the DA, None where hand is the last touch.
        planner: the shop's rates and limits.
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
        steps = _recut(made, done, used, grade, planner)
        fact = TooCoarse(used, _bed_way(made, used, planner)) if steps is not None else NoWayOut(used)
    elif grade is not None and made.by_hand and _too_fine(made, used):
        verdict, fact = "too-fine", TooFine(used, grade)
    return DoneAdvice(tool=done.tool, grade=used, verdict=verdict, recut=steps, fact=fact)


def _too_coarse(
    made: Draft, done: Done, used: Grade, grade: Grade, limit: Grade | None, planner: Planner
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


def _too_fine(made: Draft, used: Grade) -> bool:
    return any(RANK[used] > RANK[finish.finest] for finish in made.finishes)


def _recut(
    made: Draft, done: Done, used: Grade, grade: Grade, planner: Planner
) -> tuple[LadderStep, ...] | None:
    """Return the grit steps that take a scuff out, None if the film or the shelf has no way."""
    subject, worst = made.subject, made.plans[0].decision
    tool = made.tool or planner.house.shop.hand_tool
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
    )
    return ladder(climb, planner.shelf, planner.rates)


def _guide(made: Draft) -> str:
    """Return when powder goes on in a re-cut: as the place asks, at least ahead of the last pass."""
    words = {plan.decision.guide_coat for plan in made.plans}
    if made.by_hand or words == {"no"}:
        return "no"
    return "every-change" if "every-change" in words else "before-final"


def _bed_way(made: Draft, used: Grade, planner: Planner) -> BedWay:
    coloured = any(plan.spot.zone != "clear" for plan in made.plans)
    if coloured and not may_stay(planner.flake, used):
        return "never"
    if not any(plan.spot.wet_bed.need != "no" for plan in made.plans):
        return "none"
    return "lead"
