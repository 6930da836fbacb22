"""Every spot of a job with the case it was decided by: what joins a table of decisions to own jobs."""

from collections.abc import Iterator

from prepadvisor.cases.facts import Facts
from prepadvisor.cases.subjects import subjects
from prepadvisor.cases.usual_lines import with_usual_lines
from prepadvisor.cases.zones import zoning
from prepadvisor.planning.planner import Planner, SpotPlan
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House


def spot_plans(job: Job, house: House) -> Iterator[SpotPlan]:
    """Yield every spot of a job as it is decided, panel by panel in the order of the card."""
    house = house.on(job)
    planner = Planner(house, house.judged(job.colour))
    for panel in with_usual_lines(job, house.outlines).panel:
        for subject in subjects(panel, zoning(panel, house.shop.mist_mm)):
            yield from planner.spots(subject)


def spot_facts(job: Job, house: House) -> Iterator[tuple[str, Facts]]:
    """Yield the id of every spot of a job with its case as decided: by hand where a rule bars the machine."""
    for plan in spot_plans(job, house):
        yield plan.spot.id, plan.case
