"""The check-off as the technician works it: rows of places with their boxes, and entries by the key."""

import re
from collections.abc import Callable
from typing import Final, NamedTuple

from prepadvisor.cards import words
from prepadvisor.cards.words import letters
from prepadvisor.checkoff import Gate, PanelView, PlaceView, StepView, gate
from prepadvisor.checkoff.log_entry import EntryRefusedError, Wanted, log_entry
from prepadvisor.records.advice import Place
from prepadvisor.tui.model.open_job import OpenJob, RefusedError, revised
from prepadvisor.tui.model.place_rows import place_label
from prepadvisor.tui.model.says import panel_words, place_name
from prepadvisor.tui.model.session import Session, place_of

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
_TOOL_NAMES: Final = re.compile(r"(?<![\w-])(" + "|".join(map(re.escape, words.TOOL)) + r")(?![\w-])")


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


def banner_words(verdict: Gate) -> str:
    """Return the gate in one line."""
    if verdict.clear:
        return "√ CLEAR TO MASK"
    count = len(verdict.holds)
    return f"× NOT CLEAR TO MASK: {count} thing{'s' if count != 1 else ''} left"


def next_words(session: Session, verdict: Gate) -> str:
    """Return the next thing to do, in words."""
    for at, panel in enumerate(verdict.panels):
        if panel.next:
            says = in_trade_words(panel.next)
            return f"NEXT, {letters(at)} {_name(session, panel.id)}: {says}"
    if verdict.holds:
        hold = verdict.holds[0]
        says = in_trade_words(f"{hold.why}; {hold.mend}")
        return f"NEXT, {where_words(session, hold.place)}: {says}"
    told = [in_trade_words(told_words(session, says)) for says in verdict.told[:1]]
    return "; ".join(told) or f"masking may start; wiped {session.now():%H:%M}"


def in_trade_words(text: str) -> str:
    """Return words of the check-off with tools named as in the trade, not as in files."""
    return _TOOL_NAMES.sub(lambda found: words.TOOL[found[0]], text)


def where_words(session: Session, place_id: str) -> str:
    """Return where a hold is, as the card names it: "A4 handle recess"; a panel by its letter and name."""
    panel_id, _, part_id = place_id.partition("/")
    part_id = part_id.partition("/")[0]
    at = next((at for at, panel in enumerate(session.job.panel) if panel.id == panel_id), None)
    if at is None:
        return place_id
    place = place_of(session.advice, f"{panel_id}/{part_id}")
    if place is None:
        return f"{letters(at)} {_name(session, panel_id)}"
    return f"{place_label(letters(at), place)} {place_name(place)}"


def told_words(session: Session, told: str) -> str:
    """Return a remark of the gate with the place it starts with named as on the card."""
    where, colon, says = told.partition(": ")
    return f"{where_words(session, where)}: {says}" if colon else told


def hold_lines(session: Session, verdict: Gate) -> list[str]:
    """Return everything that holds, each with its mend, then what is only to be known."""
    lines = []
    for hold in verdict.holds:
        lines += [f"{where_words(session, hold.place)}: {hold.why}", f"   mend: {hold.mend}"]
    told = [f"To know: {told_words(session, says)}" for says in verdict.told]
    return [in_trade_words(line) for line in (*lines, "", *told)]


def here_words(verdict: Gate, place_id: str) -> str:
    """Return what to do at a place whose last entry cannot stand; empty elsewhere."""
    for panel in verdict.panels:
        for view in panel.places:
            if view.id == place_id and view.holds and any(step.state == "held" for step in view.steps):
                return f"HERE: {in_trade_words(view.holds[0].mend)}"
    return ""


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
    """Return what would be logged, grouped by tool and grade."""
    groups: dict[str, list[str]] = {}
    for each in wanted:
        place = place_of(session.advice, each.where)
        what = f"{each.grade}, {words.TOOL[each.tool]}" if each.tool else "done"
        groups.setdefault(what, []).append(place_name(place) if place else each.where)
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


def _panel_row(session: Session, letter: str, panel: PanelView) -> CheckRow:
    boxes = "  ".join(_box(step) for step in (panel.cleaned, panel.wiped))
    return CheckRow(
        f"{panel.id}/panel", f"{letter}  {_name(session, panel.id)}", boxes, _mark(panel.is_clear), "bold"
    )


def _name(session: Session, panel_id: str) -> str:
    panel = session.job.panel_at(panel_id)
    return panel_words(panel.kind, panel.id) if panel else panel_id


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
    if view.accepted is not None:
        boxes += f"  accepted {view.accepted.by}"
    held = any(step.state == "held" for step in view.steps)
    return CheckRow(view.id, name, boxes, _mark(view.is_clear), "stop" if held else "plain")


def _box(step: StepView) -> str:
    again = " again" if step.state == "reopened" else ""
    return f"{BOX[step.state]} {STEP_WORDS[step.step]}{again}"


def _mark(is_clear: bool) -> str:
    return "√" if is_clear else "·"
