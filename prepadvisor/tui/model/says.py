"""Short answers in shop words: what a panel gets, what a place gets."""

from prepadvisor.records.advice import Advice, PanelAdvice, Place
from prepadvisor.tui.model.open_job import OpenJob
from prepadvisor.wording import trade as words


def job_title(job: OpenJob) -> str:
    """Return the head line of a job: number, colour, flake, tone."""
    colour = job.colour
    flake = words.FLAKE[colour.flake] if colour.flake != "unknown" else "flake not known"
    parts = [job.job.number, colour.name, flake, words.TONE[colour.tone] if colour.tone else ""]
    return "  ".join(part for part in parts if part)


def panel_answer(panel: PanelAdvice) -> str:
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


def place_sign(advice: Advice, place: Place) -> str:
    """Return the sign of a place: × on hold, ▲ borderline or cut too coarse, √ fine."""
    held = {hold.spot for hold in advice.holds}
    spots = [spot for spot in advice.spots if spot.id in place.spots]
    if any(spot.id in held or spot.finish is None for spot in spots):
        return "×"
    if place.done.verdict in {"too-coarse", "too-fine"}:
        return "▲"
    if any(spot.finish is not None and spot.finish.verdict != "safe" for spot in spots):
        return "▲"
    return "√"


def place_name(place: Place) -> str:
    """Return the name of a place: its own, or its kind."""
    return place.name or words.KIND[place.kind]


def panel_words(kind: str, panel_id: str) -> str:
    """Return a panel's name: the id where it says more than the outline, else the outline's words."""
    return words.OUTLINE[kind] if panel_id == kind else panel_id.replace("-", " ")
