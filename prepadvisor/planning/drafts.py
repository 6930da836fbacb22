"""Places and rings before their panel's one answer: one grade over all zones, unless a zone forbids it."""

from typing import TYPE_CHECKING

from prepadvisor.planning.planner import Planner, SpotPlan, film_max_um
from prepadvisor.records import GRADES, RANK, Finish, NamedTuple, Tool, WetBedAdvice, Zone, finest

if TYPE_CHECKING:
    from prepadvisor.cases import Subject
    from prepadvisor.records import Grade


class Draft(NamedTuple):
    """A place before its panel's one answer is laid over it.

    `finish` is the finest grade chosen in its zones, None where a zone has none; `by_hand` that
    hand is the last touch in every zone; `split` gives each zone its own grade where one forbids the finest;
    `by_shop` that the shop file and no rule sets its grade.
    """

    subject: "Subject"
    plans: tuple[SpotPlan, ...]
    finish: "Grade | None"
    by_hand: bool
    split: tuple[tuple[Zone, "Grade"], ...] = ()
    by_shop: bool = False

    @property
    def goes_with_face(self) -> bool:
        """Whether it is the face, or a line that a machine reaches and so gets the face's grade."""
        return not self.by_hand and self.subject.kind != "patch"

    @property
    def finishes(self) -> list[Finish]:
        """The finishes of those of its zones that have one."""
        return [plan.spot.finish for plan in self.plans if plan.spot.finish]

    @property
    def tool(self) -> Tool | None:
        """The tool of the last touch; the softest pad that any zone asks for."""
        tools = [finish.tool for finish in self.finishes]
        return "da-soft" if "da-soft" in tools else tools[0] if tools else None

    @property
    def film_max_um(self) -> float | None:
        """The film in µm that may be cut at it, the least of its zones; None where film is not counted."""
        limits = [film_max_um(self.subject, plan.decision) for plan in self.plans]
        return min((one for one in limits if one is not None), default=None)

    @property
    def step_ratio_min(self) -> float:
        """The least grain of the next step as a share of the last one's: the highest of its zones."""
        return max(plan.decision.step_ratio_min or 0.0 for plan in self.plans)

    def takes(self, grade: "Grade") -> bool:
        """Say whether every zone of it may be finished with a grade at least as fine as its own."""
        return (
            self.finish is not None
            and not self.split
            and all(RANK[grade] <= RANK[finish.finest] for finish in self.finishes)
        )


def draft(subject: "Subject", plans: tuple[SpotPlan, ...]) -> Draft:
    """Join the spots of a place.

    Args:
        subject: the place.
        plans: its spots, one or more, by hand all or none.
    """
    by_hand = plans[0].by_hand
    finishes = [(plan.spot.zone, plan.spot.finish) for plan in plans]
    chosen = [(zone, finish.chosen) for zone, finish in finishes if finish]
    if len(chosen) < len(plans):
        return Draft(subject, plans, None, by_hand)
    grade = finest(*(one for _, one in chosen))
    if any(finish and RANK[grade] > RANK[finish.finest] for _, finish in finishes):
        return Draft(subject, plans, grade, by_hand, tuple(chosen))
    return Draft(subject, plans, grade, by_hand)


def one_grade(drafts: list[Draft]) -> "Grade | None":
    """Return the finest grade of several places, None for none: what is used on all that take it."""
    return (
        finest(*(one.finish for one in drafts if one.finish)) if any(one.finish for one in drafts) else None
    )


# The ring of old paint round a patch that primer laps onto: keyed with the shop's ring grade ahead of it.


def keyed_for_primer(ring: "Subject", planner: Planner) -> Draft:
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


def _keyed(plan: SpotPlan, grade: "Grade") -> SpotPlan:
    """Take the ring's grade, or one finer, for whatever was decided for the paint over it."""
    finest = GRADES[RANK[grade] : RANK[grade] + 3][-1]
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
