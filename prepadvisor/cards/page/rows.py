"""The rows of a panel on a page: its drawing on the left, grades and boxes of each place on the right.

Where the drawing stands above them instead, the rows take the whole width.
"""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.block import Block, Extent, Stack, packed, whole
from prepadvisor.cards.page.leaf import Cell, Column, Leaf, LeafTable, PlacedFigure, Run, TableRow, moved
from prepadvisor.cards.page.typeface import Sizes, wrap

if TYPE_CHECKING:
    from prepadvisor.cards.figures.figure import Figure
    from prepadvisor.cards.sheet.record import PanelSheet, PlaceRow

# A panel drawn large above its rows, where a page has the room.

BAND_HEIGHTS_MM: Final = (50.0, 62.0, 75.0, 90.0, 105.0)
"""Greatest heights of a drawing above its rows; where the least has no room, it stands beside them."""


def band_block(figure: "Figure", sizes: Sizes, width_mm: float) -> Block:
    """Return the drawing, which stays with the rows under it."""
    stack = Stack(sizes, width_mm)
    stack.gap(0.8)
    stack.leaves.append(PlacedFigure((width_mm - figure.width_mm) / 2, stack.y, figure))
    stack.gap(figure.height_mm)
    return whole(stack, gap_mm=sizes.gap_mm * 0.6, keep_next=True)


SIDE_MM: Final = 51.0
"""Width of the drawing's column."""
_ROWS_APART_MM: Final = 2.0
_ROW_NUMBER_MM, _ZONES_MM, _HAND_MM, _MACHINE_MM, _TICK_MM = 9.0, 16.8, 19.8, 19.6, 11.2
_TITLES: Final = ("#", "place", "zone", "by hand", "then DA", "scuffed", "powder", "sanded", "LOOK")
_NAME_MM: Final = 38.0
"""With more room than this for the names, the other columns get a share."""
_SHARED: Final = 0.7
_NO_WORK: Final = "-"


def rows_block(panel: "PanelSheet", figure: "Figure | None", again: Stack, width_mm: float) -> Block:
    """Return a panel's drawing and rows; every place has its row, over as many pages as it takes.

    Args:
        panel: the panel.
        figure: its drawing; without one the rows stand alone.
        again: the heading that stands above rows that go on on another page.
        width_mm: the width of the page's room.
    """
    sizes = again.sizes
    at = SIDE_MM + _ROWS_APART_MM if figure else 0.0
    columns = _columns(width_mm - at)
    rows = [_row(row, columns, sizes) for row in panel.rows]
    tail = _tail(panel, sizes, width_mm - at)
    order = _side(figure, sizes) if figure else Stack(sizes, 0.0)
    head_mm = sizes.line_mm(8.0) + 0.8
    heights = [row.height_mm + row.note_mm for row in rows] + [stack.y for stack in tail]
    heights[-1] += sizes.gap_mm

    def build(start: int, stop: int) -> tuple[Leaf, ...]:
        leaves: list[Leaf] = list(again.leaves) if start else list(order.leaves)
        y = again.y + 0.8 if start else 0.0
        shown = tuple(rows[start : min(stop, len(rows))])
        if shown:
            title = f"{panel.letter} {panel.heading}: places, grades and checks"
            table = LeafTable(
                x=at,
                y=y,
                title=title,
                columns=columns,
                head_mm=head_mm,
                head_pt=8.0,
                rows=shown,
                note_pt=sizes.small_pt,
                note_line_mm=sizes.line_mm(sizes.small_pt),
            )
            leaves.append(table)
            y += table.height_mm
        for stack in tail[max(0, start - len(rows)) : max(0, stop - len(rows))]:
            leaves += [moved(leaf, at, y) for leaf in stack.leaves]
            y += stack.y
        return tuple(leaves)

    side_mm = order.y + sizes.gap_mm
    return Block(Extent(head_mm, tuple(heights), again.y + 0.8 + head_mm, side_mm, keep_rows=2), build)


def _columns(width_mm: float) -> tuple[Column, ...]:
    """Return the columns: what is over the least width goes to all, most of it to the names."""
    fixed = (_ROW_NUMBER_MM, _ZONES_MM, _HAND_MM, _MACHINE_MM, *[_TICK_MM] * 4)
    over = max(0.0, width_mm - sum(fixed) - _NAME_MM)
    more = over * _SHARED / len(fixed)
    number, zones, hand, machine, *ticks = (wide + more for wide in fixed)
    place = width_mm - number - zones - hand - machine - sum(ticks)
    words = [
        Column(title, wide)
        for title, wide in zip(_TITLES, (number, place, zones, hand, machine), strict=False)
    ]
    return (*words, *(Column(title, wide, "middle") for title, wide in zip(_TITLES[5:], ticks, strict=True)))


def _row(row: "PlaceRow", columns: tuple[Column, ...], sizes: Sizes) -> TableRow:
    line_mm = sizes.line_mm(sizes.body_pt)
    name = wrap(row.name, columns[1].width_mm - 1.0, sizes.body_pt, bold=True)
    zones = wrap(row.zones, columns[2].width_mm - 0.8, sizes.small_pt)
    cells = (
        _words((row.number,), sizes.body_pt, sizes, bold=True),
        _words(name, sizes.body_pt, sizes, bold=True),
        _words(zones, sizes.small_pt, sizes),
        _grade(row.hand, "*" if row.hand_or_finer else "", sizes),
        _grade(row.machine, row.mark, sizes),
        *(Cell(box=box) for box in (row.scuffed, row.powder, row.sanded, row.look)),
    )
    room = sum(column.width_mm for column in columns[1:])
    notes = tuple(line for note in row.notes for line in wrap(f"^ {note}", room - 1.0, sizes.small_pt))
    note_mm = sizes.line_mm(sizes.small_pt) * len(notes) + 0.8 if notes else 0.0
    high = max(sizes.row_mm, line_mm * max(len(name), len(zones)) + 0.8)
    return TableRow(high, cells, notes, note_mm, row.stop)


def _words(lines: tuple[str, ...], size_pt: float, sizes: Sizes, *, bold: bool = False) -> Cell:
    return Cell(tuple((Run(line, size_pt, bold),) for line in lines), sizes.line_mm(size_pt))


def _grade(grade: str, sign: str, sizes: Sizes) -> Cell:
    if grade == _NO_WORK:
        return Cell(((Run(grade, sizes.body_pt),),), sizes.line_mm(sizes.body_pt))
    runs = (Run(grade, sizes.grade_pt, bold=True), *((Run(sign, 9.0, bold=True),) if sign else ()))
    return Cell((runs,), min(sizes.row_mm - 0.4, sizes.line_mm(sizes.grade_pt)))


def _tail(panel: "PanelSheet", sizes: Sizes, width_mm: float) -> list[Stack]:
    """Return what stands under the rows: signs explained, and notes."""
    small = [*panel.legend, *(f"note: {note}" for note in panel.notes), panel.film]
    drills = [f"{drill.case} {drill.says}" for drill in panel.drills]
    stacks = []
    for text, bold in [
        *((text, True) for text in drills),
        *((text, False) for text in packed([text for text in small if text], sizes, width_mm, joint=" · ")),
    ]:
        stack = Stack(sizes, width_mm, y=0.3)
        stack.text(text, sizes.body_pt if bold else sizes.small_pt, bold=bold)
        stacks.append(stack)
    return stacks


def _side(figure: "Figure", sizes: Sizes) -> Stack:
    """Return what stands beside the rows: the drawing."""
    stack = Stack(sizes, SIDE_MM)
    stack.leaves.append(PlacedFigure(0.0, 0.0, figure))
    stack.gap(figure.height_mm + 0.6)
    return stack
