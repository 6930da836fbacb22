"""The part of a house that the check-off needs: shop, constants and outlines, however they are held."""

from collections.abc import Mapping
from typing import Protocol

from prepadvisor.cases.colour import JudgedColour
from prepadvisor.records.constants import Constants
from prepadvisor.records.job import Colour, Job
from prepadvisor.records.outline import Outline
from prepadvisor.records.shop import Shop


class ShopFloor(Protocol):
    """What is on the shelf, how deep each tool cuts, and where the lines of a panel run.

    A `standards.house.House` is one; so is any record with these.
    """

    @property
    def shop(self) -> Shop:
        """Shelf, rates, `gate_hours`, `look_hours` and `leads`."""

    @property
    def constants(self) -> Constants:
        """Scratch depth by tool, in `groove.depth_per_grain`."""

    def judged(self, colour: Colour) -> JudgedColour:
        """Return a job's colour as it is judged here."""

    def on(self, job: Job) -> "ShopFloor":
        """Return the shop floor as it stands on the job's day and for its customer."""

    @property
    def outlines(self) -> Mapping[str, Outline]:
        """Outlines by kind: their lines stand in where a panel states none."""
