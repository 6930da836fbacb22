"""What other standards would change in a shop's own jobs: by spot, by rule, or nothing at all.

The plan of a job follows from what the standards answer to its cases, and from shop, constants and
outlines. If those are equal, and so is every answer that was asked for, the plan is equal.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import Facts, standing, with_usual_lines, zoning
from prepadvisor.planning.advising import advise, primed_places
from prepadvisor.planning.panels import decided_subjects
from prepadvisor.planning.planner import Planner, SpotPlan
from prepadvisor.standards import DIRECTIONS, OUTPUTS, Difference, Engine, House

if TYPE_CHECKING:
    from prepadvisor.records import Advice, Decision, Job, OutputName

# Every spot of a job with the case it was decided by: what joins a table of decisions to own jobs.


def spot_plans(job: "Job", house: House) -> Iterator[SpotPlan]:
    """Yield every spot of a job as it is decided, with its primer as the log has it, panel by panel."""
    house = house.on(job)
    shop, on = house.shop, primed_places(job)
    planner = Planner(house, house.judged(job.colour))
    for panel in with_usual_lines(job, house.outlines).panel:
        stands = standing(panel, on.get(panel.id, set()), shop.lap_mm, shop.ring_mm)
        for subject in decided_subjects(stands, zoning(panel, shop.mist_mm), planner):
            yield from planner.spots(subject)


def spot_facts(job: "Job", house: House) -> Iterator[tuple[str, Facts]]:
    """Yield the id of every spot of a job with its case as decided: by hand where a rule bars the machine."""
    for plan in spot_plans(job, house):
        yield plan.spot.id, plan.case


# In how many spots of a shop's own jobs two standards decide otherwise, by rule and answer.

FoundDifference = tuple[str, Difference]
"""The rule behind a difference, the one that is stricter, and the difference."""


@dataclass
class JobDifferences:
    """Spots of jobs, those decided otherwise, and how often each difference occurs."""

    jobs: int = 0
    spots: int = 0
    changed: int = 0
    found: Counter[FoundDifference] = field(default_factory=Counter)

    def by_gravity(self) -> list[tuple[FoundDifference, int]]:
        """Return the differences with their number of spots, gravest first."""
        return sorted(
            self.found.items(),
            key=lambda each: (DIRECTIONS.index(each[0][1].direction), -each[1], str(each[0])),
        )


def job_differences(jobs: Iterable["Job"], before: House, after: House) -> JobDifferences:
    """Count the spots of jobs that two standards decide otherwise."""
    total = JobDifferences()
    known: dict[Facts, tuple[FoundDifference, ...]] = {}
    for job in jobs:
        total.jobs += 1
        old, new = before.on(job), after.on(job)
        dated = old is not before or new is not after
        for _, case in spot_facts(job, old):
            found = None if dated else known.get(case)
            if found is None:
                found = known[case] = tuple(_of_case(old.engine.decide(case), new.engine.decide(case)))
            total.spots += 1
            total.changed += bool(found)
            total.found.update(found)
    return total


def _of_case(before: "Decision", after: "Decision") -> Iterator[FoundDifference]:
    held = bool(before.holds or after.holds)
    for name, output in OUTPUTS.items():
        one, other = getattr(before, name), getattr(after, name)
        if one == other:
            continue
        if output.is_union:
            for text in (text for text in one if text not in other):
                yield _rule(before, name, text), Difference(name, text, None)
            for text in (text for text in other if text not in one):
                yield _rule(after, name, text), Difference(name, None, text)
        elif not held:
            difference = Difference(name, one, other)
            stricter = after if difference.direction == "stricter" else before
            yield _rule(stricter, name, getattr(stricter, name)), difference


def _rule(decision: "Decision", output: "OutputName", value: object) -> str:
    rules: Sequence[str] = [
        reason.rule for reason in decision.because if reason.output == output and reason.value == value
    ]
    return min(rules, default="")


_REMEMBERED_MAX: Final = 1 << 16


class _Listening(Engine):
    """An engine that keeps the cases it was asked about, each with its answer."""

    asked: list[tuple[Facts, "Decision"]]

    def __init__(self, engine: Engine) -> None:
        self.__dict__.update(engine.__dict__)
        self.asked = []

    def decide(self, facts: Facts) -> "Decision":
        decision = super().decide(facts)
        self.asked.append((facts, decision))
        return decision


class BothWays:
    """Advises on jobs under two houses, under the second one only where it answers something otherwise."""

    def __init__(self, before: House, after: House) -> None:
        """Prepare both houses."""
        self._engine = _Listening(before.engine)
        self._before = replace(before, engine=self._engine)
        self._after = after
        self._alike = (before.shop, before.constants, before.outlines, before.book) == (
            after.shop,
            after.constants,
            after.outlines,
            after.book,
        )
        self._dated = any(house.layers is not None and house.layers.is_dated for house in (before, after))
        self._whole_before = before
        self._same: dict[tuple[int, int], tuple[bool, Decision, Decision]] = {}

    def advise(self, job: "Job", job_after: "Job | None" = None) -> tuple["Advice", "Advice"]:
        """Return the advice under both; it is one and the same where nothing is answered otherwise.

        Reasons may differ in it all the same: two rules can give the same answer. `job_after` is the job as
        the second house reads it: outlines with other usual lines make it another.
        """
        if self._dated:  # which engine answers follows from the job
            before = advise(job, self._whole_before, seek_offers=False)
            return before, advise(job_after or job, self._after, seek_offers=False)
        self._engine.asked.clear()
        before = advise(job, self._before, seek_offers=False)
        if self._alike and all(map(self._answered_alike, self._engine.asked)):
            return before, before
        return before, advise(job_after or job, self._after, seek_offers=False)

    def _answered_alike(self, asked: tuple[Facts, "Decision"]) -> bool:
        case, one = asked
        other = self._after.engine.decide(case)
        key = (id(one), id(other))
        known = self._same.get(key)
        if known is None:
            if len(self._same) >= _REMEMBERED_MAX:
                self._same.clear()
            # both decisions are kept, so that their ids stay their own
            known = self._same[key] = (one[:-1] == other[:-1], one, other)
        return known[0]
