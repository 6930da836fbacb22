"""Every panel with its places and the steps they owe, each with its state: what a screen or a card ticks."""

from collections.abc import Container, Iterable, Mapping
from typing import TYPE_CHECKING

from prepadvisor.records import STEP_OF, NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import Advice, Check, Gate, Look, Step, Task, TaskState
    from prepadvisor.records.gate import GateHold


class StepView(NamedTuple):
    """One step that is owed, all its tasks at the place together.

    `state` is "done" when all are, "held" where one is logged but may not stand.
    """

    step: "Step"
    state: "TaskState"
    tasks: tuple["Task", ...]


class PlaceView(NamedTuple):
    """A place with the steps it owes, in order. `look` is the last word of a look there.

    `accepted` is the lead's last entry there; `next` the first of its tasks that is not done, None where
    the lead must decide first.
    """

    id: str
    panel: str
    feature: str
    steps: tuple[StepView, ...]
    look: "Look | None"
    accepted: "Check | None"
    next: "Task | None"
    holds: tuple["GateHold", ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing at this place holds the gate."""
        return not self.holds

    @property
    def stop(self) -> "GateHold | None":
        """What the lead must decide before more is cut here, None where nothing is."""
        return next((hold for hold in self.holds if hold.mend.kind == "lead-decides"), None)


class PanelView(NamedTuple):
    """A panel: cleaning first, its places, wiping last. `holds` are those of the panel, not of its places."""

    id: str
    cleaned: StepView
    places: tuple[PlaceView, ...]
    wiped: StepView
    next: "Task | None"
    holds: tuple["GateHold", ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing on this panel holds the gate."""
        return not self.holds and all(place.is_clear for place in self.places)


class PanelSaid(NamedTuple):
    """All that the view of a panel depends on.

    Attributes:
        id: the panel.
        places: its places, in the order of the advice.
        tasks: what it owes in the stage, with states.
        holds: what holds on it and at its places.
        said: entries of the log that name it.
        turn: its tasks of all stages in their turn.
    """

    id: str
    places: tuple[str, ...]
    tasks: tuple["Task", ...]
    holds: tuple["GateHold", ...]
    said: tuple["Check", ...]
    turn: tuple[str, ...]


class InOrder(NamedTuple):
    """What the log does not change of each panel.

    Attributes:
        places: its places, in the order of the advice.
        turn: its tasks of all stages in their turn.
        owed: where the tasks that it owes in the stage stand among those of the plan.
    """

    places: Mapping[str, tuple[str, ...]]
    turn: Mapping[str, tuple[str, ...]]
    owed: Mapping[str, tuple[int, ...]]


def in_order(gate: "Gate", advice: "Advice") -> InOrder:
    """Sort places and tasks by panel."""
    places: dict[str, list[str]] = {}
    for place in advice.places:
        places.setdefault(place.panel, []).append(place.id)
    turn: dict[str, list[str]] = {}
    panel_of = {task.id: task.place.partition("/")[0] for task in gate.work.tasks}
    for name in turns(gate):
        turn.setdefault(panel_of[name], []).append(name)
    owed: dict[str, list[int]] = {}
    for at, task in enumerate(gate.work.tasks):
        if task.owed and task.stage == gate.stage:
            owed.setdefault(panel_of[task.id], []).append(at)
    return InOrder(
        places={panel: tuple(some) for panel, some in places.items()},
        turn={panel: tuple(some) for panel, some in turn.items()},
        owed={panel: tuple(some) for panel, some in owed.items()},
    )


class KeptViews:
    """The view of each panel of a job, kept while what was said of it stays; it never changes a view."""

    def __init__(self) -> None:
        """Keep nothing yet."""
        self._known: dict[str, tuple[PanelSaid, PanelView]] = {}
        self._order: tuple[tuple[object, object], str, InOrder] | None = None

    def order(self, gate: "Gate", advice: "Advice") -> InOrder:
        """Return the order of places and tasks, which the log does not change."""
        places, steps = advice.places, gate.work.steps
        known = self._order
        if known is None or known[0][0] is not places or known[0][1] is not steps or known[1] != gate.stage:
            known = self._order = (places, steps), gate.stage, in_order(gate, advice)
        return known[2]

    def view(self, said: PanelSaid) -> PanelView:
        """Return the view of a panel."""
        known = self._known.get(said.id)
        if known is None or known[0] != said:
            known = self._known[said.id] = said, panel_view(said)
        return known[1]

    def forget_all_but(self, panels: Container[str]) -> None:
        """Let go of panels that the job has no more."""
        for panel in [each for each in self._known if each not in panels]:
            del self._known[panel]


def views(gate: "Gate", advice: "Advice", kept: KeptViews | None = None) -> tuple[PanelView, ...]:
    """Return every panel of the advice with its places as the log leaves them, in the order of the card.

    Args:
        gate: the gate.
        advice: the advice that it was judged with.
        kept: views of panels shown before; nothing without. It never changes a view.
    """
    kept = kept or KeptViews()
    order = kept.order(gate, advice)
    tasks = gate.work.tasks
    holds: dict[str, list[GateHold]] = {}
    for hold in gate.holds:
        holds.setdefault(hold.place.partition("/")[0], []).append(hold)
    said: dict[str, list[Check]] = {}
    for check in gate.said:
        said.setdefault(check.panel, []).append(check)
    found = tuple(
        kept.view(
            PanelSaid(
                id=panel.id,
                places=order.places.get(panel.id, ()),
                tasks=tuple(tasks[at] for at in order.owed.get(panel.id, ())),
                holds=tuple(holds.get(panel.id, ())),
                said=tuple(said.get(panel.id, ())),
                turn=order.turn.get(panel.id, ()),
            )
        )
        for panel in advice.panels
    )
    kept.forget_all_but({panel.id for panel in advice.panels})
    return found


def panel_view(panel: PanelSaid) -> PanelView:
    """Return one panel with its places as the log leaves them."""
    by_place: dict[str, list[Task]] = {}
    for task in panel.tasks:
        by_place.setdefault(task.place, []).append(task)
    holds: dict[str, list[GateHold]] = {}
    for hold in panel.holds:
        holds.setdefault(hold.place, []).append(hold)
    looks: dict[str, Look | None] = {}
    accepted: dict[str, Check] = {}
    for check in panel.said:
        place = f"{check.panel}/{check.feature}"
        if check.step == "inspected":
            looks[place] = check.result
        elif check.step == "accepted":
            accepted[place] = check
    turn = {name: at for at, name in enumerate(panel.turn)}
    free = free_of_the_lead(panel.tasks, panel.holds)
    return PanelView(
        id=panel.id,
        cleaned=_step("cleaned", [task for task in by_place.get(panel.id, ()) if task.do == "clean"]),
        places=tuple(
            PlaceView(
                id=place,
                panel=panel.id,
                feature=place.partition("/")[2],
                steps=_steps(by_place.get(place, [])),
                look=looks.get(place),
                accepted=accepted.get(place),
                next=_next([task for task in free if task.place == place], turn),
                holds=tuple(holds.get(place, ())),
            )
            for place in dict.fromkeys((*panel.places, *(name for name in by_place if "/" in name)))
        ),
        wiped=_step("wiped", [task for task in by_place.get(panel.id, ()) if task.do == "wipe"]),
        next=_next(free, turn),
        holds=tuple(holds.get(panel.id, ())),
    )


def turns(gate: "Gate") -> dict[str, int]:
    """Return when each task is its turn, in the order that the plan's steps are read."""
    steps = sorted(gate.work.steps, key=lambda step: step.n)
    return {task: turn for turn, task in enumerate(task for step in steps for task in step.tasks)}


def due(gate: "Gate") -> "GateHold | Task | None":
    """Return what is next on a job: what was found, else the task that has its turn, else what holds it."""
    if gate.found:
        return gate.found[0]
    undone = {task.id: task for task in free_tasks(gate) if task.state != "done"}
    steps = sorted(gate.work.steps, key=lambda step: step.n) if undone else ()
    first = next((undone[name] for step in steps for name in step.tasks if name in undone), None)
    return first or min(gate.holds, key=lambda hold: hold.mend.kind != "lead-decides", default=None)


def free_tasks(gate: "Gate") -> tuple["Task", ...]:
    """Return what is owed in the stage but for what waits for the lead.

    That is all work of a place where he must decide before more is cut, and the wiping of its panel.
    """
    owed = (task for task in gate.work.tasks if task.stage == gate.stage and task.owed)
    return free_of_the_lead(owed, gate.holds)


def free_of_the_lead(tasks: Iterable["Task"], holds: Iterable["GateHold"]) -> tuple["Task", ...]:
    """Return what may be done of some tasks before the lead has decided what he must."""
    stops = {hold.place for hold in holds if hold.mend.kind == "lead-decides"}
    panels = {place.partition("/")[0] for place in stops}
    return tuple(
        task for task in tasks if task.place not in stops and not (task.do == "wipe" and task.place in panels)
    )


def ticks(gate: "Gate") -> dict[str, set[str]]:
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


def _steps(tasks: list["Task"]) -> tuple[StepView, ...]:
    steps: dict[Step, list[Task]] = {}
    for task in tasks:
        steps.setdefault(STEP_OF[task.do], []).append(task)
    return tuple(_step(step, own) for step, own in steps.items())


def _step(step: "Step", tasks: list["Task"]) -> StepView:
    states = {task.state for task in tasks}
    state: TaskState = "held" if "held" in states else "done" if states == {"done"} else "open"
    return StepView(step, state, tuple(tasks))


def _next(tasks: Iterable["Task"], turn: dict[str, int]) -> "Task | None":
    undone = [task for task in tasks if task.state != "done"]
    return min(undone, key=lambda task: turn[task.id], default=None)
