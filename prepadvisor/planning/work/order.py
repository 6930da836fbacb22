"""The order in which tasks are read and done, over all panels: steps of tasks that go together.

Of all acts whose tasks may be begun, those whose turn is next make the next step, with all that are done
alike. So no step stands before one that it must follow.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from prepadvisor.planning.work.tasks import TaskGroup
from prepadvisor.records.work import Do, StageName, Task, WorkStep
from prepadvisor.surface.grades import RANK

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
