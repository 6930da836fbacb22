"""Advice and gate of a job in one step, with the re-cut of what was really scuffed."""

import datetime as dt
from typing import TYPE_CHECKING

from prepadvisor.checkoff import gate_now
from prepadvisor.planning import advise

if TYPE_CHECKING:
    from prepadvisor.records import Advice, Gate, Job
    from prepadvisor.standards import House


def gate_of(job: "Job", house: "House", now: dt.datetime) -> tuple["Gate", "Advice"]:
    """Return the gate of a job by the standards of a house, and the advice that it is held against.

    Args:
        job: the job with its log.
        house: the standards.
        now: the present time, with its zone.
    """
    advice = advise(job, house)
    return gate_now(job, advice, house, now), advice
