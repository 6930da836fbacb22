"""A large box grown around one case of a region that is too intricate to be told whole."""

from typing import Final

from prepadvisor.standards.boxes import run_around
from prepadvisor.standards.covers import Covers
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.space import cells

_BESIDE_MOST: Final = 400
"""With more boxes than this only one large box is grown: others would cost more than they tell."""


def largest_outside(
    covers: Covers, box: Masks, among: int, free: int
) -> tuple[Masks, tuple[int, ...]] | None:
    """Return a large box of cases outside, and one case in it; None if there is no case outside.

    Args:
        covers: the boxes.
        box: where to look.
        among: the boxes that the case lies outside of.
        free: those among them that the large box may run into all the same, such as impossible cases.
    """
    outside = Outside(covers, box, among)
    case = outside.case()
    if case is None:
        return None
    best = _largest_around(covers, box, case, among & ~free)
    tried = [(best, case)]
    for slice_ in outside.beside(best) if len(covers.boxes) <= _BESIDE_MOST else ():
        other = Outside(covers, slice_, among).case()
        if other is not None:
            tried.append((_largest_around(covers, box, other, among & ~free), other))
    return max(tried, key=lambda each: cells(each[0]))


def _largest_around(covers: Covers, box: Masks, case: tuple[int, ...], among: int) -> Masks:
    depth = covers.diagrams.depth
    forward = list(range(depth))
    small_first = sorted(forward, key=lambda level: box[level].bit_count())
    orders = [small_first, small_first[::-1], forward, forward[::-1]]
    if len(covers.boxes) > _BESIDE_MOST:
        del orders[1:]
    return max((_grown(covers, box, case, among, order) for order in orders), key=cells)


def _grown(covers: Covers, box: Masks, case: tuple[int, ...], among: int, order: list[int]) -> Masks:
    """Widen one case axis by axis as far as it stays in the box and outside the others."""
    masks = [1 << value for value in case]
    met = [covers.meeting_any(level, mask) for level, mask in enumerate(masks)]
    for level in order:
        others = among
        for place, boxes in enumerate(met):
            if place != level:
                others &= boxes
        could = covers.values_outside(level, box[level], others)
        if level in covers.number_levels and could != covers.diagrams.full[level]:
            could = run_around(masks[level], could)
        masks[level] = could
        met[level] = covers.meeting_any(level, masks[level])
    return tuple(masks)
