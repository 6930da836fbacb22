"""The cells of a drawing and their grounds, zone by zone, with rim, borders and what is picked."""

from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from prepadvisor.records import NamedTuple
from prepadvisor.surface import depth_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from prepadvisor.tui.model.picture import Frame, Picture

Mode = Literal["tints", "shades", "ascii"]
"""How zones are told apart: by tints; by shades, without colour; by plain signs of ASCII."""


GROUNDS: Final = (
    "plain", "zone-colour", "zone-fade", "zone-mist", "zone-clear", "rim", "line-pick",
    "border-pick", "number",
)  # fmt: skip
"""Inks by the code they have in the arrays; a ground is what lies behind a sign."""


OUTSIDE, COLOUR, FADE, MIST, CLEAR, RIM, PICK, BORDER, NUMBER = range(len(GROUNDS))


_SHADES: Final = {
    "tints": {},
    "shades": {COLOUR: "▓", FADE: "▒", MIST: "░"},
    "ascii": {COLOUR: "%", FADE: "+", MIST: "."},
}


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
        if not len(inks):  # a window so narrow that nothing is left for the drawing
            return []
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


def shares_of(count: int, mirrored: bool = False) -> "NDArray[np.float64]":
    """Return the middles of so many equal parts of 0 to 1, backwards where the panel is drawn mirrored."""
    middle = (np.arange(count) + 0.5) / count
    return middle[::-1] if mirrored else middle


def zones_of_cells(
    picture: "Picture", at: "Frame", inside: "NDArray[np.bool_]"
) -> tuple["NDArray[np.int8]", "NDArray[np.float64]"]:
    """Return the zone's code and the depth in mm of every quarter cell."""
    panel, zones = picture.panel, picture.zones
    x = shares_of(at.wide * 2, at.mirrored)[None, :] * panel.length_mm
    y = shares_of(at.high * 2)[:, None] * panel.height_mm
    deep = depth_mm(zones.layout, x, y)
    codes = np.full(inside.shape, OUTSIDE, dtype=np.int8)
    if zones.colour_end_mm == float("inf"):
        codes[inside] = COLOUR
        return codes, deep
    mist_from = max(zones.fade_end_mm - picture.mist_mm, zones.colour_end_mm)
    ends = np.array([zones.colour_end_mm, mist_from, zones.fade_end_mm])
    codes[inside] = (COLOUR + np.searchsorted(ends, deep[inside], side="right")).astype(np.int8)
    return codes, deep


def border_depth(picture: "Picture") -> float | None:
    """Return how deep in mm the border lies that is being moved; None where none is."""
    panel = picture.panel
    if not picture.border or panel.colour_mm is None or panel.fade_mm is None or not panel.colour_from:
        return None
    return panel.colour_mm + (panel.fade_mm if picture.border == "fade" else 0.0)


def edge_of(deep: "NDArray[np.float64]", depth: float) -> "NDArray[np.bool_]":
    """Return where the depth passes a value: the last quarter cells before it."""
    below = np.pad(deep < depth, 1, mode="edge")
    around = below[:-2, 1:-1] & below[2:, 1:-1] & below[1:-1, :-2] & below[1:-1, 2:]
    return below[1:-1, 1:-1] & ~around


def mark_border(
    picture: "Picture", codes: "NDArray[np.int8]", deep: "NDArray[np.float64]", inside: "NDArray[np.bool_]"
) -> None:
    """Set the quarter cells of the border that is being moved."""
    depth = border_depth(picture)
    if depth is not None:
        codes[edge_of(deep, depth) & inside] = BORDER


def mark_border_cells(
    picture: "Picture", drawing: Raster, codes: "NDArray[np.int8]", deep: "NDArray[np.float64]", at: "Frame"
) -> None:
    """Set whole cells of the border that is being moved, where there are no half blocks."""
    depth = border_depth(picture)
    if depth is None:
        return
    edge = edge_of(deep, depth) & (codes != OUTSIDE)
    for row, column in np.argwhere(any_quarter(edge)).tolist():
        drawing.put(at.left + column, at.top + row, "█", BORDER)


def any_quarter(quarters: "NDArray[np.bool_]") -> "NDArray[np.bool_]":
    """Return the cells of which any quarter is true."""
    return quarters[::2, ::2] | quarters[1::2, ::2] | quarters[::2, 1::2] | quarters[1::2, 1::2]


def tint_of(drawing: Raster, codes: "NDArray[np.int8]", at: "Frame") -> None:
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
    strong = [PICK, BORDER, RIM]
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


def shade_of(drawing: Raster, codes: "NDArray[np.int8]", at: "Frame", mode: Mode) -> None:
    """Set every cell to the sign of its zone, for a terminal without colour."""
    signs = _SHADES[mode]
    for row, line in enumerate(codes[::2, ::2].tolist()):
        for column, code in enumerate(line):
            drawing.put(at.left + column, at.top + row, signs.get(code, " "), OUTSIDE)


def ground_of(drawing: Raster, column: int, row: int) -> int:
    """Return the zone behind a cell: its own ground, or the ink of a half block where that is a zone."""
    ground = int(drawing.grounds[row, column])
    return ground if ground <= CLEAR else OUTSIDE
