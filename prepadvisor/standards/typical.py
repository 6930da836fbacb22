"""One case out of many that a lead can picture: as near to what most jobs have as the region allows."""

from math import inf
from typing import Any, Final

from prepadvisor.cases.facts import CATEGORIES, CATEGORY, FACTS, ORDER, Facts
from prepadvisor.standards.axes import Cut
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
        choices = _choices(space, fact)
        if diagrams.level(node) != level:
            found[fact] = choices[0][1]
            continue
        children = [(mask, child) for mask, child in diagrams.parts(node) if child != diagrams.no]
        _, value, node = next(
            (bit, value, child) for bit, value in choices for mask, child in children if mask >> bit & 1
        )
        found[fact] = value
    return Facts(**{fact: found[fact] for fact in FACTS})


def _choices(space: Space, fact: str) -> list[tuple[int, Any]]:
    """Return the values of an axis, the usual one first, each with its number."""
    usual = Facts._field_defaults[fact]
    if fact in CATEGORY:
        values = list(enumerate(CATEGORIES[CATEGORY[fact]].values))
        return sorted(values, key=lambda each: each[1] != usual)
    usual = _USUAL.get(fact)
    cuts = space.axes.cuts(fact)
    cells: list[tuple[int, Any]] = [(0, None)]
    first = 0
    for place in range(len(cuts) - 1):
        low, high = cuts[place], cuts[place + 1]
        inside = usual is not None and Cut(usual, False) >= low and Cut(usual, True) <= high
        cells.append((place + 1, usual if inside else _between(low, high)))
        if inside:
            first = place + 1
    return sorted(cells, key=lambda each: (each[0] != first, each[1] is None, each[0]))


def _between(low: Cut, high: Cut) -> float:
    """Return a number between two cuts, a round one where there is room."""
    if high.at == inf:
        return low.at * 1.2 if low.at else 1.0
    if low.at == high.at:
        return low.at
    middle = (low.at + high.at) / 2
    return float(round(middle)) if low.at < round(middle) < high.at else middle
