"""Edges, lines and patches: the numbered drawing beside the list, one selection in both."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.cards import is_mirrored
from prepadvisor.records import CLEAR_SURFACES, SURFACES, Panel, Patch, Point
from prepadvisor.tui.dialogs import Choice, ask_choice, ask_field
from prepadvisor.tui.model import (
    PanelPart,
    Pointing,
    Session,
    add_patch,
    drawn,
    length_words,
    moved_patch,
    nudged_patch,
    part_of,
    part_rows,
    remove_part,
    shape_of,
    sized_patch,
)
from prepadvisor.tui.model import sheets as line_sheet
from prepadvisor.tui.screens.line_drawing import DRAWING_ACTS, LineDrawing
from prepadvisor.tui.screens.view import DIGITS, bound, entitle, pane, put
from prepadvisor.tui.widgets import Act, Line, PanelDrawing, Reading, Row, Rows, Sheet
from prepadvisor.wording import SURFACE, Units, face_name, line_name, panel_name, patch_name

ACTS = (
    Act("H", "Hand/DA", "turn('reach')", "Only a hand reaches it, or a DA follows"),
    Act("S", "Seen?", "turn('seen')", "Is it seen on the finished car?"),
    Act("R", "Scuffed", "ask_done", "Record what it was scuffed with"),
    Act("W", "Draw line", "draw", "Draw a new line by pointing on the drawing"),
    Act("P", "Add patch", "patch", "Add a repaired area: filler, edge, primer"),
    Act("V", "Next panel", "next_panel", "Go to the next panel"),
    Act("D", "Remove", "remove", "Take the selected line or patch away"),
)
_PATCH_STEP_MM = 10.0
_FACE_ROW = Row("", "in Panels: F3", label="Facts")
_FACTS_LINES = 5
"""Lines of the sheet at least, so that the list above stays where it is from one place to the next."""


class LinesView(LineDrawing):
    """The lines and patches of the selected panel."""

    view = "lines"
    title_words = "Edges, lines and patches"
    acts = ACTS
    help_words = """\
Every edge, line and patch has its number, the same here, on the card and at the check-off. Move over the list
or touch the drawing, or type its number. H: does a DA follow the hand there, or is the hand last? S: is it
seen on the finished car? R: what it was scuffed with already, with the grade from the back of the sheet.

W draws a line: move the cross with the arrows, Space puts a point, Enter finishes. With the mouse, touch the
points one after the other, and the last one twice. P puts a patch on the panel: the arrows move it, Space
changes between moving and sizing, Enter is done; with the mouse it is dragged.

The lengths say how much of the line lies in full colour, fade and clear."""
    BINDINGS: ClassVar[list[BindingType]] = [*bound(ACTS), *bound(DRAWING_ACTS), *DIGITS]

    def __init__(self) -> None:
        """Start without a sheet."""
        super().__init__()
        self._sizing = False

    def compose_body(self) -> Iterable[Widget]:
        """List over facts at the left, drawing at the right."""
        with Container(classes="body split"):
            with Vertical(classes="side"):
                yield pane(Rows(name="parts"))
                yield pane(Sheet(11, name="facts"))
            with Vertical(classes="main"):
                yield pane(PanelDrawing())
                yield Reading(name="lengths", takes_focus=False, has_bar=False)

    def first_focus(self) -> str:
        """Start on the list."""
        return "#parts"

    def show(self, session: Session) -> None:
        """Fill list, facts and drawing."""
        self._session = session
        panel, part = session.panel, session.part
        units = Units(session.job.job.units == "imperial")
        rows = [Row(row.id, row.says, mark=row.sign, ink=row.ink) for row in part_rows(session)]
        self.query_one("#parts", Rows).show(rows or [Row("", "No panel yet: F3")], session.part_id)
        fields = line_sheet.part_fields(part, units) if part else []
        self._fields = {field.id: field for field in fields}
        facts = self.query_one("#facts", Sheet)
        facts.show(
            [Row(field.id, field.says, label=field.label) for field in fields]
            or ([_FACE_ROW] if panel is not None else [])
        )
        facts.styles.height = max(len(fields), _FACTS_LINES) + 2
        held = sum(row.ink == "stop" for row in rows)
        entitle(self.query_one("#parts"), f"Places {len(rows)}{f', {held} held' if held else ''}")
        entitle(facts, _title(panel, part))
        pointing = self._pointing
        drawing = self.query_one(PanelDrawing)
        drawing.show(drawn(session, points=pointing.points, cross=pointing.cross))
        entitle(drawing, panel_name(panel.id) if panel else "Drawing")
        self.query_one("#lengths", Reading).show([Line(length_words(session, units), "bold")])

    @on(Rows.Moved, "#parts")
    def _part_moved(self, event: Rows.Moved) -> None:
        if self._session is not None:
            self.post_message(self.Selected(self._session.panel_id, event.row_id))

    @on(Rows.Picked, "#parts")
    def _part_picked(self) -> None:
        if self._fields:
            self.set_focus(self.query_one("#facts", Sheet))

    @on(PanelDrawing.Pointed)
    def _pointed(self, event: PanelDrawing.Pointed) -> None:
        if self._pointing.is_on:
            before = self._pointing
            self._pointing = before.moved_to(event.at).pointed()
            if self._pointing == before and len(before.points) > 1:
                self.action_finish()  # the last point touched twice
            else:
                self._show_again()
        elif self._session is not None:
            self.post_message(self.Selected(self._session.panel_id, event.part_id))

    @on(PanelDrawing.Nudged)
    def _nudged(self, event: PanelDrawing.Nudged) -> None:
        if self._pointing.is_on:
            frame = self.query_one(PanelDrawing).frame_now
            if frame is not None:
                self._pointing = self._pointing.nudged(event.across / frame.wide, event.down / frame.high)
                self._show_again()
        elif self._patch is not None:
            self._nudge_patch(event.across * _PATCH_STEP_MM, event.down * _PATCH_STEP_MM)
        else:
            self.query_one("#parts", Rows).action_move(event.down or event.across)

    def _nudge_patch(self, across_mm: float, down_mm: float) -> None:
        session, patch = self._session, self._patch
        if session is None or patch is None or session.panel is None:
            return
        shape, patch_id = shape_of(session), patch.id
        if self._sizing:
            put(
                self, session, f"size {patch_id}",
                lambda panel: sized_patch(panel, patch_id, across_mm, down_mm, shape), f"size {patch_id}",
            )  # fmt: skip
            return
        outline = session.house.outlines.get(session.panel.kind)
        across = -across_mm if is_mirrored(session.panel, outline) else across_mm
        put(
            self, session, f"move {patch_id}",
            lambda panel: nudged_patch(panel, patch_id, across, down_mm, shape), f"move {patch_id}",
        )  # fmt: skip

    @property
    def _patch(self) -> Patch | None:
        part = self._session.part if self._session else None
        return part if isinstance(part, Patch) else None

    @on(PanelDrawing.PatchDragged)
    def _patch_dragged(self, event: PanelDrawing.PatchDragged) -> None:
        session = self._session
        if session is None or self._pointing.is_on:
            return
        shape, patch_id, at = shape_of(session), event.patch_id, event.at
        put(
            self, session, f"move {patch_id}",
            lambda panel: moved_patch(panel, patch_id, at, shape), f"move {patch_id}",
        )  # fmt: skip

    def action_point(self) -> None:
        """Put a point of a path, or change between moving and sizing the selected patch."""
        if self._pointing.is_on or self._patch is None:
            super().action_point()
            return
        self._sizing = not self._sizing
        self._say_patch()

    def action_finish(self) -> None:
        """Finish a path; with a patch selected go back to the list."""
        if self._pointing.is_on:
            super().action_finish()
        else:
            self.set_focus(self.query_one("#parts", Rows))
            self.say("")

    def _say_patch(self) -> None:
        does = "size" if self._sizing else "move"
        other = "move it" if self._sizing else "size it"
        self.say(f"arrows {does} the patch, Space: {other}, Enter: done")

    def action_turn(self, field_id: str) -> None:
        """Turn a fact of the selected line over."""
        field = self._fields.get(field_id)
        answer = field.turned(1) if field else None
        if answer is None:
            self.say("select an edge or line first", refused=True)
        else:
            self._change(field_id, answer)

    def action_ask_done(self) -> None:
        """Ask what it was scuffed or sanded with."""
        self._ask("done" if "done" in self._fields else "now")

    def action_patch(self) -> None:
        """Ask what the patch is, and add it."""
        if self._panel is None:
            return
        surfaces = [surface for surface in SURFACES if surface not in CLEAR_SURFACES]
        choices = [Choice(surface, SURFACE[surface]) for surface in surfaces]
        ask_choice(self, "What is on the repaired area?", choices, self._patch_answered)

    def action_next_panel(self) -> None:
        """Go to the next panel."""
        if self._session is not None and self._session.job.panel:
            ids = [panel.id for panel in self._session.job.panel]
            at = ids.index(self._session.panel_id)
            self.post_message(self.Selected(ids[(at + 1) % len(ids)], "face"))

    def action_remove(self) -> None:
        """Take the selected line or patch away."""
        if self._session is None or self._session.part is None:
            self.say("select an edge, line or patch first", refused=True)
            return
        part_id = self._session.part_id
        put(self, self._session, f"remove {part_id}", lambda panel: remove_part(panel, part_id))

    def _patch_answered(self, surface: str) -> None:
        session = self._session
        if session is None:
            return
        at: Point = self._pointing.cross or (0.5, 0.5)
        shape, before = shape_of(session), session.panel
        self._pointing, self._sizing = Pointing(), False

        def placed() -> None:
            self.set_focus(self.query_one(PanelDrawing))
            self._say_patch()
            panel = session.panel
            if before is not None and panel is not None and panel.colour_from != before.colour_from:
                self.say(
                    "the colour now fades out round this patch (F3 for the widths); arrows move the patch"
                )

        self._add(f"add {SURFACE[surface]} patch", lambda panel: add_patch(panel, surface, at, shape), placed)

    def _ask(self, field_id: str) -> None:
        field = self._fields.get(field_id)
        if field is None:
            self.say("select an edge, line or patch first", refused=True)
            return
        if self._session is not None:
            pads = self._session.house.shop.pads
            ask_field(self, field, lambda answer: self._change(field.id, answer), pads)

    def _change(self, field_id: str, answer: str) -> None:
        session = self._session
        if session is None or session.part is None:
            return
        part_id, label = session.part_id, self._fields[field_id].label.lower()

        def make(panel: Panel) -> Panel:
            part = part_of(panel, part_id)
            return line_sheet.changed_part(panel, part, field_id, answer) if part else panel

        put(self, session, f"{part_id} {label}", make, merge=f"{part_id} {field_id}")


def _title(panel: Panel | None, part: PanelPart | None) -> str:
    if part is None:
        return face_name(patched=bool(panel and panel.patch))
    if isinstance(part, Patch):
        return patch_name(part.surface, part.id)
    return line_name(part.name, part.kind, part.id)
