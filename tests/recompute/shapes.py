"""Zones, lengths, areas and touching of a panel by shapely, from the words of the job file."""

import itertools
from collections.abc import Mapping, Sequence
from math import inf
from typing import Any, Final

from shapely import LineString, box, unary_union
from shapely.geometry.base import BaseGeometry

QUAD_SEGS: Final = 256
"""Straight pieces of a quarter circle: the area of a disc is 6e-6 of it too small."""

HAIR_MM: Final = 1e-7
"""What lies exactly at a depth is not below it."""

ZONES: Final = ("colour", "fade", "clear")


def patch_box(panel: Mapping[str, Any], patch: Mapping[str, Any]) -> BaseGeometry:
    """Return a patch on its panel in mm, cut off at the panel's edges."""
    x, y = patch["at"][0] * panel["length_mm"], patch["at"][1] * panel["height_mm"]
    wide, high = (size / 2 for size in patch["size_mm"])
    return box(x - wide, y - high, x + wide, y + high).intersection(whole(panel))


def whole(panel: Mapping[str, Any]) -> BaseGeometry:
    """Return the panel's rectangle in mm."""
    return box(0, 0, panel["length_mm"], panel["height_mm"])


def line_of(panel: Mapping[str, Any], line: Mapping[str, Any]) -> LineString:
    """Return a line in mm."""
    return LineString([(x * panel["length_mm"], y * panel["height_mm"]) for x, y in line["path"]])


def below(panel: Mapping[str, Any], depth_mm: float) -> BaseGeometry:
    """Return all of a panel that lies nearer than a depth to where its colour comes in."""
    if depth_mm == inf:
        return whole(panel)
    if depth_mm <= 0:
        return box(0, 0, 0, 0)
    length, high, depth = panel["length_mm"], panel["height_mm"], depth_mm - HAIR_MM
    strips = {
        "front": (0, 0, depth, high),
        "rear": (length - depth, 0, length, high),
        "top": (0, 0, length, depth),
        "bottom": (0, high - depth, length, high),
    }
    parts: list[BaseGeometry] = []
    for source in panel["colour_from"]:
        if source in strips:
            parts.append(box(*strips[source]))
        parts += [
            patch_box(panel, patch).buffer(depth, quad_segs=QUAD_SEGS)
            for patch in panel.get("patch", [])
            if patch["id"] == source
        ]
    return unary_union(parts).intersection(whole(panel))


def depths(panel: Mapping[str, Any], mist_mm: float) -> tuple[float, float]:
    """Return the depths at which full colour and the fade end, the mist counted as fade."""
    if panel["role"] == "clear-only":
        return 0.0, 0.0
    if "colour_mm" not in panel:
        return inf, inf
    return panel["colour_mm"], panel["colour_mm"] + panel["fade_mm"] + mist_mm


def zones(panel: Mapping[str, Any], mist_mm: float) -> dict[str, BaseGeometry]:
    """Return colour, fade and clear as regions of the panel."""
    colour, coloured = (below(panel, depth) for depth in depths(panel, mist_mm))
    return {
        "colour": colour,
        "fade": coloured.difference(colour),
        "clear": whole(panel).difference(coloured),
    }


def amounts(
    shape: BaseGeometry, laid: Mapping[str, BaseGeometry], least: float, scale: float
) -> dict[str, float]:
    """Return how much of a shape lies in each zone: length, or area over `scale`; less than `least` is none.

    A line along a border lies in the zone beyond it.
    """
    if isinstance(shape, LineString):
        rest = shape.length
        found = {}
        for zone in ZONES[:2]:
            found[zone] = _length_in(shape, laid[zone])
            rest -= found[zone]
        found["clear"] = rest
    else:
        found = {zone: shape.intersection(laid[zone]).area / scale for zone in ZONES}
    return {zone: amount for zone, amount in found.items() if amount > least}


def _length_in(line: LineString, region: BaseGeometry) -> float:
    """Return the length in a region, segment by segment, so that a line that runs back counts twice."""
    points = list(line.coords)
    pieces = (LineString(pair) for pair in itertools.pairwise(points) if pair[0] != pair[1])
    return float(sum(piece.intersection(region).length for piece in pieces))


def length_outside(line: LineString, holes: Sequence[BaseGeometry]) -> float:
    """Return the length of a line outside some shapes."""
    return float(line.length) - (_length_in(line, unary_union(list(holes))) if holes else 0.0)


def length_inside(line: LineString, hole: BaseGeometry) -> float:
    """Return the length of a line inside a shape."""
    return _length_in(line, hole)
