"""The check-off as the technician works it: rows of places with their boxes, and entries by the key."""

from collections.abc import Callable
from typing import Final, NamedTuple

from prepadvisor.checkoff import Gate, PanelView, PlaceView, StepView, gate
from prepadvisor.checkoff.log_entry import EntryRefusedError, Wanted, log_entry
from prepadvisor.records.advice import Place
from prepadvisor.tui.model import gate_words
from prepadvisor.tui.model.open_job import OpenJob, RefusedError, revised
from prepadvisor.tui.model.place_rows import place_label
from prepadvisor.tui.model.says import place_name
from prepadvisor.tui.model.session import Session, place_of
from prepadvisor.wording import trade as words
from prepadvisor.wording.trade import letters

STEP_WORDS: Final = {
    "cleaned": "cleaned",
    "scuffed": "scuffed",
    "guide-coated": "powder",
    "sanded": "sanded",
    "inspected": "LOOK",
    "wiped": "wiped",
    "accepted": "accepted",
}
BOX: Final = {"done": "[x]", "open": "[ ]", "held": "[×]", "reopened": "[ ]"}
LOOK_WORDS: Final = {
    "clear": "clear, nothing seen",
    "lines": "lines left",
    "gloss": "gloss left",
    "cut-through": "rubbed through",
}
SEEN_WORDS: Final = {"lines": "LINES", "gloss": "GLOSS", "cut-through": "THROUGH"}
_AGAIN: Final = {"lines": ("guide-coated", "sanded", "scuffed"), "gloss": ("scuffed", "sanded")}
"""What a look can find that more work takes out, with the steps of that work in their order."""


class CheckRow(NamedTuple):
    """One row of the check-off: place or panel id, its words, its boxes, and ink."""

    id: str
    says: str
    boxes: str
    mark: str
    ink: str


def gate_of(session: Session) -> Gate | None:
    """Return the gate as it stands, None without advice."""
    if session.advice is None:
        return None
    return gate(session.job, session.advice, session.house, session.now())


def ticks_of(session: Session) -> dict[str, set[str]] | None:
    """Return the steps that stand as done, by place and panel, for the card; None without a log."""
    verdict = gate_of(session)
    if verdict is None or not session.job.check:
        return None
    done: dict[str, set[str]] = {}
    for panel in verdict.panels:
        done[panel.id] = {step.step for step in (panel.cleaned, panel.wiped) if step.state == "done"}
        for view in panel.places:
            done[view.id] = {step.step for step in view.steps if step.state == "done"}
            done[view.id] |= {"accepted"} if view.accepted else set()
    return done


def check_rows(session: Session, verdict: Gate) -> list[CheckRow]:
    """Return each panel with its places, in the order of the card."""
    rows = []
    for at, panel in enumerate(verdict.panels):
        rows.append(_panel_row(session, letters(at), panel))
        rows += [
            _place_row(session, letters(at), view)
            for view in sorted(panel.places, key=lambda view: (view.feature == "face", view.number))
        ]
    return rows


def owed(verdict: Gate, panel_id: str, step: str) -> list[PlaceView]:
    """Return the places of a panel that still owe a step."""
    panel = next(panel for panel in verdict.panels if panel.id == panel_id)
    return [
        view
        for view in panel.places
        if any(each.step == step and each.state != "done" for each in view.steps)
    ]


def again(verdict: Gate, place_id: str, step: str) -> list[PlaceView]:
    """Return the place where a look found lines or gloss, if the step is part of working it over again."""
    return [view for view in _views(verdict, place_id) if _found(view) and _has(view, step)]


def work_of(verdict: Gate, place_id: str, step: str) -> list[PlaceView]:
    """Return where a step is logged from the row of a place.

    The place itself where its look asks for the work again, else all places of its panel that owe the step;
    where none does, scuffing and sanding can still be logged once more at the place alone.
    """
    views = again(verdict, place_id, step) or owed(verdict, place_id.partition("/")[0], step)
    if views or step == "guide-coated":
        return views
    return [view for view in _views(verdict, place_id) if _has(view, step)]


def due_at(session: Session, verdict: Gate, place_id: str) -> str:
    """Return the step that starts working a place over again after its look; empty elsewhere."""
    for view in _views(verdict, place_id):
        if gate_words.is_worked_again(session, view):
            return "inspected"
        order = _AGAIN.get(_found(view), ())
        return next((step for step in order if _has(view, step)), "")
    return ""


def planned(session: Session, views: list[PlaceView], step: str, by: str) -> list[Wanted]:
    """Return an entry for each place with the tool and grade that the advice asks for."""
    found = []
    for view in views:
        place = place_of(session.advice, view.id)
        if place is not None:
            tool, grade = asked_for(session, place, step)
            found.append(Wanted(view.id, step, by, tool, grade))
    return found


def asked_for(session: Session, place: Place, step: str) -> tuple[str, str]:
    """Return the tool and grade of a step at a place, as the advice has them; empty where a step has none."""
    if step == "scuffed":
        grade = place.hand_coarsest if place.reach == "machine" else place.finish
        tool = place.tool if place.reach == "hand" and place.tool else session.house.shop.hand_tool
        return tool, grade or ""
    if step == "sanded":
        return place.tool or session.house.shop.finishing_tool, place.finish or ""
    return "", ""


def plan_words(session: Session, wanted: list[Wanted]) -> list[str]:
    """Return what would be logged, grouped by tool and grade, each place as the card names it."""
    groups: dict[str, list[str]] = {}
    for each in wanted:
        what = f"{each.grade}, {words.TOOL[each.tool]}" if each.tool else "done"
        groups.setdefault(what, []).append(gate_words.where_words(session, each.where))
    return [f"{what}: {', '.join(names)}" for what, names in groups.items()]


def due_step(verdict: Gate, panel_id: str) -> str:
    """Return the step that is due next on a panel; empty where nothing is."""
    panel = next((panel for panel in verdict.panels if panel.id == panel_id), None)
    if panel is None:
        return ""
    if panel.cleaned.state != "done":
        return "cleaned"
    for step in ("scuffed", "guide-coated", "sanded", "inspected"):
        if owed(verdict, panel_id, step):
            return step
    return "" if panel.wiped.state == "done" else "wiped"


def logging(session: Session, wanted: list[Wanted]) -> Callable[[OpenJob], OpenJob]:
    """Return the change that adds entries to a job's log.

    Raises, when it is made:
        RefusedError: where an entry makes no sense, with the reasons.
    """

    def make(job: OpenJob) -> OpenJob:
        if session.advice is None:
            raise RefusedError("add a panel first")
        pads = dict(session.house.shop.pads)
        try:
            entries = [log_entry(job, session.advice, each, session.now(), pads) for each in wanted]
        except EntryRefusedError as error:
            raise RefusedError(str(error)) from error
        return revised(job, {"check": (*job.check, *entries)})

    return make


def _views(verdict: Gate, place_id: str) -> list[PlaceView]:
    return [view for panel in verdict.panels for view in panel.places if view.id == place_id]


def _found(view: PlaceView) -> str:
    """Return what the look found that more work takes out, as long as no later look was clear."""
    is_clear = any(step.step == "inspected" and step.state == "done" for step in view.steps)
    return "" if is_clear or view.look not in _AGAIN else view.look


def _has(view: PlaceView, step: str) -> bool:
    return any(each.step == step for each in view.steps)


def _panel_row(session: Session, letter: str, panel: PanelView) -> CheckRow:
    boxes = "  ".join(_box(step) for step in (panel.cleaned, panel.wiped))
    return CheckRow(
        f"{panel.id}/panel",
        f"{letter}  {gate_words.panel_name(session, panel.id)}",
        boxes,
        _mark(panel.is_clear),
        "bold",
    )


def _place_row(session: Session, letter: str, view: PlaceView) -> CheckRow:
    place = place_of(session.advice, view.id)
    name = f"{place_label(letter, place):<3} {place_name(place)}" if place else view.id
    if place is not None and place.finish:
        first = (
            f"{place.hand_coarsest} by hand, then "
            if place.reach == "machine" and place.hand_coarsest
            else ""
        )
        last = "by hand, last" if place.reach == "hand" else "DA"
        name += f": {first}{place.finish} {last}"
    boxes = "  ".join(_box(step) for step in view.steps)
    if view.look and view.look != "clear":
        boxes += f": {SEEN_WORDS[view.look]}"
    elif any(step.step == "inspected" and step.state == "held" for step in view.steps):
        boxes += ": cannot stand"
    if view.accepted is not None:
        boxes += f"  accepted {view.accepted.by}"
    held = any(step.state == "held" for step in view.steps)
    return CheckRow(view.id, name, boxes, _mark(view.is_clear), "stop" if held else "plain")


def _box(step: StepView) -> str:
    again = " again" if step.state == "reopened" else ""
    return f"{BOX[step.state]} {STEP_WORDS[step.step]}{again}"


def _mark(is_clear: bool) -> str:
    return "√" if is_clear else "·"
