"""Text in columns: how wide a string is on a terminal or printer, and lines laid out by that width."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from typing import Final

from prepadvisor.records import NamedTuple

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
    for word in _fitting(_WORD.findall(text), columns - max(width(first), width(rest))):
        joint = "" if empty else " "
        if not empty and width(line) + len(joint) + width(word) > columns:
            lines.append(line)
            line, joint = rest, ""
        line, empty = line + joint + word, False
    return [*lines, line.rstrip()]


_WORD: Final = re.compile(
    r"\S+(?:(?<=[\d_]) (?:mm|in|um|mil|ml|min|h|ft2|m2)\b\S*|(?<=\d) \d{3}\b\S*|(?<=\b[A-Z]) [\d_]\S*)*"
)
"""A word, with the unit, the other thousands or the blank to fill in that no line end may part from it."""


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


# What a page of text says, line by line, before anybody knows how wide it is; laid out in one go at its end.


class Wrapped(NamedTuple):
    """Words in as many lines as they need, and what the first line and the others start with."""

    says: str
    first: str = ""
    rest: str = ""


class Flowing(NamedTuple):
    """Items side by side, each kept whole where it fits, with a gap between."""

    items: tuple[str, ...]
    first: str = ""
    rest: str = ""
    gap: str = "  "


class SideBySide(NamedTuple):
    """Blocks of wrapped words next to one another, all of one width."""

    blocks: tuple[tuple[Wrapped, ...], ...]


class Listed(NamedTuple):
    """One row of a table: cells, boxes under their heads, and notes below it."""

    cells: tuple[str, ...]
    boxes: tuple[str, ...]
    notes: tuple[str, ...] = ()


class RowGrid(NamedTuple):
    """Rows under their heads; the cell at `wide` is wrapped into what the others leave it.

    Dots lead the eye from a row's first box to its last.
    """

    heads: tuple[str, ...]
    box_heads: tuple[str, ...]
    rows: tuple[Listed, ...]
    wide: int
    wide_least: int


Laid = str | Wrapped | Flowing | SideBySide | RowGrid
"""A part of a page of text; a string is a line as it stands."""


def laid_out(parts: Iterable[Laid], columns: int) -> Iterator[str]:
    """Return the lines of a page of text, none ending in blanks."""
    for part in parts:
        match part:
            case str():
                yield part
            case Wrapped():
                yield from wrap(part.says, columns, first=part.first, rest=part.rest)
            case Flowing():
                yield from flow(part.items, columns, first=part.first, rest=part.rest, gap=part.gap)
            case SideBySide():
                yield from _beside(part, columns)
            case RowGrid():
                yield from _table(part, columns)


def _beside(part: SideBySide, columns: int) -> list[str]:
    each = columns // max(1, len(part.blocks))
    blocks = [
        [line for one in block for line in wrap(one.says, each - 1, first=one.first, rest=one.rest)]
        for block in part.blocks
    ]
    return side_by_side(blocks, each)


def _table(table: RowGrid, columns: int) -> Iterator[str]:
    widths = [
        max([width(head), *(width(row.cells[at]) for row in table.rows)])
        for at, head in enumerate(table.heads)
    ]
    boxes = sum(width(head) + 1 for head in table.box_heads)
    others = sum(widths) - widths[table.wide]
    widths[table.wide] = max(table.wide_least, columns - boxes - others - len(widths))
    yield " " + " ".join((*map(pad, table.heads, widths), *table.box_heads))
    indent = " " * (sum(each + 1 for each in widths[: table.wide]) + 1)
    for row in table.rows:
        first, *more = wrap(row.cells[table.wide], widths[table.wide])
        cells = (*row.cells[: table.wide], first, *row.cells[table.wide + 1 :])
        yield f" {' '.join(map(pad, cells, widths))} {_led(row.boxes, table.box_heads)}"
        yield from (indent + line for line in more)
        for note in row.notes:
            yield from wrap(note, columns, first=f"{indent}^ ", rest=f"{indent}  ")


def _led(boxes: tuple[str, ...], heads: tuple[str, ...]) -> str:
    """Return the boxes of a row under their heads, with dots that lead the eye from the first to the last."""
    line = " ".join(box.center(len(head)) for box, head in zip(boxes, heads, strict=True))
    start, end = len(line) - len(line.lstrip()), len(line.rstrip())
    return line[:start] + line[start:end].replace(" ", ".")
