"""Dialogs: what all share, a question for yes or no, for a text, and a page of words to read."""

from collections.abc import Callable
from typing import ClassVar, Generic, TypeVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static
from textual.widgets.input import Selection

from prepadvisor.tui.model import plain
from prepadvisor.tui.widgets import (
    FIGURES,
    LETTERS,
    NUMBERS,
    Act,
    Keypad,
    Line,
    Note,
    Rail,
    Reading,
    Sized,
    TextField,
)

# What all dialogs share: they answer once, whatever was typed ahead, and their plates run their actions.

_Answer = TypeVar("_Answer")


class Dialog(Sized, ModalScreen[_Answer], Generic[_Answer]):
    """A modal screen that returns one answer. F1 says what can be done in it."""

    help_words: ClassVar[str] = ""
    BINDINGS: ClassVar[list[BindingType]] = [Binding("f1", "explain", "help", show=False)]

    def action_explain(self) -> None:
        """Show what can be done here."""
        if self.help_words:
            self.app.push_screen(Page("Help", self.help_words))

    def answer(self, answer: _Answer) -> None:
        """Answer, unless an answer was given already."""
        if self.is_current:
            self.dismiss(answer)

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        event.stop()
        await self.run_action(event.action)


# Ask yes or no before something that a slip of the finger must not do.


class AskYes(Dialog[bool]):
    """A question with its consequence. Answers True only for `y`; Enter alone does nothing."""

    help_words: ClassVar[str] = "Y does it, N or Esc goes back. Enter alone does nothing, against slips."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y,Y", "say(True)", "yes", show=False),
        Binding("n,N,escape", "say(False)", "no", show=False),
    ]

    def __init__(self, question: str, more: str = "", yes: str = "Yes") -> None:
        """Ask `question`; `more` says what follows from a yes, `yes` labels its plate."""
        super().__init__()
        self._question, self._more, self._yes = question, more, yes

    def compose(self) -> ComposeResult:
        """Lay out question, consequence and plates."""
        with Vertical(classes="dialog small"):
            yield Static(Text(plain(self._question)), classes="dialog-title")
            yield Static(Text(plain(self._more)), classes="dialog-help")
            yield Rail()

    def on_mount(self) -> None:
        """Show the plates."""
        self.query_one(Rail).show((Act("N", "No, back", "say(False)"), Act("Y", self._yes, "say(True)")))

    def action_say(self, answer: bool) -> None:
        """Answer."""
        self.answer(answer)


# Ask for a word or a number; a wrong one is told under the field and can be mended at once.


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
            if self._help:
                yield Static(Text(plain(self._help)), classes="dialog-help")
            yield Note()
            yield Keypad(FIGURES if self._kind == "number" else LETTERS)
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

    @on(Keypad.Pressed)
    def _key_pressed(self, event: Keypad.Pressed) -> None:
        self.query_one(TextField).type_in(event.key)

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


_NARROWEST = 50
"""Columns that a page has at least, to reckon with how many lines its words take."""
_FRAME_AND_RAIL = 6


class Page(Dialog[None]):
    """Words under a title. Answers nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,f1", "leave", "leave", show=False),
        Binding("up", "roll(-1)", "up", show=False),
        Binding("down", "roll(1)", "down", show=False),
        Binding("pageup", "roll(-10)", "page up", show=False),
        Binding("pagedown,space", "roll(10)", "page down", show=False),
    ]

    def __init__(self, title: str, words: str, keep: bool = False) -> None:
        """Show `words`, which may have several lines; `keep` leaves all blanks as they are."""
        super().__init__()
        self._title, self._words, self._keep = title, words, keep

    @staticmethod
    def columns_of(window: int) -> int:
        """Return the columns there are for words in a window of so many."""
        return window * 9 // 10 - 6

    def compose(self) -> ComposeResult:
        """Lay out title, words and plates."""
        with Vertical(classes="dialog reading" if self._keep else "dialog reading prose"):
            yield Static(Text(plain(self._title)), classes="dialog-title")
            yield Reading(takes_focus=False)
            yield Rail()

    def on_mount(self) -> None:
        """Show words and plates; lines that are laid out by blanks stay so."""
        lines = [Line(line, keep=self._keep or "  " in line) for line in self._words.splitlines()]
        self.query_one(Reading).show(lines)
        box = self.query_one(".dialog")
        high = sum(1 + len(line.text) // _NARROWEST for line in lines) + _FRAME_AND_RAIL
        if high < self.app.size.height * 0.9:
            box.styles.height = high
        self.query_one(Rail).show(
            (Act("Esc", "Back", "leave"), Act("▲", "Up", "roll(-6)"), Act("▼", "Down", "roll(6)"))
        )

    def action_roll(self, lines: int) -> None:
        """Scroll by lines."""
        self.query_one(Reading).action_roll(lines)

    def action_leave(self) -> None:
        """Close the page."""
        self.answer(None)
