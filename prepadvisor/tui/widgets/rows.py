"""A list of large rows with one cursor, and a sheet of named facts made of it."""

from typing import ClassVar

from rich.cells import cell_len, set_cell_size
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip

from prepadvisor.named import NamedTuple
from prepadvisor.tui.model import shortened
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.scrolled import Piece, Scrolled, inside, strip_of


class Row(NamedTuple):
    """One row: an id, its text, a second line, a mark such as "[x]" before it, and an ink.

    `label` stands in a column of its own before the text, `right` at the right end. A row
    without an id is a heading and is skipped.
    """

    id: str
    text: str
    second: str = ""
    mark: str = ""
    label: str = ""
    ink: str = "plain"
    right: str = ""


class Rows(Scrolled, can_focus=True):
    """Rows to move over with arrows or a finger, and to pick with Enter, Space or a second touch."""

    DEFAULT_CSS = """
    Rows { height: 1fr; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", "up", show=False),
        Binding("down", "move(1)", "down", show=False),
        Binding("pageup", "move(-8)", "page up", show=False),
        Binding("pagedown", "move(8)", "page down", show=False),
        Binding("home", "move(-100000)", "first", show=False),
        Binding("end", "move(100000)", "last", show=False),
        Binding("enter,space", "pick", "pick", show=False),
    ]
    help_words: ClassVar[str] = "In the list: arrows or a finger move, Enter, Space or a second touch picks."
    hint: ClassVar[str] = "arrows move, Enter picks, Tab goes on"
    """What the note says while the list has the focus and nothing else is to be said."""
    keeps_cursor: ClassVar[bool] = True
    """Whether the cursor shows without the focus, as it must where it is the selection."""
    cursor: reactive[int] = reactive(0, repaint=False)

    class Moved(Message):
        """The cursor went to another row."""

        def __init__(self, rows: "Rows", row_id: str) -> None:
            super().__init__()
            self.rows, self.row_id = rows, row_id

        @property
        def control(self) -> "Rows":
            """The list it happened in."""
            return self.rows

    class Picked(Moved):
        """A row was picked."""

    def __init__(
        self,
        row_lines: int = 1,
        label_width: int = 0,
        touch_picks: bool = False,
        name: str | None = None,
        most_lines: int = 2,
    ) -> None:
        """Make an empty list.

        Args:
            row_lines: lines a row takes at least; from 2 on the second line is shown.
            label_width: columns of the label column.
            touch_picks: one touch picks; otherwise the first touch only moves the cursor.
            name: the widget's id.
            most_lines: lines a row takes where all rows have room for it, so that a glove hits it well.
        """
        super().__init__(name)
        self.row_lines = self._least_lines = row_lines
        self._most_lines = max(most_lines, row_lines)
        self.label_width = label_width
        self.touch_picks = touch_picks
        self.rows: tuple[Row, ...] = ()

    @property
    def current(self) -> str:
        """The id of the row under the cursor, empty for none."""
        return self.rows[self.cursor].id if 0 <= self.cursor < len(self.rows) else ""

    def show(self, rows: list[Row] | tuple[Row, ...], cursor_id: str | None = None) -> None:
        """Show rows; the cursor goes to a row's id, or stays on the id it is on."""
        wanted = self.current if cursor_id is None else cursor_id
        if tuple(rows) == self.rows and wanted == self.current:
            return
        was = self._look
        self.rows = tuple(rows)
        ids = [row.id for row in self.rows]
        with self.prevent(Rows.Moved):
            if wanted in ids and wanted:
                self.set_reactive(Rows.cursor, ids.index(wanted))
            else:
                self.set_reactive(Rows.cursor, self._next_row(min(self.cursor, len(ids) - 1) - 1, 1))
        self._measure()
        self._paint_changed(was)

    def action_move(self, by: int) -> None:
        """Move the cursor over rows that can be picked."""
        if not self.rows:
            return
        step = 1 if by > 0 else -1
        at = self.cursor
        for _ in range(min(abs(by), len(self.rows))):
            at = self._next_row(at, step)
        self.cursor = at

    def action_pick(self) -> None:
        """Pick the row under the cursor."""
        if self.current:
            self.post_message(self.Picked(self, self.current))

    def watch_cursor(self, old: int, new: int) -> None:
        """Tell about the move and keep the cursor in sight; only the two rows are drawn again."""
        self._keep_in_sight()
        self.refresh(*(self._region(row) for row in (old, new)))
        if self.current:
            self.post_message(self.Moved(self, self.current))

    def on_click(self, event: events.Click) -> None:
        """Move to the touched row; touch it again to pick it."""
        if self.is_on_bar(event):
            return
        at = (inside(self, event).y + self.top) // self.row_lines
        if not 0 <= at < len(self.rows) or not self.rows[at].id:
            return
        again = at == self.cursor
        self.cursor = at
        if again or self.touch_picks:
            self.action_pick()

    def on_resize(self) -> None:
        """Fit the rows to the new size."""
        was = self._look
        self._measure()
        self._paint_changed(was)

    @property
    def total(self) -> int:
        """Lines of all rows."""
        return len(self.rows) * self.row_lines

    def line(self, at: int, width: int) -> Strip:
        """Draw one line of a row."""
        return strip_of(self, *self._pieces(*divmod(at, self.row_lines), width))

    def _pieces(self, at: int, line: int, width: int) -> tuple[list[Piece], int, str]:
        row = self.rows[at]
        here = at == self.cursor and bool(row.id) and (self.has_focus or self.keeps_cursor)
        ground = ("pick" if self.has_focus else "rest") if here else "plain"
        ink = ground if here and self.has_focus else (row.ink if not here else "rest")
        sign = "► " if here else "  "
        mark = f"{row.mark} " if row.mark else ""
        before = len(sign + mark) + self.label_width
        right = f" {row.right}" if row.right else ""
        room = max(width - before - cell_len(right), 8 - before)
        text, rest = self._folded(row, room)
        if line == 1:
            words = " " * before + rest if rest else " " * len(sign + mark) + plain(row.second)
            return [Piece(words, ink if rest else ground if here else "hush")], width, ground
        if line > 1:
            return [], width, ground
        if self.label_width:
            label = f"{plain(row.label)[: self.label_width - 1]:<{self.label_width}}"
            return [Piece(sign + mark, ink), Piece(label, ink), Piece(text, ink)], width, ground
        if row.right:
            text = set_cell_size(shortened(text, room), room) + right
        return [Piece(sign + mark + text, ink)], width, ground

    def _folded(self, row: Row, room: int) -> tuple[str, str]:
        """Return a row's text, and what of it goes on in the second line where there is one to spare."""
        text = plain(row.text)
        if self.row_lines < 2 or row.second or cell_len(text) <= room:
            return text, ""
        at = text.rfind(" ", 0, room + 1)
        return (text[:at], text[at + 1 :]) if at > 0 else (text, "")

    @property
    def _look(self) -> tuple[int, int, int, tuple[Row, ...]]:
        """What the painted lines come of."""
        return self.row_lines, self.top, self.cursor, self.rows

    def _paint_changed(self, was: tuple[int, int, int, tuple[Row, ...]]) -> None:
        """Paint what differs from how it looked: rows one by one where all stand where they stood."""
        lines, top, cursor, rows = was
        if (lines, top, len(rows)) != (self.row_lines, self.top, len(self.rows)):
            self.refresh()
            return
        pairs = enumerate(zip(rows, self.rows, strict=True))
        changed = {at for at, (old, new) in pairs if old != new}
        if cursor != self.cursor:
            changed |= {at for at in (cursor, self.cursor) if 0 <= at < len(rows)}
        if changed:
            self.refresh(*(self._region(at) for at in sorted(changed)))

    def _measure(self) -> None:
        fits = self.size.height // max(len(self.rows), 1)
        self.row_lines = min(max(fits, self._least_lines), self._most_lines)
        self._keep_in_sight()

    def _region(self, row: int) -> Region:
        return Region(0, row * self.row_lines - self.top, self.size.width, self.row_lines)

    def _keep_in_sight(self) -> None:
        if not any(row.id for row in self.rows[: self.cursor]):  # headings over the first row to pick
            self.keep_in_sight(0)
        self.keep_in_sight(self.cursor * self.row_lines, self.row_lines)

    def _next_row(self, at: int, step: int) -> int:
        seek = at + step
        while 0 <= seek < len(self.rows):
            if self.rows[seek].id:
                return seek
            seek += step
        return max(at, 0)


# A sheet of named facts: arrows turn a value over, Enter asks for it; one widget for a whole form.


class Sheet(Rows):
    """Rows of label and value. Left and right turn the value of the row under the cursor."""

    help_words: ClassVar[str] = (
        "On the sheet: up and down choose a line, left and right turn its value over, Enter or a touch asks "
        "for it. A length is in mm; an empty answer takes the fact away where it may be left out."
    )
    hint: ClassVar[str] = "left, right turn a value, Enter asks for it, Tab goes on"
    keeps_cursor: ClassVar[bool] = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)", "value before", show=False),
        Binding("right", "turn(1)", "value after", show=False),
    ]

    class Turned(Rows.Moved):
        """A value is to go one on (step 1) or one back (step -1)."""

        def __init__(self, rows: Rows, row_id: str, step: int) -> None:
            super().__init__(rows, row_id)
            self.step = step

    class Asked(Rows.Picked):
        """A value is to be asked for."""

    def __init__(self, label_width: int = 16, name: str | None = None) -> None:
        """Make an empty sheet with a label column of so many columns."""
        super().__init__(label_width=label_width, touch_picks=True, name=name)

    def action_turn(self, step: int) -> None:
        """Ask for the next or previous value."""
        if self.current:
            self.post_message(self.Turned(self, self.current, step))

    def action_pick(self) -> None:
        """Ask for a value in a dialog."""
        if self.current:
            self.post_message(self.Asked(self, self.current))
