"""What is done at one place, rung by rung, before it is written down as tasks.

A rung is one pass over the place with one tool and grade. A face or patch climbs its ladder. A line is
scuffed by hand ahead of the last DA pass; where its panel is not gloss it climbs the face's rungs first.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.planning.ladder import WorkRates, hand_work, sanding_minutes
from prepadvisor.planning.places import grade_of
from prepadvisor.records import (
    CLEAR_SURFACES,
    DS50_UM,
    GRADES,
    GUIDE_COAT,
    NO_FILM_SUMS,
    RANK,
    LadderStep,
    NamedTuple,
    Place,
    Tool,
    coarsest,
    finest,
)

if TYPE_CHECKING:
    from prepadvisor.planning.drafts import Draft
    from prepadvisor.planning.planner import Planner
    from prepadvisor.records import Grade


class Rung(NamedTuple):
    """One pass over a place: with what, in which range of grades, whether powder goes on before it.

    `film_um` is None where film is not counted; `area_m2` is what the abrasive goes over. By hand no powder
    goes on and no disc is worn.
    """

    tool: Tool
    grade: "Grade"
    range: tuple["Grade", "Grade"]
    minutes: float
    film_um: float | None
    area_m2: float = 0.0
    powder: bool = False


class Ground(NamedTuple):
    """The work at one place: early rungs, hand work, last rungs; none where another place's work covers it.

    Where the place is split the last pass is several rungs, one a grade. By hand only all is in `hand`.
    """

    draft: "Draft"
    place: Place
    early: tuple[Rung, ...] = ()
    hand: tuple[Rung, ...] = ()
    last: tuple[Rung, ...] = ()

    @property
    def film_um(self) -> float:
        """The film in µm that all of it takes off at any one point: of a split pass one part only."""
        rungs = (*self.early, *self.hand, *self.last)
        beside = max(len({grade for _, grade in self.draft.split}) - 1, 0)
        return sum(rung.film_um or 0.0 for rung in rungs[: len(rungs) - beside])


class FaceClimb(NamedTuple):
    """How the face of a panel is worked, for the lines that go with it: its start, and its grit steps."""

    start: tuple[Tool, "Grade"] | None = None
    steps: tuple[LadderStep, ...] = ()


def area_ground(
    made: "Draft",
    place: Place,
    steps: Sequence[LadderStep],
    start: tuple[Tool, "Grade"] | None,
    planner: "Planner",
) -> Ground:
    """Return the work on a face or patch.

    Args:
        made: its joined spots.
        place: its record.
        steps: its grit steps, one at least.
        start: what it was sanded with before, None for gloss and for a surface not yet sanded.
        planner: the shop's rates.
    """
    surface, rates = made.subject.surface, planner.rates
    counted = surface not in NO_FILM_SUMS
    rungs, below = [], start
    for at, step in enumerate(steps):
        is_last = at == len(steps) - 1
        wide = (
            _last_range(made)
            if is_last
            else _between(below, step.grade, steps[at + 1].grade, made.step_ratio_min)
        )
        depth = rates.depth_um[below] if below else 0.0
        rungs.append(
            Rung(
                tool=step.tool,
                grade=step.grade,
                range=wide,
                powder=step.guide_coat,
                minutes=sanding_minutes(
                    made.subject.amount, depth, step.grade, surface, rates, new_disc=True
                ),
                film_um=step.film_off_um if counted else None,
                area_m2=made.subject.amount,
            )
        )
        below = (step.tool, step.grade)
    return Ground(made, place, tuple(rungs[:-1]), (), _split(rungs[-1], made))


def hand_only_ground(
    made: "Draft", place: Place, grade: "Grade", planner: "Planner", length_mm: float
) -> Ground:
    """Return the work on a line that only the hand reaches.

    Args:
        made: its joined spots.
        place: its record.
        grade: the grade that it is finished with.
        planner: the shop's rates.
        length_mm: how much of it is worked here and not with a patch.
    """
    subject, shop = made.subject, planner.house.shop
    tool = shop.hand_tool
    whole = hand_work(length_mm, subject.kind, shop)
    counted = subject.surface in CLEAR_SURFACES
    recut = place.done.recut or ()
    rungs, below = (
        [],
        (subject.was.tool, place.done.grade) if recut and subject.was and place.done.grade else None,
    )
    for at, step in enumerate(recut[:-1]):
        wide = _between(below, step.grade, recut[at + 1].grade, made.step_ratio_min)
        film = step.film_off_um if counted else None
        rungs.append(
            Rung(
                tool=step.tool,
                grade=step.grade,
                range=wide,
                minutes=whole,
                film_um=film,
            )
        )
        below = (step.tool, step.grade)
    depth = planner.rates.depth_um[below or (tool, grade)]
    ready = place.done.verdict == "within"
    film = (0.0 if ready else depth) if counted else None
    last = Rung(
        tool=tool,
        grade=grade,
        range=_last_range(made),
        minutes=0.0 if ready else whole,
        film_um=film,
    )
    return Ground(made, place, (), (*rungs, *_split(last, made)))


def line_ground(
    made: "Draft",
    place: Place,
    grade: "Grade",
    face: FaceClimb,
    planner: "Planner",
    *,
    length_mm: float,
    hand: "Grade | None",
) -> Ground:
    """Return the work on a line that a machine reaches.

    Args:
        made: its joined spots.
        place: its record, with a hand limit.
        grade: the grade that it is finished with.
        face: how the face round it is worked.
        planner: the shop's rates.
        length_mm: how much of it is worked here and not with a patch.
        hand: the panel's hand grade ahead of the DA, None for the place's own limit.
    """
    subject, shop, rates = made.subject, planner.house.shop, planner.rates
    tool = place.tool or shop.finishing_tool
    strip, counted = planner.strip_m2(length_mm), subject.surface in CLEAR_SURFACES
    word = place.guide_coat
    every = word == "every-change"
    start, steps, with_face = _start_of(made, place, grade, face, rates)
    rungs: list[Rung] = []
    below = start
    for at, step in enumerate(steps):
        used: Tool = (
            step.tool
            if step.tool == "block" or not with_face
            else planner.between_tool(subject, made.plans[0].decision)
        )
        ahead = steps[at + 1].grade if at + 1 < len(steps) else grade
        depth = rates.depth_um[below] if below else 0.0
        rungs.append(
            Rung(
                tool=used,
                grade=step.grade,
                range=_between(below, step.grade, ahead, made.step_ratio_min),
                powder=every and step.guide_coat,
                minutes=sanding_minutes(
                    strip, depth, step.grade, subject.surface, rates, new_disc=not with_face
                ),
                film_um=depth if counted else None,
                area_m2=strip,
            )
        )
        below = (used, step.grade)
    scuffed = place.hand_coarsest if hand is None else hand
    ready = place.done.verdict == "within" and not rungs
    by = (subject.was.tool, place.done.grade) if ready and subject.was and place.done.grade else None
    hand_state: tuple[Tool, Grade] = by or (shop.hand_tool, scuffed or grade)
    scuff = Rung(
        tool=shop.hand_tool,
        grade=scuffed or grade,
        range=(place.hand_coarsest or grade, GRADES[-1]),
        minutes=0.0 if ready else hand_work(length_mm, subject.kind, shop),
        film_um=0.0 if counted else None,
    )
    depth = max(rates.depth_um[state] for state in (hand_state, below) if state)
    last = Rung(
        tool=tool,
        grade=grade,
        range=_last_range(made),
        powder=GUIDE_COAT.index(word) > 0,
        minutes=sanding_minutes(strip, depth, grade, subject.surface, rates, new_disc=False),
        film_um=depth if counted else None,
        area_m2=strip,
    )
    return Ground(
        draft=made,
        place=place,
        early=tuple(rungs),
        hand=(scuff,),
        last=_split(last, made),
    )


def _start_of(
    made: "Draft", place: Place, grade: "Grade", face: FaceClimb, rates: WorkRates
) -> tuple[tuple[Tool, "Grade"] | None, tuple[LadderStep, ...], bool]:
    """Return what lies on a line now, the rungs ahead of its scuff, and whether they are the face's."""
    was = made.subject.was
    shared = tuple(step for step in face.steps[:-1] if RANK[step.grade] < RANK[grade])
    if place.done.recut and was is not None and place.done.grade is not None:
        own = place.done.recut[:-1]
        start = (was.tool, place.done.grade)
        if not shared or (own and RANK[own[0].grade] < RANK[shared[0].grade]):
            return start, own, False
        deeper = face.start and rates.depth_um[face.start] > rates.depth_um[start]
        return face.start if deeper else start, shared, True
    return face.start, shared, True


def _last_range(made: "Draft") -> tuple["Grade", "Grade"]:
    """Return the grades that the last touch may have: those of every zone of the place."""
    low = finest(*(finish.coarsest for finish in made.finishes))
    high = coarsest(*(finish.finest for finish in made.finishes))
    return (low, high) if RANK[low] <= RANK[high] else (high, high)


def _split(last: Rung, made: "Draft") -> tuple[Rung, ...]:
    """Return the last rung, one for each grade where the place is split over its zones."""
    if not made.split:
        return (last,)
    whole, found = sum(amount for _, amount in made.subject.amounts), []
    amounts = dict(made.subject.amounts)
    finishes = {plan.spot.zone: plan.spot.finish for plan in made.plans}
    for grade in dict.fromkeys(one for _, one in made.split):
        zones = [zone for zone, one in made.split if one == grade]
        own = [finish for zone in zones if (finish := finishes[zone])]
        share = sum(amounts[zone] for zone in zones) / whole
        wide = (finest(*(one.coarsest for one in own)), coarsest(*(one.finest for one in own)))
        found.append(
            last._replace(grade=grade, range=wide, minutes=last.minutes * share, area_m2=last.area_m2 * share)
        )
    return tuple(found)


def _between(
    below: tuple[Tool, "Grade"] | None, grade: "Grade", ahead: "Grade", ratio: float
) -> tuple["Grade", "Grade"]:
    """Return the grades that a step between may have: none jumps farther than the standards allow.

    The step after it is taken as planned on the coarse side, the one before it on the fine side.
    """
    low = next(
        one
        for one in GRADES
        if (below is None or RANK[one] > RANK[below[1]] or one == grade)
        and (DS50_UM[ahead] >= ratio * DS50_UM[one] - 1e-9 or one == grade)
    )
    if below is None:
        return low, grade
    reach = ratio * DS50_UM[below[1]] - 1e-9
    fine = [one for one in GRADES[RANK[grade] : RANK[ahead]] if DS50_UM[one] >= reach]
    return low, fine[-1] if fine else grade


def start_of(made: "Draft", planner: "Planner") -> tuple[Tool, "Grade"] | None:
    """Return what a face or patch was sanded with before, None for gloss, not sanded, or not known."""
    was = made.subject.was
    used = grade_of(was, planner.house.shop) if was else None
    return (was.tool, used) if was and used else None
