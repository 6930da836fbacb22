"""From planned panels to all the work of a job: tasks in order, steps, stages, the booth."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import WHOLE, Ring, patch_rect, path_mm
from prepadvisor.named import NamedTuple
from prepadvisor.planning.work.booth import booth
from prepadvisor.planning.work.tasks import TaskGroup, panel_acts
from prepadvisor.records import CLEAR, RANK, Do, Panel, Place, Stage, StageName, Task, Work, WorkStep
from prepadvisor.surface import NearShape, nearer_than, path_shape, rect_shape

if TYPE_CHECKING:
    from prepadvisor.planning.panels import PanelPlan
    from prepadvisor.planning.planner import Planner
    from prepadvisor.records import Grade

# Which places hand work at another place may have scratched.
#
# Any hand work on a panel touches its face. A hand-only place also touches the lines and patches whose
# strip its own strip overlaps; a patch is all that lies in it.


def touched_by(
    panel: Panel, places: Sequence[Place], strip_mm: float, rings: Sequence[Ring] = ()
) -> dict[str, frozenset[str]]:
    """Return, for each feature of a panel but its face, the hand-only features that touch it.

    Args:
        panel: the panel with its lines and patches.
        places: its places as advised.
        strip_mm: width of the strip that is worked along a line.
        rings: the rings round patches that are primed, or will be; all within one counts as it.
    """
    by_hand = {place.feature for place in places if place.reach == "hand"}
    others = [place.feature for place in places if place.kind != "face"]
    if not by_hand:
        return {}
    shapes = _shapes(panel, rings)
    hands = [(feature, shape) for feature, shape in shapes.items() if feature in by_hand]
    return {feature: _touching(feature, shapes.get(feature), hands, strip_mm) for feature in others}


def _shapes(panel: Panel, rings: Sequence[Ring]) -> dict[str, NearShape]:
    shapes = {line.id: _path_shape(path_mm(panel, line.path)) for line in panel.feature}
    shapes.update((patch.id, rect_shape(patch_rect(panel, patch))) for patch in panel.patch)
    shapes.update((ring.feature, rect_shape(ring.rect)) for ring in rings)
    return shapes


_path_shape = lru_cache(maxsize=4096)(path_shape)
"""The shape of a path; the usual lines of an outline come again and again."""


def _touching(
    feature: str, shape: NearShape | None, hands: Sequence[tuple[str, NearShape]], strip_mm: float
) -> frozenset[str]:
    if shape is None:
        return frozenset()
    return frozenset(hand for hand, other in hands if hand != feature and nearer_than(shape, other, strip_mm))


# The order in which tasks are read and done, over all panels: steps of tasks that go together.
#
# Of all acts whose tasks may be begun, those whose turn is next make the next step, with all that are done
# alike. So no step stands before one that it must follow.

STAGES: Final[tuple[StageName, ...]] = ("primer", "paint")

_Key = tuple[int, int, int, str]
"""Stage, turn, grade and tool: what is done alike has one key, and what is done earlier the lesser one."""

_STEP: Final[dict[Do, str]] = {
    "clean": "cleaned",
    "scuff": "scuffed",
    "powder": "guide-coated",
    "sand": "sanded",
    "look": "inspected",
    "wipe": "wiped",
}
"""What a task is called in the log; masking is not logged."""


def steps_of(
    acts: Sequence[TaskGroup], powder_minutes: float
) -> tuple[tuple[Task, ...], tuple[WorkStep, ...]]:
    """Group acts into steps.

    Args:
        acts: all acts of a job; nothing in them waits for itself.
        powder_minutes: what powder takes, once for each panel and step.

    Returns:
        The tasks in the order they are done, and the steps.

    Raises:
        ValueError: where tasks wait for one another or for one that there is not.
    """
    at = {task.id: number for number, act in enumerate(acts) for task in act.tasks}
    waits, frees = _waiting(acts, at)
    ready: dict[_Key, list[int]] = {}
    for number, left in enumerate(waits):
        if not left:
            ready.setdefault(_key(acts[number]), []).append(number)
    tasks: list[Task] = []
    steps: list[WorkStep] = []
    while ready:
        chosen = sorted(ready.pop(min(ready)))
        ours = _powder_first([acts[number] for number in chosen], powder_minutes)
        tasks += ours
        steps.append(_step(len(steps) + 1, ours))
        for freed in (other for number in chosen for other in frees[number]):
            waits[freed] -= 1
            if not waits[freed]:
                ready.setdefault(_key(acts[freed]), []).append(freed)
    stuck = [acts[number].tasks[0].id for number, left in enumerate(waits) if left]
    if stuck:
        raise ValueError(f"these tasks wait for one another: {', '.join(stuck)}")
    return tuple(tasks), tuple(steps)


def _waiting(acts: Sequence[TaskGroup], at: Mapping[str, int]) -> tuple[list[int], list[list[int]]]:
    """Return how many acts each waits for, and which each frees; what is not there it waits for always."""
    waits: list[int] = []
    frees: list[list[int]] = [[] for _ in acts]
    for number, act in enumerate(acts):
        others = {at.get(before, -1) for task in act.tasks for before in task.after} - {number}
        waits.append(len(others))
        for other in others:
            if other >= 0:
                frees[other].append(number)
    return waits, frees


def _key(act: TaskGroup) -> _Key:
    rank = RANK[act.grade] if act.grade else -1
    return STAGES.index(act.tasks[0].stage), act.turn, rank, act.tool or ""


def _powder_first(acts: Iterable[TaskGroup], minutes: float) -> list[Task]:
    """Put all powder before all sanding, and time it once for each panel."""
    powdered: set[str] = set()
    first, rest = [], []
    for act in acts:
        for task in act.tasks:
            if task.do != "powder":
                rest.append(task)
                continue
            panel = task.place.split("/", 1)[0]
            first.append(task if panel in powdered else task._replace(minutes=minutes))
            powdered.add(panel)
    return [*first, *rest]


def _step(n: int, tasks: Sequence[Task]) -> WorkStep:
    stage = tasks[0].stage
    log = tuple(_log(task) for task in tasks if task.owed)
    return WorkStep(f"{stage}.{n}", n, stage, tuple(task.id for task in tasks), log)


def _log(task: Task) -> tuple[str, ...]:
    """Return the arguments of `log JOB …` that log a task as planned."""
    where = task.place if "/" in task.place else f"{task.place}/panel"
    how: tuple[str, ...] = ("--result", "clear") if task.do == "look" else ()
    if task.tool:
        how = (*how, "--tool", task.tool)
    if task.grade:
        how = (*how, "--grade", task.grade)
    return (where, _STEP[task.do], *how)


"""What the gate says at the end of each stage."""


class Planned(NamedTuple):
    """All the work, with its sums: minutes by place and by panel, and the area in dm² sanded by grade."""

    work: Work
    minutes: dict[str, float]
    sanded_dm2: dict["Grade", float]


def plan_work(plans: Sequence["PanelPlan"], planner: "Planner") -> Planned:
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


def _acts(plan: "PanelPlan", planner: "Planner") -> list[TaskGroup]:
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
