"""Takes the log's last scuffs for recorded ones, so that the advice can say how each is re-cut.

Only the advice's words on the re-cut come of this: the gate itself goes by the log alone.
"""

from prepadvisor.cases.usual_lines import with_usual_lines
from prepadvisor.planning import advise
from prepadvisor.records.advice import Advice
from prepadvisor.records.job import Check, Done, Feature, Job, Panel
from prepadvisor.standards.house import House
from prepadvisor.surface.grades import is_finer


def recuts(job: Job, advice: Advice, house: House) -> Advice:
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
    told = advise(_with_scuffs(job, coarse, house), house)
    done = {place.id: place.done for place in told.places}
    places = tuple(
        place._replace(done=done[place.id])
        if (place.panel, place.feature) in coarse and place.id in done
        else place
        for place in advice.places
    )
    return advice._replace(places=places)


def _with_scuffs(job: Job, scuffs: dict[tuple[str, str], Check], house: House) -> Job:
    def done(panel: Panel, line: Feature) -> Feature:
        last = scuffs.get((panel.id, line.id))
        if last is None or last.tool is None:
            return line
        return line.model_copy(update={"done": Done(tool=last.tool, grade=last.grade)})

    panels = tuple(
        panel.model_copy(update={"feature": tuple(done(panel, line) for line in panel.feature)})
        for panel in with_usual_lines(job, house.on(job).outlines).panel
    )
    return job.model_copy(update={"panel": panels})
