"""The ring of old paint round a patch that primer laps onto: keyed with the shop's ring grade ahead of it."""

from prepadvisor.cases.subjects import Subject
from prepadvisor.planning.drafts import Draft, draft
from prepadvisor.planning.planner import Planner, SpotPlan
from prepadvisor.records.advice import Finish, WetBedAdvice
from prepadvisor.surface.grades import GRADES, RANK, Grade


def keyed_for_primer(ring: Subject, planner: Planner) -> Draft:
    """Return a ring with the grade that keys it for primer, whatever the paint over it will ask for later.

    A hold on it stays one.

    Args:
        ring: the ring.
        planner: the shop and its standards.
    """
    made = draft(ring, planner.spots(ring))
    if made.finish is None:
        return made
    plans = tuple(_keyed(plan, planner.house.shop.ring_grade) for plan in made.plans)
    return Draft(ring, plans, planner.house.shop.ring_grade, by_hand=False, by_shop=True)


def _keyed(plan: SpotPlan, grade: Grade) -> SpotPlan:
    """Take the ring's grade, or one finer, for whatever was decided for the paint over it."""
    finest = GRADES[min(RANK[grade] + 2, len(GRADES) - 1)]
    spot = plan.spot._replace(
        finish=Finish(coarsest=grade, finest=finest, chosen=grade, tool="da", verdict="safe"),
        hand_coarsest=None,
        guide_coat="no",
        wet_bed=WetBedAdvice(need="no", coats=0),
        line=None,
        because=(),
        notes=(),
    )
    decision = plan.decision._replace(guide_coat="no", because=(), notes=())
    return SpotPlan(spot, plan.subject, decision, by_hand=False, trouble=(), case=plan.case)
