"""Text in columns: how wide a string is on a terminal or printer, wrapping and padding by that width."""

import unicodedata
from collections.abc import Iterable
from typing import Final

_ZERO_WIDTH: Final = frozenset({"Mn", "Me", "Cf"})
_HEADROOM: Final = 0x1F000
"""Signs from here on, emoji among them, are counted two columns wide where the tables call them neutral."""


def width(text: str) -> int:
    """Return how many columns a string takes: wide East Asian letters and emoji two, combining marks none."""
    return len(text) if text.isascii() else sum(map(_char_width, text))


def _char_width(char: str) -> int:
    if unicodedata.category(char) in _ZERO_WIDTH:
        return 0
    wide = unicodedata.east_asian_width(char) in "WF" or ord(char) >= _HEADROOM
    return 2 if wide else 1


def pad(text: str, columns: int) -> str:
    """Return a string filled with blanks to a width; a longer one is returned as it is."""
    return text + " " * max(0, columns - width(text))


def wrap(text: str, columns: int, *, first: str = "", rest: str = "") -> list[str]:
    """Return a string in lines of at most so many columns; a word longer than a line is broken, never lost.

    Args:
        text: words with single blanks between; other white space counts as one blank.
        columns: width of a line, more than that of `first` and `rest`.
        first: what the first line starts with.
        rest: what the other lines start with.
    """
    lines: list[str] = []
    line, empty = first, True
    for word in _fitting(text.split(), columns - max(width(first), width(rest))):
        joint = "" if empty else " "
        if not empty and width(line) + len(joint) + width(word) > columns:
            lines.append(line)
            line, joint = rest, ""
        line, empty = line + joint + word, False
    return [*lines, line.rstrip()]


def _fitting(text_words: Iterable[str], columns: int) -> Iterable[str]:
    for word in text_words:
        while width(word) > columns:
            cut = _longest_prefix(word, columns)
            yield word[:cut]
            word = word[cut:]
        yield word


def _longest_prefix(word: str, columns: int) -> int:
    taken = 0
    for index, char in enumerate(word):
        taken += _char_width(char)
        if taken > columns:
            return max(index, 1)
    return len(word)


def flow(
    items: Iterable[str], columns: int, *, first: str = "", rest: str = "", gap: str = "  "
) -> list[str]:
    """Return items side by side in lines, each kept whole where it fits in a line of its own."""
    lines: list[str] = []
    line, empty = first, True
    for item in items:
        if not empty and width(line) + len(gap) + width(item) > columns:
            lines.append(line)
            line, empty = rest, True
        if empty and width(line) + width(item) > columns:
            *full, last = wrap(item, columns, first=line, rest=rest)
            lines += full
            line, empty = last, False
            continue
        line, empty = line + ("" if empty else gap) + item, False
    return [*lines, line.rstrip()]


def side_by_side(blocks: Iterable[list[str]], columns: int) -> list[str]:
    """Return blocks of lines next to one another, each so many columns wide."""
    kept = [list(block) for block in blocks]
    height = max((len(block) for block in kept), default=0)
    filled = [[*block, *[""] * (height - len(block))] for block in kept]
    return ["".join(pad(line, columns) for line in lines).rstrip() for lines in zip(*filled, strict=True)]
