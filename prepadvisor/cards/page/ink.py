"""Draws the marks of a drawing into a PDF, in the same millimetres as everywhere else."""

from itertools import pairwise
from math import hypot
from unicodedata import bidirectional

from fpdf import FPDF
from fpdf.bidi import BidiParagraph
from fpdf.enums import TextDirection

from prepadvisor.cards.figures.figure import Dots, Figure, FigureText, Hatch, Paint, PointMm, Shape, Stroke
from prepadvisor.cards.page.typeface import MM_PER_PT, printable, width_mm

# Cuts a line into the pieces of its dash pattern, for a printer language that knows only plain lines.


def dash_pieces(points: tuple[PointMm, ...], pattern: tuple[float, ...]) -> list[tuple[PointMm, ...]]:
    """Return the drawn pieces of a polyline; a dash of length 0 is a piece of one point.

    Args:
        points: the polyline, in mm.
        pattern: lengths of dash, gap, dash, gap … in mm, begun again at its end; at least one above 0.
    """
    if not pattern:
        return [points]
    lengths = pattern if len(pattern) % 2 == 0 else pattern * 2
    pieces: list[tuple[PointMm, ...]] = []
    piece: list[PointMm] = [points[0]]
    index, left = 0, lengths[0]
    for (x1, y1), (x2, y2) in pairwise(points):
        length, done = hypot(x2 - x1, y2 - y1), 0.0
        while length - done > left:
            done += left
            at = (x1 + (x2 - x1) * done / length, y1 + (y2 - y1) * done / length)
            if index % 2 == 0:
                pieces.append((*piece, at) if lengths[index] else (at,))
            piece = [at]
            index = (index + 1) % len(lengths)
            left = lengths[index]
        left -= length - done
        piece.append((x2, y2))
    if index % 2 == 0 and len(piece) > 1 and lengths[index]:
        pieces.append(tuple(piece))
    return pieces


FAMILY = "Card"
_GREY = {"black": 0, "white": 255}


def draw(pdf: FPDF, figure: Figure, x: float, y: float) -> None:
    """Draw a figure with its top left corner at a place of the page, in mm."""

    def at(point: PointMm) -> PointMm:
        return (x + point[0], y + point[1])

    for mark in figure.marks:
        if isinstance(mark, Shape):
            _shape(pdf, mark, [at(point) for point in mark.points])
        elif isinstance(mark, Hatch):
            _pen(pdf, mark.stroke)
            for start, end in mark.pieces:
                pdf.line(*at(start), *at(end))
        elif isinstance(mark, Dots):
            pdf.set_fill_color(_GREY.get(mark.paint, 0))
            for across, down, radius in mark.discs:
                pdf.circle(x + across, y + down, radius, style="F")
        else:
            _words(pdf, mark, at(mark.at))


def _shape(pdf: FPDF, mark: Shape, points: list[PointMm]) -> None:
    if mark.fill != "none":
        pdf.set_fill_color(_GREY[mark.fill])
    if mark.stroke:
        _pen(pdf, mark.stroke)
    if mark.closed:
        style = ("D" if mark.stroke else "") + ("F" if mark.fill != "none" else "")
        if style:
            pdf.polygon(points, style=style)
    elif mark.stroke:
        for piece in dash_pieces(tuple(points), mark.stroke.dash_mm):
            if len(piece) > 1:
                pdf.polyline(list(piece))
            else:
                pdf.set_fill_color(_GREY.get(mark.stroke.paint, 0))
                pdf.circle(*piece[0], mark.stroke.width_mm / 2, style="F")


def _pen(pdf: FPDF, stroke: Stroke) -> None:
    pdf.set_line_width(stroke.width_mm)
    pdf.set_draw_color(_GREY.get(stroke.paint, 0))


def _words(pdf: FPDF, mark: FigureText, at: PointMm) -> None:
    text = in_print_order(mark.text)
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
    ink(pdf, mark.paint)
    pdf.set_font(FAMILY, "B" if mark.bold else "", mark.size_pt)
    pdf.text(at[0] - share * width_mm(text, mark.size_pt, mark.bold), at[1], text)


def in_print_order(text: str) -> str:
    """Return a text as a PDF sets it, from left to right: right-to-left turned, lacking signs marked."""
    shown = printable(text)
    if not any(bidirectional(char) in {"R", "AL"} for char in shown):
        return shown
    return BidiParagraph(shown, TextDirection.LTR).get_reordered_string()


def ink(pdf: FPDF, paint: Paint) -> None:
    """Set the colour of text."""
    pdf.set_text_color(_GREY.get(paint, 0))


def baseline_mm(line_mm: float, size_pt: float) -> float:
    """Return how far under the top of a line its base line is, as a browser sets it for this typeface."""
    ascent, descent = 0.928, 0.236
    return line_mm / 2 + (ascent - descent) / 2 * size_pt * MM_PER_PT
