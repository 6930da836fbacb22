"""Lines of words that wrap and scroll, each in one ink."""

import textwrap
from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.strip import Strip

from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.inks import InkedScroll, Piece, strip_of


class Line(NamedTuple):
    """A line of words; `indent` columns before it and before what wraps; `keep` leaves blanks as they are."""

    text: str
    ink: str = "plain"
    indent: int = 0
    keep: bool = False


class Reading(InkedScroll, can_focus=True):
    """Words to read. Scrolls with arrows when it has the focus."""

    DEFAULT_CSS = """
    Reading { height: 1fr; overflow-x: hidden; overflow-y: auto; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "roll(-1)", "up", show=False),
        Binding("down", "roll(1)", "down", show=False),
        Binding("pageup", "roll(-10)", "page up", show=False),
        Binding("pagedown,space", "roll(10)", "page down", show=False),
        Binding("left", "slide(-10)", "left", show=False),
        Binding("right", "slide(10)", "right", show=False),
        Binding("home", "roll(-100000)", "top", show=False),
        Binding("end", "roll(100000)", "end", show=False),
    ]

    def __init__(self, name: str | None = None, takes_focus: bool = True) -> None:
        """Make an empty reading; one that is never scrolled takes no focus."""
        super().__init__(id=name)
        self.can_focus = takes_focus
        self.lines: tuple[Line, ...] = ()
        self._laid: list[tuple[str, str]] = []
        self._width = 0

    def show(self, lines: list[Line]) -> None:
        """Show lines; the scroll stays where it was."""
        if tuple(lines) != self.lines:
            self.lines = tuple(lines)
            self._lay()

    def action_roll(self, lines: int) -> None:
        """Scroll by lines."""
        self.scroll_relative(y=lines, animate=False)

    def action_slide(self, columns: int) -> None:
        """Scroll sideways, where lines are kept as they are."""
        self.scroll_relative(x=columns, animate=False)

    def on_resize(self) -> None:
        """Wrap for the new width."""
        if self.scrollable_content_region.width != self._width:
            self._lay()

    def render_line(self, y: int) -> Strip:
        """Draw one line."""
        at = y + int(self.scroll_offset.y)
        width = self.scrollable_content_region.width
        if at >= len(self._laid):
            return strip_of(self, (), width)
        text, ink = self._laid[at]
        return strip_of(
            self,
            [Piece(text[int(self.scroll_offset.x) :], ink)],
            width,
            ink if ink.endswith("fill") else "plain",
        )

    def _lay(self) -> None:
        self._width = self.scrollable_content_region.width
        room = max(self._width - 1, 8)
        laid: list[tuple[str, str]] = []
        for line in self.lines:
            pad = " " * line.indent
            text = plain(line.text)
            if line.keep or len(text) + line.indent <= room:
                laid.append((pad + text, line.ink))
            else:
                wrapped = textwrap.wrap(text, max(room - line.indent, 8)) or [""]
                laid.extend((pad + part, line.ink) for part in wrapped)
        self._laid = laid
        kept = max((len(line.text) for line in self.lines if line.keep), default=0)
        self.virtual_size = Size(max(self._width, kept), len(laid))
        self.refresh()
