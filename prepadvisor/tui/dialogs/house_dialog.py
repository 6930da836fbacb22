"""A file of the house as a form, shop or line model; each change goes into the lead's draft at once."""

from collections.abc import Callable
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical
from textual.widgets import Static

from prepadvisor.tui.dialogs.ask import AskText, Dialog
from prepadvisor.tui.dialogs.choose import Choice, Choose, ChooseSeveral
from prepadvisor.tui.model import Field, HouseForm, LeadDesk
from prepadvisor.tui.widgets import Act, Line, Note, Rail, Reading, Row, Rows, Sheet

ACTS = (Act("Esc", "Back", "leave"), Act("Enter", "Change", "change"), Act("D", "As below", "drop"))


class HouseDialog(Dialog[bool]):
    """The form over the whole window. Answers whether anything was changed.

    Args:
        desk: the lead's desk, whose draft is changed.
        form: the file.
    """

    help_words: ClassVar[str] = (
        "Arrows move; left and right turn a choice over, Enter or a touch changes the line. ■ marks what the "
        "shop states itself; D takes that away, and the line is as in the standards below. Each change is in "
        "the draft at once, comments of the file stay; nothing counts before the draft is made live."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("d,D,delete", "drop", "drop", show=False),
    ]

    def __init__(self, desk: LeadDesk, form: HouseForm) -> None:
        """Open a file of a desk's draft."""
        super().__init__()
        self._desk, self._form = desk, form
        self._fields: dict[str, Field] = {}
        self._changed = False

    def compose(self) -> ComposeResult:
        """Lay out title, form, what the line means, note and plates."""
        with Vertical(classes="dialog reading rule-form"):
            yield Static(Text(self._form.title), classes="dialog-title")
            with Container(classes="split"):
                yield Sheet(28, name="form").add_class("pane")
                yield Reading(name="preview").add_class("pane")
            yield Note()
            yield Rail()

    def on_mount(self) -> None:
        """Fill the form and start on its first line."""
        self.query_one(Rail).show(ACTS)
        self.query_one("#form").border_title = self._form.file
        self.query_one("#preview").border_title = "What it means"
        self._show()
        self.set_focus(self.query_one("#form", Sheet))

    @on(Rows.Moved, "#form")
    def _moved(self) -> None:
        self._explain()

    @on(Sheet.Turned)
    def _turned(self, event: Sheet.Turned) -> None:
        answer = self._fields[event.row_id].turned(event.step)
        if answer is not None:
            self._set(event.row_id, answer)

    @on(Sheet.Asked)
    def _asked(self, event: Sheet.Asked) -> None:
        self._ask(self._fields[event.row_id])

    def action_change(self) -> None:
        """Ask for the line under the arrow."""
        field = self._fields.get(self.query_one("#form", Sheet).current)
        if field is not None:
            self._ask(field)

    def action_drop(self) -> None:
        """Let the line under the arrow be as in the layer below."""
        ident = self.query_one("#form", Sheet).current
        self._do(lambda text: self._form.with_dropped(text, ident), "as in the standards below")

    def action_leave(self) -> None:
        """Leave; what was changed is in the draft."""
        self.answer(self._changed)

    def _ask(self, field: Field) -> None:
        from prepadvisor.tui.dialogs.asking import number_fault  # loaded with the first view

        if field.id == "shelf":
            self._ask_shelf()
        elif field.id == "pads":
            self._ask_pad(field)
        elif field.kind == "choice":
            choices = [Choice(option.value, option.says) for option in field.options]
            self._push(Choose(field.ask, choices, field.now), field)
        else:
            is_number = field.kind == "number"
            fault_of = number_fault if is_number else lambda _text: ""
            self._push(AskText(field.ask, field.now, "", fault_of, "number" if is_number else "text"), field)

    def _push(self, dialog: Choose | AskText, field: Field) -> None:
        def answered(answer: str | None) -> None:
            if answer is None:
                return
            if self._form.known:
                choices = [Choice(known, says) for known, says in self._form.known.items()]
                self.app.push_screen(
                    Choose(f"{field.label}: how is it known?", choices),
                    lambda known: None if known is None else self._set(field.id, answer, known),
                )
            else:
                self._set(field.id, answer)

        self.app.push_screen(dialog, answered)

    def _ask_pad(self, field: Field) -> None:
        """Ask what a pad is called, then the coarse end of its range."""
        from prepadvisor.tui.dialogs.asking import USUAL_GRADES

        def named(name: str | None) -> None:
            if name:
                choices = [Choice(each, each) for each in USUAL_GRADES]
                title = f"{name}: the COARSE end of its range, by its maker"
                self.app.push_screen(
                    Choose(title, choices),
                    lambda grade: None if grade is None else self._set(f"pads.{name}", grade),
                )

        self.app.push_screen(AskText(field.ask), named)

    def _ask_shelf(self) -> None:
        from prepadvisor.tui.dialogs.asking import USUAL_GRADES

        on_it = self._fields["shelf"].now.split()
        grades = sorted({*USUAL_GRADES, *on_it}, key=lambda each: int(each.removeprefix("P")))
        ticked = [at for at, each in enumerate(grades) if each in on_it]

        def taken(places: tuple[int, ...] | None) -> None:
            if places is not None:
                self._set("shelf", " ".join(grades[at] for at in sorted(places)))

        self.app.push_screen(ChooseSeveral("Grades on the shelf: which?", list(grades), ticked), taken)

    def _set(self, ident: str, answer: str, known: str = "") -> None:
        house = self._desk.house()
        self._do(lambda text: self._form.with_changed(house, text, ident, answer, known), "in the draft")

    def _do(self, make: Callable[[str], str], told: str) -> None:
        field = self._fields.get(self.query_one("#form", Sheet).current)
        if why := self._desk.change_file(self._form.file, make):
            self._say(why, refused=True)
            return
        self._changed = True
        self._show()
        self._say(f"√ {field.label if field else 'it'}: {told}")

    def _show(self) -> None:
        fields = self._form.fields(self._desk.house(), self._desk.own_text(self._form.file))
        self._fields = {field.id: field for field in fields}
        self.query_one("#form", Sheet).show([Row(each.id, each.says, label=each.label) for each in fields])
        self._explain()

    def _explain(self) -> None:
        field = self._fields.get(self.query_one("#form", Sheet).current)
        if field is not None:
            said = [Line(each) for each in self._form.about(self._desk.house(), field.id)]
            stated = self._form.is_own(self._desk.own_text(self._form.file), field.id)
            own = "This shop states it itself." if stated else "As in the standards below."
            self.query_one("#preview", Reading).show([Line(field.label, "bold"), *said, Line(""), Line(own)])

    def _say(self, words: str, refused: bool = False) -> None:
        self.query_one(Note).say(words, refused)
