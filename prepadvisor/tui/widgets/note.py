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
        self.says = self._hint = ""
        self._shown: str | None = None

    def say(self, words: str, refused: bool = False) -> None:
        """Show words; for an empty text the hint of what has the focus."""
        self.says = f"▲ {words}" if refused and words else words
        self.set_class(refused and bool(words), "-refused")
        self._put()

    def hint(self, words: str) -> None:
        """Show what the keys do where the focus is, as long as nothing else is said."""
        self._hint = words
        self._put()

    def _put(self) -> None:
        text = self.says or self._hint
        if text == self._shown:
            return
        self._shown = text
        self.display = bool(text)
        self.set_class(not self.says, "-hint")
        self.update(Text(plain(text)))
