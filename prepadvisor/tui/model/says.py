"""Short answers in shop words: what a panel gets, what a place gets."""

from typing import TYPE_CHECKING

from prepadvisor.records import NamedTuple
from prepadvisor.wording import FLAKE, TONE, Words

if TYPE_CHECKING:
    from prepadvisor.records import Advice, GuideCoat, PanelAdvice, Place, Spot
    from prepadvisor.tui.model.open_job import OpenJob


def job_title(job: "OpenJob") -> str:
    """Return the head line of a job: number, colour, flake, tone."""
    return "  ".join(head_parts(job))


def head_parts(job: "OpenJob") -> tuple[str, ...]:
    """Return what the head says of a job, most important first: number, colour, flake, tone."""
    colour = job.colour
    flake = FLAKE[colour.flake] if colour.flake != "unknown" else "flake not known"
    parts = [job.job.number, colour.name, flake, TONE[colour.tone] if colour.tone else ""]
    return tuple(part for part in parts if part)


def panel_answer(panel: "PanelAdvice") -> str:
    """Return what a panel gets in one line."""
    parts = [f"face {panel.face}" if panel.face else "face: HOLD"]
    if panel.hand:
        parts.append(f"hand first {panel.hand}")
    if panel.hand_only:
        parts.append(f"hand-only {panel.hand_only}")
    parts.append(f"wet bed {bed(panel.wet_bed.need, panel.wet_bed.coats)}")
    return ", ".join(parts)


def bed(need: str, coats: int) -> str:
    """Return how far a wet bed is needed: "no", "advised, 1 coat", "NEEDED, 2 coats"."""
    if need == "no":
        return "no"
    word = "NEEDED" if need == "required" else "advised"
    return f"{word}, {coats} coat{'s' if coats != 1 else ''}" if coats else word


class _LookUp(NamedTuple):
    advice: "Advice"
    names: Words
    held: frozenset[str]
    spots: dict[str, "Spot"]
    scuffs: dict[str, str | None]
    bare: frozenset[str]


_last: _LookUp | None = None


def _looked_up(advice: "Advice") -> _LookUp:
    """Return an advice's holds, spots, first scuffs and places worked without powder, by id.

    Kept for the last advice, so that a list of places stays linear.
    """
    global _last
    if _last is None or _last.advice is not advice:
        spots = {spot.id: spot for spot in advice.spots}
        tasks = (task for task in reversed(advice.work.tasks) if task.do == "scuff")
        scuffs: dict[str, str | None] = {task.place: task.grade for task in tasks}
        held = frozenset(hold.spot for hold in advice.holds)
        worked = {task.place for task in advice.work.tasks}
        powdered = {task.place for task in advice.work.tasks if task.do == "powder"}
        _last = _LookUp(
            advice, Words(advice), held=held, spots=spots, scuffs=scuffs, bare=frozenset(worked - powdered)
        )
    return _last


def place_sign(advice: "Advice", place: "Place") -> str:
    """Return the sign of a place: × on hold, ▲ borderline or cut too coarse, √ fine."""
    known = _looked_up(advice)
    held, by_id = known.held, known.spots
    spots = [by_id[spot] for spot in place.spots if spot in by_id]
    if any(spot.id in held or spot.finish is None for spot in spots):
        return "×"
    if place.done.verdict in {"too-coarse", "too-fine"}:
        return "▲"
    if any(spot.finish is not None and spot.finish.verdict != "safe" for spot in spots):
        return "▲"
    return "√"


def hand_first(advice: "Advice", place: "Place") -> str | None:
    """Return the grade a place is scuffed with ahead of the DA, as the plan of work and the card have it."""
    if place.reach != "machine":
        return None
    return _looked_up(advice).scuffs.get(place.id, place.hand_coarsest)


def powder(advice: "Advice", place: "Place") -> "GuideCoat":
    """Return when guide coat goes on at a place, as the plan of work and the card have it: not on gloss."""
    return "no" if place.id in _looked_up(advice).bare else place.guide_coat


def names_of(advice: "Advice") -> Words:
    """Return the names of an advice's places, and its units."""
    return _looked_up(advice).names


def place_name(advice: "Advice", place: "Place") -> str:
    """Return the name of a place as the card has it."""
    return _looked_up(advice).names.name(place)
