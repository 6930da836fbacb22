"""The part of a house that the check-off needs: shop and constants, however they are held."""

from typing import Protocol

from prepadvisor.records.constants import Constants
from prepadvisor.records.shop import Shop


class ShopFloor(Protocol):
    """What is on the shelf and how deep each tool cuts.

    A `standards.house.House` is one; so is any record with these two.
    """

    @property
    def shop(self) -> Shop:
        """Shelf, rates and `gate_hours`."""

    @property
    def constants(self) -> Constants:
        """Scratch depth by tool, in `groove.depth_per_grain`."""
