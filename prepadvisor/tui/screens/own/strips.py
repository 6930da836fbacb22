"""Test panels: a form to fill in strip by strip, and the house's table, which only grows."""

from collections.abc import Iterable
from typing import ClassVar, Final

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.records.panel_rows import PanelRow
from prepadvisor.tui.dialogs.find import Find, Findable
from prepadvisor.tui.dialogs.page import Page
from prepadvisor.tui.model import own_sheets
from prepadvisor.tui.model.fields import Field
from prepadvisor.tui.model.open_job import RefusedError
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.asking import ask_field
from prepadvisor.tui.screens.own.view import OwnView
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets.rail import Act
from prepadvisor.tui.widgets.reading import Line, Reading
from prepadvisor.tui.widgets.rows import Row, Rows
from prepadvisor.tui.widgets.sheet import Sheet
from prepadvisor.wording.fit import colour_says

ACTS: Final = (
    Act("S", "Save strip", "save", "Put the strip into the house's table"),
    Act("1", "It shows", "answer('yes')", "Shows: yes, a line is seen"),
    Act("2", "No line", "answer('no')", "Shows: no"),
    Act("3", "Barely", "answer('barely')", "Shows: barely"),
    Act("J", "Next judge", "judge", "Another judge reads the strip under the arrow"),
    Act("K", "From book", "book", "Take the colour from the colour book"),
    Act("G", "How to", "guide", "How test panels are made and read"),
    *ways_from("test-panels"),
)


class StripsView(OwnView):
    """The form at the left, the table at the right."""

    view = "test-panels"
    title_words = "Test panels"
    acts = ACTS
    help_words = """\
One strip and judge is one row. Fill the form in, say with 1, 2 or 3 whether a line shows, and save with S:
the row is in panels.csv of the house, and the form is ready for the next strip, as the one before but for
its answer. Left and right turn a value over, so that the next grade is one key away.

Two judges are two rows: J on a strip of the table takes how it was made; who reads and what he sees is his.
The table only grows. A row that should not count is taken out of the file by hand; rows that disagree may
stay, the fit is made for them and names them.

Light, film and photo are kept with the row; the model uses distance and coats. G tells how panels
are made."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    def __init__(self) -> None:
        """Start with an empty form."""
        super().__init__()
        self._cells: own_sheets.Cells = {}
        self._fields: dict[str, Field] = {}
        self._rows: list[PanelRow] = []

    def compose_body(self) -> Iterable[Widget]:
        """Form, table, and the row under the arrow."""
        with Container(classes="body split"):
            yield pane(Sheet(11, name="form"), "New strip")
            with Vertical(classes="side"):
                yield pane(Rows(name="table", most_lines=1), "panels.csv")
                yield pane(Reading(name="row"), "The strip under the arrow")

    def first_focus(self) -> str:
        """Start in the form."""
        return "#form"

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:
        """Show form and table."""
        if not self._cells:
            self._cells = own_sheets.first_panel(desk.house.shop, desk.today().isoformat())
        if fresh:
            self._rows = self.tried(OwnDesk.panels, "panels.csv has faults") or []
        self._show_form(desk)
        self._show_table()

    def _show_form(self, desk: OwnDesk) -> None:
        fields = own_sheets.panel_fields(self._cells, desk.house.shop)
        self._fields = {field.id: field for field in fields}
        self.query_one("#form", Sheet).show([Row(one.id, one.says, label=one.label) for one in fields])

    def _show_table(self) -> None:
        rows = [
            Row(str(at), own_sheets.row_words(row), ink="stop" if row.shows == "yes" else "plain")
            for at, row in reversed(list(enumerate(self._rows)))
        ]
        table = self.query_one("#table", Rows)
        table.show(rows or [Row("", "no test panel yet: fill in the form, S saves it")])
        judges = len({row.by for row in self._rows if row.by})
        entitle(table, f"panels.csv {len(self._rows)}, judges {judges}")
        self._show_row()

    def _show_row(self) -> None:
        current = self.query_one("#table", Rows).current
        said = own_sheets.row_more(self._rows[int(current)]) if current else []
        self.query_one("#row", Reading).show([Line(text, keep=True) for text in said])

    @on(Rows.Moved, "#table")
    def _moved(self) -> None:
        self._show_row()

    @on(Rows.Picked, "#table")
    def _picked(self) -> None:
        self.action_judge()

    @on(Sheet.Turned)
    def _turned(self, event: Sheet.Turned) -> None:
        answer = self._fields[event.row_id].turned(event.step)
        if answer is not None:
            self._change(event.row_id, answer)

    @on(Sheet.Asked)
    def _asked(self, event: Sheet.Asked) -> None:
        field = self._fields[event.row_id]
        ask_field(self, field, lambda answer: self._change(field.id, answer))

    def _change(self, field_id: str, answer: str) -> None:
        try:
            self._cells = own_sheets.panel_changed(self._cells, field_id, answer)
        except RefusedError as error:
            self.say(str(error), refused=True)
            return
        if self._desk is not None:
            self._show_form(self._desk)

    def action_answer(self, shows: str) -> None:
        """Say whether a line shows."""
        self._change("shows", shows)

    def action_save(self) -> None:
        """Put the strip into the table."""
        rows = self.tried(lambda desk: desk.add_panel(self._cells), "This strip cannot be saved")
        if rows is not None and self._desk is not None:
            self._rows = rows
            self._cells = own_sheets.next_panel(self._cells)
            self._show_form(self._desk)
            self.query_one("#table", Rows).show((), "")
            self._show_table()
            self.say(f"√ saved as row {len(rows)} of panels.csv; the next strip: grade, then 1, 2 or 3")

    def action_judge(self) -> None:
        """Fill the form for another judge of the strip under the arrow."""
        current = self.query_one("#table", Rows).current
        if not current or self._desk is None:
            self.say("there is no strip yet to read again", refused=True)
            return
        self._cells = own_sheets.panel_like(self._rows[int(current)], self._cells)
        self._show_form(self._desk)
        form = self.query_one("#form", Sheet)
        form.show(form.rows, "by")
        self.set_focus(form)
        self.say("as that strip was made: who reads it, and 1, 2 or 3; then S")

    def action_book(self) -> None:
        """Take a colour of the book."""
        book = self._desk.house.book if self._desk is not None else {}
        if not book:
            self.say("this house has no colour book yet: C goes there", refused=True)
            return
        things = [Findable("", colour_says(entry), key) for key, entry in book.items()]

        def taken(key: str | None) -> None:
            if key is not None:
                self._cells = {**self._cells, "colour": book[key].book, "flake": ""}
                if self._desk is not None:
                    self._show_form(self._desk)

        self.app.push_screen(Find(things), taken)

    def action_guide(self) -> None:
        """Show how panels are made."""
        from prepadvisor.wording.panels_guide import GUIDE

        self.app.push_screen(Page("How test panels are made and read", GUIDE))
