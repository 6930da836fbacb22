"""From planned panels to all the work of a job: tasks in order, steps, stages, the booth."""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from prepadvisor.cases.zones import LEAST_MM, patch_rect, path_mm
from prepadvisor.planning.panels import PanelPlan, Worked
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.work.ground import (
    FaceClimb,
    Ground,
    area_ground,
    hand_only_ground,
    line_ground,
    start_of,
)
from prepadvisor.planning.work.order import STAGES, steps_of
from prepadvisor.planning.work.tasks import Act, panel_acts
from prepadvisor.planning.work.touching import touched_by
from prepadvisor.records.job import Panel
from prepadvisor.records.work import Stage, StageName, Task, Work
from prepadvisor.surface.grades import RANK
from prepadvisor.surface.layout import Layout, length_below_mm

CLEAR = {"primer": "CLEAR FOR PRIMER", "paint": "CLEAR TO MASK"}


class Planned(NamedTuple):
    """All the work, with its sums: minutes by place and by panel, and the area in dm² sanded by grade."""

    work: Work
    minutes: dict[str, float]
    sanded_dm2: dict[str, float]


def plan_work(panels: Sequence[Panel], plans: Sequence[PanelPlan], planner: Planner) -> Planned:
    """Plan the work of a job.

    Args:
        panels: its panels, their lines among them.
        plans: the plan of each.
        planner: the shop's rates and limits.
    """
    acts: list[Act] = []
    unplanned = []
    sanded: Counter[str] = Counter()
    for panel, plan in zip(panels, plans, strict=True):
        grounds = _grounds(panel, plan, planner)
        if not grounds:
            unplanned.append(panel.id)
            continue
        acts += _acts(panel, plan, grounds, planner)
        for ground in grounds:
            for rung in (*ground.early, *ground.last):
                sanded[rung.grade] += rung.area_m2 * 100  # type: ignore[assignment]
    tasks, steps = steps_of(acts, planner.house.shop.guide_coat_minutes)
    stages = tuple(
        Stage(name, CLEAR[name], sum(task.minutes for task in tasks if task.stage == name))  # type: ignore[arg-type]
        for name in STAGES
        if name == "paint" or any(task.stage == name for task in tasks)
    )
    ordered = {grade: float(sanded[grade]) for grade in sorted(sanded, key=RANK.__getitem__)}
    return Planned(Work(tasks, steps, stages, tuple(unplanned)), _sums(tasks), ordered)


def _sums(tasks: Sequence[Task]) -> dict[str, float]:
    """Add up minutes by place, and by panel with its places."""
    sums: dict[str, float] = {}
    for task in tasks:
        panel = task.place.split("/", 1)[0]
        for key in dict.fromkeys((task.place, panel)):
            sums[key] = sums.get(key, 0.0) + task.minutes
    return sums


def _acts(panel: Panel, plan: PanelPlan, grounds: Sequence[Ground], planner: Planner) -> list[Act]:
    touching = touched_by(panel, plan.places, planner.house.shop.edge_strip_mm)
    counts: Counter[tuple[str, str]] = Counter()
    acts: list[Act] = []
    by_stage: dict[StageName, list[Ground]] = {}
    for ground in grounds:
        stage: StageName = "primer" if ground.draft.subject.next == "primer" else "paint"
        by_stage.setdefault(stage, []).append(ground)
    for stage in STAGES:
        if stage in by_stage:
            acts += panel_acts(panel, stage, by_stage[stage], touching, planner.house.shop, counts, {})
    return acts


def _grounds(panel: Panel, plan: PanelPlan, planner: Planner) -> list[Ground]:
    face = FaceClimb()
    grounds = []
    for worked in plan.worked:
        made, place = worked.draft, worked.place
        subject = made.subject
        if worked.held:
            continue
        if not subject.is_line:
            start = start_of(made, planner)
            grounds.append(area_ground(made, place, worked.steps, start, planner))
            if subject.kind == "face":
                face = FaceClimb(start, worked.steps)
            continue
        length = _own_length_mm(panel, worked)
        if length <= 1:
            grounds.append(Ground(made, place))
        elif made.by_hand:
            grounds.append(hand_only_ground(made, place, planner, length))
        else:
            grounds.append(line_ground(made, place, face, planner, length, plan.advice.hand))
    return grounds


def _own_length_mm(panel: Panel, worked: Worked) -> float:
    """Return the length of a line outside the patches it crosses: its part there is sanded with the patch."""
    subject = worked.draft.subject
    if not subject.crosses:
        return subject.amount
    path = next(path_mm(panel, line.path) for line in panel.feature if line.id == subject.feature)
    rects = tuple(patch_rect(panel, patch) for patch in panel.patch if patch.id in subject.crosses)
    inside = length_below_mm(Layout(panel.length_mm, panel.height_mm, (), rects), path, LEAST_MM)
    return subject.amount - inside
