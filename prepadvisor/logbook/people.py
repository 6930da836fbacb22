"""Who signed an entry, and whether a reason is one: initials are compared as people read them."""

import unicodedata
from collections.abc import Iterable
from typing import Final

_LETTERS_MIN: Final = 5
_KINDS_MIN: Final = 3
_WORTH_OF_A_SIGN: Final = 3
"""A sign of a script that writes words, not sounds, says as much as three letters."""


def person(by: str) -> str:
    """Return initials as they are compared: "K. M." is "km"; empty where nothing can be read in them."""
    plain = unicodedata.normalize("NFKC", by).casefold()
    return "".join(char for char in plain if char.isalnum())


def people(some: Iterable[str]) -> frozenset[str]:
    """Return all whose initials can be read."""
    return frozenset(filter(None, map(person, some)))


def is_reason(note: str) -> bool:
    """Say whether a note gives a reason in words: not "x", not "ok", not "…"."""
    letters = [char for char in unicodedata.normalize("NFKC", note).casefold() if char.isalpha()]
    worth = sum(_WORTH_OF_A_SIGN if unicodedata.category(char) == "Lo" else 1 for char in letters)
    kinds = sum(_WORTH_OF_A_SIGN if unicodedata.category(char) == "Lo" else 1 for char in set(letters))
    return worth >= _LETTERS_MIN and kinds >= _KINDS_MIN
