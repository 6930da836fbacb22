"""Text from files and file names made harmless for a screen: one line, no control or direction characters."""

import unicodedata
from typing import Final

_UNPRINTABLE: Final = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})


def plain(text: str) -> str:
    """Return text with every invisible or controlling character shown as a question mark."""
    if text.isascii() and text.isprintable():
        return text
    return "".join("?" if unicodedata.category(char) in _UNPRINTABLE else char for char in text)


def shortened(text: str, width: int) -> str:
    """Return text cut to so many characters, its end shown as "…"."""
    return text if len(text) <= width else f"{text[: max(width - 1, 0)]}…"


def flowing(text: str) -> str:
    """Return paragraphs, which blank lines part, with their lines joined, to be wrapped to any width."""
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))
