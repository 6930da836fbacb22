"""Signs of plain ASCII for a terminal whose language has no others: frames, marks, blocks, a cell each."""

import os
import unicodedata
from typing import TYPE_CHECKING, Final

from rich.cells import cell_len
from rich.segment import Segment
from textual.filter import LineFilter

if TYPE_CHECKING:
    from textual.color import Color

_SIGNS: Final = {ord(sign): "+" for sign in "┌┐└┘├┤┬┴┼╔╗╚╝╠╣╦╩╬"} | str.maketrans(
    "─━═│║█▀▄▌▐░▒▓►◄▲▼■□●○√×→←·…–—",
    '--=||#"_||.:#><^v#o*o*x><.~--',
)
"""What stands for the signs that the screens use."""


def writes_blocks() -> bool:
    """Say whether the terminal's encoding has block and box signs, as all but plain ASCII have."""
    settings = (os.environ.get(name) for name in ("LC_ALL", "LC_CTYPE", "LANG"))
    stated = next((setting for setting in settings if setting), "")
    return stated not in {"C", "POSIX"}


class PlainSigns(LineFilter):
    """Puts a sign of ASCII in the place of every other."""

    def apply(self, segments: list[Segment], background: "Color") -> list[Segment]:  # noqa: ARG002
        """Return a line's segments with plain signs."""
        return [
            segment
            if segment.text.isascii()
            else Segment(in_ascii(segment.text), segment.style, segment.control)
            for segment in segments
        ]


def in_ascii(text: str) -> str:
    """Return a text of as many cells in ASCII alone; a letter keeps its base, what has none is a "?"."""
    return "".join(_sign(char) for char in text.translate(_SIGNS))


def _sign(char: str) -> str:
    if char.isascii():
        return char
    base = unicodedata.normalize("NFKD", char)[:1]
    return (base if base.isascii() else "?").ljust(cell_len(char))[: cell_len(char)]
