"""The usual edges and lines of an outline, which stand in where a panel states none."""

from collections.abc import Mapping

from prepadvisor.records.job import Job, Panel
from prepadvisor.records.outline import Outline


def with_usual_lines(job: Job, outlines: Mapping[str, Outline]) -> Job:
    """Give each panel that states no lines the usual edges and lines of its outline."""
    if all(panel.feature for panel in job.panel):
        return job
    return job.model_copy(update={"panel": tuple(with_lines(panel, outlines) for panel in job.panel)})


def with_lines(panel: Panel, outlines: Mapping[str, Outline]) -> Panel:
    """Return a panel with the lines that it has: its own, or its outline's usual ones."""
    outline = outlines.get(panel.kind)
    if panel.feature or outline is None:
        return panel
    return panel.model_copy(update={"feature": outline.feature})
