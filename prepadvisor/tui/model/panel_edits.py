"""Edits of the colour and of whole panels: each returns the changed job, or refuses in words."""

from typing import Any

from prepadvisor.cases import judged
from prepadvisor.records import Outline, Panel
from prepadvisor.tui.model.line_edits import parts_of, usual_layout
from prepadvisor.tui.model.open_job import OpenJob, RefusedError, revised


def with_colour(job: OpenJob, **changes: Any) -> OpenJob:
    """Return the job with facts of its colour changed; the stages are always stated then."""
    stages = {} if job.colour.book else {"stages": judged(job.colour).stages}  # the colour book may know them
    stated = {**stages, **changes}
    return revised(job, {"colour": revised(job.colour, stated)})


def with_head(job: OpenJob, **changes: Any) -> OpenJob:
    """Return the job with its number, vehicle, author, date or units changed."""
    return revised(job, {"job": revised(job.job, changes)})


def put_panel(job: OpenJob, panel: Panel, was: str | None = None) -> OpenJob:
    """Return the job with a panel in the place of the one whose id is `was` (start value: the same id)."""
    target = was or panel.id
    if job.panel_at(target) is None:
        raise RefusedError(f'there is no panel "{target}"')
    before = job.panel_at(target)
    if before is not None:
        _refuse_losing_the_log(job, before, panel)
    panels = tuple(panel if old.id == target else old for old in job.panel)
    if len({each.id for each in panels}) < len(panels):
        raise RefusedError(f'there is a panel "{panel.id}" already; take another name')
    return revised(job, {"panel": panels})


def add_panel(job: OpenJob, outline: Outline, role: str, side: str = "") -> tuple[OpenJob, str]:
    """Return the job with a panel from an outline, and the new panel's id.

    The outline's size, edges and lines come along, to be changed. A blend panel takes its colour in from
    `side`, with the widths of its outline, else the usual ones.
    """
    panel_id = free_id(outline.kind, [panel.id for panel in job.panel])
    panel = Panel.model_validate(
        {
            "id": panel_id,
            "kind": outline.kind,
            "role": role,
            "surface": "aged-clear",
            "length_mm": outline.length_mm,
            "height_mm": outline.height_mm,
            "feature": outline.feature,
            "colour_from": (side,) if side and role == "blend" else (),
        }
    )
    if panel.role == "blend":
        panel = usual_layout(panel, outline.colour_mm, outline.fade_mm)
    return revised(job, {"panel": (*job.panel, panel)}), panel_id


def remove_panel(job: OpenJob, panel_id: str) -> OpenJob:
    """Return the job without a panel. One that work was logged on stays."""
    if job.is_logged(panel_id):
        raise RefusedError("work has been logged on this panel, so it stays on the job")
    return revised(job, {"panel": tuple(panel for panel in job.panel if panel.id != panel_id)})


def _refuse_losing_the_log(job: OpenJob, before: Panel, after: Panel) -> None:
    """Refuse a new name or a removal that would leave log entries without their place."""
    if after.id != before.id and job.is_logged(before.id):
        raise RefusedError("work has been logged on this panel, so it keeps its name")
    kept = {part.id for part in parts_of(after)}
    for part in parts_of(before):
        if part.id not in kept and job.is_logged(before.id, part.id):
            raise RefusedError(f"work has been logged on {part.id}, so it stays as it is")


def free_id(wish: str, taken: list[str]) -> str:
    """Return an id like the one wished for that is not taken: the same, or with -2, -3 … after it."""
    number, candidate = 1, wish
    while candidate in taken:
        number += 1
        candidate = f"{wish}-{number}"
    return candidate
