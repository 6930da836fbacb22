"""Every panel with its places and the steps they owe, each with its state: what a screen or a card ticks."""

from prepadvisor.checkoff.spoken import STEP_OF
from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Advice
from prepadvisor.records.gate import Gate, GateHold
from prepadvisor.records.job import Check
from prepadvisor.records.words import Look, Step
from prepadvisor.records.work import Task, TaskState


class StepView(NamedTuple):
    """One step that is owed, all its tasks at the place together.

    `state` is "done" when all are, "held" where one is logged but may not stand; `again` where it was logged
    once and is owed anew.
    """

    step: Step
    state: TaskState
    tasks: tuple[Task, ...]
    again: bool = False


class PlaceView(NamedTuple):
    """A place with the steps it owes, in order. `look` is the last word of a look there.

    `accepted` is the lead's last entry there; `next` the first of its tasks that is not done.
    """

    id: str
    panel: str
    feature: str
    steps: tuple[StepView, ...]
    look: Look | None
    accepted: Check | None
    next: Task | None
    holds: tuple[GateHold, ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing at this place holds the gate."""
        return not self.holds


class PanelView(NamedTuple):
    """A panel: cleaning first, its places, wiping last. `holds` are those of the panel, not of its places."""

    id: str
    cleaned: StepView
    places: tuple[PlaceView, ...]
    wiped: StepView
    next: Task | None
    holds: tuple[GateHold, ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing on this panel holds the gate."""
        return not self.holds and all(place.is_clear for place in self.places)


def views(gate: Gate, advice: Advice) -> tuple[PanelView, ...]:
    """Return every panel of the advice with its places as the log leaves them, in the order of the card."""
    stage = [task for task in gate.work.tasks if task.stage == gate.stage and task.owed]
    by_place: dict[str, list[Task]] = {}
    for task in stage:
        by_place.setdefault(task.place, []).append(task)
    holds: dict[str, list[GateHold]] = {}
    for hold in gate.holds:
        holds.setdefault(hold.place, []).append(hold)
    looks: dict[str, Look | None] = {}
    accepted: dict[str, Check] = {}
    for check in gate.said:
        place = f"{check.panel}/{check.feature}"
        if check.step == "inspected":
            looks[place] = check.result
        elif check.step == "accepted":
            accepted[place] = check
    turn = turns(gate)
    features = [place.id for place in advice.places]
    features += [place for place in by_place if "/" in place and place not in features]
    found = []
    for panel in advice.panels:
        own = [place for place in features if place.partition("/")[0] == panel.id]
        places = tuple(
            PlaceView(
                id=place,
                panel=panel.id,
                feature=place.partition("/")[2],
                steps=_steps(by_place.get(place, []), gate),
                look=looks.get(place),
                accepted=accepted.get(place),
                next=_next(by_place.get(place, []), turn),
                holds=tuple(holds.get(place, ())),
            )
            for place in own
        )
        on_panel = by_place.get(panel.id, [])
        everything = [*on_panel, *(task for place in own for task in by_place.get(place, ()))]
        found.append(
            PanelView(
                id=panel.id,
                cleaned=_step("cleaned", [task for task in on_panel if task.do == "clean"], gate),
                places=places,
                wiped=_step("wiped", [task for task in on_panel if task.do == "wipe"], gate),
                next=_next(everything, turn),
                holds=tuple(holds.get(panel.id, ())),
            )
        )
    return tuple(found)


def turns(gate: Gate) -> dict[str, int]:
    """Return when each task is its turn, in the order that the plan's steps are read."""
    steps = sorted(gate.work.steps, key=lambda step: step.n)
    return {task: turn for turn, task in enumerate(task for step in steps for task in step.tasks)}


def ticks(gate: Gate) -> dict[str, set[str]]:
    """Return the steps that stand as done, by place and panel."""
    done: dict[str, set[str]] = {}
    open_ones: dict[str, set[str]] = {}
    for task in gate.work.tasks:
        if task.stage != gate.stage or not task.owed:
            continue
        into = done if task.state == "done" else open_ones
        into.setdefault(task.place, set()).add(STEP_OF[task.do])
    found = {place: steps - open_ones.get(place, set()) for place, steps in done.items()}
    for check in gate.said:
        place = f"{check.panel}/{check.feature}"
        if check.step == "accepted" and place in found:
            found[place].add("accepted")
    return found


def _steps(tasks: list[Task], gate: Gate) -> tuple[StepView, ...]:
    steps: dict[Step, list[Task]] = {}
    for task in tasks:
        if task.do in STEP_OF:
            steps.setdefault(STEP_OF[task.do], []).append(task)
    return tuple(_step(step, own, gate) for step, own in steps.items())


def _step(step: Step, tasks: list[Task], gate: Gate) -> StepView:
    if all(task.state == "done" for task in tasks):
        return StepView(step, "done" if tasks else "open", tuple(tasks))
    held = any(task.state == "held" for task in tasks)
    again = any(task.state == "open" and task.entry is not None for task in tasks)
    if not again and tasks:
        names = {tasks[0].place, tasks[0].place.partition("/")[0]}
        again = not held and any(
            check.step == step and f"{check.panel}/{check.feature}" in names for check in gate.said
        )
    return StepView(step, "held" if held else "open", tuple(tasks), again)


def _next(tasks: list[Task], turn: dict[str, int]) -> Task | None:
    undone = [task for task in tasks if task.state != "done"]
    return min(undone, key=lambda task: turn.get(task.id, 0), default=None)
