"""A screen that asks again, with what was typed, where an answer was refused once it was taken."""

from collections.abc import Callable


class AsksAgain:
    """A screen whose wishes may be refused: what was typed for them is then asked for again."""

    asked_again: Callable[[str], None] | None = None
    """Asks again, with the fault; set while an answer is being taken."""
