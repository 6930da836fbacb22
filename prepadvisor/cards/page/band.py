"""A panel drawn large above its rows, where a page has the room."""

from typing import Final

from prepadvisor.cards.figures.figure import Figure
from prepadvisor.cards.page.block import Block, Stack, whole
from prepadvisor.cards.page.leaf import PlacedFigure
from prepadvisor.cards.page.sizes import Sizes

BAND_HEIGHTS_MM: Final = (50.0, 62.0, 75.0, 90.0, 105.0)
"""Greatest heights of a drawing above its rows; where the least has no room, it stands beside them."""


def band_block(figure: Figure, sizes: Sizes, width_mm: float) -> Block:
    """Return the drawing, which stays with the rows under it."""
    stack = Stack(sizes, width_mm)
    stack.gap(0.8)
    stack.leaves.append(PlacedFigure((width_mm - figure.width_mm) / 2, stack.y, figure))
    stack.gap(figure.height_mm)
    return whole(stack, gap_mm=sizes.gap_mm * 0.6, keep_next=True)
