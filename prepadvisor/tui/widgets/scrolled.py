"""Inks for all that is drawn line by line, and a widget of many lines that scrolls itself."""

from collections.abc import Iterable
from typing import Final, Self

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Offset, Region, Size, clamp
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widget import Widget

from prepadvisor.records import NamedTuple

# The inks of everything that is drawn line by line; the style sheet gives each its colours once.

INKS: Final[frozenset[str]] = frozenset(
    f"ink--{name}"
    for name in (
        "plain", "hush", "bold", "stop", "go", "warn", "pick", "rest", "bar", "bar-now", "plate", "plate-key",
        "zone-colour", "zone-fade", "zone-mist", "zone-clear", "rim", "line-pick", "number", "border-pick",
        "stop-fill", "go-fill",
    )
)  # fmt: skip
"""Component classes of the app: each ink is worked out once for it, not again for each widget."""


class Piece(NamedTuple):
    """A run of text in one ink."""

    text: str
    ink: str = "plain"


def strip_of(widget: "Inked", pieces: Iterable[Piece], width: int, ground: str = "plain") -> Strip:
    """Return pieces as a line of exactly `width` cells; too long ends in "…", too short is filled."""
    segments: list[Segment] = []
    left = width
    for piece in pieces:
        if left <= 0:
            break
        text, size = piece.text, cell_len(piece.text)
        if size > left:
            text, size = set_cell_size(piece.text, left - 1) + "…", left
        segments.append(Segment(text, ink(widget, piece.ink)))
        left -= size
    if left > 0:
        segments.append(Segment(" " * left, ink(widget, ground)))
    return Strip(segments, width).simplify()


def ink(widget: "Inked", name: str) -> Style:
    """Return the style of an ink on a widget."""
    found = widget.styles_of.get((name, ""))
    if found is None:
        styles = widget.app.get_component_styles(f"ink--{name}")
        found = widget.styles_of[name, ""] = styles.rich_style
    return found


def mixed(widget: "Inked", name: str, ground: str) -> Style:
    """Return the style of a sign in one ink on the ground of another.

    Rim, selection and border are solid: as grounds they lend the colour that they have as signs.
    """
    if name == ground:
        return ink(widget, name)
    found = widget.styles_of.get((name, ground))
    if found is None:
        found = widget.styles_of[name, ground] = _mix(ink(widget, name), ink(widget, ground), name, ground)
    return found


def _mix(front: Style, behind: Style, name: str, ground: str) -> Style:
    solid = {"rim", "line-pick", "border-pick"}
    back = behind.color if ground in solid else behind.bgcolor
    fore = front.color if name in solid or not name.startswith("zone-") else front.bgcolor
    return Style(color=fore, bgcolor=back, bold=front.bold, reverse=front.reverse)


class Inked(Widget):
    """A widget drawn line by line in inks. A style is looked up once while style sheet and ground stay."""

    virtual_size = Reactive(Size(0, 0), repaint=False)
    """A new size is painted in the layout that gave it, and asks for no further one."""

    def __init__(self, name: str | None = None) -> None:
        """Make it with an id."""
        super().__init__(id=name)
        self.styles_of: dict[tuple[str, str], Style] = {}
        self.room = Size(0, 0)
        self._on: object = None
        self._only: tuple[Region, ...] = ()

    def entitle(self, title: str) -> None:
        """Give the frame another title; only its line is painted."""
        self._only = (Region(-self.gutter.left, -self.gutter.top, self.outer_size.width, 1),)
        self.border_title = title
        self._only = ()

    def refresh(
        self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False
    ) -> Self:
        """Paint again, while a title is set only that."""
        regions = regions or self._only
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)

    def render_lines(self, crop: Region) -> list[Strip]:
        """Paint lines; what holds for all of them is looked up once."""
        self.room = self.size
        if self._on != (on := (self.background_colors, self.app.theme)):
            self._on = on
            self.forget_styles()
        return super().render_lines(crop)

    def forget_styles(self) -> None:
        """Look all styles up again."""
        self.styles_of.clear()

    def notify_style_update(self) -> None:
        """Forget the old style sheet's styles."""
        super().notify_style_update()
        self.forget_styles()


WHEEL_LINES = 3


def inside(widget: Widget, event: events.MouseEvent) -> Offset:
    """Return where a widget was touched, counted from its first cell inside its frame."""
    gutter = widget.gutter
    return Offset(event.x - gutter.left, event.y - gutter.top)


class Scrolled(Inked):
    """Shows lines from `top` on. The bar at the right is there only where not all lines fit."""

    has_bar = True

    def __init__(self, name: str | None = None) -> None:
        """Start at the top."""
        super().__init__(name)
        self.top = 0
        self._text_width, self._has_bar_now = 0, False

    @property
    def total(self) -> int:
        """How many lines there are."""
        return 0

    @property
    def inner_width(self) -> int:
        """Columns for text."""
        return max(self.size.width - (1 if self.shows_bar else 0), 1)

    @property
    def shows_bar(self) -> bool:
        """Whether the bar is there."""
        return self.has_bar and self.total > self.size.height > 2

    def line(self, at: int, width: int) -> Strip:
        """Return one of the lines, `width` columns wide."""
        raise NotImplementedError

    def roll_to(self, top: int) -> None:
        """Scroll so that a line stands on top, as far as there is text."""
        top = int(clamp(top, 0, max(self.total - self.size.height, 0)))
        if top != self.top:
            self.top = top
            self.refresh()

    def keep_in_sight(self, at: int, lines: int = 1) -> None:
        """Scroll as little as needed so that some lines are seen."""
        height = max(self.size.height, 1)
        self.roll_to(min(max(self.top, at + lines - height), at))

    def render_lines(self, crop: Region) -> list[Strip]:
        """Paint lines, all with or without the bar."""
        self._text_width, self._has_bar_now = self.inner_width, self.shows_bar
        return super().render_lines(crop)

    def render_line(self, y: int) -> Strip:
        """Draw one line with its piece of the bar."""
        width, at = self._text_width, y + self.top
        strip = self.line(at, width) if at < self.total else strip_of(self, (), width)
        return Strip.join([strip, strip_of(self, [self._bar(y)], 1)]) if self._has_bar_now else strip

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Roll down."""
        event.stop()
        self.roll_to(self.top + WHEEL_LINES)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Roll up."""
        event.stop()
        self.roll_to(self.top - WHEEL_LINES)

    def is_on_bar(self, event: events.MouseEvent) -> bool:
        """Page by a touch of the bar, towards where it was touched; say whether it was touched."""
        at = inside(self, event)
        if not self.shows_bar or at.x < self.inner_width:
            return False
        page = max(self.size.height - 1, 1)
        self.roll_to(self.top + (page if at.y >= self.size.height // 2 else -page))
        return True

    def _bar(self, y: int) -> Piece:
        height = self.size.height
        if y == 0:
            return Piece("▲", "plain" if self.top > 0 else "hush")
        if y == height - 1:
            return Piece("▼", "plain")
        track = height - 2
        thumb = max(round(track * height / self.total), 1)
        furthest = max(self.total - height, 1)
        start = 1 + round((track - thumb) * self.top / furthest)
        return Piece("█" if start <= y < start + thumb else "│", "plain")
