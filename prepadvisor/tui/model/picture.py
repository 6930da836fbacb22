"""What is drawn of a panel: shape, zones, numbered lines, patches, and where that lies in screen cells."""

from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING, Final, Literal

from prepadvisor.cases import Zoning, patch_rect, zoning
from prepadvisor.records import NamedTuple
from prepadvisor.surface import depth_mm
from prepadvisor.wording import METRIC, Units

if TYPE_CHECKING:
    from prepadvisor.records import Panel, Point

CELL_ASPECT: Final = 2.0
"""Height of a character cell over its width, near enough on every terminal."""

Border = Literal["", "colour", "fade"]


class NumberedLine(NamedTuple):
    """A numbered line: its id, the sign it goes by, its path in shares of the panel."""

    id: str
    sign: str
    path: tuple["Point", ...]
    is_done: bool = False


class Picture(NamedTuple):
    """A panel to draw, as one sees it standing before the car: a right-hand panel is mirrored.

    `picked` is the id of the selected line or patch, `border` the border to be moved, `bed_mm` the depths
    between which a wet bed is laid, `patch_signs` what each patch goes by, `ends` what people call
    the panel's front and rear end.
    """

    panel: "Panel"
    shape: tuple["Point", ...]
    mist_mm: float
    strokes: tuple[NumberedLine, ...]
    picked: str = ""
    border: str = ""
    points: tuple["Point", ...] = ()
    cross: "Point | None" = None
    mirrored: bool = False
    bed_mm: tuple[float, float] | None = None
    patch_signs: tuple[tuple[str, str], ...] = ()
    ends: tuple[str, str] = ("front", "rear")
    units: Units = METRIC

    @property
    def zones(self) -> Zoning:
        """The zones as they lie on the panel."""
        return zoning(self.panel, self.mist_mm)


class Frame(NamedTuple):
    """Where the panel lies in a grid of cells: first column and row, columns and rows; front on the right?"""

    left: int
    top: int
    wide: int
    high: int
    mirrored: bool = False

    def share(self, column: float, row: float) -> "Point":
        """Return the place on the panel, 0 to 1, under a cell; clipped to the panel."""
        x = min(max((column + 0.5 - self.left) / self.wide, 0.0), 1.0)
        y = min(max((row + 0.5 - self.top) / self.high, 0.0), 1.0)
        return (round(1.0 - x if self.mirrored else x, 4), round(y, 4))

    def cell(self, point: "Point") -> tuple[int, int]:
        """Return the column and row of a place on the panel."""
        across = 1.0 - point[0] if self.mirrored else point[0]
        column = self.left + max(min(int(across * self.wide), self.wide - 1), 0)
        row = self.top + min(int(point[1] * self.high), self.high - 1)
        return column, row


def frame(picture: Picture, width: int, height: int) -> Frame:
    """Return where a panel lies in a grid of cells, as large as fits at its true shape."""
    panel = picture.panel
    width, height = max(width - 2, 4), max(height, 3)
    per_cell = max(panel.length_mm / width, panel.height_mm / (height * CELL_ASPECT))
    wide = max(min(round(panel.length_mm / per_cell), width), 4)
    high = max(min(round(panel.height_mm / (per_cell * CELL_ASPECT)), height), 3)
    return Frame(1 + (width - wide) // 2, (height - high) // 2, wide, high, picture.mirrored)


def nearest_border(picture: Picture, at: Frame, column: int, row: int) -> Border:
    """Return the border within about two columns of a cell: "colour", "fade", or empty."""
    panel = picture.panel
    if panel.colour_mm is None or panel.fade_mm is None or not panel.colour_from:
        return ""
    depth = depth_at(picture, at, column, row)
    reach = 1.6 * max(panel.length_mm / at.wide, panel.height_mm / at.high / CELL_ASPECT)
    gaps: dict[Border, float] = {
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
            gap = hypot((point[0] - x) * at.wide, (point[1] - y) * at.high * CELL_ASPECT)
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


def walk(path: tuple["Point", ...], at: Frame) -> list["Point"]:
    """Return points along a path, at least one in every cell that it crosses."""
    points: list[Point] = []
    for (x1, y1), (x2, y2) in pairwise(path):
        steps = max(int(abs(x2 - x1) * at.wide * 2), int(abs(y2 - y1) * at.high * 2), 1)
        points += [
            (x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps) for step in range(steps + 1)
        ]
    return points
