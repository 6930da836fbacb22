"""Zones by pattern, and where a depth runs on a panel: borders of zones and of the wet bed."""

from itertools import pairwise
from math import cos, sin
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from prepadvisor.surface import Layout, Rect, depth_mm

if TYPE_CHECKING:
    from prepadvisor.cards.figures.drawing import DrawnPanel
    from prepadvisor.cards.figures.figure import PointMm

# Zones by pattern: hatch for full colour, a half-tone that thins out for the fade, blank for clear only.
#
# The fade's dots shrink with depth just as the colour does, so that the picture reads without a legend, in
# black and white, and by any eye.

HATCH_PITCH_MM: Final = 1.5
DOT_PITCH_MM: Final = 1.7
DOT_RADIUS_MM: Final = (0.42, 0.12)
"""Radius of a fade dot where full colour ends and where the fade ends."""
_STEP_MM: Final = 0.25

_Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]


def inside(polygon: tuple["PointMm", ...], x: Floats, y: Floats) -> _Bools:
    """Say for each point whether it lies inside a polygon (even-odd rule)."""
    result = np.zeros(np.broadcast(x, y).shape, dtype=bool)
    for (x1, y1), (x2, y2) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if y1 != y2:
            crosses = (y1 > y) != (y2 > y)
            result ^= crosses & (x < (x2 - x1) * (y - y1) / (y2 - y1) + x1)
    return result


def _in_any(rects: tuple[Rect, ...], x: Floats, y: Floats) -> _Bools:
    result = np.zeros(np.broadcast(x, y).shape, dtype=bool)
    for rect in rects:
        result |= (rect.left <= x) & (x <= rect.right) & (rect.top <= y) & (y <= rect.bottom)
    return result


def zone_mask(drawing: "DrawnPanel", zone: str, x: Floats, y: Floats, holes: tuple[Rect, ...] = ()) -> _Bools:
    """Say for points in panel mm whether they are in a zone, inside the outline and outside the holes."""
    found = inside(drawing.outline, x, y) & ~_in_any(holes, x, y)
    depth = depth_mm(drawing.layout, x, y)
    bands = np.zeros_like(found)
    for band in drawing.zones:
        if band.zone == zone:
            whole = not (drawing.layout.sides or drawing.layout.rects)
            bands |= whole | ((depth >= band.from_mm) & (depth < band.to_mm))
    return found & bands


def colour_hatch(
    drawing: "DrawnPanel", mm_per_page_mm: float, holes: tuple[Rect, ...] = ()
) -> tuple[tuple["PointMm", "PointMm"], ...]:
    """Return slanting hatch pieces over the full-colour zone, in panel mm, for a page scale."""
    pitch, step = HATCH_PITCH_MM * mm_per_page_mm, _STEP_MM * mm_per_page_mm
    long, high = drawing.length_mm, drawing.height_mm
    along = np.arange(0.0, high + step, step)
    pieces: list[tuple[PointMm, PointMm]] = []
    for start in np.arange(pitch / 2, long + high, pitch * 2**0.5).tolist():
        x, y = start - along, along
        mask = zone_mask(drawing, "colour", x, y, holes)
        edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(np.int8), [0]))))
        for first, last in zip(edges[::2].tolist(), (edges[1::2] - 1).tolist(), strict=True):
            if last > first:
                pieces.append(((float(x[first]), float(y[first])), (float(x[last]), float(y[last]))))
    return tuple(pieces)


def fade_dots(
    drawing: "DrawnPanel", mm_per_page_mm: float, holes: tuple[Rect, ...] = ()
) -> tuple[tuple[float, float, float], ...]:
    """Return the fade's dots in panel mm: x, y and radius, which shrinks from full colour to clear."""
    pitch = DOT_PITCH_MM * mm_per_page_mm
    columns = np.arange(pitch / 2, drawing.length_mm, pitch)
    rows = np.arange(pitch / 2, drawing.height_mm, pitch)
    x, y = (grid.ravel() for grid in np.meshgrid(columns, rows))
    x = x + pitch / 2 * (np.round(y / pitch - 0.5) % 2)
    mask = zone_mask(drawing, "fade", x, y, holes)
    fades = [band for band in drawing.zones if band.zone == "fade"]
    start = min((band.from_mm for band in fades), default=0.0)
    end = max((min(band.to_mm, drawing.length_mm + drawing.height_mm) for band in fades), default=1.0)
    depth = np.minimum(depth_mm(drawing.layout, x, y), end)
    share = np.clip((depth - start) / max(end - start, 1e-9), 0, 1)
    radius = (DOT_RADIUS_MM[0] + (DOT_RADIUS_MM[1] - DOT_RADIUS_MM[0]) * share) * mm_per_page_mm
    return tuple(zip(x[mask].tolist(), y[mask].tolist(), radius[mask].tolist(), strict=True))


_HAIR_MM: Final = 1e-6


def contour(drawing: "DrawnPanel", depth: float, step_mm: float) -> tuple[tuple["PointMm", ...], ...]:
    """Return the line of one depth inside the outline, broken into runs.

    Each source has its own line at that depth, straight for a side and a rounded rectangle for a patch; what
    lies nearer to another source is left out, so that the runs are the border of the union.

    Args:
        drawing: the panel.
        depth: the depth in mm; at or below 0 there is no line.
        step_mm: distance of the points of a run.
    """
    if depth <= 0:
        return ()
    layout = drawing.layout
    curves = [_side_line(layout, side, depth, step_mm) for side in layout.sides]
    curves += [_round_rect(rect, depth, step_mm) for rect in layout.rects]
    runs: list[tuple[PointMm, ...]] = []
    for x, y in curves:
        keep = (depth_mm(layout, x, y) >= depth - _HAIR_MM) & inside(drawing.outline, x, y)
        edges = np.flatnonzero(np.diff(np.concatenate(([0], keep.astype(np.int8), [0]))))
        for first, last in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
            if last - first > 1:
                runs.append(tuple(zip(x[first:last].tolist(), y[first:last].tolist(), strict=True)))
    return tuple(runs)


def _side_line(layout: Layout, side: str, depth: float, step: float) -> tuple[Floats, Floats]:
    along = layout.height_mm if side in {"front", "rear"} else layout.length_mm
    run = np.linspace(along * 1e-4, along * (1 - 1e-4), max(2, int(along / step) + 1))
    at = {"front": depth, "rear": layout.length_mm - depth, "top": depth, "bottom": layout.height_mm - depth}
    still = np.full_like(run, at[side])
    return (still, run) if side in {"front", "rear"} else (run, still)


def _round_rect(rect: Rect, depth: float, step: float) -> tuple[Floats, Floats]:
    corners = (
        (rect.right, rect.top, -90.0),
        (rect.right, rect.bottom, 0.0),
        (rect.left, rect.bottom, 90.0),
        (rect.left, rect.top, 180.0),
    )
    points: list[PointMm] = []
    for x, y, start in corners:
        angles = np.radians(np.linspace(start, start + 90, 13)).tolist()
        points += [(x + depth * cos(angle), y + depth * sin(angle)) for angle in angles]
    points.append(points[0])
    dense: list[PointMm] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        count = max(1, int(np.hypot(x2 - x1, y2 - y1) / step))
        dense += [(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share) for share in np.arange(count) / count]
    dense.append(points[-1])
    return np.array([x for x, _ in dense]), np.array([y for _, y in dense])
