"""In how many spots of a shop's own jobs two standards decide otherwise, by rule and answer."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from prepadvisor.cases.facts import Facts
from prepadvisor.planning.spot_facts import spot_facts
from prepadvisor.records.decision import Decision, OutputName
from prepadvisor.records.job import Job
from prepadvisor.standards.differing import DIRECTIONS, Difference
from prepadvisor.standards.house import House
from prepadvisor.standards.outputs import OUTPUTS

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


def job_differences(jobs: Iterable[Job], before: House, after: House) -> JobDifferences:
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


def _of_case(before: Decision, after: Decision) -> Iterator[FoundDifference]:
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


def _rule(decision: Decision, output: OutputName, value: object) -> str:
    rules: Sequence[str] = [
        reason.rule for reason in decision.because if reason.output == output and reason.value == value
    ]
    return min(rules, default="")
