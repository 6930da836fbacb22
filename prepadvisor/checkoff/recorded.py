"""The log's last scuffs taken for recorded ones, for the re-cut; whether a job ever was clear.

Only the advice's words on the re-cut come of this: the gate itself goes by the log alone.
"""

import datetime as dt
from typing import TYPE_CHECKING

from prepadvisor.cases import with_usual_lines
from prepadvisor.checkoff.kept_verdicts import KeptVerdicts
from prepadvisor.checkoff.verdict import gate
from prepadvisor.logbook import Logbook
from prepadvisor.planning import advise
from prepadvisor.records import Advice, Check, Done, Feature, Job, Panel, is_finer

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor
    from prepadvisor.records import Gate
    from prepadvisor.standards import House


def gate_now(
    job: Job, advice: Advice, house: "House", now: dt.datetime, kept: KeptVerdicts | None = None
) -> "Gate":
    """Return the gate as card, day, screens and commands show it: its mends know what was really scuffed.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job.
        house: the standards.
        now: the present time, with its zone.
        kept: verdicts on panels judged before; nothing without. It never changes the gate.
    """
    return gate(job, recuts(job, advice, house), house, now, kept)


def recuts(job: Job, advice: Advice, house: "House") -> Advice:
    """Return the advice with the verdict on each line's last logged scuff where one is too coarse.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job.
        house: the standards.
    """
    limits = {
        task.place: task.range[0]
        for task in advice.work.tasks
        if task.do == "scuff" and task.range is not None
    }
    coarse = {
        (check.panel, check.feature): check
        for check in job.check
        if check.step == "scuffed"
        and check.tool is not None
        and check.grade is not None
        and (limit := limits.get(f"{check.panel}/{check.feature}")) is not None
        and is_finer(limit, check.grade)
    }
    if not coarse:
        return advice
    told = advise(_with_scuffs(job, coarse, house), house, seek_offers=False)
    done = {place.id: place.done for place in told.places}
    places = tuple(
        place._replace(done=done[place.id])
        if (place.panel, place.feature) in coarse and place.id in done
        else place
        for place in advice.places
    )
    return advice._replace(places=places)


def _with_scuffs(job: Job, scuffs: dict[tuple[str, str], Check], house: "House") -> Job:
    """Return the panels that have such scuffs, these as recorded: no other panel changes their re-cut."""
    panels = {panel for panel, _ in scuffs}

    def done(panel: Panel, line: Feature) -> Feature:
        last = scuffs.get((panel.id, line.id))
        if last is None or last.tool is None:
            return line
        return line.model_copy(update={"done": Done(tool=last.tool, grade=last.grade)})

    recut = tuple(
        panel.model_copy(update={"feature": tuple(done(panel, line) for line in panel.feature)})
        for panel in with_usual_lines(job, house.on(job).outlines).panel
        if panel.id in panels
    )
    return job.model_copy(update={"panel": recut})


# Whether a job ever was clear to mask, by its log: what became of one that never was says little.


def ever_clear(job: Job, advice: Advice, house: "ShopFloor") -> bool:
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
