"""The gate in words: the banner, what is next, what holds and where, named as on the card."""

import re
from typing import Final

from prepadvisor.checkoff import Gate, PlaceView
from prepadvisor.tui.model.place_rows import place_label
from prepadvisor.tui.model.says import panel_words, place_name
from prepadvisor.tui.model.session import Session, place_of
from prepadvisor.wording import trade as words
from prepadvisor.wording.trade import letters

_TOOL_NAMES: Final = re.compile(r"(?<![\w-])(" + "|".join(map(re.escape, words.TOOL)) + r")(?![\w-])")


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
            return f"NEXT, {letters(at)} {panel_name(session, panel.id)}: {says}"
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
        return f"{letters(at)} {panel_name(session, panel_id)}"
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


def is_worked_again(session: Session, view: PlaceView) -> bool:
    """Return whether all work at a place is done and some of it was logged after the last look there."""
    if view.look in {None, "clear"} or any(
        step.state != "done" for step in view.steps if step.step != "inspected"
    ):
        return False
    panel_id, _, part_id = view.id.partition("/")
    here = (check for check in reversed(session.job.check) if check.panel == panel_id)
    last = next((check.step for check in here if check.feature in {part_id, "all"}), "")
    return last in {"scuffed", "sanded"}


def here_words(session: Session, verdict: Gate, place_id: str) -> str:
    """Return what to do at a place whose last entry cannot stand; empty elsewhere."""
    for panel in verdict.panels:
        for view in panel.places:
            if view.id != place_id:
                continue
            if view.look != "cut-through" and is_worked_again(session, view):
                return "HERE: worked over again; now look at it again under the lamp, and log what is seen"
            if view.holds and any(step.state == "held" for step in view.steps):
                return f"HERE: {in_trade_words(view.holds[0].mend)}"
    return ""


def panel_name(session: Session, panel_id: str) -> str:
    """Return the name of a panel in shop words."""
    panel = session.job.panel_at(panel_id)
    return panel_words(panel.kind, panel.id) if panel else panel_id
