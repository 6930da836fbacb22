"""From planned panels to all the work of a job: tasks in order, steps, stages, the booth."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import chain
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import WHOLE, Ring, patch_rect, path_mm
from prepadvisor.planning.work.booth import TimedEntry, booth, panel_booth
from prepadvisor.planning.work.tasks import TaskGroup, panel_acts
from prepadvisor.records import (
    CLEAR,
    RANK,
    STEP_OF,
    NamedTuple,
    Panel,
    Place,
    Stage,
    StageName,
    Task,
    Work,
    WorkStep,
)
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


class PanelStep(NamedTuple):
    """What is done of one panel in one step.

    Attributes:
        key: steps of panels with one key are one step of the job.
        powder: its powder, which comes before all other tasks of the step.
        rest: its other tasks.
        ids: the ids of both.
        logs: how the owed ones of both are logged.
    """

    key: _Key
    powder: tuple[Task, ...]
    rest: tuple[Task, ...]
    ids: tuple[tuple[str, ...], tuple[str, ...]]
    logs: tuple[tuple[tuple[str, ...], ...], tuple[tuple[str, ...], ...]]

    @property
    def tasks(self) -> tuple[Task, ...]:
        """All its tasks, in their order."""
        return (*self.powder, *self.rest)


def panel_steps(acts: Sequence[TaskGroup], powder_minutes: float) -> tuple[PanelStep, ...]:
    """Group the acts of a panel into steps.

    Args:
        acts: all acts of a panel, which wait for none of another; nothing in them waits for itself.
        powder_minutes: what powder takes, once for each panel and step.

    Raises:
        ValueError: where tasks wait for one another or for one that there is not.
    """
    at = {task.id: number for number, act in enumerate(acts) for task in act.tasks}
    waits, frees = _waiting(acts, at)
    ready: dict[_Key, list[int]] = {}
    for number, left in enumerate(waits):
        if not left:
            ready.setdefault(_key(acts[number]), []).append(number)
    steps: list[PanelStep] = []
    while ready:
        key = min(ready)
        chosen = sorted(ready.pop(key))
        steps.append(_panel_step(key, [acts[number] for number in chosen], powder_minutes))
        for freed in (other for number in chosen for other in frees[number]):
            waits[freed] -= 1
            if not waits[freed]:
                ready.setdefault(_key(acts[freed]), []).append(freed)
    stuck = [acts[number].tasks[0].id for number, left in enumerate(waits) if left]
    if stuck:
        raise ValueError(f"these tasks wait for one another: {', '.join(stuck)}")
    return tuple(steps)


def joined_steps(
    panels: Sequence[Sequence[PanelStep]],
) -> tuple[tuple[Task, ...], tuple[WorkStep, ...]]:
    """Join the steps of panels into those of a job.

    No panel waits for another, so each goes through its own steps in its own order, whatever the others do:
    of the steps that come next on each, those with the least key are the job's next.

    Args:
        panels: the steps of each panel, in the order of the job.

    Returns:
        The tasks in the order they are done, and the steps.
    """
    nexts: dict[_Key, list[tuple[int, int]]] = {}
    for at, own in enumerate(panels):
        if own:
            nexts.setdefault(own[0].key, []).append((at, 0))
    tasks: list[Task] = []
    steps: list[WorkStep] = []
    while nexts:
        key = min(nexts)
        chosen = sorted(nexts.pop(key))
        ours = [panels[at][step] for at, step in chosen]
        tasks += chain.from_iterable(one.powder for one in ours)
        tasks += chain.from_iterable(one.rest for one in ours)
        steps.append(_step(len(steps) + 1, STAGES[key[0]], ours))
        for at, step in chosen:
            if step + 1 < len(panels[at]):
                nexts.setdefault(panels[at][step + 1].key, []).append((at, step + 1))
    return tuple(tasks), tuple(steps)


def _step(n: int, stage: StageName, ours: Sequence[PanelStep]) -> WorkStep:
    """Return a step of the job: the powder of all panels, then all else."""
    ids = (ident for half in (0, 1) for one in ours for ident in one.ids[half])
    logs = (log for half in (0, 1) for one in ours for log in one.logs[half])
    return WorkStep(f"{stage}.{n}", n, stage, tuple(ids), tuple(logs))


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


def _panel_step(key: _Key, acts: Iterable[TaskGroup], minutes: float) -> PanelStep:
    """Put all powder before all sanding, and time it once for each panel."""
    powdered: set[str] = set()
    first, rest = [], []
    for act in acts:
        for task in act.tasks:
            if task.do == "powder":
                panel = task.place.split("/", 1)[0]
                first.append(task if panel in powdered else task._replace(minutes=minutes))
                powdered.add(panel)
            else:
                rest.append(task)
    halves = (first, rest)
    early, late = (tuple(task.id for task in half) for half in halves)
    logs, more = (tuple(_log(task) for task in half if task.owed) for half in halves)
    return PanelStep(key, tuple(first), tuple(rest), (early, late), (logs, more))


def _log(task: Task) -> tuple[str, ...]:
    """Return the arguments of `log JOB …` that log a task as planned."""
    where = task.place if "/" in task.place else f"{task.place}/panel"
    how: tuple[str, ...] = ("--result", "clear") if task.do == "look" else ()
    if task.tool:
        how = (*how, "--tool", task.tool)
    if task.grade:
        how = (*how, "--grade", task.grade)
    return (where, STEP_OF[task.do], *how)


# All the work of a job, from what each of its panels brings to it.


class PanelWork(NamedTuple):
    """The work of one panel, which is what it is whatever other panels there are.

    Attributes:
        steps: its steps, none where it is held.
        waits: whether something on it waits for primer.
        minutes: the sum of each stage.
        sums: minutes by place, and of the panel with its places.
        sanded_dm2: the area in dm² sanded by grade.
        booth: what is sprayed and looked at on it.
    """

    steps: tuple[PanelStep, ...]
    waits: bool
    minutes: tuple[float, ...]
    sums: dict[str, float]
    sanded_dm2: dict["Grade", float]
    booth: tuple[TimedEntry, ...]


def panel_work(plan: "PanelPlan", planner: "Planner") -> PanelWork:
    """Plan the work of a panel.

    Args:
        plan: its plan.
        planner: the shop's rates and limits.
    """
    grounds, shop = (*plan.primer, *plan.paint), planner.house.shop
    waits = bool(plan.standing.waiting)
    if not grounds:
        return PanelWork((), waits, (0.0,) * len(STAGES), sums={}, sanded_dm2={}, booth=())
    sanded: dict[Grade, float] = {}
    for ground in grounds:
        for rung in (*ground.early, *ground.last):
            sanded[rung.grade] = sanded.get(rung.grade, 0.0) + rung.area_m2 * 100
    steps = panel_steps(acts_of(plan, planner), shop.guide_coat_minutes)
    tasks = [task for step in steps for task in step.tasks]
    minutes = tuple(sum(task.minutes for task in tasks if task.stage == name) for name in STAGES)
    sprayed = panel_booth(plan, planner.judged.flake, planner.judged.stages, shop.wet_bed)
    return PanelWork(steps, waits, minutes, sums=_sums(tasks), sanded_dm2=sanded, booth=sprayed)


def job_work(panels: Mapping[str, PanelWork]) -> Work:
    """Join the work of the panels of a job.

    Args:
        panels: the work of each panel by its id, in the order of the job.
    """
    tasks, steps = joined_steps([one.steps for one in panels.values()])
    waits = any(one.waits for one in panels.values())
    stages = tuple(
        Stage(name, CLEAR[name], sum(one.minutes[at] for one in panels.values()))
        for at, name in enumerate(STAGES)
        if name == "paint" or waits
    )
    unplanned = tuple(name for name, one in panels.items() if not one.steps)
    sprayed = booth([entry for one in panels.values() for entry in one.booth])
    return Work(tasks, steps, stages, unplanned, sprayed)


def sanded_dm2(panels: Iterable[PanelWork]) -> dict["Grade", float]:
    """Return the area in dm² that is sanded with each grade, the coarsest first."""
    sums: dict[Grade, float] = {}
    for one in panels:
        for grade, area in one.sanded_dm2.items():
            sums[grade] = sums.get(grade, 0.0) + area
    return {grade: sums[grade] for grade in sorted(sums, key=RANK.__getitem__)}


def _sums(tasks: Sequence[Task]) -> dict[str, float]:
    """Add up minutes by place, and by panel with its places."""
    sums: dict[str, float] = {}
    for task in tasks:
        panel = task.place.split("/", 1)[0]
        for key in dict.fromkeys((task.place, panel)):
            sums[key] = sums.get(key, 0.0) + task.minutes
    return sums


def acts_of(plan: "PanelPlan", planner: "Planner") -> list[TaskGroup]:
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
