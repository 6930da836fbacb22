"""One case out of many that a lead can picture: as near to what most jobs have as the region allows."""

from bisect import bisect_right
from math import inf
from typing import Any, Final

from prepadvisor.cases.facts import CATEGORY, FACTS, ORDER, Facts
from prepadvisor.standards.axes import UNKNOWN, Cut
from prepadvisor.standards.space import Space

_USUAL: Final[dict[str, float | None]] = {"film_um": None, "length_mm": 500.0, "panel_m2": 0.67}
"""A door of 1050 by 640 mm, a line half as long, no gauge reading."""


def typical(space: Space, region: int) -> Facts | None:
    """Return a case of a region with usual values wherever it has cases with them; None if it is empty."""
    diagrams = space.diagrams
    if region == diagrams.no:
        return None
    found: dict[str, Any] = {}
    node = region
    for level, fact in enumerate(ORDER):
        inside = diagrams.level(node) == level
        children = diagrams.parts(node) if inside else ((diagrams.full[level], node),)
        allowed = 0
        for mask, child in children:
            if child != diagrams.no:
                allowed |= mask
        bit, found[fact] = _chosen(space, fact, allowed)
        node = next(child for mask, child in children if mask >> bit & 1)
    return Facts(**{fact: found[fact] for fact in FACTS})


def _chosen(space: Space, fact: str, allowed: int) -> tuple[int, Any]:
    """Return the usual value of those allowed, with its number on the axis, else the first one."""
    if fact in CATEGORY:
        values = space.axes.values(fact)
        bit = values.index(Facts._field_defaults[fact])
        if not allowed >> bit & 1:
            bit = (allowed & -allowed).bit_length() - 1
        return bit, values[bit]
    usual, cuts = _USUAL.get(fact), space.axes.cuts(fact)
    bit = 0 if usual is None else bisect_right(cuts, Cut(usual, False))
    if allowed >> bit & 1:
        return bit, usual
    known = allowed & ~UNKNOWN
    if not known:
        return 0, None
    bit = (known & -known).bit_length() - 1
    return bit, _between(cuts[bit - 1], cuts[bit])


def _between(low: Cut, high: Cut) -> float:
    """Return a number between two cuts, a round one where there is room."""
    if high.at == inf:
        return low.at * 1.2 if low.at else 1.0
    if low.at == high.at:
        return low.at
    middle = (low.at + high.at) / 2
    return float(round(middle)) if low.at < round(middle) < high.at else middle
