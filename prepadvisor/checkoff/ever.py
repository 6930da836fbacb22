"""Whether a job ever was clear to mask, by its log: what became of one that never was says little."""

from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.gate import gate
from prepadvisor.logbook import Logbook
from prepadvisor.records.advice import Advice
from prepadvisor.records.job import Job


def ever_clear(job: Job, advice: Advice, house: ShopFloor) -> bool:
    """Say whether the gate was open when the panels were wiped last, by the log up to then.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job.
        house: the shop it was done in.
    """
    wipes = [entry for entry in Logbook.read(job.check).standing if entry.check.step == "wiped"]
    if not wipes:
        return False
    last = wipes[-1]
    until = job.model_copy(update={"check": job.check[: last.number]})
    verdict = gate(until, advice, house, max(entry.at for entry in wipes))
    return verdict.clear and verdict.stage == "paint"
