"""A case of the standards written as a job file: the smallest job in which some place is decided by it."""

from typing import TYPE_CHECKING, Any, Final

import tomli_w

from prepadvisor.cases import OTHER, Facts
from prepadvisor.records import LINE_KINDS

if TYPE_CHECKING:
    from prepadvisor.standards import House

_COLOUR_MM: Final = 200
_FADE_MM: Final = 250
_LENGTH_MM: Final = 1050
_LEAST_MM: Final = 30


def job_text(case: Facts, house: "House", number: str = "case") -> str:
    """Return the text of a job file that has a case; the place is "L1", "R1" or the face of panel "p1".

    Args:
        case: a case that a card can meet.
        house: its mist is taken off the fade, so that the zones come out as meant.
        number: what the job is called.
    """
    colour: dict[str, Any] = {"name": "", "flake": case.flake, "stages": case.stages, "tone": case.tone}
    if case.book != OTHER:
        colour["book"] = case.book
    job: dict[str, Any] = {"job": {"number": number}, "colour": colour, "panel": [_panel(case, house)]}
    return tomli_w.dumps(job)


def _panel(case: Facts, house: "House") -> dict[str, Any]:
    area = (case.panel_m2 or 0.67) * 1e6
    length = _length(case, area)
    height = area / length
    is_line, is_patch = case.feature in LINE_KINDS, case.feature == "patch"
    panel: dict[str, Any] = {
        "id": "p1",
        "kind": case.panel,
        "role": case.role,
        "surface": "aged-clear" if is_patch else case.surface,
        "next": "base" if is_patch and case.role != "clear-only" else case.next,
        "special": case.special,
        "length_mm": length,
        "height_mm": height,
    }
    if case.film_um is not None:
        panel["film_um"] = [case.film_um]
    start, end = 0.0, length
    if case.role == "blend" or (case.role == "repair" and case.zone != "colour"):
        colour_mm, fade_mm = float(_COLOUR_MM), float(_FADE_MM)
        if length < 3 * (_COLOUR_MM + _FADE_MM):
            colour_mm, fade_mm = length / 4, length / 4
        mist = min(house.shop.mist_mm, length / 4)
        panel |= {"colour_from": ["front"], "colour_mm": colour_mm, "fade_mm": fade_mm}
        ends = [0.0, colour_mm, colour_mm + fade_mm + mist, length]
        start, end = {"colour": ends[:2], "fade": ends[1:3], "clear": ends[2:]}[case.zone]
    middle = (start + end) / 2 / length
    if is_patch:
        size = [(end - start) / 2, height / 2]
        patch = {"id": "R1", "surface": case.surface, "next": case.next, "at": [middle, 0.5], "size_mm": size}
        panel["patch"] = [patch]
    if is_line:
        panel["feature"] = [_line(case, middle, height)]
    else:
        panel["feature"] = [_line(Facts(feature="edge"), 0.0, height)]
    return panel


def _length(case: Facts, area: float) -> float:
    """Return the panel's length, so that it is high enough for the line."""
    need = case.length_mm or 0.0
    length = min(_LENGTH_MM, max(area / 6000, _LEAST_MM))
    if area >= _LENGTH_MM * 100:
        length = _LENGTH_MM
    return max(min(length, area / need if need else length), _LEAST_MM)


def _line(case: Facts, at: float, height: float) -> dict[str, Any]:
    """Return a line straight down the panel, as long as the case has it."""
    share = min((case.length_mm or height) / height, 1.0)
    line: dict[str, Any] = {
        "id": "L1",
        "kind": case.feature,
        "path": [[at, 0.0], [at, share]],
        "reach": case.reach,
        "seen": case.seen,
    }
    return line
