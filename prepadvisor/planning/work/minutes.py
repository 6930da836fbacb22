"""How long each kind of work takes, by the shop's own rates.

Sanding is timed by what has to come off and by passes (`planning.rates`), hand work by the metre, the rest by
the piece.
"""

from collections.abc import Mapping
from typing import cast

from prepadvisor.records.shop import Shop


def hand_work(length_mm: float, kind: str, shop: Shop) -> float:
    """Return the minutes of scuffing one line by hand once.

    Args:
        length_mm: its length in mm.
        kind: what kind of line it is: a recess takes longer than an edge.
        shop: minutes per metre by kind, and the least for one place.
    """
    rates = cast("Mapping[str, float]", shop.hand_minutes_per_metre)
    per_metre = rates[kind] if kind in rates else max(rates.values())
    return max(shop.hand_minutes_least, length_mm / 1000 * per_metre)


def cleaning(area_m2: float, shop: Shop) -> float:
    """Return the minutes of washing and degreasing a panel of an area in m²."""
    return shop.clean_minutes + shop.clean_minutes_per_m2 * area_m2
