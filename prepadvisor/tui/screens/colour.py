"""Colour: how fine is the flake, how light the tone, how many stages; and what that asks of the panels."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.records import letters
from prepadvisor.tui.dialogs import Find, Findable
from prepadvisor.tui.model import FLAKE_HELP, Session, colour_sheet, panel_answer, with_colour
from prepadvisor.tui.screens.view import FieldsView, bound, pane
from prepadvisor.tui.widgets import Act, Line, Reading, Row, Rows, Sheet
from prepadvisor.wording import colour_says, panel_name

ACTS = (
    Act("S", "Not sure", "not_sure", "Not sure of the flake: one class finer"),
    Act("T", "Tone", "turn('tone')", "Next tone: dark, mid, light"),
    Act("G", "Stages", "turn('stages')", "Two or three stages"),
    Act("C", "Name", "ask('name')", "Name of the colour"),
    Act("K", "From book", "book", "Take the colour from the shop's colour book"),
)
_DIGITS = tuple(
    Act(str(index), help_.says, f"flake('{help_.flake}')") for index, help_ in enumerate(FLAKE_HELP, 1)
)


class ColourView(FieldsView):
    """The flake classes with how to judge them, the rest of the colour, and the answer for each panel."""

    view = "colour"
    title_words = "Colour"
    has_hints = False
    acts = ACTS
    help_words = """\
How fine is the flake? Look at a sprayed test card or the car in the sun, and press the number of the line
that fits. Nothing else changes the preparation as much. This way of judging is common practice; a measured
flake size, where you have one, enters the line model.

Not sure between two? Press S: the finer one is taken, which is the safe side. Left blank, the flake is judged
as very fine, and the card says so. A new job starts with three stages, the stricter.

Arrows and Enter change the lines below. The last lines show what the colour asks of each panel."""
    BINDINGS: ClassVar[list[BindingType]] = bound((*ACTS, *_DIGITS))

    def __init__(self) -> None:
        """Start without a flake shown."""
        super().__init__()
        self._flake = ""
        self._session: Session | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Flake rows, the sheet, and the answer."""
        with Container(classes="body split"):
            yield pane(
                Rows(label_width=12, touch_picks=True, name="flakes", most_lines=3), "How fine is the flake?"
            )
            with Vertical(classes="side"):
                yield pane(Sheet(12, name="facts"), "Colour and job")
                yield pane(Reading(name="meaning", takes_focus=False), "What it asks")

    def show(self, session: Session) -> None:
        """Fill rows, sheet and answer."""
        self._session = session
        job = session.job
        rows = [
            Row(
                help_.flake, help_.judge, label=f"{index} {help_.says}",
                mark="[x]" if job.colour.flake == help_.flake else "[ ]",
            )
            for index, help_ in enumerate(FLAKE_HELP, 1)
        ]  # fmt: skip
        flakes = self.query_one("#flakes", Rows)
        flakes.show(rows, flakes.current if job.colour.flake == self._flake else job.colour.flake)
        self._flake = job.colour.flake
        self._fields = {field.id: field for field in colour_sheet.colour_fields(job)}
        self.query_one("#facts", Sheet).show(
            [Row(field.id, field.says, label=field.label) for field in self._fields.values()]
        )
        self.query_one("#meaning", Reading).show(_meaning(session, self._few_lines))

    @property
    def _few_lines(self) -> int:
        """The lines there are for what the colour asks; 0 where there is a pane for it."""
        if not self.has_class("-narrow"):
            return 0
        return 1 if self.has_class("-low") else 2

    def first_focus(self) -> str:
        """Start on the flakes."""
        return "#flakes"

    @on(Rows.Picked, "#flakes")
    def _flake_picked(self, event: Rows.Picked) -> None:
        self.action_flake(event.row_id)

    def action_flake(self, flake: str) -> None:
        """Take a flake class."""
        words = next(help_.says for help_ in FLAKE_HELP if help_.flake == flake)
        self.edit(f"flake {words}", lambda job: with_colour(job, flake=flake))

    def action_not_sure(self) -> None:
        """Take the flake one class finer."""
        self.edit(
            "flake one class finer",
            lambda job: with_colour(job, flake=colour_sheet.one_finer(job.colour.flake)),
        )

    def action_book(self) -> None:
        """Find a colour of the book by typing a part of its name or code, and take it."""
        book = self._session.house.book if self._session is not None else {}
        if not book:
            self.say("this house has no colour book yet: F8, then C, begins one", refused=True)
            return
        things = [Findable("sealed" if entry.is_sealed else "", colour_says(entry), key)
                  for key, entry in book.items()]  # fmt: skip

        def taken(key: str | None) -> None:
            if key is not None:
                entry = book[key]
                self.edit(f"colour {entry.book} of the book", lambda job: colour_sheet.from_book(job, entry))

        self.app.push_screen(Find(things), taken)

    def action_turn(self, field_id: str) -> None:
        """Turn a field to its next value; a key that comes before there are any does nothing."""
        field = self._fields.get(field_id)
        answer = field.turned(1) if field is not None else None
        if answer is not None:
            self._change(field_id, answer)

    def action_ask(self, field_id: str) -> None:
        """Ask for a field; a key that comes before there are any does nothing."""
        if field_id in self._fields:
            self._ask(field_id)

    def _change(self, field_id: str, answer: str) -> None:
        label = self._fields[field_id].label.lower()
        self.edit(f"{label}", lambda job: colour_sheet.changed(job, field_id, answer))


def _meaning(session: Session, lines: int = 0) -> list[Line]:
    """Return what the colour asks of each panel; in so few lines by the panels' letters, the rest counted."""
    if session.advice is None:
        return [Line("No panel yet: go on with N.", "warn")]
    panels = session.advice.panels
    if not lines:
        return [Line(f"{panel_name(panel.id)}: {panel_answer(panel)}", "bold") for panel in panels]
    shown = lines if len(panels) <= lines else max(lines - 1, 1)
    said = [
        Line(f" {letters(at)}: {panel_answer(panel)}", "bold", keep=True)
        for at, panel in enumerate(panels[:shown])
    ]
    left = len(panels) - shown
    if left and lines == 1:
        return [Line(f"{said[0].text}; and {left} more: F5", "bold", keep=True)]
    return [*said, Line(f" and {left} more: F5", "bold", keep=True)] if left else said
