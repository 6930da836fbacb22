"""A picture of a panel as the cells of a screen: tinted zones, a closed rim, joined lines, numbers, wet bed.

Zones, rim and borders are worked out at quarters of a cell in one pass and set with half blocks; lines inside
are walked from cell to cell and joined by box-drawing signs, on the ground of their zone. Without colour the
zones are shades, the rim is a box line; in plain ASCII every sign has one of its own.
"""

from functools import lru_cache
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from prepadvisor.cases.zones import patch_rect
from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Point
from prepadvisor.surface.layout import depth_mm
from prepadvisor.tui.model.picture import Frame, NumberedLine, Picture, frame, walk

Mode = Literal["tints", "shades", "ascii"]
"""How zones are told apart: by tints; by shades, without colour; by plain signs of ASCII."""

LEAST_COLUMNS: Final = 8
LEAST_ROWS: Final = 3
"""In less room a panel cannot be told from another."""

GROUNDS: Final = (
    "plain", "zone-colour", "zone-fade", "zone-mist", "zone-clear", "rim", "line-pick",
    "border-pick", "number",
)  # fmt: skip
"""Inks by the code they have in the arrays; a ground is what lies behind a sign."""
_OUTSIDE, _COLOUR, _FADE, _MIST, _CLEAR, _RIM, _PICK, _BORDER, _NUMBER = range(len(GROUNDS))

_SHADES: Final = {
    "tints": {},
    "shades": {_COLOUR: "▓", _FADE: "▒", _MIST: "░"},
    "ascii": {_COLOUR: "%", _FADE: "+", _MIST: "."},
}
_BOX: Final = " ╵╶└╷│┌├╴┘─┴┐┤┬┼"
"""Signs by the sides they lead to: 1 up, 2 right, 4 down, 8 left; stubs are drawn long."""
_PICKED_BOX: Final = " ║═╚║║╔╠═╝═╩╗╣╦╬"
_PLAIN: Final = str.maketrans("│─┌┐└┘├┤┬┴┼║═╔╗╚╝╠╣╦╩╬█·►√", "|-+++++++++H=+++++++++#.>*")
_BOX_LONG: Final = str.maketrans("╵╶╷╴", "│─│─")


class Stretch(NamedTuple):
    """A stretch of one line of the drawing: its text, the ink of the signs and the ground behind them."""

    text: str
    ink: str
    ground: str


class Raster:
    """A drawing in cells: a sign, an ink and a ground each."""

    def __init__(self, width: int, height: int) -> None:
        """Start with nothing drawn."""
        self.chars: NDArray[np.str_] = np.full((height, width), " ", dtype="U1")
        self.inks: NDArray[np.int8] = np.zeros((height, width), dtype=np.int8)
        self.grounds: NDArray[np.int8] = np.zeros((height, width), dtype=np.int8)

    def put(self, column: int, row: int, char: str, ink: int, ground: int | None = None) -> None:
        """Set one sign, on the ground that is there where none is given."""
        if 0 <= row < self.chars.shape[0] and 0 <= column < self.chars.shape[1]:
            self.chars[row, column] = char
            self.inks[row, column] = ink
            if ground is not None:
                self.grounds[row, column] = ground

    def runs(self, row: int) -> list[Stretch]:
        """Return a line as stretches of the same ink and ground."""
        inks, grounds = self.inks[row], self.grounds[row]
        cuts = np.flatnonzero((inks[1:] != inks[:-1]) | (grounds[1:] != grounds[:-1])) + 1
        bounds = [0, *cuts.tolist(), len(inks)]
        text = "".join(self.chars[row].tolist())
        return [
            Stretch(text[start:end], GROUNDS[inks[start]], GROUNDS[grounds[start]])
            for start, end in pairwise(bounds)
        ]

    def text(self) -> str:
        """Return the signs alone, line by line."""
        return "\n".join("".join(line) for line in self.chars.tolist())


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
    codes, deep = _zones(picture, at, inside)
    on_rim = _any_quarter(rim | ~inside)
    picked = next((stroke for stroke in picture.strokes if stroke.id == picture.picked), None)
    if mode == "tints":
        _mark_border(picture, codes, deep, inside)
        codes[rim] = _RIM
        if picked is not None:
            codes[rim & _beside(picked, at)] = _PICK
        _tint(drawing, codes, at)
    else:
        _shade(drawing, codes, at, mode)
        _mark_border_cells(picture, drawing, codes, deep, at)
        _join(drawing, cells, at, _RIM, _BOX)
    _bed(picture, drawing, deep, ~on_rim, at)
    if picture.panel.colour_from and not runs_across(picture):
        _zone_words(drawing, codes, at)
    for stroke in sorted(picture.strokes, key=lambda stroke: stroke.id == picture.picked):
        is_picked = stroke.id == picture.picked
        own = _cells(stroke.path, at)
        within = [cell for cell in own if not on_rim[cell[1], cell[0]]]
        own = within if len(within) > len(own) / 2 else []  # what runs along the rim is the rim
        _join(drawing, own, at, _PICK if is_picked else _RIM, _PICKED_BOX if is_picked else _BOX)
        if is_picked and mode != "tints":
            for column, row in _cells(stroke.path, at):
                drawing.put(at.left + column, at.top + row, "█", _PICK)
    _patches(picture, drawing, at)
    _signs(picture, drawing, at)
    for number, point in enumerate(picture.points, 1):
        drawing.put(*at.cell(point), str(number % 10), _NUMBER, _NUMBER)
    if picture.cross is not None:
        drawing.put(*at.cell(picture.cross), "┼", _NUMBER, _NUMBER)
    if mode == "ascii":
        _plain(drawing)
    return drawing


def _shares(count: int, mirrored: bool = False) -> NDArray[np.float64]:
    middle = (np.arange(count) + 0.5) / count
    return middle[::-1] if mirrored else middle


@lru_cache(maxsize=64)
def _outline(
    shape: tuple[Point, ...], at: Frame
) -> tuple[NDArray[np.bool_], NDArray[np.bool_], tuple[tuple[int, int], ...]]:
    """Return what lies inside the outline and on its rim, by quarter cell, and the rim's cells in order."""
    x = _shares(at.wide * 2, at.mirrored)[None, :]
    y = _shares(at.high * 2)[:, None]
    inside = np.zeros((at.high * 2, at.wide * 2), dtype=bool)
    for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if y1 != y2:
            inside ^= ((y1 > y) != (y2 > y)) & (x < (x2 - x1) * (y - y1) / (y2 - y1) + x1)
    padded = np.pad(inside, 1)
    around = padded[:-2, 1:-1] & padded[2:, 1:-1] & padded[1:-1, :-2] & padded[1:-1, 2:]
    return inside, inside & ~around, tuple(_cells((*shape, shape[0]), at))


def _zones(
    picture: Picture, at: Frame, inside: NDArray[np.bool_]
) -> tuple[NDArray[np.int8], NDArray[np.float64]]:
    """Return the zone's code and the depth in mm of every quarter cell."""
    panel, zones = picture.panel, picture.zones
    x = _shares(at.wide * 2, at.mirrored)[None, :] * panel.length_mm
    y = _shares(at.high * 2)[:, None] * panel.height_mm
    deep = depth_mm(zones.layout, x, y)
    codes = np.full(inside.shape, _OUTSIDE, dtype=np.int8)
    if zones.colour_end_mm == float("inf"):
        codes[inside] = _COLOUR
        return codes, deep
    mist_from = max(zones.fade_end_mm - picture.mist_mm, zones.colour_end_mm)
    ends = np.array([zones.colour_end_mm, mist_from, zones.fade_end_mm])
    codes[inside] = (_COLOUR + np.searchsorted(ends, deep[inside], side="right")).astype(np.int8)
    return codes, deep


def _border_depth(picture: Picture) -> float | None:
    panel = picture.panel
    if not picture.border or panel.colour_mm is None or panel.fade_mm is None or not panel.colour_from:
        return None
    return panel.colour_mm + (panel.fade_mm if picture.border == "fade" else 0.0)


def _edge_of(deep: NDArray[np.float64], depth: float) -> NDArray[np.bool_]:
    """Return where the depth passes a value: the last quarter cells before it."""
    below = np.pad(deep < depth, 1, mode="edge")
    around = below[:-2, 1:-1] & below[2:, 1:-1] & below[1:-1, :-2] & below[1:-1, 2:]
    return below[1:-1, 1:-1] & ~around


def _mark_border(
    picture: Picture, codes: NDArray[np.int8], deep: NDArray[np.float64], inside: NDArray[np.bool_]
) -> None:
    depth = _border_depth(picture)
    if depth is not None:
        codes[_edge_of(deep, depth) & inside] = _BORDER


def _mark_border_cells(
    picture: Picture, drawing: Raster, codes: NDArray[np.int8], deep: NDArray[np.float64], at: Frame
) -> None:
    depth = _border_depth(picture)
    if depth is None:
        return
    edge = _edge_of(deep, depth) & (codes != _OUTSIDE)
    for row, column in np.argwhere(_any_quarter(edge)).tolist():
        drawing.put(at.left + column, at.top + row, "█", _BORDER)


def _any_quarter(quarters: NDArray[np.bool_]) -> NDArray[np.bool_]:
    return quarters[::2, ::2] | quarters[1::2, ::2] | quarters[::2, 1::2] | quarters[1::2, 1::2]


def _beside(stroke: NumberedLine, at: Frame) -> NDArray[np.bool_]:
    """Return the quarter cells in and around the cells of a line."""
    cells = np.zeros((at.high, at.wide), dtype=bool)
    for column, row in _cells(stroke.path, at):
        cells[row, column] = True
    return np.repeat(np.repeat(cells, 2, axis=0), 2, axis=1)


def _tint(drawing: Raster, codes: NDArray[np.int8], at: Frame) -> None:
    """Set every cell from its four quarters: one ground, or two with a half block between them."""
    a, b, c, d = codes[::2, ::2], codes[::2, 1::2], codes[1::2, ::2], codes[1::2, 1::2]
    part = np.s_[at.top : at.top + at.high, at.left : at.left + at.wide]
    chars = np.full(a.shape, " ", dtype="U1")
    one, two = a.copy(), a.copy()
    sideways = (a == c) & (b == d) & (a != b)
    upright = (a == b) & (c == d) & (a != c)
    chars[sideways], one[sideways], two[sideways] = "▌", a[sideways], b[sideways]
    chars[upright], one[upright], two[upright] = "▀", a[upright], c[upright]
    mixed = ~sideways & ~upright & ~((a == b) & (a == c) & (a == d))
    strong = [_PICK, _BORDER, _RIM]
    for row, column in np.argwhere(mixed).tolist():
        four = (a[row, column], b[row, column], c[row, column], d[row, column])
        chars[row, column], one[row, column], two[row, column] = _halves(four, strong)
    drawing.chars[part], drawing.inks[part], drawing.grounds[part] = chars, one, two


def _halves(four: tuple[int, int, int, int], strong: list[int]) -> tuple[str, int, int]:
    """Return the half block that comes nearest to four different quarters; rim and borders stay visible."""
    first = next((code for code in strong if code in four), None)
    rest = [code for code in four if code != first] or [four[0]]
    ground = max(set(rest), key=rest.count)
    if first is None:
        others = [code for code in four if code != ground]
        first = max(set(others), key=others.count)
    a, b, c, d = (code == first for code in four)
    if a + b + c + d >= 3:
        lacking = (a, b, c, d).index(False) if a + b + c + d == 3 else 0
        return ("▀" if lacking > 1 else "▄", first, ground)
    if (a and b) or (c and d):
        return ("▀" if a else "▄", first, ground)
    if (a and c) or (b and d):
        return ("▌" if a else "▐", first, ground)
    return ("▀" if a or b else "▄", first, ground)


def _shade(drawing: Raster, codes: NDArray[np.int8], at: Frame, mode: Mode) -> None:
    signs = _SHADES[mode]
    for row, line in enumerate(codes[::2, ::2].tolist()):
        for column, code in enumerate(line):
            drawing.put(at.left + column, at.top + row, signs.get(code, " "), _OUTSIDE)


def _cells(path: tuple[Point, ...], at: Frame) -> list[tuple[int, int]]:
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
    return found


_SIDES: Final = {(0, -1): 1, (1, 0): 2, (0, 1): 4, (-1, 0): 8}


def _join(
    drawing: Raster, cells: list[tuple[int, int]] | tuple[tuple[int, int], ...], at: Frame, ink: int, box: str
) -> None:
    """Draw a line through cells, each joined to its neighbours on the line."""
    bits: dict[tuple[int, int], int] = {}
    for one, other in pairwise(cells):
        step = (other[0] - one[0], other[1] - one[1])
        if step in _SIDES:
            bits[one] = bits.get(one, 0) | _SIDES[step]
            bits[other] = bits.get(other, 0) | _SIDES[-step[0], -step[1]]
    for cell in cells:
        column, row = at.left + cell[0], at.top + cell[1]
        drawing.put(
            column, row, box[bits.get(cell, 0) or 10].translate(_BOX_LONG), ink, _ground(drawing, column, row)
        )


def _ground(drawing: Raster, column: int, row: int) -> int:
    """Return the zone behind a cell: its own ground, or the ink of a half block where that is a zone."""
    ground = int(drawing.grounds[row, column])
    return ground if ground <= _CLEAR else _OUTSIDE


def runs_across(picture: Picture) -> bool:
    """Say whether depth runs along the drawing, so that a scale below it can show the zones."""
    return picture.panel.colour_mm is not None and picture.panel.colour_from in {("front",), ("rear",)}


_ZONE_NAMES: Final = {_COLOUR: "COLOUR", _FADE: "FADE", _MIST: "MIST", _CLEAR: "CLEAR"}


def _zone_words(drawing: Raster, codes: NDArray[np.int8], at: Frame) -> None:
    """Write each zone's name in the middle of where it is about as wide as anywhere."""
    cells = codes[::2, 1::2]
    for code, name in _ZONE_NAMES.items():
        stretches = [
            (end - start, row, start)
            for row, line in enumerate((cells == code).astype(np.int8))
            for start, end in np.flatnonzero(np.diff(np.pad(line, 1))).reshape(-1, 2).tolist()
            if end - start > len(name) + 1
        ]
        widest = max((stretch[0] for stretch in stretches), default=0)
        wide = [stretch for stretch in stretches if stretch[0] >= widest * 0.9]
        if wide:
            size, row, start = wide[len(wide) // 2]
            for shift, char in enumerate(name):
                drawing.put(at.left + start + (size - len(name)) // 2 + shift, at.top + row, char, _OUTSIDE)


def _bed(
    picture: Picture, drawing: Raster, deep: NDArray[np.float64], within: NDArray[np.bool_], at: Frame
) -> None:
    """Set dots along the border of the wet bed."""
    if picture.bed_mm is None:
        return
    for depth in picture.bed_mm:
        if depth <= 0:
            continue
        for row, column in np.argwhere(_any_quarter(_edge_of(deep, depth)) & within).tolist():
            drawing.put(
                at.left + column, at.top + row, "·", _RIM, _ground(drawing, at.left + column, at.top + row)
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
        inner = [(column - at.left, row - at.top) for column, row in ring]
        _join(drawing, inner, at, _PICK if picked else _RIM, _PICKED_BOX if picked else _BOX)
        sign = ("►" if picked else "") + signs.get(patch.id, patch.id)
        for index, char in enumerate(sign[: max(right - left - 1, 1)]):
            drawing.put(left + 1 + index, (top + bottom) // 2, char, _NUMBER, _NUMBER)


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
                    drawing.put(column + shift, row, char, _NUMBER, _NUMBER)
                break


def _plain(drawing: Raster) -> None:
    lines = ["".join(line).translate(_PLAIN) for line in drawing.chars.tolist()]
    drawing.chars = np.array([list(line) for line in lines], dtype="U1").reshape(drawing.chars.shape)
