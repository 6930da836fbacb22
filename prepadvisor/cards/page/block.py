"""A piece of a page that may go on on the next: its heights, and the leaves of any part of its rows."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from prepadvisor.cards.page.fit import Extent
from prepadvisor.cards.page.leaf import Align, Leaf, LevelLine, Tag, TextLines, TickLine, moved
from prepadvisor.cards.page.sizes import BOX_MM, Sizes
from prepadvisor.cards.page.typeface import width_mm, wrap
from prepadvisor.cards.sheet.record import Tick

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

    def ticks(self, items: tuple[Tick, ...], *, start_mm: float = 0.0) -> None:
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
