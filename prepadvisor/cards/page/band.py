"""A panel drawn large above its rows, with the order of work beside it, where a page has the room."""

from typing import Final

from prepadvisor.cards.figures.figure import Figure
from prepadvisor.cards.page.block import Block, Stack, whole
from prepadvisor.cards.page.leaf import Picture, Text
from prepadvisor.cards.page.sizes import Sizes
from prepadvisor.cards.sheet.record import PanelSheet

_SHARE: Final = 0.64
"""Share of the width that the drawing takes where the order of work stands beside it."""
_APART_MM: Final = 5.0
_NUMBER_MM: Final = 5.5

BAND_HEIGHTS_MM: Final = (50.0, 62.0, 75.0, 90.0, 105.0)
"""Greatest heights of a drawing above its rows; where the least has no room, it stands beside them."""


def band_width_mm(panel: PanelSheet, width_mm: float) -> float:
    """Return the width for a panel's drawing above its rows."""
    return width_mm * _SHARE if panel.order else width_mm


def band_block(panel: PanelSheet, figure: Figure, sizes: Sizes, width_mm: float) -> Block:
    """Return the drawing with the order of work to its right; it stays with the rows under it."""
    stack = Stack(sizes, width_mm)
    stack.gap(0.8)
    at = figure.width_mm + _APART_MM
    steps = Stack(sizes, width_mm - at - _NUMBER_MM, x=at + _NUMBER_MM, y=stack.y + 2.0)
    if panel.order:
        line_mm = sizes.line_mm(sizes.body_pt)
        room = width_mm - at
        steps.leaves.append(
            Text(at, steps.y, room, ("order of work",), sizes.body_pt, line_mm, bold=True, tag="h3")
        )
        steps.gap(line_mm + 1.0)
    for number, says in enumerate(panel.order, start=1):
        line_mm = sizes.line_mm(sizes.body_pt)
        steps.leaves.append(Text(at, steps.y, _NUMBER_MM, (str(number),), sizes.body_pt, line_mm, bold=True))
        steps.text(says, sizes.body_pt, after_mm=1.2)
    stack.leaves += [Picture(0.0, stack.y, figure), *steps.leaves]
    stack.y = max(stack.y + figure.height_mm, steps.y)
    return whole(stack, gap_mm=sizes.gap_mm * 0.6, keep_next=True)
