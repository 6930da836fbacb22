"""How wide a text prints and breaks, by the card's own fonts; papers and the sizes a page is set in.

The page layout must know every height before anything is printed, so lines are broken here and nowhere else.
Format of the font file: ISO/IEC 14496-22 (OpenType), tables head, hhea, hmtx and cmap format 12.
"""

import struct
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from prepadvisor.records import NamedTuple

FONTS: Final[Path] = Path(__file__).parent / "fonts"
MM_PER_PT: Final[float] = 25.4 / 72
"""One point in millimetres (1/72 inch)."""
STAND_IN: Final[str] = "▯"
"""Printed by a PDF for a character the typeface lacks."""
_WIDE_EM: Final[float] = 1.4
_OTHER_SCRIPT_FACTOR: Final[float] = 1.2


class Typeface:
    """The widths of one font file, in parts of the type size."""

    def __init__(self, path: Path) -> None:
        """Read the font's width tables; a damaged file raises ValueError or struct.error."""
        data = path.read_bytes()
        count = struct.unpack_from(">H", data, 4)[0]
        tables = {}
        for entry in range(count):
            tag, _, offset, _ = struct.unpack_from(">4sLLL", data, 12 + 16 * entry)
            tables[tag] = offset
        self._em = struct.unpack_from(">H", data, tables[b"head"] + 18)[0]
        metrics = struct.unpack_from(">H", data, tables[b"hhea"] + 34)[0]
        self._advances = struct.unpack_from(">" + "Hh" * metrics, data, tables[b"hmtx"])[::2]
        self._glyphs = _glyphs(data, tables[b"cmap"])

    def has(self, char: str) -> bool:
        """Say whether the font has a glyph for this character."""
        return ord(char) in self._glyphs

    def em(self, char: str) -> float:
        """Return a character's width in parts of the type size; a generous guess for one it lacks."""
        glyph = self._glyphs.get(ord(char))
        if unicodedata.combining(char):
            return 0.0
        if glyph is None:
            return _WIDE_EM
        width = self._advances[min(glyph, len(self._advances) - 1)] / self._em
        return float(
            width if ord(char) < 0x530 or 0x2000 <= ord(char) < 0x2800 else width * _OTHER_SCRIPT_FACTOR
        )


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    for entry in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        offset = cmap + struct.unpack_from(">L", data, cmap + 8 + 8 * entry)[0]
        if struct.unpack_from(">H", data, offset)[0] == 12:
            groups = struct.unpack_from(">L", data, offset + 12)[0]
            words = struct.unpack_from(f">{3 * groups}L", data, offset + 16)
            return {
                code: glyph + code - first
                for first, last, glyph in zip(words[::3], words[1::3], words[2::3], strict=True)
                for code in range(first, last + 1)
            }
    raise ValueError("the font has no cmap of format 12")


@lru_cache(maxsize=2)
def typeface(bold: bool = False) -> Typeface:
    """Return the card's regular or bold face."""
    return Typeface(FONTS / f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf")


@lru_cache(maxsize=4096)
def _em(char: str, bold: bool) -> float:
    return typeface(bold).em(char)


def width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """Return how wide one line of text prints in mm."""
    return sum(_em(char, bold) for char in text) * size_pt * MM_PER_PT


def wrap(text: str, room_mm: float, size_pt: float, bold: bool = False) -> tuple[str, ...]:
    """Break a text into lines no wider than `room_mm`; nothing is lost, and ids without blanks stay whole.

    A word that is wider than a whole line is broken between letters. An empty text is one empty line.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_mm(longer, size_pt, bold) <= room_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, room_mm, size_pt, bold)
        lines.extend(full)
    return (*lines, line) if line or not lines else tuple(lines)


def _broken(word: str, room_mm: float, size_pt: float, bold: bool) -> list[str]:
    pieces = [""]
    for char in word:
        if pieces[-1] and width_mm(pieces[-1] + char, size_pt, bold) > room_mm:
            pieces.append("")
        pieces[-1] += char
    return pieces


def printable(text: str) -> str:
    """Return the text with `STAND_IN` for each character that the typeface lacks."""
    face = typeface()
    return "".join("" if _joins(char) else char if face.has(char) else STAND_IN for char in text)


def _joins(char: str) -> bool:
    """Say whether a character only joins or varies its neighbours, which is no sign of its own to print."""
    return unicodedata.category(char) == "Cf" or 0xFE00 <= ord(char) <= 0xFE0F


# Papers and the sizes a page is set in: normal, and smaller ones where they save a sheet.
#
# Tick boxes are 6 mm in all, for a pen held in a glove; no type is under 8 pt; the big answers and the
# grades in the rows are 15 pt at least. A4: ISO 216; Letter: ANSI/ASME Y14.1, 8.5 by 11 inch.

PaperName = Literal["a4", "letter"]
BOX_MM: Final = 6.0
LEAST_PT: Final = 8.0


class Paper(NamedTuple):
    """A sheet of paper: its name in CSS, its size and the margin of the printed area, in mm."""

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 7.5

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height of the printed area."""
        return (self.width_mm - 2 * self.margin_mm, self.height_mm - 2 * self.margin_mm)


PAPERS: Final[dict[str, Paper]] = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("letter", 215.9, 279.4)}


class Sizes(NamedTuple):
    """Type sizes in points, heights and gaps in mm."""

    name: str
    body_pt: float
    small_pt: float
    head_pt: float
    title_pt: float
    big_pt: float
    grade_pt: float
    row_mm: float
    tick_mm: float
    gap_mm: float
    figure_max_mm: float
    leading: float

    def line_mm(self, size_pt: float) -> float:
        """Return the distance of two lines of a type size."""
        return size_pt * MM_PER_PT * self.leading


NORMAL: Final = Sizes(
    name="normal",
    body_pt=9.5,
    small_pt=8.5,
    head_pt=22,
    title_pt=15,
    big_pt=28,
    grade_pt=15,
    row_mm=8.0,
    tick_mm=7.4,
    gap_mm=2.4,
    figure_max_mm=60,
    leading=1.22,
)
MIDDLE: Final = Sizes(
    name="middle",
    body_pt=8.6,
    small_pt=8,
    head_pt=19,
    title_pt=13,
    big_pt=23,
    grade_pt=15,
    row_mm=7.0,
    tick_mm=6.8,
    gap_mm=1.5,
    figure_max_mm=44,
    leading=1.18,
)
COMPACT: Final = Sizes(
    name="compact",
    body_pt=8,
    small_pt=8,
    head_pt=17,
    title_pt=12,
    big_pt=20,
    grade_pt=15,
    row_mm=6.3,
    tick_mm=6.2,
    gap_mm=0.8,
    figure_max_mm=36,
    leading=1.12,
)
SIZES: Final = (NORMAL, MIDDLE, COMPACT)
"""In the order in which they are tried."""
