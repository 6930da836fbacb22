"""A page of words to read and scroll: help, reasons, details."""

from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.rail import Act, Rail
from prepadvisor.tui.widgets.reading import Line, Reading

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

    def __init__(self, title: str, words: str) -> None:
        """Show `words`, which may have several lines."""
        super().__init__()
        self._title, self._words = title, words

    def compose(self) -> ComposeResult:
        """Lay out title, words and plates."""
        with Vertical(classes="dialog reading"):
            yield Static(Text(plain(self._title)), classes="dialog-title")
            yield Reading(takes_focus=False)
            yield Rail()

    def on_mount(self) -> None:
        """Show words and plates; lines that are laid out by blanks stay so."""
        lines = [Line(line, keep="  " in line) for line in self._words.splitlines()]
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
