"""What all screens but dialogs share: filled before a key counts, and asking again what was refused."""

from collections.abc import Callable
from typing import ClassVar


class AsksAgain:
    """A screen whose wishes may be refused: what was typed for them is then asked for again."""

    title_words: ClassVar[str] = ""
    help_words: ClassVar[str] = ""
    asked_again: Callable[[str], None] | None = None
    """Asks again, with the fault; set while an answer is being taken."""
    is_filled: bool = False
    """Whether it was told what to show; a key typed before that waits, since it may ask for what is shown."""
    is_waiting: bool = False
    """Whether what it shows is still being worked out, and a key waits for that too."""
    is_fresh: bool = False
    """Whether it was told that since it came up and in the window as it is: once is enough."""

    def say(self, words: str, refused: bool = False) -> None:
        """Show words above the rail."""
        raise NotImplementedError
