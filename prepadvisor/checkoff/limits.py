"""Holds the tool and grade of a logged scuff or sanding against the task that it is for.

A task has its range; ahead of a DA only its coarse end counts. The same grade with a tool that cuts
deeper than the one asked goes through the line model again. A tool or grade not stated is not recorded.
"""

from prepadvisor.cases.colour import FlakeNumbers
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.named import NamedTuple
from prepadvisor.planning.line_model import LineModel
from prepadvisor.records.advice import Spot
from prepadvisor.records.gate import (
    CutTooCoarse,
    CutTooFine,
    HoldFact,
    NotRecorded,
    Said,
    ShowsLines,
    WrongTool,
)
from prepadvisor.records.words import DA_TOOLS, HAND_TOOLS, Tool
from prepadvisor.records.work import Task
from prepadvisor.surface.grades import Grade, is_finer


class JudgedBy(NamedTuple):
    """What a place is judged by: its spots, the flake in numbers, the shop, and how far a step may jump.

    `grain` is None where no flake comes over a scratch; `ratio` is the least next grain over the last.
    """

    spots: tuple[Spot, ...]
    grain: FlakeNumbers | None
    floor: ShopFloor
    ratio: float


def too_coarse(grade: Grade, task: Task) -> bool:
    """Say whether a grade is coarser than the coarsest of a task."""
    return task.range is not None and is_finer(task.range[0], grade)


def too_fine(grade: Grade, task: Task) -> bool:
    """Say whether a grade is finer than the finest of a task."""
    return task.range is not None and is_finer(grade, task.range[1])


def admits(task: Task, grade: Grade | None) -> bool:
    """Say whether a grade lies in the range of a task; an unstated one never does."""
    return grade is not None and not too_coarse(grade, task) and not too_fine(grade, task)


def wrong(said: Said, task: Task, ground: JudgedBy, *, last_touch: bool) -> HoldFact | None:
    """Return what is wrong with the tool or grade of an entry for a task, None where it is within its limits.

    Args:
        said: the entry.
        task: the task that it is for.
        ground: what the place is judged by.
        last_touch: whether no machine goes over it after.
    """
    return (
        _not_recorded(said)
        or _wrong_tool(said, task)
        or _outside(said, task)
        or (would_show(said, task, ground) if last_touch else None)
    )


def _not_recorded(said: Said) -> HoldFact | None:
    check = said.check
    if check.tool is not None and check.grade is not None:
        return None
    if check.tool is None and check.grade is None:
        return NotRecorded(said, ("tool", "grade"))
    return NotRecorded(said, ("tool",) if check.tool is None else ("grade",))


def _wrong_tool(said: Said, task: Task) -> HoldFact | None:
    tool = said.check.tool
    if task.tool is None or tool == task.tool or tool is None:
        return None
    if task.do == "scuff" or task.tool in HAND_TOOLS:
        by_block = task.do == "sand" and task.tool == "block"
        fits = tool == "block" if by_block else tool in HAND_TOOLS
    else:
        fits = tool in DA_TOOLS and tool != "da-hard"
    return None if fits else WrongTool(said, task.tool)


def _outside(said: Said, task: Task) -> HoldFact | None:
    grade = said.check.grade
    if grade is None or task.range is None:
        return None
    if too_coarse(grade, task):
        return CutTooCoarse(said, task.range[0])
    return CutTooFine(said, task.range[1]) if too_fine(grade, task) else None


def would_show(said: Said, task: Task, ground: JudgedBy) -> ShowsLines | None:
    """Say where the tool really used would leave lines that show, None where it would not.

    Judged as the grit range was: with the coats of a required wet bed, else with none, and only where the
    advice judged a line at all. What was advised as borderline is not asked to be better than that.
    """
    check, asked, floor = said.check, task.tool, ground.floor
    if ground.grain is None or check.tool is None or check.grade is None or asked is None:
        return None
    if check.tool == asked or not cuts_deeper(check.tool, asked, floor):
        return None
    model = LineModel(floor.constants)
    for spot in ground.spots:
        if spot.line is None or spot.risk_limit is None:
            continue
        coats = spot.wet_bed.coats_counted
        solids = floor.shop.wet_bed.set_solids
        risk = model.estimate(
            ground.grain, check.tool, check.grade, zone=spot.zone, coats=coats, set_solids=solids
        ).risk
        limit = max(spot.risk_limit, spot.line.risk)
        if risk > limit:
            return ShowsLines(said, asked, risk, limit, spot.zone)
    return None


def cuts_deeper(tool: Tool, asked: Tool, floor: ShopFloor) -> bool:
    """Say whether a tool scratches deeper than the one that the advice was reckoned with."""
    depth = floor.constants.groove.depth_per_grain
    return depth[tool].value > depth[asked].value
