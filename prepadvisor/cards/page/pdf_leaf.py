"""Prints one leaf of a page into a PDF at its place."""

from typing import Final

from fpdf import FPDF

from prepadvisor.cards.figures.figure import Paint
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
from prepadvisor.cards.page.sizes import BOX_MM
from prepadvisor.cards.page.typeface import width_mm
from prepadvisor.cards.sheet.record import BoxState

_BOX_LINE_MM: Final = 0.35
_ROW_LINE_MM: Final = 0.18
_HEAD_LINE_MM: Final = 0.5
_TICK_PT: Final = 13.0
_WORDS_FROM_BOX_MM: Final = 1.4
_SIGNS: Final[dict[BoxState, str]] = {"done": "✓", "held": "!"}


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
    bold: bool = False, align: Align = "left", paint: Paint = "black",
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


def _box(pdf: FPDF, x: float, y: float, box: BoxState) -> None:
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
