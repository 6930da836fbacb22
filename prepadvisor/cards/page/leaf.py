"""What a printed page is made of: words, tick boxes, rules, frames, drawings, tables, each at its place.

A HTML page and a PDF page are drawn from the same leaves, so they cannot differ in what they say or where it
is. Places are measured from the left and the top of the printed area; lines of text are already broken.
"""

from typing import TYPE_CHECKING, Literal

from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.cards.figures.figure import Figure, Paint
    from prepadvisor.cards.sheet.record import BoxState

Tag = Literal["h1", "h2", "h3", "p"]
Align = Literal["left", "middle", "right"]


class TextLines(NamedTuple):
    """Lines of one size; `tag` says what they are to a reader that cannot see the page."""

    x: float
    y: float
    width_mm: float
    lines: tuple[str, ...]
    size_pt: float
    line_mm: float
    bold: bool = False
    tag: Tag = "p"
    align: Align = "left"
    paint: "Paint" = "black"


class TickLine(NamedTuple):
    """A tick box with its words beside it; the box is centred on the height."""

    x: float
    y: float
    width_mm: float
    height_mm: float
    box: "BoxState"
    lines: tuple[str, ...]
    size_pt: float
    line_mm: float


class LevelLine(NamedTuple):
    """A straight level line, to part two things or to write on."""

    x: float
    y: float
    width_mm: float
    weight_mm: float


class Rectangle(NamedTuple):
    """A rectangle, drawn as a border or filled."""

    x: float
    y: float
    width_mm: float
    height_mm: float
    weight_mm: float
    fill: "Paint" = "none"


class PlacedFigure(NamedTuple):
    """A drawing at its place."""

    x: float
    y: float
    figure: "Figure"


class Run(NamedTuple):
    """A piece of text within a table cell's line."""

    text: str
    size_pt: float
    bold: bool = False


class Cell(NamedTuple):
    """A table cell: lines of runs, or a tick box."""

    lines: tuple[tuple[Run, ...], ...] = ()
    line_mm: float = 0.0
    box: "BoxState | None" = None


def largest_pt(cell: Cell) -> float:
    """Return the largest type size in a cell, by which its base line is set."""
    return max((run.size_pt for line in cell.lines for run in line), default=8.0)


class TableRow(NamedTuple):
    """A row: its height, its cells (the second heads the row), and a note that runs under them."""

    height_mm: float
    cells: tuple[Cell, ...]
    note: tuple[str, ...] = ()
    note_mm: float = 0.0
    stop: bool = False


class Column(NamedTuple):
    """A table column: its title, its width, and how its cells stand."""

    title: str
    width_mm: float
    align: Align = "left"


class LeafTable(NamedTuple):
    """A table with a title for those who cannot see it; a note starts at the column `note_from`."""

    x: float
    y: float
    title: str
    columns: tuple[Column, ...]
    head_mm: float
    head_pt: float
    rows: tuple[TableRow, ...]
    note_pt: float
    note_line_mm: float
    note_from: int = 1
    row_head: int = 1

    @property
    def width_mm(self) -> float:
        """Width of all columns."""
        return sum(column.width_mm for column in self.columns)

    @property
    def height_mm(self) -> float:
        """Height of head and rows."""
        return self.head_mm + sum(row.height_mm + row.note_mm for row in self.rows)


Leaf = TextLines | TickLine | LevelLine | Rectangle | PlacedFigure | LeafTable


def moved(leaf: Leaf, right_mm: float, down_mm: float) -> Leaf:
    """Return a leaf at another place."""
    return leaf._replace(x=leaf.x + right_mm, y=leaf.y + down_mm)
