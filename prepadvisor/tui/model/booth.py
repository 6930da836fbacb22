"""The booth's turns below the check-off's table: what is sprayed or seen where, and whether it is logged."""

from typing import TYPE_CHECKING

from prepadvisor.checkoff import Wanted
from prepadvisor.wording import turn_says, turns

if TYPE_CHECKING:
    from prepadvisor.records import BoothEntry, Step
    from prepadvisor.tui.model.gate_view import GateView
    from prepadvisor.tui.model.session import Session


def booth_rows(session: "Session", verdict: "GateView") -> list[tuple[str, str]]:
    """Return a row for each turn in the words of the card, with its box; "-" where nothing is logged."""
    if session.advice is None:
        return []
    each = turns(verdict.gate.work.booth)
    return [
        (f"{at + 1} {turn_says(turn, verdict.words, session.advice)}", _box(verdict, each, at))
        for at, turn in enumerate(each)
    ]


def booth_wanted(verdict: "GateView", at: int, by: str) -> list[Wanted]:
    """Return the entries that log a turn, one for each of its panels; none for a look at dry panels."""
    each = turns(verdict.gate.work.booth)
    step = _step(each, at)
    result = "clear" if step == "seen-wet" else ""
    return [Wanted(f"{panel}/panel", step, by, result=result) for panel in _panels(each[at])] if step else []


def _step(each: list[list["BoothEntry"]], at: int) -> "Step | None":
    """Return the step a turn is logged as; a look counts as one in the wet gloss only over a wet bed."""
    match each[at][0].do:
        case "seal":
            return "sealed"
        case "bed":
            return "bedded"
        case "clear":
            return "cleared"
        case "ground" | "colour" | "blend":
            return "coloured"
        case "look":
            return "seen-wet" if any(turn[0].do == "bed" for turn in each[:at]) else None


def _panels(turn: list["BoothEntry"]) -> list[str]:
    return list(dict.fromkeys(entry.panel for entry in turn))


def _box(verdict: "GateView", each: list[list["BoothEntry"]], at: int) -> str:
    """Say whether a turn is logged: each panel has as many entries of its step as turns so far ask for."""
    step = _step(each, at)
    if step is None:
        return "-"
    said = [(check.panel, check.step) for check in verdict.gate.said]
    for panel in _panels(each[at]):
        asked = sum(_step(each, n) == step and panel in _panels(each[n]) for n in range(at + 1))
        if said.count((panel, step)) < asked:
            return "[ ]"
    return "[x]"
