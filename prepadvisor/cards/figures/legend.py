"""What the lines and patterns of a drawing mean, in rows under it; only what the drawing shows."""

from typing import Final, cast

from prepadvisor.cards.figures.drawing import NEEDS, DrawnPanel, Need
from prepadvisor.cards.figures.figure import Dots, FigureText, Hatch, Mark, Shape, Stroke
from prepadvisor.cards.figures.hatching import DOT_RADIUS_MM, HATCH_PITCH_MM
from prepadvisor.cards.figures.strokes import BED_BORDER, line_marks
from prepadvisor.cards.page.typeface import MM_PER_PT, width_mm

LABEL_PT: Final = 8.0
"""Type size of all words on a drawing."""
CAP: Final = 0.73
"""Height of capitals in parts of the type size."""
LEGEND_ROW_MM: Final = 3.9
ZONE_WORDS: Final = {"colour": "full colour", "fade": "fade", "clear": "clear"}
_SAMPLE_MM: Final = 6.4

LegendRows = list[list[tuple[float, str, str]]]
"""Rows of entries: place from the left in mm, what it is a sample of, its words."""


def legend_rows(drawing: DrawnPanel, room_mm: float) -> LegendRows:
    """Return what the line and zone patterns mean, in rows: place from the left, what, words."""
    entries: list[tuple[str, str]] = [
        (need, NEEDS[need]) for need in NEEDS if any(line.need == need for line in drawing.lines)
    ]
    if drawing.bed is not None:
        entries.append(("bed", "wet bed needed" if drawing.bed_need == "required" else "wet bed advised"))
    zones = {band.zone for band in drawing.zones}
    entries += [(zone, ZONE_WORDS[zone]) for zone in ("colour", "fade") if zone in zones]
    rows: LegendRows = []
    ends: list[float] = []
    for key, text in entries:
        wide = _SAMPLE_MM + 1.2 + width_mm(text, LABEL_PT)
        row = next((index for index, end in enumerate(ends) if end + wide <= room_mm), len(rows))
        if row == len(rows):
            rows.append([])
            ends.append(0.0)
        rows[row].append((ends[row], key, text))
        ends[row] += wide + 2.0
    return rows


def legend_marks(rows: LegendRows, top_mm: float) -> list[Mark]:
    """Return the marks of a legend from a height down."""
    marks: list[Mark] = []
    for index, row in enumerate(rows):
        middle = top_mm + LEGEND_ROW_MM * (index + 0.5)
        for x, key, text in row:
            marks += _sample(key, x + 0.6, x + _SAMPLE_MM, middle)
            base = middle + LABEL_PT * MM_PER_PT * CAP / 2
            marks.append(FigureText((x + _SAMPLE_MM + 1.2, base), text, LABEL_PT))
    return marks


def _sample(key: str, left: float, right: float, middle: float) -> list[Mark]:
    """Return a legend's sample: a piece of line, or a small field of a zone's pattern."""
    ends = ((left, middle), (right, middle))
    if key == "bed":
        return [Shape(ends, BED_BORDER)]
    if key == "fade":
        count = 4
        radii = [
            DOT_RADIUS_MM[0] + (DOT_RADIUS_MM[1] - DOT_RADIUS_MM[0]) * n / (count - 1) for n in range(count)
        ]
        return [Dots(tuple((left + 0.5 + n * 1.6, middle, radius) for n, radius in enumerate(radii)))]
    if key == "colour":
        starts = [left + 0.4 + n * HATCH_PITCH_MM * 2**0.5 for n in range(3)]
        return [Hatch(tuple(((x, middle + 1.2), (x + 1.6, middle - 1.2)) for x in starts), Stroke(0.22))]
    return line_marks(ends, cast("Need", key))
