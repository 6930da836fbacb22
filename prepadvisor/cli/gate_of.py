"""Advice and gate of a job in one step, with the re-cut of what was really scuffed."""

import datetime as dt

from prepadvisor.checkoff import Gate, gate
from prepadvisor.checkoff.recorded import with_recorded_scuffs
from prepadvisor.planning import advise
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House


def gate_of(job: Job, house: House, now: dt.datetime) -> Gate:
    """Return the gate of a job by the standards of a house.

    Args:
        job: the job with its log.
        house: the standards.
        now: the present time, with its zone.
    """
    return gate(job, advise(with_recorded_scuffs(job, house), house), house, now)
