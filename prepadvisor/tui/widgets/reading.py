"""Lines of words that wrap and scroll, each in one ink."""

import re
import textwrap
from typing import ClassVar, Final

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.strip import Strip

from prepadvisor.records import NamedTuple
from prepadvisor.tui.model import plain
from prepadvisor.tui.widgets.scrolled import Piece, Scrolled, strip_of

_HARD: Final = "\u00a0"
"""A blank at which no line breaks."""
_BAR_AND_BLANK: Final = 2
"""Columns that the bar takes with the blank before it."""
_NUMBER_AND_UNIT: Final = re.compile(r"(?<=\d) (?=(?:mm|um|ml|m2|min|h|in|mil|ft2|US)\b)")


class Line(NamedTuple):
    """A line of words; `indent` columns before it and before what wraps; `keep` leaves blanks as they are."""

    text: str
    ink: str = "plain"
    indent: int = 0
    keep: bool = False


class Reading(Scrolled, can_focus=True):
    """Words to read. Scrolls with arrows when it has the focus."""

    DEFAULT_CSS = """
    Reading { height: 1fr; width: 1fr; }
    """
    hint: ClassVar[str] = "arrows scroll, Tab goes on"
    help_words: ClassVar[str] = "In the text: arrows and Page keys scroll."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "roll(-1)", "up", show=False),
        Binding("down", "roll(1)", "down", show=False),
        Binding("pageup", "roll(-10)", "page up", show=False),
        Binding("pagedown,space", "roll(10)", "page down", show=False),
        Binding("home", "roll(-100000)", "top", show=False),
        Binding("end", "roll(100000)", "end", show=False),
    ]

    def __init__(self, name: str | None = None, takes_focus: bool = True, has_bar: bool = True) -> None:
        """Make an empty reading.

        Args:
            name: the widget's id.
            takes_focus: whether it can be scrolled by keys.
            has_bar: whether a bar shows that there is more.
        """
        super().__init__(name)
        self.can_focus = takes_focus
        self.has_bar = has_bar
        self.lines: tuple[Line, ...] = ()
        self._laid: list[tuple[str, str]] = []
        self._width = 0

    @property
    def total(self) -> int:
        """Lines as they are wrapped."""
        return len(self._laid)

    def show(self, lines: list[Line]) -> None:
        """Show lines from their top."""
        if tuple(lines) == self.lines:
            return
        self.lines = tuple(lines)
        before = len(self._laid)
        self._lay(self.size.width)
        self.top = 0
        self.refresh(layout=len(self._laid) != before and self.styles.is_auto_height)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """Return the lines that the text takes at a width."""
        self._lay(width)
        return max(len(self._laid), 1)

    def action_roll(self, lines: int) -> None:
        """Scroll by lines."""
        self.roll_to(self.top + lines)

    def on_click(self, event: events.Click) -> None:
        """Page by a touch of the bar."""
        self.is_on_bar(event)

    def on_resize(self) -> None:
        """Wrap for the new width."""
        if self.size.width != self._width:
            self._lay(self.size.width)
            self.refresh()
        self.roll_to(self.top)

    def line(self, at: int, width: int) -> Strip:
        """Draw one line."""
        text, ink = self._laid[at]
        ground = ink if ink.endswith("fill") else "plain"
        return strip_of(self, [Piece(text, ink)], width, ground)

    def _lay(self, width: int) -> None:
        self._width = width
        room = max(width - (_BAR_AND_BLANK if self.has_bar else 0), 8)
        laid: list[tuple[str, str]] = []
        for line in self.lines:
            text = plain(line.text)
            if line.keep:  # what is laid out by blanks needs every column
                laid.extend((part, line.ink) for part in folded(text, room + (1 if self.has_bar else 0)))
            elif len(text) + line.indent <= room:
                laid.append((" " * line.indent + text, line.ink))
            else:
                wrapped = textwrap.wrap(_together(text), max(room - line.indent, 8)) or [""]
                laid.extend((" " * line.indent + part.replace(_HARD, " "), line.ink) for part in wrapped)
        self._laid = laid


def _together(text: str) -> str:
    """Return words in which no line breaks between a number and its unit, or around an arrow."""
    return _NUMBER_AND_UNIT.sub(_HARD, text).replace(" → ", f"{_HARD}→{_HARD}")


def folded(text: str, room: int) -> list[str]:
    """Return a line laid out by blanks as lines of at most `room` columns, set in further where it goes on.

    A rule across the page is cut, since going on with it says nothing.
    """
    text = text.rstrip()
    if len(text) <= room:
        return [text]
    if len(set(text)) == 1:
        return [text[:room]]
    further = " " * min(len(text) - len(text.lstrip()) + 2, room // 2)
    parts = []
    while len(text) > room:
        at = text.rfind(" ", len(text) - len(text.lstrip()) + 1, room + 1)
        at = at if at > 0 else room
        parts.append(text[:at].rstrip())
        text = further + text[at:].lstrip()
    return [*parts, text]
