"""A job as it stands by its log: patches and panels that primer is on."""

from prepadvisor.cases.priming import standing
from prepadvisor.records.job import Job
from prepadvisor.records.shop import Shop


def primed_places(job: Job) -> dict[str, set[str]]:
    """Return the patches, or "panel", that the log has as primed, by panel."""
    if not job.check:
        return {}
    from prepadvisor.logbook import primed  # only a job with a log pays for reading one

    on: dict[str, set[str]] = {}
    for one in primed(job.check, job.job.number):
        on.setdefault(one.panel, set()).add(one.feature)
    return on


def as_primed(job: Job, shop: Shop) -> Job:
    """Return a job with what is primed as primer surfacer, not yet sanded, grown by the lap.

    Args:
        job: the job with its log.
        shop: how far primer laps, and is keyed past that.
    """
    on = primed_places(job)
    if not on:
        return job
    panels = tuple(
        standing(panel, on.get(panel.id, set()), shop.lap_mm, shop.ring_mm).now for panel in job.panel
    )
    return job.model_copy(update={"panel": panels})
