"""A field to type in: a paste is kept as far as there is room, its lines joined, and what was cut is told."""

from textual import events
from textual.message import Message
from textual.widgets import Input

from prepadvisor.tui.widgets.keypad import BACK


class TextField(Input):
    """One line of text; a paste is never lost without a word."""

    class Cut(Message):
        """A paste did not fit whole; so many letters of it were left out."""

        def __init__(self, left_out: int) -> None:
            super().__init__()
            self.left_out = left_out

    def type_in(self, key: str) -> None:
        """Do what a key of a pad does: put a letter in the place of what is marked, or take one away."""
        if key == BACK:
            self.action_delete_left()
        else:
            start, end = sorted(self.selection)
            self.replace(key, start, end)

    def _on_paste(self, event: events.Paste) -> None:
        """Put the text at the cursor, its lines joined by blanks, as much of it as there is room for."""
        event.prevent_default()
        event.stop()
        text = " ".join(event.text.split())
        if self.restrict == NUMBERS:
            text = "".join(char for char in text if char in "0123456789.,")
        start, end = sorted(self.selection)
        room = (self.max_length or len(text)) - len(self.value) + (end - start)
        kept = text[: max(room, 0)]
        self.replace(kept, start, end)
        if len(kept) < len(text):
            self.post_message(self.Cut(len(text) - len(kept)))


NUMBERS = r"[0-9.,]*"
"""What a field for a number takes."""
