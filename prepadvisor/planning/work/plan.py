"""From planned panels to all the work of a job: tasks in order, steps, stages, the booth."""

from collections import Counter
from collections.abc import Sequence

from prepadvisor.cases.priming import WHOLE
from prepadvisor.named import NamedTuple
from prepadvisor.planning.panels import PanelPlan
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.work.booth import booth
from prepadvisor.planning.work.order import STAGES, steps_of
from prepadvisor.planning.work.tasks import TaskGroup, panel_acts
from prepadvisor.planning.work.touching import touched_by
from prepadvisor.records.work import CLEAR, Stage, Task, Work
from prepadvisor.surface.grades import RANK, Grade

"""What the gate says at the end of each stage."""


class Planned(NamedTuple):
    """All the work, with its sums: minutes by place and by panel, and the area in dm² sanded by grade."""

    work: Work
    minutes: dict[str, float]
    sanded_dm2: dict[Grade, float]


def plan_work(plans: Sequence[PanelPlan], planner: Planner) -> Planned:
    """Plan the work of a job.

    Args:
        plans: the plan of each panel, in the order of the job.
        planner: the shop's rates and limits.
    """
    acts: list[TaskGroup] = []
    unplanned = []
    sanded: Counter[Grade] = Counter()
    for plan in plans:
        grounds = (*plan.primer, *plan.paint)
        if not grounds:
            unplanned.append(plan.advice.id)
            continue
        acts += _acts(plan, planner)
        for ground in grounds:
            for rung in (*ground.early, *ground.last):
                sanded[rung.grade] += rung.area_m2 * 100  # type: ignore[assignment]
    tasks, steps = steps_of(acts, planner.house.shop.guide_coat_minutes)
    waits = any(plan.standing.waiting for plan in plans)
    stages = tuple(
        Stage(name, CLEAR[name], sum(task.minutes for task in tasks if task.stage == name))
        for name in STAGES
        if name == "paint" or waits
    )
    ordered = {grade: float(sanded[grade]) for grade in sorted(sanded, key=RANK.__getitem__)}
    worked = [plan for plan in plans if plan.advice.id not in unplanned]
    sprayed = booth(worked, planner.judged.flake, planner.judged.stages, planner.house.shop.wet_bed)
    work = Work(tasks, steps, stages, tuple(unplanned), sprayed)
    return Planned(work, _sums(tasks), ordered)


def _sums(tasks: Sequence[Task]) -> dict[str, float]:
    """Add up minutes by place, and by panel with its places."""
    sums: dict[str, float] = {}
    for task in tasks:
        panel = task.place.split("/", 1)[0]
        for key in dict.fromkeys((task.place, panel)):
            sums[key] = sums.get(key, 0.0) + task.minutes
    return sums


def _acts(plan: PanelPlan, planner: Planner) -> list[TaskGroup]:
    """Write the tasks of a panel: those of what waits for primer, then those of the paint stage.

    What is primed is worked again only after the wipe ahead of primer; all else of it may be done meanwhile.
    """
    shop, panel = planner.house.shop, plan.standing.later
    touching = touched_by(panel, plan.places, shop.edge_strip_mm, plan.standing.rings)
    counts: Counter[tuple[str, str]] = Counter()
    behind: dict[str, str] = {}
    acts: list[TaskGroup] = []
    clean = ""
    if plan.primer:
        acts = panel_acts(
            panel,
            "primer",
            plan.primer,
            touching=touching,
            shop=shop,
            counts=counts,
            behind=behind,
            cleaned=clean,
        )
        clean, wipe = acts[0].tasks[0].id, acts[-2].tasks[0].id
        waiting = plan.standing.waiting
        behind = {ground.place.feature: wipe for ground in plan.primer}
        if WHOLE in waiting:
            behind |= {ground.place.feature: wipe for ground in plan.paint}
    if plan.paint:
        acts += panel_acts(
            panel,
            "paint",
            plan.paint,
            touching=touching,
            shop=shop,
            counts=counts,
            behind=behind,
            cleaned=clean,
        )
    return acts
