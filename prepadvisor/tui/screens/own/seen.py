"""What was seen, on the shop's own test panels and on finished work."""

from collections.abc import Iterable
from typing import ClassVar, Final

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.cards import Gathered, outcomes_blocks
from prepadvisor.records import PanelRow, Place, card_numbers
from prepadvisor.tui.dialogs import Choice, Find, Findable, Page, ask_choice, ask_text
from prepadvisor.tui.model import RefusedError, own_sheets, place_name
from prepadvisor.tui.own_record import FinishedJob, OwnDesk
from prepadvisor.tui.screens.own.view import OwnView
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets import Act, Line, Reading, Row, Rows, Sheet
from prepadvisor.wording import colour_says, panel_name

# Test panels: a form to fill in strip by strip, and the house's table, which only grows.

ACTS: Final = (
    Act("S", "Save strip", "save", "Put the strip into the house's table"),
    Act("1", "It shows", "answer('yes')", "Shows: yes, a line is seen"),
    Act("2", "No line", "answer('no')", "Shows: no"),
    Act("3", "Barely", "answer('barely')", "Shows: barely"),
    Act("J", "Next judge", "judge", "Another judge reads this strip"),
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
        self._rows: list[PanelRow] = []

    def compose_body(self) -> Iterable[Widget]:
        """Form, table, and the row under the arrow."""
        with Container(classes="body split"):
            yield pane(Sheet(11, name="form"), "New strip")
            with Vertical(classes="side"):
                yield pane(Rows(row_lines=2, name="table"), "Strips")
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
            Row(str(at), *own_sheets.row_words(row), ink="stop" if row.shows == "yes" else "plain")
            for at, row in reversed(list(enumerate(self._rows)))
        ]
        table = self.query_one("#table", Rows)
        table.show(rows or [Row("", "no test panel yet: fill in the form, S saves it")])
        judges = len({row.by for row in self._rows if row.by})
        entitle(table, f"Strips {len(self._rows)}, judges {judges}")
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
        from prepadvisor.wording import GUIDE

        self.app.push_screen(Page("How test panels are made and read", GUIDE))


# Outcomes: what was seen weeks later on the shop's jobs, beside what was predicted.

OUTCOME_ACTS: Final = (
    Act("Enter", "Report", "report", "What was seen on the job under the arrow"),
    Act("R", "Read again", "again", "Read the jobs again"),
    *ways_from("outcomes"),
)


class OutcomesView(OwnView):
    """Jobs at the left, what became of all of them at the right."""

    view = "outcomes"
    title_words = "Outcomes"
    acts = OUTCOME_ACTS
    help_words = """\
Weeks later, with the car in the sun: were lines seen? Enter on a job asks where, and what. "No lines
anywhere on a panel" is one answer for all of it that has none of its own. The answer is in the job's file
at once, and counts as a row of the fit.

At the right stands how often lines came back, by flake, colour, zone, tool, grade, coats and reach, each
with its 95 % interval and what was predicted. Jobs nobody came back about are counted apart: nothing is
known of them."""
    BINDINGS: ClassVar[list[BindingType]] = bound(OUTCOME_ACTS[1:])

    def compose_body(self) -> Iterable[Widget]:
        """Jobs and rates."""
        with Container(classes="body split"):
            yield pane(Rows(row_lines=2, name="jobs"), "Jobs")
            yield pane(Reading(name="told"), "What became of the work")

    def first_focus(self) -> str:
        """Start on the jobs."""
        return "#jobs"

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:  # noqa: ARG002
        """Show jobs and rates."""
        if fresh:
            if not self.query_one("#jobs", Rows).rows:
                self.query_one("#jobs", Rows).show([Row("", "reading our jobs …")])
            self.work(OwnDesk.outcomes, self._read, "Jobs have faults")

    def underway(self, says: str) -> None:
        """Show how far the jobs are read."""
        entitle(self.query_one("#jobs"), f"Jobs: {says}")

    def _read(self, read: tuple[list[FinishedJob], Gathered] | None) -> None:
        if read is None:
            return
        jobs, became = read
        rows = [
            Row(job.path, job.says or job.path, job.vehicle, mark=f"{job.reports or '-':>2}") for job in jobs
        ]
        self.query_one("#jobs", Rows).show(rows or [Row("", "no job in this folder")])
        entitle(self.query_one("#jobs"), f"Jobs {len(jobs)}")
        reported = (became.rates[0].places if became.rates else 0) + len(became.hidden)
        lines = [Line(f"{became.files} jobs, {reported} places reported on", "bold")]
        for title, texts in outcomes_blocks(became):
            lines += [Line(""), Line(title, "bold"), *(Line(text, indent=1) for text in texts)]
        self.query_one("#told", Reading).show(lines)

    @on(Rows.Picked, "#jobs")
    def _picked(self) -> None:
        self.action_report()

    def action_again(self) -> None:
        """Read the jobs again."""
        if self._desk is not None:
            self.fill(self._desk, fresh=True)
            self.say("the jobs are read again")

    def action_report(self) -> None:
        """Ask where something was seen on the job under the arrow, then what."""
        path = self.query_one("#jobs", Rows).current
        advice = self.tried(lambda desk: desk.advice(path)) if path else None
        if advice is None:
            return
        panels = {panel.id: panel_name(panel.id) for panel in advice.panels}
        numbers = card_numbers(panels, advice.places)
        choices = [Choice(f"{name}/all", f"{words}: no lines anywhere") for name, words in panels.items()]
        choices += [
            Choice(
                place.id,
                f"{numbers.get(place.id, '')} {place_name(advice, place)}, {panels[place.panel]}".strip(),
            )
            for place in sorted(advice.places, key=_likely)
        ]
        title = "Where? Hand-only places stand first: lines show most there"
        ask_choice(self, title, choices, lambda at: self._seen(path, at))

    def _seen(self, path: str, place: str) -> None:
        if place.endswith("/all"):
            self._by(path, place, seen=False)
            return
        choices = [Choice("seen", "lines are seen", key="L"), Choice("clear", "none", key="K")]
        ask_choice(
            self, "What is seen there?", choices, lambda said: self._by(path, place, seen=said == "seen")
        )

    def _by(self, path: str, place: str, *, seen: bool) -> None:
        by = self._session.initials if self._session is not None else ""
        ask_text(
            self, "Your initials", by, lambda who: self._note(path, place, who, seen=seen),
            fault_of=lambda text: "" if any(map(str.isalnum, text)) else "whose report is it?",
        )  # fmt: skip

    def _note(self, path: str, place: str, by: str, *, seen: bool) -> None:
        title = "What it looks like, if there is anything to say"
        ask_text(self, title, "", lambda note: self._put(path, place, by, note, seen=seen))

    def _put(self, path: str, place: str, by: str, note: str, *, seen: bool) -> None:
        told = self.tried(lambda desk: desk.add_outcome(path, place, by, note, seen=seen))
        if told is not None and self._desk is not None:
            self.fill(self._desk, fresh=True)
            self.say(told)


def _likely(place: Place) -> tuple[bool, str]:
    return place.reach != "hand", place.id
