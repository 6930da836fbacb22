"""The blend zones of one panel: where full colour, fade-out and clear only lie, and how much of each.

A point below `colour_mm` from where the colour comes in is colour; below that plus the fade and the mist
beyond it, fade; the rest is clear. A repair panel without a layout is all colour, a clear-only panel all
clear.
"""

from functools import lru_cache
from math import inf

from prepadvisor.records import SIDES, NamedTuple, Outline, Panel, Patch, Point, Zone
from prepadvisor.surface import Layout, Rect, area_below_mm2, length_below_mm, path_length_mm

ZONES_FROM_COLOUR: tuple[Zone, ...] = ("colour", "fade", "clear")
"""The zones in the order in which a painter meets them."""

LEAST_MM = 1e-6
"""A shorter stretch of a line in a zone is rounding, not a stretch."""

LEAST_M2 = 1e-6
"""A smaller part of a face in a zone (one square millimetre) is rounding, not a part."""


class Zoning(NamedTuple):
    """A panel's layout with the depths, in mm, at which colour and fade end; the fade includes the mist."""

    layout: Layout
    colour_end_mm: float
    fade_end_mm: float

    @property
    def whole(self) -> Rect:
        """The whole panel."""
        return Rect(0.0, 0.0, self.layout.length_mm, self.layout.height_mm)


def zoning(panel: Panel, mist_mm: float) -> Zoning:
    """Lay the zones over a panel.

    Args:
        panel: a panel whose layout is stated as its role asks.
        mist_mm: how far mist of the colour lands beyond the fade; it counts as fade.
    """
    bare = Layout(panel.length_mm, panel.height_mm)
    if panel.role == "clear-only":
        return Zoning(bare, 0.0, 0.0)
    if panel.colour_mm is None:
        return Zoning(bare, inf, inf)
    fade_end = panel.colour_mm + (panel.fade_mm or 0.0) + mist_mm
    return Zoning(blend_layout(panel), panel.colour_mm, fade_end)


class PanelShapes(NamedTuple):
    """What lies on a panel, in its mm: outline, lines and patches by id, and where the colour comes in."""

    outline: tuple[Point, ...]
    lines: dict[str, tuple[Point, ...]]
    patches: dict[str, Rect]
    layout: Layout


def panel_shapes(panel: Panel, outline: Outline | None, mist_mm: float) -> PanelShapes:
    """Lay out all that a panel's drawing shows.

    Args:
        panel: the panel of the job.
        outline: its generic outline, whose usual lines stand where the panel states none; None: a rectangle.
        mist_mm: how far mist of the colour lands beyond the fade.
    """
    corners = outline.shape if outline else ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    lines = panel.feature or (outline.feature if outline else ())
    return PanelShapes(
        path_mm(panel, corners),
        {line.id: path_mm(panel, line.path) for line in lines},
        {patch.id: patch_rect(panel, patch) for patch in panel.patch},
        zoning(panel, mist_mm).layout,
    )


def blend_layout(panel: Panel) -> Layout:
    """Return where the colour comes in; sources that the panel does not have are passed over."""
    sides = tuple(dict.fromkeys(source for source in panel.colour_from if source in SIDES))
    patches = set(panel.colour_from).difference(SIDES)
    rects = tuple(patch_rect(panel, patch) for patch in panel.patch if patch.id in patches)
    return Layout(panel.length_mm, panel.height_mm, sides, rects)


def patch_rect(panel: Panel, patch: Patch) -> Rect:
    """Return a patch as a rectangle on its panel in mm, cut off at the panel's edges."""
    stated = stated_rect(panel, patch)
    return Rect(
        max(0.0, stated.left),
        max(0.0, stated.top),
        min(panel.length_mm, stated.right),
        min(panel.height_mm, stated.bottom),
    )


def stated_rect(panel: Panel, patch: Patch) -> Rect:
    """Return a patch's rectangle in mm as stated, even where it reaches past the panel."""
    x, y = patch.at[0] * panel.length_mm, patch.at[1] * panel.height_mm
    half_x, half_y = patch.size_mm[0] / 2, patch.size_mm[1] / 2
    return Rect(x - half_x, y - half_y, x + half_x, y + half_y)


def crossed_patches(panel: Panel, path: tuple[Point, ...]) -> list[str]:
    """Return the ids of the patches that a path runs through."""
    points = path_mm(panel, path)
    size = (panel.length_mm, panel.height_mm)
    return [
        patch.id
        for patch in panel.patch
        if length_below_mm(Layout(*size, (), (patch_rect(panel, patch),)), points, LEAST_MM) > 1
    ]


def path_mm(panel: Panel, path: tuple[Point, ...]) -> tuple[tuple[float, float], ...]:
    """Turn a path of shares, 0 to 1, into one of mm on its panel."""
    return tuple((x * panel.length_mm, y * panel.height_mm) for x, y in path)


@lru_cache(maxsize=16384)
def lengths_mm(zones: Zoning, path: tuple[tuple[float, float], ...]) -> tuple[tuple[Zone, float], ...]:
    """Return how much of a path, in mm, lies in each zone that it touches; they add up to its length."""
    whole = path_length_mm(path)
    colour = length_below_mm(zones.layout, path, zones.colour_end_mm)
    coloured = max(colour, length_below_mm(zones.layout, path, zones.fade_end_mm))
    return _parts(colour, coloured, whole, LEAST_MM)


@lru_cache(maxsize=16384)
def areas_m2(zones: Zoning, part: Rect, holes: tuple[Rect, ...] = ()) -> tuple[tuple[Zone, float], ...]:
    """Return how much of a part of the panel, in m², lies in each zone that it touches.

    Args:
        zones: the panel's zones.
        part: the rectangle looked at, in mm: the whole panel for its face, or a patch.
        holes: rectangles that are cut out, such as the patches out of the face.
    """
    whole = area_below_mm2(zones.layout, inf, part, holes) / 1e6
    colour = area_below_mm2(zones.layout, zones.colour_end_mm, part, holes) / 1e6
    coloured = max(colour, area_below_mm2(zones.layout, zones.fade_end_mm, part, holes) / 1e6)
    return _parts(colour, coloured, whole, LEAST_M2)


def _parts(colour: float, coloured: float, whole: float, least: float) -> tuple[tuple[Zone, float], ...]:
    amounts = (colour, coloured - colour, whole - coloured)
    return tuple(
        (zone, amount) for zone, amount in zip(ZONES_FROM_COLOUR, amounts, strict=True) if amount > least
    )
