"""What a drawing is made of: a few plain marks in millimetres, which screen, page and PDF all draw alike.

The y axis points down. Black and white only: `Paint` is black, white or none, so that a drawing means the
same on any printer and to any eye.
"""

from typing import Literal

from prepadvisor.records import NamedTuple

PointMm = tuple[float, float]
Paint = Literal["black", "white", "none"]
Anchor = Literal["start", "middle", "end"]


class Stroke(NamedTuple):
    """A line's width and dashes, in mm; no dashes is a solid line. Round ends make dots of dashes of 0."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    paint: Paint = "black"
    round_ends: bool = False


class Shape(NamedTuple):
    """A polyline, or with `closed` a polygon that may be filled."""

    points: tuple[PointMm, ...]
    stroke: Stroke | None = None
    closed: bool = False
    fill: Paint = "none"


class Hatch(NamedTuple):
    """Many straight pieces of one pattern, each from point to point."""

    pieces: tuple[tuple[PointMm, PointMm], ...]
    stroke: Stroke


class Dots(NamedTuple):
    """Filled discs of one pattern: centre and radius in mm."""

    discs: tuple[tuple[float, float, float], ...]
    paint: Paint = "black"


class FigureText(NamedTuple):
    """One line of text; the point is on its base line."""

    at: PointMm
    text: str
    size_pt: float = 8.0
    bold: bool = False
    anchor: Anchor = "start"
    paint: Paint = "black"


Mark = Shape | Hatch | Dots | FigureText


class Figure(NamedTuple):
    """A drawing with its size in mm, its title, and in words what it shows for those who cannot see it."""

    width_mm: float
    height_mm: float
    title: str
    says: str
    marks: tuple[Mark, ...]


def box(x: float, y: float, width: float, height: float) -> tuple[PointMm, ...]:
    """Return a rectangle's four corners."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
