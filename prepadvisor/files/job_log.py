"""Checks the check-off and the outcomes of a job: a time without its zone cannot be put in order."""

from collections.abc import Iterator

from prepadvisor.records.fault import Problem
from prepadvisor.records.job import Job


def log_problems(job: Job) -> list[Problem]:
    """Return entries whose time does not say its zone."""
    return list(_without_zone(job))


def _without_zone(job: Job) -> Iterator[Problem]:
    logs = (("check", [entry.at for entry in job.check]), ("outcome", [entry.at for entry in job.outcome]))
    for key, times in logs:
        for number, at in enumerate(times):
            if at.tzinfo is None:
                says = f"at = {at.isoformat()} does not say its time zone"
                mend = "end it with Z for universal time, or with the distance to it such as +01:00"
                yield Problem((key, number, "at"), says, mend)
