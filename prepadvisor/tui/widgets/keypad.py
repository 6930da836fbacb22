"""Keys under a field to type in, for a finger or the mouse alone."""

from typing import Final

from textual import events
from textual.message import Message
from textual.strip import Strip

from prepadvisor.tui.widgets.scrolled import Inked, Piece, strip_of

BACK: Final = "◄"
"""The key that takes the letter before the cursor away."""
FIGURES: Final = ("1234567890." + BACK,)
LETTERS: Final = ("1234567890-. " + BACK, "ABCDEFGHIJKLM", "NOPQRSTUVWXYZ")
_SHOWN: Final = {" ": "_"}
"""How keys are shown that cannot be seen."""
_TALL_FROM: Final = 30
"""Rows of a window from which on rows of letters are three lines high, as a single row always is."""


class Keypad(Inked):
    """Rows of keys; it never takes the focus from its field."""

    class Pressed(Message):
        """A key was pressed."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, rows: tuple[str, ...]) -> None:
        """Make it with rows of one-letter keys."""
        super().__init__()
        self.rows = rows
        self._high = 3

    def on_mount(self) -> None:
        """Take the height that the window has room for."""
        self._high = 3 if len(self.rows) == 1 or self.app.size.height >= _TALL_FROM else 1
        self.styles.height = len(self.rows) * self._high

    def render_line(self, y: int) -> Strip:
        """Draw one line of a row of keys."""
        row, line = divmod(y, self._high)
        if row >= len(self.rows):
            return strip_of(self, (), self.size.width)
        pieces = []
        for letter, (start, end) in zip(self.rows[row], self._spans(row), strict=True):
            wide, key = end - start - 2, _SHOWN.get(letter, letter)
            if self._high == 1:
                pieces += [Piece("[", "plate"), Piece(f"{key:^{wide}}", "plate-key"), Piece("]", "plate")]
            elif line == 1:
                pieces += [Piece("│", "plate"), Piece(f"{key:^{wide}}", "plate-key"), Piece("│", "plate")]
            else:
                corners = "┌┐" if line == 0 else "└┘"
                pieces.append(Piece(f"{corners[0]}{'─' * wide}{corners[1]}", "plate"))
        return strip_of(self, pieces, self.size.width)

    def on_click(self, event: events.Click) -> None:
        """Press the key under the finger."""
        row = event.y // self._high
        if row < len(self.rows):
            for key, (start, end) in zip(self.rows[row], self._spans(row), strict=True):
                if start <= event.x < end:
                    self.post_message(self.Pressed(key))

    def _spans(self, row: int) -> list[tuple[int, int]]:
        """Return the first column of each key and the one after its last, over the whole width."""
        count, width = len(self.rows[row]), self.size.width
        return [(at * width // count, (at + 1) * width // count) for at in range(count)]
