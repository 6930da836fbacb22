"""Where a depth runs on a panel: borders of zones and of the wet bed, as runs of points in panel mm."""

from itertools import pairwise
from math import cos, sin
from typing import Final

import numpy as np

from prepadvisor.cards.figures.drawing import DrawnPanel
from prepadvisor.cards.figures.figure import PointMm
from prepadvisor.cards.figures.hatching import Floats, inside
from prepadvisor.surface.layout import Layout, Rect, depth_mm

_HAIR_MM: Final = 1e-6


def contour(drawing: DrawnPanel, depth: float, step_mm: float) -> tuple[tuple[PointMm, ...], ...]:
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
