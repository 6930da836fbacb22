"""Puts blocks on pages: computed from heights in mm, so that no row is ever dropped or cut."""

from collections.abc import Sequence
from typing import Final

from prepadvisor.named import NamedTuple

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
