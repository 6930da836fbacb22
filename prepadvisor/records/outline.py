"""A generic panel outline with its usual size, edges and lines, drawn 0 to 1 from its front top corner."""

from typing import Annotated

from pydantic import Field

from prepadvisor.records.base import PanelMm, Record, Text
from prepadvisor.records.job import Feature, Point
from prepadvisor.records.words import OutlineKind


class Outline(Record):
    """One generic panel: our own drawing, no car's."""

    kind: OutlineKind
    name: Text
    length_mm: PanelMm
    height_mm: PanelMm
    shape: Annotated[tuple[Point, ...], Field(min_length=3)]
    feature: Annotated[tuple[Feature, ...], Field(min_length=1)]
