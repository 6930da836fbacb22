"""A printed sheet of words, tables and drawings, set one under another on as many pages as they take."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from prepadvisor.cards.page.leaf import (
    Align,
    Cell,
    Column,
    Leaf,
    LeafTable,
    PlacedFigure,
    Run,
    TableRow,
    TextLines,
)
from prepadvisor.cards.page.pages import Pages, PrintedPage
from prepadvisor.cards.page.typeface import MM_PER_PT, PAPERS, PaperName, wrap

if TYPE_CHECKING:
    from prepadvisor.cards.figures.figure import Figure

_BODY_PT: Final = 9.5
_CELL_PT: Final = 8.5
_LEADING: Final = 1.25
_GAP_MM: Final = 2.4
_CELL_AIR_MM: Final = 1.2


class Heading(NamedTuple):
    """A heading; `top` is the sheet's own."""

    text: str
    top: bool = False


class Paragraph(NamedTuple):
    """A paragraph of words; `lead` stands before its first line, such as a number."""

    text: str
    lead: str = ""


class Grid(NamedTuple):
    """A table of words: title for those who cannot see it, columns with their part of the width, rows."""

    title: str
    columns: tuple[tuple[str, float, Align], ...]
    rows: tuple[tuple[str, ...], ...]


class Drawing(NamedTuple):
    """Drawings side by side."""

    figures: tuple["Figure", ...]


Item = Heading | Paragraph | Grid | Drawing


def leaflet(title: str, items: Sequence[Item], paper: PaperName = "a4") -> Pages:
    """Set items on pages.

    Args:
        title: the file's title.
        items: what is on it, in order.
        paper: the paper.
    """
    form = PAPERS[paper]
    setting = _Setting(*form.room_mm, form.margin_mm)
    for item in items:
        match item:
            case Heading():
                setting.heading(item)
            case Paragraph():
                setting.paragraph(item)
            case Grid():
                setting.grid(item)
            case Drawing():
                setting.drawing(item)
    pages = [page for page in setting.pages if page]
    named = [f"page {number} of {len(pages)}" for number in range(1, len(pages) + 1)]
    return Pages(
        title,
        form,
        "normal",
        tuple(PrintedPage(name, tuple(page)) for name, page in zip(named, pages, strict=True)),
    )


class _Setting:
    """Pages as they fill."""

    def __init__(self, wide: float, high: float, margin: float) -> None:
        self._wide, self._high, self._margin = wide, high, margin
        self.pages: list[list[Leaf]] = [[]]
        self._y = 0.0

    def heading(self, item: Heading) -> None:
        size = 15.0 if item.top else 11.0
        line = size * MM_PER_PT * _LEADING
        self._room(line + (0.0 if item.top else 22.0))  # a heading does not stand alone at a page's end
        if self._y:
            self._y += _GAP_MM
        lines = wrap(item.text, self._wide, size, bold=True)
        tag: Literal["h1", "h2"] = "h1" if item.top else "h2"
        self._put(
            TextLines(
                x=0.0, y=0.0, width_mm=self._wide, lines=lines, size_pt=size, line_mm=line, bold=True, tag=tag
            ),
            line * len(lines),
        )

    def paragraph(self, item: Paragraph) -> None:
        line = _BODY_PT * MM_PER_PT * _LEADING
        indent = 7.0 if item.lead else 0.0
        lines = wrap(item.text, self._wide - indent, _BODY_PT)
        self._room(line * min(len(lines), 3))
        if item.lead:
            self._at(
                TextLines(
                    x=0.0,
                    y=0.0,
                    width_mm=indent,
                    lines=(item.lead,),
                    size_pt=_BODY_PT,
                    line_mm=line,
                    bold=True,
                )
            )
        for part in self._parts(lines, line):
            self._room(line * len(part))
            self._put(
                TextLines(
                    x=indent, y=0.0, width_mm=self._wide - indent, lines=part, size_pt=_BODY_PT, line_mm=line
                ),
                line * len(part),
                0.0,
            )
        self._y += _GAP_MM / 2

    def grid(self, item: Grid) -> None:
        total = sum(share for _, share, _ in item.columns)
        columns = tuple(
            Column(title, self._wide * share / total, align) for title, share, align in item.columns
        )
        rows = [self._row(columns, cells) for cells in item.rows]
        head = _CELL_PT * MM_PER_PT * _LEADING + 1.0
        while rows:
            self._room(head + rows[0].height_mm)
            room, taken = self._high - self._y - head, 0
            while taken < len(rows) and (room := room - rows[taken].height_mm) >= 0:
                taken += 1
            part, rows = tuple(rows[: max(taken, 1)]), rows[max(taken, 1) :]
            table = LeafTable(
                x=0.0,
                y=0.0,
                title=item.title,
                columns=columns,
                head_mm=head,
                head_pt=_CELL_PT,
                rows=part,
                note_pt=_CELL_PT,
                note_line_mm=4.0,
                row_head=0,
            )
            self._put(table, table.height_mm)

    def drawing(self, item: Drawing) -> None:
        self._room(max(figure.height_mm for figure in item.figures))
        x = 0.0
        for figure in item.figures:
            self._at(PlacedFigure(x, 0.0, figure))
            x += figure.width_mm + 4.0
        self._y += max(figure.height_mm for figure in item.figures) + _GAP_MM

    def _row(self, columns: tuple[Column, ...], cells: tuple[str, ...]) -> TableRow:
        line = _CELL_PT * MM_PER_PT * _LEADING
        broken = [
            wrap(text, column.width_mm - _CELL_AIR_MM, _CELL_PT)
            for text, column in zip(cells, columns, strict=True)
        ]
        made = tuple(Cell(tuple((Run(text, _CELL_PT),) for text in lines), line) for lines in broken)
        return TableRow(line * max(map(len, broken)) + _CELL_AIR_MM, made)

    def _parts(self, lines: tuple[str, ...], line: float) -> list[tuple[str, ...]]:
        """Divide lines so that each part fits on a page of its own."""
        left = max(int((self._high - self._y) / line), 1)
        parts, most = [lines[:left]], max(int(self._high / line), 1)
        rest = lines[left:]
        while rest:
            parts.append(rest[:most])
            rest = rest[most:]
        return parts

    def _room(self, high: float) -> None:
        if self._y and self._y + high > self._high:
            self.pages.append([])
            self._y = 0.0

    def _put(self, leaf: Leaf, high: float, gap: float = _GAP_MM / 2) -> None:
        self._at(leaf)
        self._y += high + gap

    def _at(self, leaf: Leaf) -> None:
        placed = leaf._replace(x=leaf.x + self._margin, y=self._y + self._margin)
        self.pages[-1].append(placed)
