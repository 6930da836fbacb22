"""Panels and blend layout: which panels, where the colour comes from, zone borders moved on the drawing."""

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.records import SIDES, Panel, letters
from prepadvisor.tui.dialogs import AskYes, Choice, ask_choice, ask_field
from prepadvisor.tui.model import (
    WHOLE,
    Corners,
    OpenJob,
    Session,
    ZoneBorder,
    add_panel,
    drawn,
    moved,
    moved_patch,
    moved_to,
    remove_panel,
    shape_of,
    zone_words,
)
from prepadvisor.tui.model import sheets as panel_sheet
from prepadvisor.tui.screens.view import FieldsView, bound, entitle, pane, put
from prepadvisor.tui.widgets import Act, Line, PanelDrawing, Reading, Row, Rows, Sheet
from prepadvisor.wording import Units, panel_name
from prepadvisor.wording import side as side_name

ACTS = (
    Act("A", "Add panel", "add", "Add a panel from an outline"),
    Act("Z", "Borders", "borders", "Move the zone borders with the arrows"),
    Act("F", "Colour from", "source", "Side or patch the colour comes in from"),
    Act("D", "Remove", "remove", "Take the selected panel off the job"),
)
STEP_MM = 10
ROLES = [
    Choice("repair", "Repair panel: gets full colour"),
    Choice("blend", "Blend panel: takes the fade-out"),
    Choice("clear-only", "Clear only: no colour on it"),
]


PanelMake = Callable[[Panel], Panel]


class PanelsView(FieldsView):
    """The job's panels, the facts of the selected one, and its drawing with the borders."""

    view = "panels"
    title_words = "Panels and blend layout"
    acts = ACTS
    help_words = """\
A adds a panel: choose its outline, then whether it is repaired, blended or only gets clear, then the side the
colour comes in from. Size, edges and lines come along; change what differs.

Z goes to the drawing. Left and right move the border that is marked with solid blocks, 10 mm a press; Space
takes the other border. With the mouse, drag a border. The widths are shown in mm under the drawing.

The darkest tint is full colour, the next the fade-out, the lightest its mist; white gets clear only. The mist
counts as fade, because single flakes lie there too. Dots are the border of the wet bed."""
    BINDINGS: ClassVar[list[BindingType]] = [
        *bound(ACTS),
        *bound((Act("Space", "Other border", "other_border"),)),
    ]

    def __init__(self) -> None:
        """Start with the outer border to move."""
        super().__init__()
        self._border: ZoneBorder = "fade"
        self._session: Session | None = None
        self._added = ""

    def compose_body(self) -> Iterable[Widget]:
        """Panels over facts at the left, drawing at the right."""
        with Container(classes="body split"):
            with Vertical(classes="side"):
                yield pane(Rows(name="panels"), "Panels")
                yield pane(Sheet(13, name="facts"))
            with Vertical(classes="main"):
                yield pane(PanelDrawing())
                yield Reading(name="zones", takes_focus=False, has_bar=False)

    def first_focus(self) -> str:
        """Start on the panels."""
        return "#panels"

    def show(self, session: Session) -> None:
        """Fill list, sheet and drawing."""
        self._session = session
        rows = [
            Row(panel.id, f"{letters(at)} {panel_name(panel.id)}, {panel_sheet.ROLE[panel.role]}")
            for at, panel in enumerate(session.job.panel)
        ]
        panels = self.query_one("#panels", Rows)
        panels.show(rows or [Row("", "No panel yet: press A")], session.panel_id)
        panels.styles.height = min(max(len(rows), 1), 6) + 2
        entitle(panels, f"Panels {len(rows)}")
        panel, facts = session.panel, self.query_one("#facts", Sheet)
        units = Units(session.job.job.units == "imperial")
        entitle(facts, panel_name(panel.id) if panel else "Facts")
        fields = panel_sheet.panel_fields(panel, units, self._seen_as(panel.kind)) if panel else []
        self._fields = {field.id: field for field in fields}
        facts.show([Row(field.id, field.says, label=field.label) for field in self._fields.values()])
        drawing = self.query_one(PanelDrawing)
        entitle(drawing, _border_title(panel, self._border, units))
        drawing.show(drawn(session, border=self._border))
        lines = [Line(words, keep=True) for words in zone_words(session, units)]
        self.query_one("#zones", Reading).show(lines)

    @on(Rows.Moved, "#panels")
    def _panel_moved(self, event: Rows.Moved) -> None:
        self.post_message(self.Selected(event.row_id, "face"))

    @on(Rows.Picked, "#panels")
    def _panel_picked(self) -> None:
        if self._panel is None:
            self.action_add()
        else:
            self.set_focus(self.query_one("#facts", Sheet))

    @on(PanelDrawing.PatchDragged)
    def _patch_dragged(self, event: PanelDrawing.PatchDragged) -> None:
        self._put(
            "move patch", lambda old: moved_patch(old, event.patch_id, event.at, self._shape), event.patch_id
        )

    def _ask(self, field_id: str) -> None:
        field = self._fields[field_id]
        if field.kind == "sources":
            self.action_source()
        elif self._session is not None:
            pads = self._session.house.shop.pads
            ask_field(self, field, lambda answer: self._change(field.id, answer), pads)

    @on(PanelDrawing.Nudged)
    def _nudged(self, event: PanelDrawing.Nudged) -> None:
        panel = self._panel
        if panel is None:
            return
        across = event.across * (-1 if set(panel.colour_from) == {"rear"} else 1)
        down = event.down * (-1 if set(panel.colour_from) == {"bottom"} else 1)
        border, by = self._border, (across or down) * STEP_MM
        self._put(f"{border} border", lambda old: moved(old, border, by), merge=f"{panel.id} {border}")

    @on(PanelDrawing.BorderDragged)
    def _dragged(self, event: PanelDrawing.BorderDragged) -> None:
        panel = self._panel
        border: ZoneBorder = "colour" if event.border == "colour" else "fade"
        self._border = border
        if panel is not None:
            depth = event.depth_mm
            self._put(f"{border} border", lambda old: moved_to(old, border, depth), f"{panel.id} {border}")

    def action_borders(self) -> None:
        """Go to the drawing, to move borders with the arrows."""
        self.set_focus(self.query_one(PanelDrawing))
        self.say("left, right: move the marked border; Space: the other one")

    def action_other_border(self) -> None:
        """Take the other border."""
        self._border = "colour" if self._border == "fade" else "fade"
        if self._session is not None:
            self.show(self._session)

    def action_add(self) -> None:
        """Ask for outline, role and side, then add the panel."""
        if self._session is None:
            return
        outlines = self._session.house.outlines
        choices = [Choice(kind, outline.name) for kind, outline in outlines.items()]
        ask_choice(self, "Which panel?", choices, self._ask_role)

    def action_source(self) -> None:
        """Ask for a source of colour to take in or out."""
        panel = self._panel
        if panel is None:
            return
        choices = [
            Choice(
                name,
                f"{'[x]' if name in panel.colour_from else '[ ]'} {self._source_words(panel.kind, name)}",
            )
            for name in panel_sheet.source_names(panel)
        ]
        ask_choice(self, "Colour comes in from (again takes it out)", choices, self._source_answered)

    def action_remove(self) -> None:
        """Ask, then take the selected panel off."""
        panel = self._panel
        if panel is None:
            return
        words = panel_name(panel.id)

        def answered(yes: bool | None) -> None:
            if yes:
                self.edit(f"remove {words}", lambda job: remove_panel(job, panel.id))

        question = AskYes(f"Take the {words} off the job?", "F9 brings it back.", yes="Remove")
        self.app.push_screen(question, answered)

    def _ask_role(self, kind: str) -> None:
        ask_choice(self, "What is done to it?", ROLES, lambda role: self._ask_side(kind, role))

    def _ask_side(self, kind: str, role: str) -> None:
        if role != "blend":
            self._add(kind, role, "")
            return
        sides = [Choice(side, self._source_words(kind, side)) for side in SIDES]
        ask_choice(
            self, "From which side does the colour come in?", sides, lambda side: self._add(kind, role, side)
        )

    def _add(self, kind: str, role: str, side: str) -> None:
        if self._session is None:
            return
        outline = self._session.house.outlines[kind]

        def make(job: OpenJob) -> OpenJob:
            grown, panel_id = add_panel(job, outline, role, side)
            self._added = panel_id
            return grown

        self.edit(f"add {outline.name}", make, then=self._select_added)

    def _select_added(self) -> None:
        if self._session is not None:
            self._session.select(self._added)

    def _seen_as(self, kind: str) -> str:
        """Return the shipped outline by which the sides of a panel are called."""
        outline = self._session.house.outlines.get(kind) if self._session else None
        return outline.seen_as if outline else kind

    def _source_words(self, kind: str, name: str) -> str:
        return f"{side_name(self._seen_as(kind), name)} edge" if name in SIDES else name

    def _source_answered(self, source: str) -> None:
        self._put(f"colour from {source}", lambda panel: panel_sheet.toggled_source(panel, source))

    def _change(self, field_id: str, answer: str) -> None:
        label = self._fields[field_id].label.lower()
        self._put(label, lambda panel: panel_sheet.changed_panel(panel, field_id, answer), f"{field_id}")

    def _put(self, name: str, make: PanelMake, merge: str = "") -> None:
        if self._session is not None:
            put(self, self._session, name, make, merge)

    @property
    def _shape(self) -> Corners:
        return shape_of(self._session) if self._session else WHOLE

    @property
    def _panel(self) -> Panel | None:
        return self._session.panel if self._session else None


def _border_title(panel: Panel | None, border: ZoneBorder, units: Units) -> str:
    """Return what the drawing shows and which border is marked, with where it lies."""
    if panel is None or panel.colour_mm is None or panel.fade_mm is None:
        return "Drawing"
    depth = panel.colour_mm + (panel.fade_mm if border == "fade" else 0.0)
    return f"{'Fade' if border == 'fade' else 'Colour'} ends: {units.length(depth)}"
