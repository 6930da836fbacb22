"""The order in which tasks are read and done, over all panels: steps of tasks that go together.

Of all acts whose tasks may be begun, those whose turn is next make the next step, with all that are done
alike. So no step stands before one that it must follow.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from prepadvisor.planning.work.tasks import Act
from prepadvisor.records.work import Do, StageName, Task, WorkStep
from prepadvisor.surface.grades import RANK

STAGES: Final[tuple[StageName, ...]] = ("primer", "paint")

_STEP: Final[dict[Do, str]] = {
    "clean": "cleaned",
    "scuff": "scuffed",
    "powder": "guide-coated",
    "sand": "sanded",
    "look": "inspected",
    "wipe": "wiped",
}
"""What a task is called in the log; masking is not logged."""


def steps_of(acts: Sequence[Act], powder_minutes: float) -> tuple[tuple[Task, ...], tuple[WorkStep, ...]]:
    """Group acts into steps.

    Args:
        acts: all acts of a job; nothing in them waits for itself.
        powder_minutes: what powder takes, once for each panel and step.

    Returns:
        The tasks in the order they are done, and the steps.

    Raises:
        ValueError: where tasks wait for one another or for one that there is not.
    """
    done: set[str] = set()
    waiting = list(acts)
    tasks: list[Task] = []
    steps: list[WorkStep] = []
    while waiting:
        ready = [act for act in waiting if _ready(act, done)]
        if not ready:
            names = ", ".join(act.tasks[0].id for act in waiting)
            raise ValueError(f"these tasks wait for one another: {names}")
        key = min(map(_key, ready))
        chosen = [act for act in ready if _key(act) == key]
        ours = _powder_first(chosen, powder_minutes)
        taken = {id(act) for act in chosen}
        waiting = [act for act in waiting if id(act) not in taken]
        done.update(task.id for task in ours)
        tasks += ours
        steps.append(_step(len(steps) + 1, ours))
    return tuple(tasks), tuple(steps)


def _ready(act: Act, done: set[str]) -> bool:
    own = {task.id for task in act.tasks}
    return all(other in done or other in own for task in act.tasks for other in task.after)


def _key(act: Act) -> tuple[int, int, int, str]:
    rank = RANK[act.grade] if act.grade else -1
    return STAGES.index(act.tasks[0].stage), act.turn, rank, act.tool or ""


def _powder_first(acts: Iterable[Act], minutes: float) -> list[Task]:
    """Put all powder before all sanding, and time it once for each panel."""
    powdered: set[str] = set()
    first, rest = [], []
    for act in acts:
        for task in act.tasks:
            if task.do != "powder":
                rest.append(task)
                continue
            panel = task.place.split("/", 1)[0]
            first.append(replace(task, minutes=0.0 if panel in powdered else minutes))
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
