"""The booth's steps below the check-off's table: what is sprayed or seen where, and whether it is logged."""

from typing import TYPE_CHECKING, Final

from prepadvisor.checkoff.log_entry import Wanted
from prepadvisor.records.words import Step
from prepadvisor.records.work import BoothDo, BoothEntry
from prepadvisor.tui.model.gate_words import panel_name
from prepadvisor.tui.model.session import Session
from prepadvisor.wording.trade import coats
from prepadvisor.wording.units import Units

if TYPE_CHECKING:
    from prepadvisor.tui.model.check_off import Verdict

_DOES: Final[dict[BoothDo, str]] = {
    "seal": "sealer",
    "ground": "ground coat",
    "colour": "full colour",
    "bed": "wet bed, uncoloured",
    "look": "LOOK in the wet gloss: lines?",
    "blend": "blend the colour out",
    "clear": "clear",
}
_STEP: Final[dict[BoothDo, Step]] = {
    "seal": "sealed", "ground": "coloured", "colour": "coloured", "bed": "bedded", "look": "seen-wet",
    "blend": "coloured", "clear": "cleared",
}  # fmt: skip


def booth_rows(session: Session, verdict: "Verdict") -> list[tuple[str, str]]:
    """Return a row for each step of the booth, with its box; none where nothing is painted yet."""
    units = Units(session.job.job.units == "imperial")
    steps = _steps(verdict)
    return [
        (f"{n} {_DOES[group[0].do]}: {'; '.join(_where(session, entry, units) for entry in group)}",
         "[x]" if _is_logged(verdict, group) else "[ ]")
        for n, group in enumerate(steps, 1)
    ]  # fmt: skip


def booth_wanted(verdict: "Verdict", at: int, by: str) -> list[Wanted]:
    """Return the entries that log a step of the booth, one for each of its panels."""
    group = _steps(verdict)[at]
    step, result = _STEP[group[0].do], "clear" if group[0].do == "look" else ""
    panels = dict.fromkeys(entry.panel for entry in group)
    return [Wanted(f"{panel}/panel", step, by, result=result) for panel in panels]


def _steps(verdict: "Verdict") -> list[list[BoothEntry]]:
    groups: dict[tuple[int, BoothDo], list[BoothEntry]] = {}
    for entry in verdict.gate.work.booth:
        groups.setdefault((entry.n, entry.do), []).append(entry)
    return [groups[key] for key in sorted(groups)]


def _where(session: Session, entry: BoothEntry, units: Units) -> str:
    name = panel_name(session, entry.panel) + (f" {entry.patch}" if entry.patch else "")
    span = (
        "" if entry.from_mm is None or entry.to_mm is None else f" {units.span(entry.from_mm, entry.to_mm)}"
    )
    amount = f", {coats(entry.coats)}" if entry.coats else ""
    return f"{name}{span}{amount}"


def _is_logged(verdict: "Verdict", group: list[BoothEntry]) -> bool:
    logged = {(check.panel, check.step) for check in verdict.gate.said}
    return all((entry.panel, _STEP[entry.do]) in logged for entry in group)
