"""The sheets of a panel and of a line or patch: facts as fields, and the panel with one of them changed."""

from typing import Any

from prepadvisor.records import CLEAR_SURFACES, LINE_KINDS, SIDES, Feature, Panel, Patch
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
from prepadvisor.tui.model.line_edits import PanelPart, set_borders, usual_layout, with_part
from prepadvisor.tui.model.open_job import RefusedError, revised
from prepadvisor.wording import KIND, NEXT, SPECIAL, SURFACE, Units, panel_name, side

# The sheet of a line or patch: its facts as fields, and a panel with one of them changed.

REACH = {"machine": "DA after hand", "hand": "hand only"}
SEEN = {"yes": "seen", "no": "not seen"}


def part_fields(part: PanelPart, units: Units) -> list[Field]:
    """Return the fields of a line or patch."""
    if isinstance(part, Patch):
        return _patch_fields(part, units)
    return _line_fields(part)


def changed_part(panel: Panel, part: PanelPart, field_id: str, answer: str) -> Panel:
    """Return the panel with one field of a line or patch changed to what a person answered."""
    changes: dict[str, Any] = {field_id: _id_of(part.id, answer) if field_id == "id" else answer}
    if field_id == "seen":
        changes = {"seen": answer == "yes"}
    elif field_id in {"done", "now"}:
        changes = {field_id: done_of(answer)}
    elif isinstance(part, Patch) and field_id in {"long", "high"}:
        size = list(part.size_mm)
        size[["long", "high"].index(field_id)] = number(answer)
        changes = {"size_mm": tuple(size)}
    return with_part(panel, part.id, **changes)


def _line_fields(line: Feature) -> list[Field]:
    seen = "yes" if line.judged_seen else "no"
    says = " (usual)" if line.seen is None else ""
    reach = " (not stated)" if line.reach is None else ""
    kinds: dict[str, str] = {kind: KIND[kind] for kind in LINE_KINDS}
    return [
        choice("reach", "Reach", line.judged_reach, REACH)._replace(says=REACH[line.judged_reach] + reach),
        choice("seen", "Seen", seen, SEEN)._replace(says=SEEN[seen] + says),
        Field(
            "done", "Scuffed", done_words(line.done, "not recorded"), "done", done_text(line.done),
            ask="Scuffed with",
        ),
        choice("kind", "Kind", line.kind, kinds),
        Field("name", "Name", line.name or "no name", "text", line.name, ask="Name of the line"),
    ]  # fmt: skip


def _patch_fields(patch: Patch, units: Units) -> list[Field]:
    long, high = patch.size_mm
    return [
        choice("surface", "Surface", patch.surface, dict(SURFACE)),
        choice("next", "Next coat", patch.next, dict(NEXT)),
        Field(
            "now", "On it now", done_words(patch.now, "not sanded yet"), "done", done_text(patch.now),
            ask="Sanded with",
        ),
        Field("long", "Length", units.length(long), "number", f"{long:g}", step=10.0, ask="Length in mm"),
        Field("high", "Height", units.length(high), "number", f"{high:g}", step=10.0, ask="Height in mm"),
        Field("id", "Name", panel_name(patch.id), "text", panel_name(patch.id), ask="Name of the patch"),
    ]  # fmt: skip


ROLE = {"repair": "repair", "blend": "blend", "clear-only": "clear only"}
SPECIAL_OR_NONE = {"none": "nothing special"} | dict(SPECIAL)


def panel_fields(panel: Panel, units: Units, seen_as: str = "") -> list[Field]:
    """Return the fields of a panel, those a painter needs first on top.

    `seen_as` is the shipped outline by which its sides are called, its own kind where none is given.
    """
    blend = panel.role != "clear-only"
    gloss = "gloss" if panel.surface in CLEAR_SURFACES else "not sanded yet"
    fields = [choice("role", "Role", panel.role, ROLE)]
    if blend:
        fields += [
            Field(
                "colour_from",
                "Colour from",
                _sources(panel, seen_as or panel.kind),
                "sources",
                ask="Colour comes in from",
            ),
            _mm("colour_mm", "Full colour", panel.colour_mm, units, "all of it"),
            _mm("fade_mm", "Fade-out", panel.fade_mm, units, "none"),
        ]
    return [
        *fields,
        choice("surface", "Surface", panel.surface, dict(SURFACE)),
        choice("next", "Next coat", panel.next, dict(NEXT)),
        Field(
            "now", "On it now", done_words(panel.now, gloss), "done", done_text(panel.now), ask="Sanded with",
        ),
        Field(
            "film_um", "Film", ", ".join(units.film(um) for um in panel.film_um) or "no reading", "text",
            " ".join(f"{um:g}" for um in panel.film_um), ask="Gauge readings in um, blanks between",
        ),
        _mm("length_mm", "Length", panel.length_mm, units, ""),
        _mm("height_mm", "Height", panel.height_mm, units, ""),
        choice("special", "Special", panel.special, SPECIAL_OR_NONE),
        Field("id", "Name", panel_name(panel.id), "text", panel_name(panel.id), ask="Name of the panel"),
    ]  # fmt: skip


def changed_panel(panel: Panel, field_id: str, answer: str) -> Panel:
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
    changes: dict[str, Any] = {field_id: _id_of(panel.id, answer) if field_id == "id" else answer}
    return revised(panel, changes)


def _id_of(known: str, name: str) -> str:
    """Return a name as a file has it, without blanks; one that was not changed stays as it is there."""
    return known if name == panel_name(known) else "-".join(name.split())


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


def _sources(panel: Panel, seen_as: str) -> str:
    return ", ".join(side(seen_as, name) for name in panel.colour_from) or (
        "not stated" if panel.role == "blend" else "all over"
    )
