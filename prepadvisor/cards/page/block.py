"""Blocks of a page: their heights, the leaves of any part, and on which page each goes; nothing is cut."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.leaf import Align, Leaf, LevelLine, Tag, TextLines, TickLine, moved
from prepadvisor.cards.page.typeface import BOX_MM, Sizes, width_mm, wrap
from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import Tick

# Puts blocks on pages: computed from heights in mm, so that no row is ever dropped or cut.

_HAIR_MM: Final = 1e-6


class Extent(NamedTuple):
    """How high a block is, in mm.

    `lead_mm` stands above the first row, `again_mm` above the rows that go on on another page. `side_mm` is
    what stands beside the rows and so the least height of the block's first part, lead included. `keep_rows`
    rows stay with the lead, and with `keep_next` the whole block stays with the start of the next one.
    """

    lead_mm: float
    row_mms: tuple[float, ...] = ()
    again_mm: float = 0.0
    side_mm: float = 0.0
    keep_rows: int = 2
    keep_next: bool = False

    @property
    def start_mm(self) -> float:
        """The least height that the start of the block takes."""
        return max(self.side_mm, self.lead_mm + sum(self.row_mms[: self.keep_rows]))


class BlockPart(NamedTuple):
    """Rows `start` to `stop` of a block on one page, from `y_mm` down."""

    block: int
    start: int
    stop: int
    y_mm: float
    height_mm: float

    @property
    def first(self) -> bool:
        """Whether this is where the block starts."""
        return self.start == 0


def fit(blocks: Sequence[Extent], room_mm: float, taken_mm: float = 0.0) -> list[list[BlockPart]]:
    """Return the parts of every page, in order.

    Every row of every block is in exactly one part, in order, and no part reaches past the room, except where
    a single row or an undivided block is higher than a whole page: that gets a page of its own.

    Args:
        blocks: heights of the blocks in printing order.
        room_mm: height of a page's room.
        taken_mm: what is taken of the first page's room; below 0 it has more room than the others.
    """
    pages: list[list[BlockPart]] = [[]]
    y = taken_mm
    for index, block in enumerate(blocks):
        need = _start(blocks, index, room_mm)
        if pages[-1] and y + need > room_mm + _HAIR_MM:
            pages.append([])
            y = 0.0
        start = 0
        while True:
            stop, height = _rows_that_fit(block, start, room_mm - y)
            pages[-1].append(BlockPart(index, start, stop, y, height))
            y += height
            if stop >= len(block.row_mms):
                break
            start = stop
            pages.append([])
            y = 0.0
    return pages


def fit_whole(blocks: Sequence[Extent], room_mm: float, taken_mm: float = 0.0) -> list[list[BlockPart]]:
    """Return the parts of every page, with no block divided that fits on a page, where that costs no page."""
    whole = [block._replace(keep_rows=len(block.row_mms)) for block in blocks]
    kept = [one if one.start_mm <= room_mm else block for one, block in zip(whole, blocks, strict=True)]
    return min(fit(kept, room_mm, taken_mm), fit(blocks, room_mm, taken_mm), key=len)


def _start(blocks: Sequence[Extent], index: int, room_mm: float) -> float:
    block = blocks[index]
    need = block.start_mm
    if block.keep_next and index + 1 < len(blocks):
        whole = max(block.side_mm, block.lead_mm + sum(block.row_mms)) + _start(blocks, index + 1, room_mm)
        need = whole if whole <= room_mm else need
    return need


def _rows_that_fit(block: Extent, start: int, room_mm: float) -> tuple[int, float]:
    height = block.again_mm if start else block.lead_mm
    stop = start
    while stop < len(block.row_mms) and (stop == start or height + block.row_mms[stop] <= room_mm + _HAIR_MM):
        height += block.row_mms[stop]
        stop += 1
    return stop, height if start else max(height, block.side_mm)


_PARAGRAPH_LINES: Final = 4
Build = Callable[[int, int], tuple[Leaf, ...]]
"""Makes the leaves of rows `start` to `stop`, from the top left corner of the part."""


@dataclass(frozen=True)
class Block:
    """Heights and leaves of one block."""

    extent: Extent
    build: Build


@dataclass
class Stack:
    """Leaves one under another; `y` is where the next one goes."""

    sizes: Sizes
    width_mm: float
    x: float = 0.0
    y: float = 0.0
    leaves: list[Leaf] = field(default_factory=list)

    def text(
        self,
        says: str,
        size_pt: float,
        *,
        bold: bool = False,
        tag: Tag = "p",
        indent_mm: float = 0.0,
        align: Align = "left",
        after_mm: float = 0.0,
    ) -> None:
        """Add a paragraph, broken to the stack's width."""
        lines = wrap(says, self.width_mm - indent_mm, size_pt, bold)
        line_mm = self.sizes.line_mm(size_pt)
        room = self.width_mm - indent_mm
        self.leaves.append(
            TextLines(
                x=self.x + indent_mm,
                y=self.y,
                width_mm=room,
                lines=lines,
                size_pt=size_pt,
                line_mm=line_mm,
                bold=bold,
                tag=tag,
                align=align,
            )
        )
        self.y += line_mm * len(lines) + after_mm

    def ticks(self, items: tuple["Tick", ...], *, start_mm: float = 0.0) -> None:
        """Add tick boxes side by side, in as many rows as they take; the first row starts at `start_mm`."""
        size = self.sizes.body_pt
        x, gap = start_mm, 4.0
        for item in items:
            wide = BOX_MM + 1.4 + width_mm(item.says, size) + 0.2
            if x > start_mm and x + wide > self.width_mm:
                x = start_mm
                self.y += self.sizes.tick_mm
            lines = wrap(item.says, self.width_mm - start_mm - BOX_MM - 1.4, size)
            line_mm = self.sizes.line_mm(size)
            height = max(self.sizes.tick_mm, line_mm * len(lines) + 0.6)
            room = min(wide, self.width_mm - start_mm)
            self.leaves.append(
                TickLine(
                    x=self.x + x,
                    y=self.y,
                    width_mm=room,
                    height_mm=height,
                    box=item.box,
                    lines=lines,
                    size_pt=size,
                    line_mm=line_mm,
                )
            )
            x += wide + gap
            if len(lines) > 1:
                self.y += height - self.sizes.tick_mm
                x = self.width_mm
        if items:
            self.y += self.sizes.tick_mm

    def rule(self, weight_mm: float = 0.25, after_mm: float = 0.0) -> None:
        """Add a level line over the stack's width."""
        self.leaves.append(LevelLine(self.x, self.y, self.width_mm, weight_mm))
        self.y += after_mm

    def gap(self, height_mm: float) -> None:
        """Leave some room."""
        self.y += height_mm

    def leaves_at(self, x: float, y: float) -> tuple[Leaf, ...]:
        """Return all leaves, moved to a place."""
        return tuple(moved(leaf, x, y) for leaf in self.leaves)


def whole(stack: Stack, *, gap_mm: float = 0.0, keep_next: bool = False) -> Block:
    """Return a block that is never divided."""
    leaves = tuple(stack.leaves)
    return Block(Extent(stack.y + gap_mm, keep_next=keep_next), lambda _start, _stop: leaves)


def divided(
    lead: Stack,
    rows: list[Stack],
    again: Stack,
    *,
    gap_mm: float = 0.0,
    keep_rows: int = 1,
    keep_next: bool = False,
) -> Block:
    """Return a block of stacked rows under a lead, that may go on on the next page under another lead."""
    heights = [row.y for row in rows]
    if heights:
        heights[-1] += gap_mm

    def build(start: int, stop: int) -> tuple[Leaf, ...]:
        top = again if start else lead
        leaves = list(top.leaves)
        y = top.y
        for row in rows[start:stop]:
            leaves += row.leaves_at(0.0, y)
            y += row.y
        return tuple(leaves)

    lead_mm = lead.y + (0.0 if rows else gap_mm)
    extent = Extent(lead_mm, tuple(heights), again.y, keep_rows=keep_rows, keep_next=keep_next)
    return Block(extent, build)


def packed(
    texts: Sequence[str], sizes: Sizes, width_mm: float, *, bold: bool = False, joint: str = " "
) -> list[str]:
    """Return texts run on into paragraphs of a few small lines, so that a page can end between them."""
    found: list[str] = []
    for text in texts:
        longer = f"{found[-1]}{joint}{text}" if found else text
        if found and len(wrap(longer, width_mm, sizes.small_pt, bold)) <= _PARAGRAPH_LINES:
            found[-1] = longer
        else:
            found.append(text)
    return found
