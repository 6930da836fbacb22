"""The sheet of a line or patch: its facts as fields, and a panel with one of them changed."""

from typing import Any

from prepadvisor.records.job import Feature, Panel, Patch
from prepadvisor.records.words import LINE_KINDS
from prepadvisor.tui.model.fields import Field, choice, done_of, done_text, done_words, number
from prepadvisor.tui.model.line_edits import PanelPart, with_part
from prepadvisor.wording import trade as words
from prepadvisor.wording.units import Units

REACH = {"machine": "DA after hand", "hand": "hand only"}
SEEN = {"yes": "seen", "no": "not seen"}


def part_fields(part: PanelPart, units: Units) -> list[Field]:
    """Return the fields of a line or patch."""
    if isinstance(part, Patch):
        return _patch_fields(part, units)
    return _line_fields(part)


def changed(panel: Panel, part: PanelPart, field_id: str, answer: str) -> Panel:
    """Return the panel with one field of a line or patch changed to what a person answered."""
    changes: dict[str, Any] = {field_id: answer}
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
    kinds: dict[str, str] = {kind: words.KIND[kind] for kind in LINE_KINDS}
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
        choice("surface", "Surface", patch.surface, dict(words.SURFACE)),
        choice("next", "Next coat", patch.next, dict(words.NEXT)),
        Field(
            "now", "On it now", done_words(patch.now, "not sanded yet"), "done", done_text(patch.now),
            ask="Sanded with",
        ),
        Field("long", "Length", units.length(long), "number", f"{long:g}", step=10.0, ask="Length in mm"),
        Field("high", "Height", units.length(high), "number", f"{high:g}", step=10.0, ask="Height in mm"),
        Field("id", "Name", patch.id, "text", patch.id, ask="Name of the patch, without blanks"),
    ]  # fmt: skip
