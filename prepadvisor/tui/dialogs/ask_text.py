"""Ask for a word or a number; a wrong one is told under the field and can be mended at once."""

from collections.abc import Callable
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static
from textual.widgets.input import Selection

from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.note import Note
from prepadvisor.tui.widgets.rail import Act, Rail
from prepadvisor.tui.widgets.text_field import NUMBERS, TextField


class AskText(Dialog[str | None]):
    """One field. `fault_of` tells what is wrong with an answer, empty for nothing. Answers with the text."""

    help_words: ClassVar[str] = (
        "What stood there is marked: typing takes its place, an arrow keeps it. Enter takes the answer, Esc "
        "goes back and changes nothing."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("enter", "take", "take", show=False, priority=True),
    ]

    def __init__(
        self,
        title: str,
        value: str = "",
        help_words: str = "",
        fault_of: Callable[[str], str] = lambda _text: "",
        kind: str = "text",
        told: str = "",
    ) -> None:
        """Ask under `title`, starting from `value`; `kind` "number" takes figures only.

        `told` is why the value was refused: it stands under the field, and the value is kept to be mended.
        """
        super().__init__()
        self._title, self._value, self._help = title, value, help_words
        self._fault_of = fault_of
        self._kind = kind
        self._told = told

    def compose(self) -> ComposeResult:
        """Lay out title, field, help and plates."""
        restrict = NUMBERS if self._kind == "number" else None
        with Vertical(classes="dialog small"):
            yield Static(Text(plain(self._title)), classes="dialog-title")
            yield TextField(self._value, restrict=restrict, max_length=400, select_on_focus=False)
            yield Static(Text(plain(self._help)), classes="dialog-help")
            yield Note()
            yield Rail()

    def on_mount(self) -> None:
        """Start in the field."""
        field = self.query_one(TextField)
        field.cursor_blink = False
        start = len(self._value) if self._told else 0  # what is typed takes the place of what stood there
        field.selection = Selection(start, len(self._value))
        self.set_focus(field)
        self.query_one(Note).say(self._told, refused=True)
        self.query_one(Rail).show((Act("Esc", "Back", "leave"), Act("Enter", "Take it", "take")))

    @on(TextField.Cut)
    def _cut(self, event: TextField.Cut) -> None:
        self.query_one(Note).say(f"{event.left_out} letters of the paste did not fit", refused=True)

    def action_take(self) -> None:
        """Answer with the text, or say what is wrong with it."""
        text = self.query_one(TextField).value.strip()
        if self._kind == "number":
            text = text.replace(",", ".")
        fault = self._fault_of(text)
        if fault:
            self.query_one(Note).say(fault, refused=True)
        else:
            self.answer(text)

    def action_leave(self) -> None:
        """Leave without an answer."""
        self.answer(None)
