"""A picture of a panel as the cells of a screen: shading, lines, patches, borders, signs."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from prepadvisor.planning.zones import patch_rect
from prepadvisor.records.job import Point
from prepadvisor.tui.model.picture import CELL_ASPECT, Cell, Frame, Ink, Picture, Stroke, depths, frame, walk

LEAST_COLUMNS = 8
LEAST_ROWS = 3
"""In less room a panel cannot be told from another."""

ZONE_GLYPH = {"colour": "▒", "fade": "░", "clear": " "}
"""Shading by zone, so that a zone is told apart without colour."""


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


def _draw(grid: list[list[Cell]], stroke: Stroke, at: Frame, picked: bool) -> None:
    for (x1, y1), (x2, y2) in pairwise(stroke.path):
        across, down = (x2 - x1) * at.wide, (y2 - y1) * at.high * CELL_ASPECT
        glyph = _glyph(across, down)
        for point in walk(((x1, y1), (x2, y2)), at):
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
        points = walk(stroke.path, at)
        middle = len(points) // 2
        order = sorted(range(len(points)), key=lambda index: abs(index - middle))
        for index in order:
            column, row = at.cell(points[index])
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
