"""The card as a PDF: the same pages as in HTML, with the typeface embedded so that any name prints.

Needs fpdf2, which comes with the extra `prepadvisor[pdf]`. A right-to-left name is turned into reading order,
its letters are not joined; a sign that the typeface lacks stands as an empty box.
"""

import datetime as dt
import logging
from collections.abc import Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from fpdf import FPDF
from fpdf.fonts import TTFFont

from prepadvisor.cards.page.ink import FAMILY, baseline_mm, draw, in_print_order, ink
from prepadvisor.cards.page.leaf import (
    Align,
    Cell,
    Leaf,
    LeafTable,
    LevelLine,
    PlacedFigure,
    Rectangle,
    TableRow,
    TextLines,
    TickLine,
    largest_pt,
)
from prepadvisor.cards.page.typeface import BOX_MM, FONTS, PaperName, printable, width_mm
from prepadvisor.version import __version__

if TYPE_CHECKING:
    from collections.abc import Iterator

    from prepadvisor.cards.figures.figure import Paint
    from prepadvisor.cards.page.pages import Pages, PrintedPage
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.cards.sheet.record import BoxState


# Prints one leaf of a page into a PDF at its place.

_BOX_LINE_MM: Final = 0.35
_ROW_LINE_MM: Final = 0.18
_HEAD_LINE_MM: Final = 0.5
_TICK_PT: Final = 13.0
_WORDS_FROM_BOX_MM: Final = 1.4
_SIGNS: Final[dict["BoxState", str]] = {"done": "✓", "held": "!"}


def print_leaf(pdf: FPDF, leaf: Leaf) -> None:
    """Print a leaf; nothing is broken or measured anew here."""
    if isinstance(leaf, TextLines):
        _lines(
            pdf,
            leaf.x,
            leaf.y,
            room=leaf.width_mm,
            lines=leaf.lines,
            size_pt=leaf.size_pt,
            line_mm=leaf.line_mm,
            bold=leaf.bold,
            align=leaf.align,
            paint=leaf.paint,
        )
    elif isinstance(leaf, TickLine):
        _tick_line(pdf, leaf)
    elif isinstance(leaf, LevelLine):
        _filled(pdf, leaf.x, leaf.y, leaf.width_mm, leaf.weight_mm)
    elif isinstance(leaf, Rectangle):
        if leaf.fill == "black":
            _filled(pdf, leaf.x, leaf.y, leaf.width_mm, leaf.height_mm)
        elif leaf.weight_mm:
            _border(pdf, leaf.x, leaf.y, wide=leaf.width_mm, high=leaf.height_mm, weight=leaf.weight_mm)
    elif isinstance(leaf, PlacedFigure):
        draw(pdf, leaf.figure, leaf.x, leaf.y)
    else:
        _table(pdf, leaf)


def _filled(pdf: FPDF, x: float, y: float, wide: float, high: float) -> None:
    pdf.set_fill_color(0)
    pdf.rect(x, y, wide, high, style="F")


def _border(pdf: FPDF, x: float, y: float, wide: float, high: float, weight: float) -> None:
    """Draw a border inside a rectangle, as CSS does."""
    pdf.set_draw_color(0)
    pdf.set_line_width(weight)
    pdf.rect(x + weight / 2, y + weight / 2, wide - weight, high - weight)


def _run(pdf: FPDF, x: float, baseline: float, text: str, size_pt: float, bold: bool) -> float:
    shown = in_print_order(text)
    pdf.set_font(FAMILY, "B" if bold else "", size_pt)
    if shown:
        pdf.text(x, baseline, shown)
    return width_mm(text, size_pt, bold)


def _lines(
    pdf: FPDF, x: float, y: float, room: float, lines: tuple[str, ...], size_pt: float, line_mm: float,
    bold: bool = False, align: Align = "left", paint: "Paint" = "black",
) -> None:  # fmt: skip
    ink(pdf, paint)
    share = {"left": 0.0, "middle": 0.5, "right": 1.0}[align]
    for number, line in enumerate(lines):
        start = x + share * (room - width_mm(line, size_pt, bold))
        _run(
            pdf,
            start,
            y + number * line_mm + baseline_mm(line_mm, size_pt),
            text=line,
            size_pt=size_pt,
            bold=bold,
        )


def _tick_line(pdf: FPDF, leaf: TickLine) -> None:
    _box(pdf, leaf.x, leaf.y + (leaf.height_mm - BOX_MM) / 2, leaf.box)
    top = leaf.y + (leaf.height_mm - leaf.line_mm * len(leaf.lines)) / 2
    at = BOX_MM + _WORDS_FROM_BOX_MM
    _lines(
        pdf,
        leaf.x + at,
        top,
        room=leaf.width_mm - at,
        lines=leaf.lines,
        size_pt=leaf.size_pt,
        line_mm=leaf.line_mm,
    )


def _box(pdf: FPDF, x: float, y: float, box: "BoxState") -> None:
    ink(pdf, "black")
    if box == "none":
        _lines(pdf, x, y, room=BOX_MM, lines=("–",), size_pt=9.0, line_mm=BOX_MM, align="middle")
        return
    _border(pdf, x, y, wide=BOX_MM, high=BOX_MM, weight=_BOX_LINE_MM)
    if box in _SIGNS:
        _lines(
            pdf,
            x,
            y,
            room=BOX_MM,
            lines=(_SIGNS[box],),
            size_pt=_TICK_PT,
            line_mm=BOX_MM,
            bold=True,
            align="middle",
        )


def _table(pdf: FPDF, table: LeafTable) -> None:
    x = table.x
    for column in table.columns:
        line_mm = table.head_mm - 0.6
        _lines(
            pdf,
            x,
            table.y,
            room=column.width_mm,
            lines=(column.title,),
            size_pt=table.head_pt,
            line_mm=line_mm,
            bold=True,
            align=column.align,
        )
        x += column.width_mm
    y = table.y + table.head_mm
    _filled(pdf, table.x, y - _HEAD_LINE_MM, table.width_mm, _HEAD_LINE_MM)
    for row in table.rows:
        _row(pdf, table, row, y)
        y += row.height_mm + row.note_mm
        _filled(pdf, table.x, y - _ROW_LINE_MM, table.width_mm, _ROW_LINE_MM)


def _row(pdf: FPDF, table: LeafTable, row: TableRow, y: float) -> None:
    x = table.x
    for column, cell in zip(table.columns, row.cells, strict=True):
        _cell(pdf, cell, x, y=y, wide=column.width_mm, high=row.height_mm, align=column.align)
        x += column.width_mm
    if row.note:
        at = sum(column.width_mm for column in table.columns[: table.note_from])
        room = table.width_mm - at
        _lines(
            pdf,
            table.x + at,
            y + row.height_mm,
            room=room,
            lines=row.note,
            size_pt=table.note_pt,
            line_mm=table.note_line_mm,
        )


def _cell(pdf: FPDF, cell: Cell, x: float, y: float, wide: float, high: float, align: Align) -> None:
    if cell.box:
        _box(pdf, x + (wide - BOX_MM) / 2, y + (high - BOX_MM) / 2, cell.box)
        return
    top = y + (high - cell.line_mm * len(cell.lines)) / 2
    ink(pdf, "black")
    for number, runs in enumerate(cell.lines):
        base = top + number * cell.line_mm + baseline_mm(cell.line_mm, largest_pt(cell))
        length = sum(width_mm(run.text, run.size_pt, run.bold) for run in runs)
        at = x if align == "left" else x + (wide - length) / (2 if align == "middle" else 1)
        for run in runs:
            at += _run(pdf, at, base, text=run.text, size_pt=run.size_pt, bold=run.bold)


_TITLES_MAX: Final = 3
_UNDATED: Final = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)


def write_pdf(
    jobs: Sequence["Papers"],
    *,
    paper: PaperName = "a4",
    sheets: str = "first",
    made_at: dt.datetime | None = None,
) -> bytes:
    """Return the cards of one or more jobs as one PDF, with a bookmark for each job where there are several.

    Args:
        jobs: what each job's card is made from.
        paper: the paper.
        sheets: "all" adds the sheet that shows why.
        made_at: the time written into the file; without it the first job's date, so that the same card is the
            same bytes.
    """
    from prepadvisor.cards.page.set_card import set_card

    cards = [set_card(papers, paper=paper, sheets=sheets) for papers in jobs]
    day = next((papers.job.job.date for papers in jobs if papers.job.job.date), None)
    dated = dt.datetime(day.year, day.month, day.day, tzinfo=dt.UTC) if day else _UNDATED
    return pdf_card(cards, made_at or dated)


def pdf_card(cards: Sequence["Pages"], made_at: dt.datetime = _UNDATED) -> bytes:
    """Return cards that are set on pages as one PDF."""
    pdf = _Document(unit="mm")
    pdf.set_auto_page_break(auto=False)
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.add_font(FAMILY, "", FONTS / "DejaVuSansCondensed.ttf")
    pdf.add_font(FAMILY, "B", FONTS / "DejaVuSansCondensed-Bold.ttf")
    pdf.set_lang("en")
    pdf.set_title(printable(_title(cards)))
    pdf.set_subject("How to prepare the panels of a paint job")
    pdf.set_creator(f"prepadvisor {__version__}")
    pdf.set_creation_date(made_at)
    with _quiet():
        for card in cards:
            for number, page in enumerate(card.pages):
                pdf.add_page(format=(card.paper.width_mm, card.paper.height_mm))
                pdf.end_lines_flat()
                if number == 0 and len(cards) > 1:
                    pdf.start_section(printable(card.title))
                _page(pdf, page)
        whole = bytes(pdf.output())
    pdf.close_fonts()
    return whole


def _title(cards: Sequence["Pages"]) -> str:
    """Return the title of a file: its jobs, or how many where a window's title would not hold them."""
    if len(cards) > _TITLES_MAX:
        return f"Prep cards of {len(cards)} jobs"
    return " / ".join(card.title for card in cards)


class _Document(FPDF):
    """A PDF whose lines end where they end; fpdf2 lets them reach half a width on."""

    def end_lines_flat(self) -> None:
        """Set butt line ends and mitred corners for the page that was just begun (ISO 32000-1, 8.4.3)."""
        self._out("0 J 0 j")

    def close_fonts(self) -> None:
        """Close the font files, which fpdf2 leaves open."""
        for font in self.fonts.values():
            if isinstance(font, TTFFont):
                font.close()


def _page(pdf: FPDF, page: "PrintedPage") -> None:
    for leaf in page.leaves:
        print_leaf(pdf, leaf)


@contextmanager
def _quiet() -> "Iterator[None]":
    """Keep the font tools' notes on what they leave out of a font off the screen."""
    logger = logging.getLogger("fontTools")
    level = logger.level
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        logger.setLevel(level)
