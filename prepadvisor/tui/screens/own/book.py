"""The colour book: what is known of each colour, what panels and jobs say of it, and who sealed it."""

from collections.abc import Iterable, Mapping
from typing import ClassVar, Final

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.records import BookColour, ColourRecord, found, key_of, of_one_code
from prepadvisor.tui.dialogs import ask_text
from prepadvisor.tui.model import RefusedError, own_sheets
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.own.view import OwnView
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets import Act, Line, Reading, Row, Rows, Sheet
from prepadvisor.wording import code_says, colour_says, record_says

ACTS: Final = (
    Act("S", "Seal", "seal", "A lead seals the colour as it stands"),
    Act("A", "Add", "add", "A new colour, by the word jobs call it"),
    Act("J", "Of the job", "of_job", "Put the colour of the open job into the book"),
    Act("F", "Filter", "filter", "Only colours that have these words"),
    Act("W", "Which class", "guide", "How a flake class is judged"),
    *ways_from("book"),
)


class BookView(OwnView):
    """Colours at the left; what the book and the shop's record say of one at the right."""

    view = "book"
    title_words = "Colour book"
    acts = ACTS
    help_words = """\
A job takes its colour from here by its book word. [x] is sealed: a lead stands for it, and it counts in
full. Not sealed, it only makes advice stricter. Where job and book differ, the stricter counts and both
stand on the card.

The sheet is changed as any: left and right turn a value, Enter asks for it. A change is in the book at
once. A seal stands for the values it was put under: change one, and it is off until S puts it on again;
notes leave it on. Where shop.toml names leads, only they seal.

Below stands what test panels and outcomes of the shop's jobs say of the colour. W tells how a class is
judged; prepadvisor flakes tells it from measured sizes."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    def __init__(self) -> None:
        """Start with all colours."""
        super().__init__()
        self._filter = ""
        self._records: dict[str, ColourRecord] = {}

    def compose_body(self) -> Iterable[Widget]:
        """Colours, the sheet of one, and its record."""
        with Container(classes="body split"):
            yield pane(Rows(name="colours"), "Colours")
            with Vertical(classes="side"):
                yield pane(Sheet(12, name="facts"), "The colour under the arrow")
                yield pane(Reading(name="record", takes_focus=False), "Our panels and jobs say")

    def first_focus(self) -> str:
        """Start on the colours."""
        return "#colours"

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:
        """Show colours and the one under the arrow."""
        if fresh and desk.house.folders:
            self.work(OwnDesk.records, self._recorded, "Panels or jobs have faults")
        shown = found(desk.house.book.values(), self._filter)
        rows = [
            Row(key_of(entry.book), colour_says(entry), mark="[x]" if entry.is_sealed else "[ ]")
            for entry in shown
        ]
        none = f'no colour has "{self._filter}"' if self._filter else "no colour yet: A adds one"
        colours = self.query_one("#colours", Rows)
        colours.show(rows or [Row("", none)])
        sealed = sum(entry.is_sealed for entry in shown)
        entitle(colours, f"Colours {len(shown)}, {sealed} sealed")
        self._show_one()

    def underway(self, says: str) -> None:
        """Show how far the jobs are read."""
        entitle(self.query_one("#record"), f"Our panels and jobs say: {says}")

    def _recorded(self, records: dict[str, ColourRecord] | None) -> None:
        entitle(self.query_one("#record"), "Our panels and jobs say")
        self._records = records or {}
        self._show_one()

    def _show_one(self) -> None:
        entry = self._entry
        fields = own_sheets.colour_fields_of(entry) if entry is not None else []
        self._fields = {field.id: field for field in fields}
        self.query_one("#facts", Sheet).show([Row(one.id, one.says, label=one.label) for one in fields])
        said: list[Line] = []
        if entry is not None:
            on = f", {entry.sealed_on.isoformat()}" if entry.sealed_on else ""
            sealed = f"sealed by {entry.sealed_by}{on}"
            said = [
                Line(sealed, "go")
                if entry.is_sealed
                else Line("not sealed: only makes advice stricter", "warn")
            ]
            record = self._records.get(key_of(entry.book), None if self.is_at_work else ColourRecord())
            said.append(Line("our jobs are being read …" if record is None else record_says(record)))
            if twice := code_says(entry, of_one_code(self._book.values(), entry)):
                said.append(Line(twice, "warn"))
        self.query_one("#record", Reading).show(said)

    @property
    def _book(self) -> Mapping[str, BookColour]:
        return self._desk.house.book if self._desk is not None else {}

    @property
    def _entry(self) -> BookColour | None:
        return self._book.get(self.query_one("#colours", Rows).current)

    @on(Rows.Moved, "#colours")
    def _moved(self) -> None:
        self._show_one()

    @on(Rows.Picked, "#colours")
    def _picked(self) -> None:
        self.set_focus(self.query_one("#facts", Sheet))

    def _change(self, field_id: str, answer: str) -> None:
        entry = self._entry
        if entry is None:
            return
        try:
            changed = own_sheets.colour_changed(entry, field_id, answer)
        except RefusedError as error:
            self.say(str(error), refused=True)
            return
        told = self.tried(lambda desk: desk.put_colour(changed, new=False))
        self._written(told)

    def _written(self, told: str | None) -> None:
        if told is not None:
            self.read_again(told)

    def action_seal(self) -> None:
        """Ask for the lead's initials, and seal."""
        entry = self._entry
        if entry is None:
            self.say("there is no colour to seal: A adds one", refused=True)
            return
        ask_text(
            self, f"Seal {entry.book} as it stands: the lead's initials", "",
            lambda by: self._written(self.tried(lambda desk: desk.seal(entry.book, by))),
            fault_of=lambda text: "" if text else "a seal needs initials",
            help_words="A sealed colour counts in full: its class and sizes may loosen advice.",
        )  # fmt: skip

    def action_add(self) -> None:
        """Ask for the word of a new colour, and put it in."""
        ask_text(
            self, "Word that jobs call the colour by, such as its name", "",
            lambda word: self._new(BookColour(book=word)),
            fault_of=lambda text: "" if 0 < len(text) <= 80 else "1 to 80 letters",
        )  # fmt: skip

    def _new(self, entry: BookColour) -> None:
        self._filter = ""
        told = self.tried(lambda desk: desk.put_colour(entry, new=True))
        self._written(told)
        if told is not None:
            self.call_later(self._go_to, key_of(entry.book))

    def _go_to(self, key: str) -> None:
        colours = self.query_one("#colours", Rows)
        colours.show(colours.rows, key)
        self._show_one()

    def action_of_job(self) -> None:
        """Put the colour of the open job into the book."""
        job = self._session.job if self._session is not None else None
        if job is None or not job.panel:
            self.say("no job is open: open one first, or add a colour with A", refused=True)
            return
        self._filter = ""
        self._written(self.tried(lambda desk: desk.put_job_colour(job.colour, job.job.number)))

    def action_filter(self) -> None:
        """Ask for the words of the filter."""
        title = "Show colours whose word, name, code or notes hold (empty: all)"
        ask_text(self, title, self._filter, self._filtered)

    def _filtered(self, words: str) -> None:
        self._filter = words
        if self._desk is not None:
            self.fill(self._desk, fresh=False)

    def action_guide(self) -> None:
        """Show how a class is judged."""
        from prepadvisor.tui.dialogs import Page
        from prepadvisor.wording import flakes_guide

        if self._desk is not None:
            words = flakes_guide(self._desk.house.constants)
            self.app.push_screen(Page("How a flake class is judged", words))
