"""A case of the standards written as a job file: the smallest job in which some place is decided by it."""

from math import ceil, sqrt
from typing import TYPE_CHECKING, Any, Final

import tomli_w

from prepadvisor.cases import OTHER, Facts
from prepadvisor.records import LINE_KINDS

if TYPE_CHECKING:
    from prepadvisor.standards import House

_COLOUR_MM: Final = 200
_FADE_MM: Final = 250
_LENGTH_MM: Final = 1050


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
    mist = house.shop.mist_mm
    length = max(min(_LENGTH_MM, sqrt(2 * area)), 2 * mist)
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
        if length - mist < 2 * (_COLOUR_MM + _FADE_MM):
            colour_mm = fade_mm = (length - mist) / 3
        panel |= {"colour_from": ["front"], "colour_mm": colour_mm, "fade_mm": fade_mm}
        ends = [0.0, colour_mm, colour_mm + fade_mm + mist, length]
        start, end = {"colour": ends[:2], "fade": ends[1:3], "clear": ends[2:]}[case.zone]
    middle = (start + end) / 2 / length
    if is_patch:
        size = [(end - start) / 2, height / 2]
        patch = {"id": "R1", "surface": case.surface, "next": case.next, "at": [middle, 0.5], "size_mm": size}
        panel["patch"] = [patch]
    if is_line:
        panel["feature"] = [_line(case, (start, end), length, height)]
    else:
        panel["feature"] = [_line(Facts(feature="edge"), (0.0, 0.0), length, height)]
    return panel


def _line(case: Facts, zone: tuple[float, float], length: float, height: float) -> dict[str, Any]:
    """Return a line in a zone, as long as the case has it: down the panel, up again while some is left."""
    start, end = zone
    left = case.length_mm or height
    columns = max(ceil(left / height), 1)
    apart = (end - start) / 2 / max(columns - 1, 1)
    across, down = (start + end) / 2 - apart * (columns - 1) / 2, 0.0
    path = [[across / length, down]]
    for column in range(columns):
        if column:
            across += min(apart, left)
            left -= min(apart, left)
            path.append([across / length, down])
        if left > 0:
            share = min(left / height, 1.0)
            left -= min(height, left)
            down = share if column % 2 == 0 else 1.0 - share
            path.append([across / length, down])
    line: dict[str, Any] = {
        "id": "L1",
        "kind": case.feature,
        "path": path,
        "reach": case.reach,
        "seen": case.seen,
    }
    return line
