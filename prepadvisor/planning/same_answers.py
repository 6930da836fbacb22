"""Tells without planning a job again that other standards would plan it alike.

The plan of a job follows from what the standards answer to its cases, and from shop, constants and
outlines. If those are equal, and so is every answer that was asked for, the plan is equal.
"""

from dataclasses import replace
from typing import Final

from prepadvisor.cases.facts import Facts
from prepadvisor.planning.advise import advise
from prepadvisor.records.advice import Advice
from prepadvisor.records.decision import Decision
from prepadvisor.records.job import Job
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.house import House

_REMEMBERED_MAX: Final = 1 << 16


class _Listening(Engine):
    """An engine that keeps the cases it was asked about, each with its answer."""

    asked: list[tuple[Facts, Decision]]

    def __init__(self, engine: Engine) -> None:
        self.__dict__.update(engine.__dict__)
        self.asked = []

    def decide(self, facts: Facts) -> Decision:
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

    def advise(self, job: Job, job_after: Job | None = None) -> tuple[Advice, Advice]:
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

    def _answered_alike(self, asked: tuple[Facts, Decision]) -> bool:
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
