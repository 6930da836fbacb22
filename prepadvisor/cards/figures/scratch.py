"""The scratch that decides, to scale, with a flake of the colour's median size over it.

Groove, what the film leaves of it, flake and tilt are drawn in one scale along and down, as the line model
has them: the flake rests on the film at both ends. The thickness of the film over the flat is left out.
"""

import math
from collections.abc import Callable
from typing import Final, NamedTuple

import numpy as np

from prepadvisor.cards.figures.figure import Figure, FigureText, Hatch, Mark, PointMm, Shape, Stroke
from prepadvisor.cards.page.typeface import MM_PER_PT
from prepadvisor.surface import brightness_loss, profile_um, tilt_rad

_PT: Final = 8.0
_TOP_MM: Final = 12.0
_POINTS: Final = 121


class Scratch(NamedTuple):
    """A groove under a flake, in µm; `left` is the part of the groove's depth that the film leaves."""

    title: str
    depth_um: float
    width_um: float
    flake_um: float
    tilt_spread_deg: float
    left: float


class Lie(NamedTuple):
    """How a flake lies where it tilts most: its middle in µm from the groove's, its tilt, what that costs."""

    middle_um: float
    tilt_deg: float
    loss: float
    bridges: bool


def worst_lie(scratch: Scratch) -> Lie:
    """Return how a flake of this size lies where the groove tilts it most, by the line model's functions."""
    reach = (scratch.flake_um + scratch.width_um) / 2
    x = np.linspace(-reach, 0.0, 2001)
    tilts = tilt_rad(x, scratch.flake_um, scratch.depth_um, scratch.width_um, scratch.left)
    at = int(np.argmax(tilts))
    loss = float(brightness_loss(tilts[at : at + 1], math.radians(scratch.tilt_spread_deg))[0])
    return Lie(float(x[at]), math.degrees(float(tilts[at])), loss, scratch.flake_um >= scratch.width_um)


def scratch_figure(
    scratch: Scratch, width_mm: float, height_mm: float, mm_per_um: float | None = None
) -> Figure:
    """Return the drawing in a frame of this size; `mm_per_um` lets two drawings share a scale."""
    scale = mm_per_um or fitting_scale(scratch, width_mm, height_mm)
    lie = worst_lie(scratch)
    level = _TOP_MM + 4.0
    centre = width_mm / 2 - lie.middle_um * scale / 2

    def at(x_um: float, down_um: float) -> PointMm:
        return (centre + x_um * scale, level + down_um * scale)

    span = width_mm / scale
    x = np.linspace(-span, span, 4 * _POINTS)
    across = np.linspace(-scratch.width_um / 2, scratch.width_um / 2, _POINTS)
    x = np.unique(np.concatenate((x, across)))
    x = x[(centre + x * scale >= 0) & (centre + x * scale <= width_mm)]
    groove = profile_um(x, scratch.depth_um, scratch.width_um)
    film = groove * scratch.left
    floor = tuple(at(a, d) for a, d in zip(x.tolist(), groove.tolist(), strict=True))
    surface = tuple(at(a, d) for a, d in zip(x.tolist(), film.tolist(), strict=True))
    bottom = level + scratch.depth_um * scale + 4.0
    marks: list[Mark] = [
        Hatch(_ground(floor, bottom), Stroke(0.18)),
        Shape(floor, Stroke(0.35)),
        Shape(surface, Stroke(0.5, (1.2, 0.7))),
        *_flake(scratch, lie, at),
        *_words(scratch, lie),
        *_scale_bar(scale, width_mm, bottom + 3.6),
    ]
    return Figure(width_mm, bottom + 8.8, scratch.title, _says(scratch, lie), tuple(marks))


def fitting_scale(scratch: Scratch, width_mm: float, height_mm: float) -> float:
    """Return the page mm for a µm at which groove and flake fill a frame, along or down."""
    across = (scratch.width_um + scratch.flake_um) * 1.25
    return min(width_mm / across, (height_mm - _TOP_MM - 16.0) / max(scratch.depth_um, 0.2))


def _ground(floor: tuple[PointMm, ...], bottom: float) -> tuple[tuple[PointMm, PointMm], ...]:
    """Return upright hatch under the groove's floor: the old film, which the scratch is cut into."""
    pieces: list[tuple[PointMm, PointMm]] = []
    last = -1.0
    for x, y in floor:
        if x - last >= 1.4:
            pieces.append(((x, y), (x, bottom)))
            last = x
    return tuple(pieces)


def _flake(scratch: Scratch, lie: Lie, at: Callable[[float, float], PointMm]) -> list[Mark]:
    ends = [lie.middle_um + side * scratch.flake_um / 2 for side in (-1.0, 1.0)]
    down = (profile_um(np.array(ends), scratch.depth_um, scratch.width_um) * scratch.left).tolist()
    left, right = (at(a, d) for a, d in zip(ends, down, strict=True))
    lift = 0.55
    path = ((left[0], left[1] - lift), (right[0], right[1] - lift))
    flat = ((left[0], level := min(left[1], right[1]) - lift), (right[0], level))
    return [Shape(flat, Stroke(0.25, (0.8, 0.8))), Shape(path, Stroke(1.1))]


def _words(scratch: Scratch, lie: Lie) -> list[Mark]:
    how = "bridges the groove" if lie.bridges else "lies on the wall"
    return [
        FigureText((0.0, 3.0), scratch.title, _PT, bold=True),
        FigureText((0.0, 6.6), f"{scratch.flake_um:g} µm flake {how}", _PT),
        FigureText((0.0, 10.2), f"tilt {lie.tilt_deg:.1f}°, {lie.loss:.0%} of its brightness lost", _PT),
    ]


def _scale_bar(scale: float, width: float, y: float) -> list[Mark]:
    low = y + 3.8
    um = next((size for size in (1, 2, 5, 10, 20, 50, 100) if size * scale >= 9.0), 200)
    long = um * scale
    left = width - long
    return [
        Shape(((left, low - 1.2), (left, low), (width, low), (width, low - 1.2)), Stroke(0.3)),
        FigureText((left - 1.2, low + _PT * MM_PER_PT * 0.2), f"{um} µm", _PT, anchor="end"),
        Shape(((0.0, y - 0.6), (5.0, y - 0.6)), Stroke(0.35)),
        FigureText((6.0, y + 0.2), "scratch", _PT),
        Shape(((19.5, y - 0.6), (25.0, y - 0.6)), Stroke(0.5, (1.2, 0.7))),
        FigureText((26.0, y + 0.2), "film", _PT),
        Shape(((34.0, y - 0.6), (40.0, y - 0.6)), Stroke(1.1)),
        FigureText((41.0, y + 0.2), "flake", _PT),
    ]


def _says(scratch: Scratch, lie: Lie) -> str:
    how = "bridges it" if lie.bridges else "lies on its wall"
    return (
        f"A scratch {scratch.depth_um:.2f} µm deep and {scratch.width_um:.1f} µm wide, of which the film "
        f"leaves {scratch.left:.0%}. A flake of {scratch.flake_um:g} µm {how}, tilted by "
        f"{lie.tilt_deg:.1f} degrees, and loses {lie.loss:.0%} of its brightness at the mirror angle."
    )
