"""How a face or patch is climbed from what it is now to its finish, or why there is no way."""

from prepadvisor.planning.done import grade_of
from prepadvisor.planning.drafts import Draft
from prepadvisor.planning.ladder import Climb, ladder
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.window import Trouble
from prepadvisor.records.advice import LadderStep
from prepadvisor.records.kinds import NoWayUp, TooMuchFilm
from prepadvisor.surface.grades import GRADES, Grade


def steps_of(
    made: Draft, grade: Grade | None, planner: Planner
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
    return None, (_no_way(climb, used or opening, planner),)


def _no_way(climb: Climb, start: Grade | None, planner: Planner) -> Trouble:
    """Say what stops a climb: the film that may come off, else the grades that the shelf lacks.

    Grades of the best way over all there are count as lacking; where even that cuts too much, film stops it.
    """
    free = climb._replace(film_max_um=None)
    on_shelf = ladder(free, planner.shelf, planner.rates)
    best = ladder(climb, GRADES, planner.rates)
    anyhow = on_shelf or (ladder(free, GRADES, planner.rates) if best is None else None)
    if anyhow is not None:
        off = sum(step.film_off_um for step in anyhow)
        return Trouble(TooMuchFilm(start, climb.finish, off, climb.film_max_um or 0.0))
    lacks = tuple(step.grade for step in best or () if step.grade not in planner.shelf)
    return Trouble(NoWayUp(start, climb.finish), (), lacks)


def _guide(made: Draft) -> str:
    words = {plan.decision.guide_coat for plan in made.plans}
    return "every-change" if "every-change" in words else "before-final" if "before-final" in words else "no"
