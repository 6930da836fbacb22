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
ZONE_GLYPH: Final = {"colour": "▒", "fade": "░", "clear": " "}
"""Shading by zone, so that a zone is told apart without colour."""

LEAST_COLUMNS: Final = 8
LEAST_ROWS: Final = 3
"""In less room a panel cannot be told from another."""

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


def raster(picture: Picture, width: int, height: int) -> list[list[Cell]]:
    """Return the drawing as rows of cells, `width` by `height`; nothing is drawn where there is no room."""
    grid = [[Cell(" ", "plain")] * width for _ in range(height)]
    if width < LEAST_COLUMNS or height < LEAST_ROWS:
        return grid
    at = frame(picture.panel, width, height)
    _shade(grid, picture, at)
    for stroke in sorted(picture.strokes, key=lambda stroke: stroke.id == picture.picked):
        _draw(grid, stroke, at, stroke.id == picture.picked)
    for patch in picture.panel.patch:
        _patch(grid, picture, at, patch.id)
    _signs(grid, picture, at)
    for number, point in enumerate(picture.points, 1):
        _put(grid, *at.cell(point), str(number % 10), "number")
    if picture.cross is not None:
        _put(grid, *at.cell(picture.cross), "┼", "border-pick")
    return grid


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
        for point in _walk(stroke.path, at):
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


def _shade(grid: list[list[Cell]], picture: Picture, at: Frame) -> None:
    deep = depths(picture, at)
    colour_end, fade_end = picture.zones.colour_end_mm, picture.zones.fade_end_mm
    inside = _inside(picture.shape, at)
    wanted = _border_depth(picture)
    for row in range(at.high):
        line = grid[at.top + row]
        depth_row, inside_row = deep[row].tolist(), inside[row].tolist()
        for column in range(at.wide):
            if not inside_row[column]:
                continue
            depth = depth_row[column]
            zone = "colour" if depth < colour_end else "fade" if depth < fade_end else "clear"
            if colour_end == float("inf"):
                zone = "colour"
            line[at.left + column] = Cell(ZONE_GLYPH[zone], f"zone-{zone}")  # type: ignore[arg-type]
    if wanted is not None:
        _mark_border(grid, deep, inside, at, wanted)


def _border_depth(picture: Picture) -> float | None:
    panel = picture.panel
    if not picture.border or panel.colour_mm is None or panel.fade_mm is None or not panel.colour_from:
        return None
    return panel.colour_mm + (panel.fade_mm if picture.border == "fade" else 0.0)


def _mark_border(
    grid: list[list[Cell]], deep: NDArray[np.float64], inside: NDArray[np.bool_], at: Frame, wanted: float
) -> None:
    below = deep < wanted
    edge = np.zeros_like(below)
    edge[:, 1:] |= below[:, 1:] != below[:, :-1]
    edge[1:, :] |= below[1:, :] != below[:-1, :]
    for row, column in np.argwhere(edge & inside).tolist():
        grid[at.top + row][at.left + column] = Cell("█", "border-pick")


def _inside(shape: tuple[Point, ...], at: Frame) -> NDArray[np.bool_]:
    """Say for the middle of every cell whether it lies inside the outline (even-odd rule)."""
    x = ((np.arange(at.wide) + 0.5) / at.wide)[None, :]
    y = ((np.arange(at.high) + 0.5) / at.high)[:, None]
    inside = np.zeros((at.high, at.wide), dtype=bool)
    for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if y1 == y2:
            continue
        crosses = (y1 > y) != (y2 > y)
        inside ^= crosses & (x < (x2 - x1) * (y - y1) / (y2 - y1) + x1)
    return inside


def _walk(path: tuple[Point, ...], at: Frame) -> list[Point]:
    """Return points along a path, at least one in every cell that it crosses."""
    points: list[Point] = []
    for (x1, y1), (x2, y2) in pairwise(path):
        steps = max(int(abs(x2 - x1) * at.wide * 2), int(abs(y2 - y1) * at.high * 2), 1)
        points += [
            (x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps) for step in range(steps + 1)
        ]
    return points


def _draw(grid: list[list[Cell]], stroke: Stroke, at: Frame, picked: bool) -> None:
    for (x1, y1), (x2, y2) in pairwise(stroke.path):
        across, down = (x2 - x1) * at.wide, (y2 - y1) * at.high * CELL_ASPECT
        glyph = _glyph(across, down)
        for point in _walk(((x1, y1), (x2, y2)), at):
            _put(grid, *at.cell(point), "█" if picked else glyph, "line-pick" if picked else "line")


def _glyph(across: float, down: float) -> str:
    if abs(down) < abs(across) * 0.5:
        return "─"
    if abs(across) < abs(down) * 0.35:
        return "│"
    return "\\" if across * down > 0 else "/"


def _patch(grid: list[list[Cell]], picture: Picture, at: Frame, patch_id: str) -> None:
    panel = picture.panel
    patch = next(patch for patch in panel.patch if patch.id == patch_id)
    rect = patch_rect(panel, patch)
    left, top = at.cell((rect.left / panel.length_mm, rect.top / panel.height_mm))
    right, bottom = at.cell((rect.right / panel.length_mm, rect.bottom / panel.height_mm))
    ink: Ink = "line-pick" if patch_id == picture.picked else "line"
    for column in range(left, right + 1):
        _put(grid, column, top, "═", ink)
        _put(grid, column, bottom, "═", ink)
    for row in range(top, bottom + 1):
        _put(grid, left, row, "║", ink)
        _put(grid, right, row, "║", ink)
    corners = ((left, top, "╔"), (right, top, "╗"), (left, bottom, "╚"), (right, bottom, "╝"))
    for column, row, glyph in corners:
        _put(grid, column, row, glyph, ink)
    sign = f"►{patch_id}" if patch_id == picture.picked else patch_id
    for index, char in enumerate(sign[: max(right - left - 1, 1)]):
        _put(grid, left + 1 + index, (top + bottom) // 2, char, "number")


def _signs(grid: list[list[Cell]], picture: Picture, at: Frame) -> None:
    taken: set[tuple[int, int]] = set()
    for stroke in sorted(picture.strokes, key=lambda stroke: stroke.id != picture.picked):
        sign = f"►{stroke.sign}" if stroke.id == picture.picked else stroke.sign
        walk = _walk(stroke.path, at)
        middle = len(walk) // 2
        order = sorted(range(len(walk)), key=lambda index: abs(index - middle))
        for index in order:
            column, row = at.cell(walk[index])
            column = min(max(column - len(sign) // 2, 0), len(grid[0]) - len(sign))
            cells = {(column + shift, row) for shift in range(-1, len(sign) + 1)}
            if not cells & taken or index == order[-1]:
                taken |= cells
                for shift, char in enumerate(sign):
                    _put(grid, column + shift, row, char, "number")
                break


def _put(grid: list[list[Cell]], column: int, row: int, char: str, ink: Ink) -> None:
    if 0 <= row < len(grid) and 0 <= column < len(grid[row]):
        grid[row][column] = Cell(char, ink)
