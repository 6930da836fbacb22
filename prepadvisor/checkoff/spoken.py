"""Which entries speak for which place, and every panel with its places and the steps that they owe."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from prepadvisor.records import STEP_OF, NamedTuple

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Advice, Check, Gate, GateHold, Look, Step, Task, TaskState

WORK_STEPS: Final[frozenset["Step"]] = frozenset({"scuffed", "guide-coated", "sanded"})
"""Steps that change the surface: a look before one of them does not count."""

PANEL_STEPS: Final[frozenset["Step"]] = frozenset({"cleaned", "wiped"})
"""Steps that are done to a whole panel."""

BOOTH_STEPS: Final[frozenset["Step"]] = frozenset({"sealed", "bedded", "coloured", "cleared", "seen-wet"})
"""What is sprayed and seen after the gate; none of it is owed."""

COATS: Final[frozenset["Step"]] = BOOTH_STEPS - {"seen-wet"}
"""What is sprayed."""

WHOLE: Final = frozenset({"panel", "all"})
"""Features that mean a whole panel."""


class SpokenPlace(NamedTuple):
    """A place as the log names it, with the steps that its tasks are logged as."""

    id: str
    panel: str
    feature: str
    steps: frozenset["Step"]


class Spoken:
    """Entries that stand, by panel and feature, in the order of the file.

    Args:
        log: the entries that are read, struck ones left out.
        places: all places there are, by id.
    """

    def __init__(self, log: Iterable["Entry"], places: Mapping[str, SpokenPlace]) -> None:
        """Sort the log once."""
        self.places = places
        self._own: dict[tuple[str, str], list[Entry]] = {}
        self._shared: dict[str, list[Entry]] = {}
        self._panel: dict[str, list[Entry]] = {}
        self._at: dict[str, list[Entry]] = {}
        self.nowhere: list[Entry] = []
        self.strange: dict[str, list[Entry]] = {}
        features = {(place.panel, place.feature) for place in places.values()}
        panels = {place.panel for place in places.values()}
        for entry in log:
            check = entry.check
            self._panel.setdefault(check.panel, []).append(entry)
            if check.panel in panels and check.feature in WHOLE:
                odd = check.step in PANEL_STEPS and entry.is_adverse
                if odd or check.step == "accepted" or (check.feature == "panel" and check.step in WORK_STEPS):
                    self.nowhere.append(entry)
                self._shared.setdefault(check.panel, []).append(entry)
            elif check.panel in panels and check.step in PANEL_STEPS:
                self.nowhere.append(entry)
            elif (check.panel, check.feature) in features:
                self._own.setdefault((check.panel, check.feature), []).append(entry)
            else:
                self.strange.setdefault(f"{check.panel}/{check.feature}", []).append(entry)

    def at(self, place: SpokenPlace) -> list["Entry"]:
        """Return the entries that speak for a place, in the order of the file.

        An entry for "all" speaks for every place of its panel that has a task of its step; it never accepts.
        """
        if place.id not in self._at:
            self._at[place.id] = self._found(place)
        return self._at[place.id]

    def _found(self, place: SpokenPlace) -> list["Entry"]:
        own = self._own.get((place.panel, place.feature), [])
        shared = [
            entry
            for entry in self._shared.get(place.panel, ())
            if entry.check.feature == "all"
            and (entry.check.step in place.steps or (entry.check.step == "inspected"))
        ]
        if not shared:
            return own
        return sorted((*own, *shared), key=lambda entry: entry.number)

    def of_whole(self, panel: str, step: "Step") -> list["Entry"]:
        """Return the entries of a step that is done to the whole panel."""
        return [entry for entry in self._shared.get(panel, ()) if entry.check.step == step]

    def on_panel(self, panel: str) -> list["Entry"]:
        """Return every entry that names a panel, in the order of the file."""
        return self._panel.get(panel, [])


# Every panel with its places and the steps they owe, each with its state: what a screen or a card ticks.


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


def views(gate: "Gate", advice: "Advice") -> tuple[PanelView, ...]:
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
    free: dict[str, list[Task]] = {}
    for task in free_tasks(gate):
        free.setdefault(task.place, []).append(task)
    features = dict.fromkeys((*(place.id for place in advice.places), *by_place))
    of_panel: dict[str, list[str]] = {}
    for place in features:
        if "/" in place:
            of_panel.setdefault(place.partition("/")[0], []).append(place)
    found = []
    for panel in advice.panels:
        own = of_panel.get(panel.id, [])
        places = tuple(
            PlaceView(
                id=place,
                panel=panel.id,
                feature=place.partition("/")[2],
                steps=_steps(by_place.get(place, [])),
                look=looks.get(place),
                accepted=accepted.get(place),
                next=_next(free.get(place, []), turn),
                holds=tuple(holds.get(place, ())),
            )
            for place in own
        )
        on_panel = by_place.get(panel.id, [])
        everything = [*free.get(panel.id, ()), *(task for place in own for task in free.get(place, ()))]
        found.append(
            PanelView(
                id=panel.id,
                cleaned=_step("cleaned", [task for task in on_panel if task.do == "clean"]),
                places=places,
                wiped=_step("wiped", [task for task in on_panel if task.do == "wipe"]),
                next=_next(everything, turn),
                holds=tuple(holds.get(panel.id, ())),
            )
        )
    return tuple(found)


def turns(gate: "Gate") -> dict[str, int]:
    """Return when each task is its turn, in the order that the plan's steps are read."""
    steps = sorted(gate.work.steps, key=lambda step: step.n)
    return {task: turn for turn, task in enumerate(task for step in steps for task in step.tasks)}


def due(gate: "Gate") -> "GateHold | Task | None":
    """Return what is next on a job: what was found, else the task that has its turn, else what holds it."""
    if gate.found:
        return gate.found[0]
    turn = turns(gate)
    undone = [task for task in free_tasks(gate) if task.state != "done"]
    holds = sorted(gate.holds, key=lambda hold: hold.mend.kind != "lead-decides")
    return min(undone, key=lambda task: turn[task.id], default=None) or next(iter(holds), None)


def free_tasks(gate: "Gate") -> tuple["Task", ...]:
    """Return what is owed in the stage but for what waits for the lead.

    That is all work of a place where he must decide before more is cut, and the wiping of its panel.
    """
    stops = {hold.place for hold in gate.holds if hold.mend.kind == "lead-decides"}
    panels = {place.partition("/")[0] for place in stops}
    return tuple(
        task
        for task in gate.work.tasks
        if task.stage == gate.stage
        and task.owed
        and task.place not in stops
        and not (task.do == "wipe" and task.place in panels)
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


def _next(tasks: list["Task"], turn: dict[str, int]) -> "Task | None":
    undone = [task for task in tasks if task.state != "done"]
    return min(undone, key=lambda task: turn[task.id], default=None)
