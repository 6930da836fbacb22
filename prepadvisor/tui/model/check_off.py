"""The check-off as the technician works it: rows of places with their boxes, and entries by the key."""

from collections.abc import Callable, Iterable
from typing import Final, assert_never

from prepadvisor.checkoff import (
    EntryRefusedError,
    PanelView,
    PlaceView,
    StepView,
    Wanted,
    log_entries,
)
from prepadvisor.records import STEP_OF, NamedTuple, Place, Step, Task, letters
from prepadvisor.tui.model import gate_view as gate_words
from prepadvisor.tui.model.gate_kept import CheckRow, Only
from prepadvisor.tui.model.gate_view import (
    BOX,
    COLUMNS,
    FILTERS,
    SEEN_WORDS,
    STEP_WORDS,
    WIDE,
    GateView,
    kept_gate,
)
from prepadvisor.tui.model.open_job import OpenJob, RefusedError, revised
from prepadvisor.tui.model.rows import place_label
from prepadvisor.tui.model.says import place_name
from prepadvisor.tui.model.session import Session
from prepadvisor.wording import TOOL, panel_name, refusal_says

_AGAIN: Final = {"lines": ("guide-coated", "sanded", "scuffed"), "gloss": ("scuffed", "sanded")}
"""What a look can find that more work takes out, with the steps of that work in their order."""


def check_rows(
    session: Session, verdict: GateView, only: Only = FILTERS[0], wide: int = WIDE
) -> list[CheckRow]:
    """Return each panel with its places, in the order of the card.

    Args:
        session: the open job.
        verdict: its gate.
        only: one of `FILTERS`; a panel stays as long as one of its places does.
        wide: columns of a box.
    """
    places: dict[str, list[Place]] = {}
    for place in session.advice.places if session.advice else ():
        places.setdefault(place.panel, []).append(place)
    rows: list[CheckRow] = []
    before, now = kept_gate(session), {}
    for at, panel in enumerate(verdict.panels):
        key, here = (panel.id, letters(at), only, wide), tuple(places.get(panel.id, ()))
        known = before.rows.get(key)
        if known is None or known[0] is not panel or known[1] != here:
            known = panel, here, _panel_rows(session, letters(at), panel, here, only, wide=wide)
        now[key] = known
        rows += known[2]
    before.rows = now
    return rows


def _panel_rows(
    session: Session, letter: str, panel: PanelView, places: Iterable[Place], only: Only, *, wide: int
) -> list[CheckRow]:
    by_id = {place.id: place for place in places}
    own = [
        _place_row(session, letter, view, by_id.get(view.id), wide)
        for view in sorted(panel.places, key=lambda view: _turn(view, by_id.get(view.id)))
        if _passes(view, only)
    ]
    return [_panel_row(letter, panel), *own] if own or only == FILTERS[0] else []


def _passes(view: PlaceView, only: Only) -> bool:
    match only:
        case "all":
            return True
        case "look":
            return any(step.step == "inspected" and step.state != "done" for step in view.steps)
        case "open":
            return not view.is_clear
        case "held":
            return any(step.state == "held" for step in view.steps) or view.look not in {None, "clear"}
    assert_never(only)


class NextStep(NamedTuple):
    """What is logged next at one go: the step, and the places of one panel that it is done at."""

    step: Step
    panel: str
    tasks: tuple[Task, ...]


def next_step(verdict: GateView, panel_id: str) -> NextStep | None:
    """Return the first step of the plan that is not done, at the selected panel if that owes it.

    All that is like it and may be done now on that panel goes with it: whoever scuffs edges scuffs the
    hand-only places too.
    """
    tasks = {task.id: task for task in verdict.gate.work.tasks}
    stage = verdict.gate.stage
    due = [
        task
        for step in sorted(verdict.gate.work.steps, key=lambda step: step.n)
        for name in step.tasks
        if (task := tasks[name]).owed and task.state != "done" and task.stage == stage
    ]
    if not due:
        return None
    first = due[0]
    own = next((task for task in due if _panel_of(task) == panel_id), None)
    if own is not None and own.do == first.do:
        first = own
    ready = [
        task
        for task in due
        if task.do == first.do and _panel_of(task) == _panel_of(first) and _may_be_done(task, tasks)
    ]
    return NextStep(STEP_OF[first.do], _panel_of(first), tuple(ready or [first]))


def _may_be_done(task: Task, tasks: dict[str, Task]) -> bool:
    return all(name not in tasks or tasks[name].state == "done" for name in task.after)


def _panel_of(task: Task) -> str:
    return task.place.partition("/")[0]


def next_look(verdict: GateView, place_id: str) -> str:
    """Return the next place of the panel that owes a look, after one in the order of the rows; else empty."""
    panel = next((panel for panel in verdict.panels if panel.id == place_id.partition("/")[0]), None)
    if panel is None:
        return ""
    order = [
        view.id for view in panel.places
        if view.id != place_id and any(s.step == "inspected" and s.state == "open" for s in view.steps)
    ]  # fmt: skip
    known = [view.id for view in panel.places]
    later = [each for each in order if place_id in known and known.index(each) > known.index(place_id)]
    return (later or order or [""])[0]


def _turn(view: PlaceView, place: Place | None) -> tuple[bool, int]:
    return view.feature == "face", place.number if place is not None else 10_000


def owed(verdict: GateView, panel_id: str, step: str) -> list[PlaceView]:
    """Return the places of a panel where a step is next: owed there, and nothing before it is."""
    places = (view for panel in verdict.panels if panel.id == panel_id for view in panel.places)
    return [view for view in places if view.next is not None and STEP_OF.get(view.next.do) == step]


def again(verdict: GateView, place_id: str, step: str) -> list[PlaceView]:
    """Return the place where a look found lines or gloss, if the step is part of working it over again."""
    return [view for view in _views(verdict, place_id) if _found(view) and _has(view, step)]


def work_of(verdict: GateView, place_id: str, step: str) -> list[PlaceView]:
    """Return where a step is logged from the row of a place.

    The place itself where its look asks for the work again, else all places of its panel that owe the step;
    where none does, scuffing and sanding can still be logged once more at the place alone.
    """
    views = again(verdict, place_id, step) or owed(verdict, place_id.partition("/")[0], step)
    if views or step == "guide-coated":
        return views
    return [view for view in _views(verdict, place_id) if _has(view, step)]


def due_at(session: Session, verdict: GateView, place_id: str) -> str:
    """Return the step that starts working a place over again after its look; empty elsewhere."""
    for view in _views(verdict, place_id):
        if gate_words.is_worked_again(session, view):
            return "inspected"
        order = _AGAIN.get(_found(view), ())
        return next((step for step in order if _has(view, step)), "")
    return ""


def planned(views: list[PlaceView], step: str, by: str) -> list[Wanted]:
    """Return an entry for each place with the tool and grade that the plan asks for there."""
    found = []
    for view in views:
        tasks = [task for each in view.steps if each.step == step for task in each.tasks]
        task = next((task for task in tasks if task.state != "done"), tasks[-1] if tasks else None)
        if task is not None:
            found.append(Wanted(view.id, step, by, task.tool or "", task.grade or ""))
    return found


def wanted_of(step: NextStep, by: str) -> list[Wanted]:
    """Return an entry for each place of a step, with the tool and grade that the plan asks for there."""
    return [Wanted(task.place, step.step, by, task.tool or "", task.grade or "") for task in step.tasks]


def with_words(wanted: list[Wanted]) -> str:
    """Return with what entries were made, where all have the same: ", P1000 non-woven pad"."""
    used = {(each.grade or each.pad, each.tool) for each in wanted}
    if len(used) != 1 or used == {("", "")}:
        return ""
    grade, tool = next(iter(used))
    return f", {grade} {TOOL[tool] if tool else ''}".rstrip()


def plan_words(session: Session, wanted: list[Wanted]) -> list[str]:
    """Return what would be logged, grouped by tool and grade, each place as the card names it."""
    groups: dict[str, list[str]] = {}
    for each in wanted:
        what = f"{each.grade}, {TOOL[each.tool]}" if each.tool else "done"
        groups.setdefault(what, []).append(gate_words.where_words(session, each.where))
    return [f"{what}: {', '.join(names)}" for what, names in groups.items()]


def due_step(verdict: GateView, panel_id: str) -> str:
    """Return the step that is due next on a panel; empty where nothing is."""
    panel = next((panel for panel in verdict.panels if panel.id == panel_id), None)
    return STEP_OF.get(panel.next.do, "") if panel is not None and panel.next is not None else ""


def logging(session: Session, wanted: list[Wanted]) -> Callable[[OpenJob], OpenJob]:
    """Return the change that adds entries to a job's log.

    Raises, when it is made:
        RefusedError: where an entry makes no sense, with the reasons.
    """

    def make(job: OpenJob) -> OpenJob:
        advice = session.advice
        if advice is None:
            raise RefusedError("add a panel first")
        try:
            entries = [
                entry
                for each in wanted
                for entry in log_entries(job, advice, each, session.now(), session.house)
            ]
        except EntryRefusedError as error:
            says = "; ".join(refusal_says(fault, typed=False) for fault in error.faults)
            raise RefusedError(says) from error
        return revised(job, {"check": (*job.check, *entries)})

    return make


def _views(verdict: GateView, place_id: str) -> list[PlaceView]:
    return [view for panel in verdict.panels for view in panel.places if view.id == place_id]


def _found(view: PlaceView) -> str:
    """Return what the look found that more work takes out, as long as no later look was clear."""
    is_clear = any(step.step == "inspected" and step.state == "done" for step in view.steps)
    return "" if is_clear or view.look not in _AGAIN else view.look


def _has(view: PlaceView, step: str) -> bool:
    return any(each.step == step for each in view.steps)


def _panel_row(letter: str, panel: PanelView) -> CheckRow:
    boxes = "  ".join(f"{STEP_WORDS[step.step]} {BOX[step.state]}" for step in (panel.cleaned, panel.wiped))
    return CheckRow(
        f"{panel.id}/panel",
        f"{letter}   {panel_name(panel.id).upper()}",
        boxes,
        _mark(panel.is_clear),
        "bold",
    )


def _place_row(session: Session, letter: str, view: PlaceView, place: Place | None, wide: int) -> CheckRow:
    advice = session.advice
    name = view.id
    if place is not None and advice is not None:
        name = f"{place_label(letter, place):<3} {place_name(advice, place)}"
    if place is not None and place.finish:
        first = {task.grade for step in view.steps if step.step == "scuffed" for task in step.tasks}
        hand = f"{', '.join(sorted(map(str, first)))}, " if place.reach == "machine" and first else ""
        name += f": {hand}{place.finish}{' hand' if place.reach == 'hand' else ''}"
    if view.accepted is not None:
        name += f"  accepted {view.accepted.by}"
    steps = {step.step: step for step in view.steps}
    held = any(step.state == "held" for step in view.steps)
    cells = [f"{_cell(steps.get(column), view)[:wide]:^{wide}}" for column in COLUMNS]
    return CheckRow(view.id, name, "│".join(cells), _mark(view.is_clear), "stop" if held else "plain")


def _cell(step: StepView | None, view: PlaceView) -> str:
    """Return a box in its column: a mark, how many of several are done, or what a look saw."""
    if step is None:
        return "-"
    if step.step == "inspected" and view.look and view.look != "clear":
        return SEEN_WORDS[view.look]
    done = sum(task.state == "done" for task in step.tasks)
    return f"[{done}/{len(step.tasks)}]" if 0 < done < len(step.tasks) else BOX[step.state]


def _mark(is_clear: bool) -> str:
    return "√" if is_clear else "·"
