"""A panel's drawing as it prints: patterns, numbered lines, patches, the wet bed's border and a legend."""

from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.cards.figures.drawing import NEEDS, DrawnLine, DrawnPanel, PanelPoint
from prepadvisor.cards.figures.figure import (
    Dots,
    Figure,
    FigureText,
    Hatch,
    Mark,
    PointMm,
    Shape,
    Stroke,
    box,
)
from prepadvisor.cards.figures.lines import (
    BED_BORDER,
    CAP,
    LABEL_PT,
    LEADER,
    LEGEND_ROW_MM,
    OUTLINE,
    ZONE_BORDER,
    ZONE_WORDS,
    LabelRoom,
    along,
    around,
    legend_marks,
    legend_rows,
    line_marks,
)
from prepadvisor.cards.figures.zones import colour_hatch, contour, fade_dots, zone_mask
from prepadvisor.cards.page.typeface import MM_PER_PT, width_mm
from prepadvisor.surface import Rect

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from prepadvisor.wording import Units

_MARGIN_MM: Final = 3.2
_SIDE_ROW_MM: Final = 3.6
_NARROW_MM: Final = 28.0
"""A panel drawn narrower than this has both sides named around its middle."""
_SHORT_MM: Final = 12.0
"""A line that extends less than this would be hidden by a number on it; the number stands beside it."""
_BESIDE: Final = ((0, 6), (0, -6), (-8, 5), (8, 5), (-8, -5), (8, -5), (9, 0), (-9, 0), (0, 9), (0, -9))
_SHARES: Final = (0.5, 0.38, 0.62, 0.26, 0.74, 0.16, 0.84, 0.08, 0.92)


class PanelFigure:
    """Draws one panel to fit a width and a greatest height; ask for `figure()` once."""

    def __init__(self, drawing: DrawnPanel, width_mm: float, height_max_mm: float) -> None:
        """Choose the scale: the panel fills the width or the height."""
        self._drawing = drawing
        self._legend = legend_rows(drawing, width_mm)
        below = _SIDE_ROW_MM + LEGEND_ROW_MM * len(self._legend)
        room = max(8.0, height_max_mm - 2 * _MARGIN_MM)
        self._mm = max(
            drawing.length_mm / (width_mm - 2 * _MARGIN_MM), drawing.height_mm / room, 1e-9
        )  # panel mm per page mm
        self._wide, self._high = drawing.length_mm / self._mm, drawing.height_mm / self._mm
        self._left = (width_mm - self._wide) / 2
        self._bottom = self._high + 2 * _MARGIN_MM
        self._width, self._height = width_mm, self._bottom + below
        self._room = LabelRoom(Rect(0.2, 0.2, width_mm - 0.2, self._bottom - 0.2))
        self._avoid = np.empty((0, 2))

    def figure(self) -> Figure:
        """Return the drawing with every mark in page mm."""
        drawing = self._drawing
        marks: list[Mark] = [Shape(self._path(drawing.outline), None, closed=True, fill="white")]
        marks += self._patterns()
        marks.append(Shape(self._path(drawing.outline), OUTLINE, closed=True))
        paths = [(line, self._path(line.path)) for line in drawing.lines]
        for line, path in paths:
            marks += line_marks(path, line.need)
            self._avoid = np.vstack((self._avoid, _along_all(path)))
        marks += self._bed()
        for patch in drawing.patches:
            marks += self._number(patch.number, patch.stop, [self._at(_middle(patch.rect))], None)
        marks += self._zone_words()
        for line, path in sorted(paths, key=lambda pair: len(pair[1])):
            marks += self._line_number(line, path)
        marks += self._sides()
        marks += legend_marks(self._legend, self._bottom + _SIDE_ROW_MM)
        return Figure(self._width, self._height, _title(drawing), _says(drawing), tuple(marks))

    def space(self) -> Figure:
        """Return the drawing's size alone."""
        return Figure(self._width, self._height, "", "", ())

    def _at(self, point: PanelPoint) -> PointMm:
        x, y = self._drawing.seen_from_outside(point)
        return (self._left + x / self._mm, _MARGIN_MM + y / self._mm)

    def _path(self, points: tuple[PanelPoint, ...]) -> tuple[PointMm, ...]:
        return tuple(self._at(point) for point in points)

    def _patterns(self) -> list[Mark]:
        drawing = self._drawing
        holes = tuple(patch.rect for patch in drawing.patches)
        hatch = tuple((self._at(a), self._at(b)) for a, b in colour_hatch(drawing, self._mm, holes))
        dots = tuple((*self._at((x, y)), r / self._mm) for x, y, r in fade_dots(drawing, self._mm, holes))
        marks: list[Mark] = [Hatch(hatch, Stroke(0.22)), Dots(dots)]
        for zone in drawing.zones:
            runs = contour(drawing, zone.to_mm, 0.8 * self._mm)
            marks += [Shape(self._path(run), ZONE_BORDER) for run in runs]
        for patch in drawing.patches:
            left, top, right, bottom = patch.rect
            corners = self._path(((left, top), (right, top), (right, bottom), (left, bottom)))
            marks.append(Shape(corners, Stroke(0.8), closed=True, fill="white"))
            marks.append(Hatch(_grid(corners), Stroke(0.18)))
        return marks

    def _bed(self) -> list[Mark]:
        if self._drawing.bed is None:
            return []
        marks: list[Mark] = []
        for depth in self._drawing.bed:
            for run in contour(self._drawing, depth, 0.8 * self._mm):
                path = self._path(run)
                marks += [Shape(path, Stroke(1.7, paint="white")), Shape(path, BED_BORDER)]
        return marks

    def _zone_words(self) -> list[Mark]:
        drawing, marks = self._drawing, list[Mark]()
        step = 1.0 * self._mm
        x, y = np.meshgrid(np.arange(step, drawing.length_mm, step), np.arange(step, drawing.height_mm, step))
        holes = tuple(patch.rect for patch in drawing.patches)
        for zone in dict.fromkeys(band.zone for band in drawing.zones):
            mask = zone_mask(drawing, zone, x, y, holes)
            if not mask.any():
                continue
            text = ZONE_WORDS[zone]
            wide, high = width_mm(text, LABEL_PT, bold=True) + 1.4, 3.8
            points = [self._at(point) for point in zip(x[mask].tolist(), y[mask].tolist(), strict=True)]
            middle = (float(np.median([p[0] for p in points])), float(np.median([p[1] for p in points])))
            points.sort(key=lambda at: (at[0] - middle[0]) ** 2 + (at[1] - middle[1]) ** 2)
            centre = next((at for at in points if self._takes_words(zone, at, wide, high)), None)
            if centre is not None:
                self._room.take(around(centre, wide, high))
                marks += _plate(centre, wide, high, text, bordered=False)
        return marks

    def _takes_words(self, zone: str, centre: PointMm, wide: float, high: float) -> bool:
        """Say whether words stand well inside their own zone, on no line and on nothing else."""
        area = around(centre, wide, high)
        if not self._room.is_free(area) or self._on_a_line(centre, wide, high):
            return False
        across = [area.left, area.right] * 3
        down = [y for y in (area.top, centre[1], area.bottom) for _ in range(2)]
        x = (np.array(across) - self._left) * self._mm
        y = (np.array(down) - _MARGIN_MM) * self._mm
        if self._drawing.mirrored:
            x = self._drawing.length_mm - x
        return bool(zone_mask(self._drawing, zone, x, y).all())

    def _on_a_line(self, centre: PointMm, wide: float, high: float) -> bool:
        area = around(centre, wide + 2, high + 2)
        return _within(self._avoid, area) > 0

    def _line_number(self, line: DrawnLine, path: tuple[PointMm, ...]) -> list[Mark]:
        on_line = [along(path, share) for share in _SHARES]
        short = _extent(path) < _SHORT_MM
        if short:
            x, y = on_line[0]
            on_line = [(x + dx, y + dy) for dx, dy in _BESIDE]
        own = _along_all(path)

        def crowded(centre: PointMm) -> int:
            x_clear, _ = self._on_paper(centre, 7.5)
            area = around((x_clear, centre[1]), 7.5, 4.4)
            return _within(self._avoid, area) - (0 if short else _within(own, area))

        wanted = sorted(on_line, key=crowded)
        return self._number(line.number, line.need == "stop", wanted, path)

    def _number(
        self, number: str, stop: bool, wanted: list[PointMm], path: tuple[PointMm, ...] | None
    ) -> list[Mark]:
        wide, high = width_mm(number, LABEL_PT, bold=True) + 1.3, 3.7
        wanted = [self._on_paper(at, wide) for at in wanted]
        centre = self._room.place(wanted, wide, high)
        if centre is None:
            return []
        marks: list[Mark] = []
        if path is not None:
            near = min(
                (along(path, share / 20) for share in range(21)),
                key=lambda at: (at[0] - centre[0]) ** 2 + (at[1] - centre[1]) ** 2,
            )
            if not around(centre, wide, high).meets(around(near, 0.5, 0.5)):
                marks += [Shape((centre, near), Stroke(0.9, paint="white")), Shape((centre, near), LEADER)]
        return marks + _plate(centre, wide, high, number, bordered=True, inverted=stop)

    def _on_paper(self, centre: PointMm, wide: float) -> PointMm:
        """Return a label's centre moved along so that it is not off the drawing."""
        return (min(max(centre[0], wide / 2 + 0.2), self._width - wide / 2 - 0.2), centre[1])

    def _sides(self) -> list[Mark]:
        y = self._bottom + LABEL_PT * MM_PER_PT * CAP
        left, right = reversed(self._drawing.ends) if self._drawing.mirrored else self._drawing.ends
        if self._wide < _NARROW_MM:
            middle = self._width / 2
            return [
                FigureText((middle - 1.5, y), f"◀ {left}", LABEL_PT, anchor="end"),
                FigureText((middle + 1.5, y), f"{right} ▶", LABEL_PT),
            ]
        return [
            FigureText((max(0.0, self._left), y), f"◀ {left}", LABEL_PT),
            FigureText((min(self._width, self._left + self._wide), y), f"{right} ▶", LABEL_PT, anchor="end"),
        ]


def panel_figure(drawing: DrawnPanel, width_mm: float, height_max_mm: float) -> Figure:
    """Return a panel's drawing for a width and, without the legend under it, a greatest height in mm."""
    return PanelFigure(drawing, width_mm, height_max_mm).figure()


def panel_space(drawing: DrawnPanel, width_mm: float, height_max_mm: float) -> Figure:
    """Return a figure of the same size without its marks: all that is asked for while pages are tried."""
    return PanelFigure(drawing, width_mm, height_max_mm).space()


def _middle(rect: Rect) -> PanelPoint:
    return ((rect.left + rect.right) / 2, (rect.top + rect.bottom) / 2)


def _along_all(path: tuple[PointMm, ...]) -> "NDArray[np.float64]":
    """Return 41 points along a path."""
    return np.array([along(path, share / 40) for share in range(41)])


def _within(points: "NDArray[np.float64]", area: Rect) -> int:
    """Return how many points lie in a rectangle."""
    x, y = points[:, 0], points[:, 1]
    return int(((area.left < x) & (x < area.right) & (area.top < y) & (y < area.bottom)).sum())


def _extent(path: tuple[PointMm, ...]) -> float:
    xs, ys = [x for x, _ in path], [y for _, y in path]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _grid(corners: tuple[PointMm, ...]) -> tuple[tuple[PointMm, PointMm], ...]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    left, right, top, bottom = min(xs), max(xs), min(ys), max(ys)
    upright = [((x, top), (x, bottom)) for x in np.arange(left + 1.2, right - 0.3, 1.2).tolist()]
    level = [((left, y), (right, y)) for y in np.arange(top + 1.2, bottom - 0.3, 1.2).tolist()]
    return tuple(upright + level)


def _plate(
    centre: PointMm, wide: float, high: float, text: str, *, bordered: bool, inverted: bool = False
) -> list[Mark]:
    x, y = centre
    corners = box(x - wide / 2, y - high / 2, wide, high)
    base = (x, y + LABEL_PT * MM_PER_PT * CAP / 2)
    return [
        Shape(
            corners, Stroke(0.25) if bordered else None, closed=True, fill="black" if inverted else "white"
        ),
        FigureText(base, text, LABEL_PT, bold=True, anchor="middle", paint="white" if inverted else "black"),
    ]


def _title(drawing: DrawnPanel) -> str:
    return f"Drawing of {drawing.panel}"


def _says(drawing: DrawnPanel) -> str:
    side = f"{drawing.ends[0]} on the {'right' if drawing.mirrored else 'left'}"
    zones = ", ".join(
        f"{ZONE_WORDS[zone.zone]} {_reach(zone.from_mm, zone.to_mm, drawing.units)}" for zone in drawing.zones
    )
    lines = "; ".join(f"{line.number} {NEEDS[line.need]}" for line in drawing.lines)
    patches = "".join(f"; patch {patch.number}" for patch in drawing.patches)
    bed = f"; wet bed {_reach(*drawing.bed, drawing.units)}" if drawing.bed else ""
    size = drawing.units.size(drawing.length_mm, drawing.height_mm)
    return f"{size}, {side}. Zones: {zones}. Lines: {lines}{patches}{bed}."


def _reach(start: float, end: float, units: "Units") -> str:
    return f"from {units.length(start)} on" if end > 12000 else units.span(start, end)
