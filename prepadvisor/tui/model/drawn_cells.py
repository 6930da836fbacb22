"""A picture of a panel as the cells of a screen: tinted zones, a closed rim, joined lines, numbers, wet bed.

Zones, rim and borders are worked out at quarters of a cell in one pass and set with half blocks; lines inside
are walked from cell to cell and joined by box-drawing signs, on the ground of their zone. Without colour the
zones are shades, the rim is a box line; in plain ASCII every sign has one of its own.
"""

from collections.abc import Set as AbstractSet
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.cases import patch_rect
from prepadvisor.tui.model.picture import Frame, NumberedLine, Picture, frame, walk
from prepadvisor.tui.model.tints import (
    CLEAR,
    COLOUR,
    FADE,
    MIST,
    NUMBER,
    OUTSIDE,
    PICK,
    RIM,
    Mode,
    Raster,
    any_quarter,
    edge_of,
    ground_of,
    mark_border,
    mark_border_cells,
    shade_of,
    shares_of,
    tint_of,
    zones_of_cells,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from prepadvisor.records import Point

LEAST_COLUMNS: Final = 8
LEAST_ROWS: Final = 3
"""In less room a panel cannot be told from another."""


_BOX: Final = " ╵╶└╷│┌├╴┘─┴┐┤┬┼"
"""Signs by the sides they lead to: 1 up, 2 right, 4 down, 8 left; stubs are drawn long."""
_PICKED_BOX: Final = " ║═╚║║╔╠═╝═╩╗╣╦╬"
_PLAIN: Final = str.maketrans("│─┌┐└┘├┤┬┴┼║═╔╗╚╝╠╣╦╩╬█·►√", "|-+++++++++H=+++++++++#.>*")
_BOX_LONG: Final = str.maketrans("╵╶╷╴", "│─│─")


def raster(picture: Picture, width: int, height: int, mode: Mode = "tints") -> Raster:
    """Return the drawing, `width` by `height` cells; nothing is drawn where there is no room.

    Args:
        picture: what to draw.
        width: columns.
        height: rows.
        mode: how zones are told apart.
    """
    drawing = Raster(width, height)
    if width < LEAST_COLUMNS or height < LEAST_ROWS:
        return drawing
    at = frame(picture, width, height)
    inside, rim, cells = _outline(picture.shape, at)
    codes, deep = zones_of_cells(picture, at, inside)
    on_rim = any_quarter(rim | ~inside)
    picked = next((stroke for stroke in picture.strokes if stroke.id == picture.picked), None)
    if mode == "tints":
        mark_border(picture, codes, deep, inside)
        codes[rim] = RIM
        if picked is not None:
            codes[rim & _beside(picked, at)] = PICK
        tint_of(drawing, codes, at)
    else:
        shade_of(drawing, codes, at, mode)
        mark_border_cells(picture, drawing, codes, deep, at)
        _join(drawing, cells, at, RIM, _BOX)
    _bed(picture, drawing, deep, ~on_rim, at)
    bare = drawing.chars.copy()
    for stroke in sorted(picture.strokes, key=lambda stroke: stroke.id == picture.picked):
        is_picked = stroke.id == picture.picked
        own = _cells(stroke.path, at)
        within = {cell for cell in own if not on_rim[cell[1], cell[0]]}
        if len(within) > len(own) / 2 and not _hugs(own, within, on_rim):  # such a line is the rim
            box = _PICKED_BOX if is_picked else _BOX
            _join(drawing, own, at, PICK if is_picked else RIM, box=box, shown=within)
        if is_picked and mode != "tints":
            for column, row in _cells(stroke.path, at):
                drawing.put(at.left + column, at.top + row, "█", PICK)
    _patches(picture, drawing, at)
    _signs(picture, drawing, at)
    if picture.panel.colour_from and not runs_across(picture):
        _zone_words(drawing, codes, drawing.chars == bare, at)
    for number, point in enumerate(picture.points, 1):
        drawing.put(*at.cell(point), str(number % 10), NUMBER, NUMBER)
    if picture.cross is not None:
        drawing.put(*at.cell(picture.cross), "┼", NUMBER, NUMBER)
    if mode == "ascii":
        _plain(drawing)
    return drawing


@lru_cache(maxsize=64)
def _outline(
    shape: tuple["Point", ...], at: Frame
) -> tuple["NDArray[np.bool_]", "NDArray[np.bool_]", tuple[tuple[int, int], ...]]:
    """Return what lies inside the outline and on its rim, by quarter cell, and the rim's cells in order."""
    x = shares_of(at.wide * 2, at.mirrored)[None, :]
    y = shares_of(at.high * 2)[:, None]
    inside = np.zeros((at.high * 2, at.wide * 2), dtype=bool)
    for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if y1 != y2:
            inside ^= ((y1 > y) != (y2 > y)) & (x < (x2 - x1) * (y - y1) / (y2 - y1) + x1)
    padded = np.pad(inside, 1)
    around = padded[:-2, 1:-1] & padded[2:, 1:-1] & padded[1:-1, :-2] & padded[1:-1, 2:]
    return inside, inside & ~around, _cells((*shape, shape[0]), at)


def _beside(stroke: NumberedLine, at: Frame) -> "NDArray[np.bool_]":
    """Return the quarter cells in and around the cells of a line."""
    cells = np.zeros((at.high, at.wide), dtype=bool)
    for column, row in _cells(stroke.path, at):
        cells[row, column] = True
    return np.repeat(np.repeat(cells, 2, axis=0), 2, axis=1)


@lru_cache(maxsize=512)
def _cells(path: tuple["Point", ...], at: Frame) -> tuple[tuple[int, int], ...]:
    """Return the cells of the panel that a path runs through, each beside the one before."""
    found: list[tuple[int, int]] = []
    for point in walk(path, at):
        column, row = at.cell(point)
        cell = (column - at.left, row - at.top)
        if found and cell == found[-1]:
            continue
        if found and cell[0] != found[-1][0] and cell[1] != found[-1][1]:
            found.append((cell[0], found[-1][1]))
        found.append(cell)
    return tuple(found)


_SIDES: Final = {(0, -1): 1, (1, 0): 2, (0, 1): 4, (-1, 0): 8}


def _hugs(
    cells: tuple[tuple[int, int], ...], within: AbstractSet[tuple[int, int]], rim: "NDArray[np.bool_]"
) -> bool:
    """Say whether a line runs along the rim, on it or right beside it, all but a tenth of its way."""
    padded = np.pad(rim, 1)
    near = padded[:-2, 1:-1] | padded[2:, 1:-1] | padded[1:-1, :-2] | padded[1:-1, 2:]
    far = sum(not near[row, column] for column, row in within)
    return len(within) < len(cells) * 0.75 and far <= len(cells) * 0.1


def _join(
    drawing: Raster,
    cells: tuple[tuple[int, int], ...],
    at: Frame,
    ink: int,
    box: str,
    shown: AbstractSet[tuple[int, int]] | None = None,
) -> None:
    """Draw a line through cells, each joined to its neighbours on the line; of them only those in `shown`."""
    bits: dict[tuple[int, int], int] = {}
    for one, other in pairwise(cells):
        step = (other[0] - one[0], other[1] - one[1])
        if step in _SIDES:
            bits[one] = bits.get(one, 0) | _SIDES[step]
            bits[other] = bits.get(other, 0) | _SIDES[-step[0], -step[1]]
    for cell in cells:
        if shown is not None and cell not in shown:
            continue
        column, row = at.left + cell[0], at.top + cell[1]
        drawing.put(
            column,
            row,
            box[bits.get(cell, 0) or 10].translate(_BOX_LONG),
            ink,
            ground_of(drawing, column, row),
        )


def runs_across(picture: Picture) -> bool:
    """Say whether depth runs along the drawing, so that a scale below it can show the zones."""
    return picture.panel.colour_mm is not None and picture.panel.colour_from in {("front",), ("rear",)}


_ZONE_NAMES: Final = {COLOUR: "COLOUR", FADE: "FADE", MIST: "MIST", CLEAR: "CLEAR"}


def _zone_words(drawing: Raster, codes: "NDArray[np.int8]", free: "NDArray[np.bool_]", at: Frame) -> None:
    """Write each zone's name in the middle of where it is about as wide as anywhere and nothing is drawn."""
    cells = codes[::2, 1::2].copy()
    cells[~free[at.top : at.top + at.high, at.left : at.left + at.wide]] = RIM
    padded = np.pad(cells, ((0, 0), (1, 1)), constant_values=RIM)
    for code, name in _ZONE_NAMES.items():
        turns = np.argwhere(np.diff((padded == code).astype(np.int8), axis=1)).reshape(-1, 2, 2).tolist()
        stretches = [
            (end - start, row, start) for (row, start), (_, end) in turns if end - start > len(name) + 1
        ]
        widest = max((stretch[0] for stretch in stretches), default=0)
        wide = [stretch for stretch in stretches if stretch[0] >= widest * 0.9]
        if wide:
            size, row, start = wide[len(wide) // 2]
            for shift, char in enumerate(name):
                drawing.put(at.left + start + (size - len(name)) // 2 + shift, at.top + row, char, OUTSIDE)


def _bed(
    picture: Picture, drawing: Raster, deep: "NDArray[np.float64]", within: "NDArray[np.bool_]", at: Frame
) -> None:
    """Set dots along the border of the wet bed."""
    if picture.bed_mm is None:
        return
    for depth in picture.bed_mm:
        if depth <= 0:
            continue
        for row, column in np.argwhere(any_quarter(edge_of(deep, depth)) & within).tolist():
            drawing.put(
                at.left + column, at.top + row, "·", RIM, ground_of(drawing, at.left + column, at.top + row)
            )


def _patches(picture: Picture, drawing: Raster, at: Frame) -> None:
    panel, signs = picture.panel, dict(picture.patch_signs)
    for patch in panel.patch:
        rect = patch_rect(panel, patch)
        near = at.cell((rect.left / panel.length_mm, rect.top / panel.height_mm))
        far = at.cell((rect.right / panel.length_mm, rect.bottom / panel.height_mm))
        (left, right), (top, bottom) = sorted((near[0], far[0])), (near[1], far[1])
        picked = patch.id == picture.picked
        ring = [
            *((column, top) for column in range(left, right)), *((right, row) for row in range(top, bottom)),
            *((column, bottom) for column in range(right, left, -1)),
            *((left, row) for row in range(bottom, top, -1)), (left, top),
        ]  # fmt: skip
        inner = tuple((column - at.left, row - at.top) for column, row in ring)
        _join(drawing, inner, at, PICK if picked else RIM, _PICKED_BOX if picked else _BOX)
        sign = ("►" if picked else "") + signs.get(patch.id, patch.id)
        for index, char in enumerate(sign[: max(right - left - 1, 1)]):
            drawing.put(left + 1 + index, (top + bottom) // 2, char, NUMBER, NUMBER)


def _signs(picture: Picture, drawing: Raster, at: Frame) -> None:
    """Set each line's number at the free cell of it that is nearest to its middle."""
    taken: set[tuple[int, int]] = set()
    width = drawing.chars.shape[1]
    for stroke in sorted(picture.strokes, key=lambda stroke: stroke.id != picture.picked):
        sign = ("►" if stroke.id == picture.picked else "") + stroke.sign + ("√" if stroke.is_done else "")
        cells = _cells(stroke.path, at)
        middle = len(cells) // 2
        order = sorted(range(len(cells)), key=lambda index: abs(index - middle))
        for index in order:
            column = min(max(at.left + cells[index][0] - len(sign) // 2, 0), width - len(sign))
            row = at.top + cells[index][1]
            covers = {(column + shift, row) for shift in range(-1, len(sign) + 1)}
            if not covers & taken or index == order[-1]:
                taken |= covers
                for shift, char in enumerate(sign):
                    drawing.put(column + shift, row, char, NUMBER, NUMBER)
                break


def _plain(drawing: Raster) -> None:
    lines = ["".join(line).translate(_PLAIN) for line in drawing.chars.tolist()]
    drawing.chars = np.array([list(line) for line in lines], dtype="U1").reshape(drawing.chars.shape)
