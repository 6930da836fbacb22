"""The sheet of a panel: its facts as fields, and a panel with one of them changed."""

from typing import Any

from prepadvisor.records.job import Panel
from prepadvisor.records.words import SIDES
from prepadvisor.tui.model.fields import (
    Field,
    choice,
    done_of,
    done_text,
    done_words,
    number,
    optional_number,
    readings,
)
from prepadvisor.tui.model.layout import set_borders, usual_layout
from prepadvisor.tui.model.open_job import RefusedError, revised
from prepadvisor.wording import trade as words
from prepadvisor.wording.units import Units

ROLE = {"repair": "repair", "blend": "blend", "clear-only": "clear only"}
SPECIAL = {"none": "nothing special"} | dict(words.SPECIAL)


def panel_fields(panel: Panel, units: Units) -> list[Field]:
    """Return the fields of a panel, those a painter needs first on top."""
    blend = panel.role != "clear-only"
    gloss = "gloss" if panel.surface in {"aged-clear", "cured-clear"} else "not sanded yet"
    fields = [choice("role", "Role", panel.role, ROLE)]
    if blend:
        fields += [
            Field("colour_from", "Colour from", _sources(panel), "sources", ask="Colour comes in from"),
            _mm("colour_mm", "Full colour", panel.colour_mm, units, "all of it"),
            _mm("fade_mm", "Fade-out", panel.fade_mm, units, "none"),
        ]
    return [
        *fields,
        choice("surface", "Surface", panel.surface, dict(words.SURFACE)),
        choice("next", "Next coat", panel.next, dict(words.NEXT)),
        Field(
            "now", "On it now", done_words(panel.now, gloss), "done", done_text(panel.now), ask="Sanded with",
        ),
        Field(
            "film_um", "Film", ", ".join(units.film(um) for um in panel.film_um) or "no reading", "text",
            " ".join(f"{um:g}" for um in panel.film_um), ask="Gauge readings in um, blanks between",
        ),
        _mm("length_mm", "Length", panel.length_mm, units, ""),
        _mm("height_mm", "Height", panel.height_mm, units, ""),
        choice("special", "Special", panel.special, SPECIAL),
        Field("id", "Name", panel.id, "text", panel.id, ask="Name of the panel, without blanks"),
    ]  # fmt: skip


def changed(panel: Panel, field_id: str, answer: str) -> Panel:
    """Return the panel with one field changed to what a person answered.

    Raises:
        RefusedError: for an answer that the field cannot take.
    """
    if field_id in {"colour_mm", "fade_mm"}:
        return _with_border(panel, field_id, optional_number(answer))
    if field_id in {"length_mm", "height_mm"}:
        return revised(panel, {field_id: number(answer)})
    if field_id == "now":
        return revised(panel, {"now": done_of(answer)})
    if field_id == "film_um":
        return revised(panel, {"film_um": readings(answer)})
    if field_id == "role":
        return _with_role(panel, answer)
    if field_id == "colour_from":
        return toggled_source(panel, answer)
    changes: dict[str, Any] = {field_id: answer}
    return revised(panel, changes)


def toggled_source(panel: Panel, source: str) -> Panel:
    """Return the panel with one source of colour taken in or out; the first one brings the usual layout."""
    if source in panel.colour_from:
        left = tuple(name for name in panel.colour_from if name != source)
        bare: dict[str, Any] = {} if left else {"colour_mm": None, "fade_mm": None}
        return revised(panel, {"colour_from": left, **bare})
    grown = revised(panel, {"colour_from": (*panel.colour_from, source)})
    return usual_layout(grown) if panel.colour_mm is None or panel.fade_mm is None else grown


def source_names(panel: Panel) -> list[str]:
    """Return what the colour may come in from: the four sides and the panel's patches."""
    return [*SIDES, *(patch.id for patch in panel.patch)]


def _with_role(panel: Panel, role: str) -> Panel:
    if role == "clear-only":
        return revised(panel, {"role": role, "colour_from": (), "colour_mm": None, "fade_mm": None})
    grown = revised(panel, {"role": role})
    if role == "blend" and not panel.colour_from:
        grown = usual_layout(revised(grown, {"colour_from": ("front",)}))
    return grown


def _with_border(panel: Panel, field_id: str, mm: float | None) -> Panel:
    if mm is None or not panel.colour_from:
        if panel.role == "blend":
            raise RefusedError("a blend panel needs its full colour and its fade in mm")
        return revised(panel, {"colour_mm": None, "fade_mm": None})
    colour = mm if field_id == "colour_mm" else panel.colour_mm or 0.0
    fade = mm if field_id == "fade_mm" else panel.fade_mm or 0.0
    return set_borders(panel, colour, fade)


def _mm(ident: str, label: str, value: float | None, units: Units, blank: str) -> Field:
    says = blank if value is None else units.length(value)
    now = "" if value is None else f"{value:g}"
    return Field(ident, label, says, "number", now, step=10.0, ask=f"{label} in mm")


def _sources(panel: Panel) -> str:
    return ", ".join(panel.colour_from) or ("not stated" if panel.role == "blend" else "all over")
