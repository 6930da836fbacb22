"""What is drawn of a panel: its shape, zones, numbered lines and patches, and the same as screen cells."""

from itertools import pairwise
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from prepadvisor.planning.zones import Zoning, patch_rect, zoning
from prepadvisor.records.job import Panel, Point
from prepadvisor.surface.layout import depth_mm

CELL_ASPECT: Final = 2.0
"""Height of a character cell over its width, near enough on every terminal."""

Ink = Literal[
    "plain", "zone-colour", "zone-fade", "zone-clear", "line", "line-pick", "number", "border-pick", "hush"
]


class Stroke(NamedTuple):
    """A numbered line: its id, the sign it goes by, its path in shares of the panel."""

    id: str
    sign: str
    path: tuple[Point, ...]


class Picture(NamedTuple):
    """A panel to draw. `picked` is the id of the selected line or patch, `border` the border to be moved."""

    panel: Panel
    shape: tuple[Point, ...]
    mist_mm: float
    strokes: tuple[Stroke, ...]
    picked: str = ""
    border: str = ""
    points: tuple[Point, ...] = ()
    cross: Point | None = None

    @property
    def zones(self) -> Zoning:
        """The zones as they lie on the panel."""
        return zoning(self.panel, self.mist_mm)


class Cell(NamedTuple):
    """One character of the drawing with its ink."""

    char: str
    ink: Ink


class Frame(NamedTuple):
    """Where the panel lies in a grid of cells: first column and row, columns and rows."""

    left: int
    top: int
    wide: int
    high: int

    def share(self, column: float, row: float) -> Point:
        """Return the place on the panel, 0 to 1, under a cell; clipped to the panel."""
        x = (column + 0.5 - self.left) / self.wide
        y = (row + 0.5 - self.top) / self.high
        return (round(min(max(x, 0.0), 1.0), 4), round(min(max(y, 0.0), 1.0), 4))

    def cell(self, point: Point) -> tuple[int, int]:
        """Return the column and row of a place on the panel."""
        column = self.left + min(int(point[0] * self.wide), self.wide - 1)
        row = self.top + min(int(point[1] * self.high), self.high - 1)
        return column, row


def frame(panel: Panel, width: int, height: int) -> Frame:
    """Return where a panel lies in a grid of cells, as large as fits at its true shape."""
    width, height = max(width - 2, 4), max(height, 3)
    per_cell = max(panel.length_mm / width, panel.height_mm / (height * CELL_ASPECT))
    wide = max(min(round(panel.length_mm / per_cell), width), 4)
    high = max(min(round(panel.height_mm / (per_cell * CELL_ASPECT)), height), 3)
    return Frame(1 + (width - wide) // 2, (height - high) // 2, wide, high)


def depths(picture: Picture, at: Frame) -> NDArray[np.float64]:
    """Return the depth in mm at the middle of every cell of the panel, by row and column."""
    x = (np.arange(at.wide) + 0.5) / at.wide * picture.panel.length_mm
    y = (np.arange(at.high) + 0.5) / at.high * picture.panel.height_mm
    return depth_mm(picture.zones.layout, x[None, :], y[:, None])


def nearest_border(picture: Picture, at: Frame, column: int, row: int) -> str:
    """Return the border within about two columns of a cell: "colour", "fade", or empty."""
    panel = picture.panel
    if panel.colour_mm is None or panel.fade_mm is None or not panel.colour_from:
        return ""
    depth = depth_at(picture, at, column, row)
    reach = 1.6 * max(panel.length_mm / at.wide, panel.height_mm / at.high / CELL_ASPECT)
    gaps = {
        "colour": abs(depth - panel.colour_mm),
        "fade": abs(depth - panel.colour_mm - panel.fade_mm),
    }
    border = min(gaps, key=gaps.__getitem__)
    return border if gaps[border] <= reach else ""


def depth_at(picture: Picture, at: Frame, column: int, row: int) -> float:
    """Return the depth in mm under a cell."""
    x, y = at.share(column, row)
    panel = picture.panel
    return float(depth_mm(picture.zones.layout, x * panel.length_mm, y * panel.height_mm))


def nearest_part(picture: Picture, at: Frame, column: int, row: int) -> str:
    """Return the id of the line or patch nearest to a cell; "face" where none is near."""
    x, y = at.share(column, row)
    best, best_gap = "face", 2.5
    for stroke in picture.strokes:
        for point in walk(stroke.path, at):
            gap = float(np.hypot((point[0] - x) * at.wide, (point[1] - y) * at.high * CELL_ASPECT))
            if gap < best_gap:
                best, best_gap = stroke.id, gap
    if best == "face":
        for patch in picture.panel.patch:
            rect = patch_rect(picture.panel, patch)
            if (
                rect.left <= x * picture.panel.length_mm <= rect.right
                and rect.top <= y * picture.panel.height_mm <= rect.bottom
            ):
                return patch.id
    return best


def walk(path: tuple[Point, ...], at: Frame) -> list[Point]:
    """Return points along a path, at least one in every cell that it crosses."""
    points: list[Point] = []
    for (x1, y1), (x2, y2) in pairwise(path):
        steps = max(int(abs(x2 - x1) * at.wide * 2), int(abs(y2 - y1) * at.high * 2), 1)
        points += [
            (x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps) for step in range(steps + 1)
        ]
    return points
