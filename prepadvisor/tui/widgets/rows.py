"""A list of large rows with one cursor, and a sheet of named facts made of it."""

from bisect import bisect_right
from itertools import accumulate
from textwrap import wrap
from typing import ClassVar, Final

from rich.cells import cell_len, set_cell_size
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip

from prepadvisor.records import NamedTuple
from prepadvisor.tui.model import plain, shortened
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


_FOLDED_MOST: Final = 4
"""Lines that the words of one row take at most; what is longer ends in "…"."""
_LEAST_ROOM: Final = 6
"""Columns for words below which none are folded."""
_SLIM: Final = 40
"""Columns from which on a label column has its full width; in less it is as wide as its longest label."""


class Rows(Scrolled, can_focus=True):
    """Rows to move over with arrows or a finger, and to pick with Enter, Space or a second touch.

    A row whose words do not fit in its lines takes more of them, so that nothing is cut.
    """

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
        folds: bool = True,
    ) -> None:
        """Make an empty list.

        Args:
            row_lines: lines a row takes at least; from 2 on the second line is shown.
            label_width: columns of the label column.
            touch_picks: one touch picks; otherwise the first touch only moves the cursor.
            name: the widget's id.
            most_lines: lines a row takes where all rows have room for it, so that a glove hits it well.
            folds: whether a row whose words do not fit takes more lines.
        """
        super().__init__(name)
        self.row_lines = self._least_lines = row_lines
        self._most_lines = max(most_lines, row_lines)
        self.label_width = self._label_width = label_width
        self.touch_picks = touch_picks
        self.rows: tuple[Row, ...] = ()
        self._folds = folds
        self._ends: tuple[int, ...] | None = None

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
        at = self._row_of(inside(self, event).y + self.top)[0]
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
        return len(self.rows) * self.row_lines if self._ends is None else self._ends[-1]

    def span(self, at: int) -> tuple[int, int]:
        """Return the first line of a row, and how many it has."""
        if self._ends is None:
            return at * self.row_lines, self.row_lines
        start = self._ends[at - 1] if at > 0 else 0
        return start, self._ends[at] - start

    def _row_of(self, line: int) -> tuple[int, int]:
        """Return the row that a line belongs to, and which of its lines it is."""
        if self._ends is None:
            return divmod(line, self.row_lines)
        at = bisect_right(self._ends, line)
        return at, line - (self._ends[at - 1] if at > 0 else 0)

    def line(self, at: int, width: int) -> Strip:
        """Draw one line of a row."""
        return strip_of(self, *self._pieces(*self._row_of(at), width))

    def _pieces(self, at: int, line: int, width: int) -> tuple[list[Piece], int, str]:
        row = self.rows[at]
        here = at == self.cursor and bool(row.id) and (self.has_focus or self.keeps_cursor)
        ground = ("pick" if self.has_focus else "rest") if here else "plain"
        ink = ground if here and self.has_focus else (row.ink if not here else "rest")
        sign = "► " if here else "  "
        mark = f"{row.mark} " if row.mark else ""
        before = len(sign + mark) + self._label_width
        right = f" {row.right}" if row.right else ""
        texts, seconds = self._folded(row, width)
        if line >= len(texts):
            seconds = seconds[line - len(texts) :][:1]
            words = " " * len(sign + mark) + seconds[0] if seconds else ""
            return [Piece(words, ground if here else "hush")] if words else [], width, ground
        text = texts[line]
        if line > 0:
            return [Piece(" " * before + text, ink)], width, ground
        if self._label_width:
            label = f"{plain(row.label)[: self._label_width - 1]:<{self._label_width}}"
            return [Piece(sign + mark, ink), Piece(label, ink), Piece(text, ink)], width, ground
        if row.right:
            room = max(width - before - cell_len(right), 8 - before)
            text = set_cell_size(shortened(text, room), room) + right
        return [Piece(sign + mark + text, ink)], width, ground

    def _folded(self, row: Row, width: int) -> tuple[list[str], list[str]]:
        """Return a row's words and its second words as lines of at most so many columns."""
        before = 2 + (len(row.mark) + 1 if row.mark else 0)
        room = width - before
        second = plain(row.second) if self._least_lines > 1 and row.second else ""
        seconds = _lines_of(second, room, self._folds) if second else []
        room -= self._label_width + (cell_len(row.right) + 1 if row.right else 0)
        folds = self._folds or (self.row_lines > 1 and not second)
        return _lines_of(plain(row.text), room, folds), seconds

    @property
    def _look(self) -> "tuple[object, int, tuple[Row, ...]]":
        """What the painted lines come of."""
        return (self.row_lines, self._ends, self._label_width, self.top), self.cursor, self.rows

    def _paint_changed(self, was: "tuple[object, int, tuple[Row, ...]]") -> None:
        """Paint what differs from how it looked: rows one by one where all stand where they stood."""
        stood, cursor, rows = was
        if stood != self._look[0] or len(rows) != len(self.rows):
            self.refresh()
            return
        pairs = enumerate(zip(rows, self.rows, strict=True))
        changed = {at for at, (old, new) in pairs if old != new}
        if cursor != self.cursor:
            changed |= {at for at in (cursor, self.cursor) if 0 <= at < len(rows)}
        if changed:
            self.refresh(*(self._region(at) for at in sorted(changed)))

    def _measure(self) -> None:
        width, height = self.size.width, self.size.height
        self._label_width = self.label_width
        if self.label_width and width > 0:
            longest = max((cell_len(row.label) for row in self.rows), default=0) + 1
            least = 0 if width < _SLIM else self.label_width
            self._label_width = min(max(longest, least), max(width // 2, self.label_width))
        fits = height // max(len(self.rows), 1)
        self.row_lines = min(max(fits, self._least_lines), self._most_lines)
        self._ends = self._ends_at(width, height) if self._folds and width > 0 else None
        self._keep_in_sight()

    def _ends_at(self, width: int, height: int) -> tuple[int, ...] | None:
        """Return the line after each row's last, None where all rows are alike."""
        has_bar = len(self.rows) * self._least_lines > height  # it takes a column
        tall = [self._lines_needed(row, width - has_bar) for row in self.rows]
        if not has_bar and sum(max(self._least_lines, each) for each in tall) > height:
            tall = [self._lines_needed(row, width - 1) for row in self.rows]
        most = max(tall, default=0)
        if most <= self.row_lines:
            return None
        while self.row_lines > self._least_lines and sum(max(self.row_lines, each) for each in tall) > height:
            self.row_lines -= 1  # rather than a bar
        return tuple(accumulate(max(self.row_lines, each) for each in tall))

    def _lines_needed(self, row: Row, width: int) -> int:
        room = width - self._label_width - len(row.mark) - len(row.right) - 4
        fits = len(row.text) <= room and len(row.second) <= width - len(row.mark) - 3
        if fits and row.text.isascii():  # as nearly always
            return 2 if row.second and self._least_lines > 1 else 1
        return sum(map(len, self._folded(row, width)))

    def _region(self, row: int) -> Region:
        start, lines = self.span(row)
        return Region(0, start - self.top, self.size.width, lines)

    def _keep_in_sight(self) -> None:
        if not any(row.id for row in self.rows[: self.cursor]):  # headings over the first row to pick
            self.keep_in_sight(0)
        if 0 <= self.cursor < len(self.rows):
            self.keep_in_sight(*self.span(self.cursor))

    def _next_row(self, at: int, step: int) -> int:
        seek = at + step
        while 0 <= seek < len(self.rows):
            if self.rows[seek].id:
                return seek
            seek += step
        return max(at, 0)


def _lines_of(text: str, room: int, folds: bool) -> list[str]:
    """Return words in lines of at most so many columns, or in one that may be too long."""
    if cell_len(text) <= room or not folds or room < _LEAST_ROOM:
        return [text]
    lines = wrap(text, room)
    rest = " ".join(lines[_FOLDED_MOST - 1 :])
    return [*lines[: _FOLDED_MOST - 1], rest] if len(lines) > _FOLDED_MOST else lines
