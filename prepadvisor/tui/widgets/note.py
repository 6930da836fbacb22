"""The note above the rail: what just happened, or why it did not; it stays until the next thing happens."""

from rich.text import Text
from textual.widgets import Static

from prepadvisor.tui.model.plain import plain


class Note(Static):
    """One to three lines of words. A refusal starts with a sign and is bold; nothing vanishes by itself."""

    DEFAULT_CSS = """
    Note { height: auto; max-height: 3; padding: 0 1; }
    """

    def __init__(self, name: str | None = None) -> None:
        """Make a blank note."""
        super().__init__(Text(""), id=name)
        self.says = ""

    def say(self, words: str, refused: bool = False) -> None:
        """Show words, or nothing for an empty text."""
        says = f"▲ {words}" if refused and words else words
        if says == self.says and self.display == bool(words):
            return
        self.says = says
        self.set_class(refused, "-refused")
        self.display = bool(words)
        self.update(Text(plain(self.says)))
