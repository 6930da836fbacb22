"""Turns the log's last scuffs into recorded ones, so that the advice can say how each is re-cut.

Only the advice's words on the re-cut change by this: the gate itself goes by the log alone.
"""

from prepadvisor.cases.usual_lines import with_usual_lines
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.records.job import Check, Done, Feature, Job, Panel


def with_recorded_scuffs(job: Job, floor: ShopFloor) -> Job:
    """Return the job with every line's `done` as its last logged scuff; without one it stays as it is."""
    scuffs = {(check.panel, check.feature): check for check in job.check if check.step == "scuffed"}
    order = {id(check): number for number, check in enumerate(job.check)}

    def done(panel: Panel, line: Feature) -> Feature:
        words = [scuffs[key] for key in ((panel.id, line.id), (panel.id, "all")) if key in scuffs]
        last: Check | None = max(words, key=lambda check: order[id(check)], default=None)
        if last is None or last.tool is None:
            return line
        return line.model_copy(update={"done": Done(tool=last.tool, grade=last.grade)})

    panels = tuple(
        panel.model_copy(update={"feature": tuple(done(panel, line) for line in panel.feature)})
        for panel in with_usual_lines(job, floor.outlines).panel
    )
    return job.model_copy(update={"panel": panels})
