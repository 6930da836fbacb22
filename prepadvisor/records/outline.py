"""A panel outline with its usual size, edges and lines, drawn 0 to 1 from its front top corner."""

from typing import Annotated

from pydantic import Field

from prepadvisor.records.base import Number, PanelKind, PanelMm, Record, Text
from prepadvisor.records.job import Feature, Point
from prepadvisor.records.words import OutlineKind, Side

ZoneMm = Annotated[Number, Field(ge=0, le=6000)]


class Outline(Record):
    """One panel kind: a shipped one, or one that a house states.

    `like` is the shipped kind that a house's own one is seen and judged as: rules for that kind count for it
    too. `colour_from`, `colour_mm` and `fade_mm` start the zones of a new blend panel.
    """

    kind: PanelKind
    name: Text
    like: OutlineKind | None = None
    length_mm: PanelMm
    height_mm: PanelMm
    colour_from: tuple[Side, ...] = ()
    colour_mm: ZoneMm | None = None
    fade_mm: ZoneMm | None = None
    shape: Annotated[tuple[Point, ...], Field(min_length=3)]
    feature: Annotated[tuple[Feature, ...], Field(min_length=1)]

    @property
    def seen_as(self) -> str:
        """The shipped kind by which sides are called and mirrored."""
        return self.like or self.kind
