"""Whether what is seen agrees with the numbers in force: as many lines as the risks let one expect?"""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from prepadvisor.records.fit import Agreement, FitCheck, RowFitted
from prepadvisor.records.panel_rows import LUX_LEAST, PanelRow

_SURE: Final = 0.025
"""Chance of so many or more (or so few) by the numbers in force, below which all rows together disagree."""
_SURE_OF_ONE: Final = 0.005
"""Likewise of one group of rows: there are several, and one of them is always the oddest."""
_LEAST_ROWS: Final = 4
_SHOWED: Final = {"yes": 1.0, "barely": 0.5, "no": 0.0}

_GROUPS: Final[dict[str, Callable[[PanelRow], str]]] = {
    "kind": lambda row: row.kind,
    "flake": lambda row: row.colour or row.flake or "",
    "tool": lambda row: row.pad or row.tool,
    "grade": lambda row: row.grade,
    "coats": lambda row: str(row.coats),
    "zone": lambda row: row.zone,
    "light": lambda row: row.light if row.lux is None else "dim" if row.lux < LUX_LEAST else "500 lux up",
}


def checked(rows: Sequence[RowFitted]) -> FitCheck:
    """Set what was seen beside what the numbers in force expect, over all rows and by what they share.

    Args:
        rows: rows with `chance_before` by the numbers in force.

    Returns:
        `Check`: all rows, and every group that disagrees.
    """
    whole = _agreement("all", "all rows", rows, _SURE)
    groups = [
        _agreement(by, word, own, _SURE_OF_ONE)
        for by, of in _GROUPS.items()
        for word, own in _grouped(rows, of).items()
        if len(own) >= _LEAST_ROWS and word
    ]
    return FitCheck(whole, tuple(each for each in groups if not each.agrees))


def _grouped(rows: Iterable[RowFitted], of: Callable[[PanelRow], str]) -> dict[str, list[RowFitted]]:
    found: dict[str, list[RowFitted]] = {}
    for each in rows:
        found.setdefault(of(each.row), []).append(each)
    return found


def _agreement(by: str, word: str, rows: Sequence[RowFitted], sure: float) -> Agreement:
    chances = [each.chance_before for each in rows]
    seen = sum(_SHOWED[each.row.shows] for each in rows)
    more = _at_least(chances, math.ceil(seen))
    fewer = 1.0 - _at_least(chances, math.floor(seen) + 1)
    agrees = min(more, fewer) >= sure
    return Agreement(
        by=by,
        word=word,
        rows=len(rows),
        expected=sum(chances),
        showed=seen,
        chance=min(1.0, 2.0 * min(more, fewer)),
        agrees=agrees,
    )


def _at_least(chances: Sequence[float], hits: int) -> float:
    """Return the chance of `hits` or more, each row with its own: exact (Poisson's binomial)."""
    spread = [1.0]
    for p in chances:
        spread = [
            (spread[k] if k < len(spread) else 0.0) * (1.0 - p) + (spread[k - 1] * p if k else 0.0)
            for k in range(len(spread) + 1)
        ]
    return min(1.0, math.fsum(spread[hits:])) if hits > 0 else 1.0
