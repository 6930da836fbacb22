"""Edits of a panel's blend layout, edges, lines and patches: each returns the changed panel, or refuses."""

from math import hypot
from typing import Any, Final, Literal

from prepadvisor.cases import zoning
from prepadvisor.records import PRIMED_SURFACES, SIDES, Feature, Panel, Patch, Point
from prepadvisor.surface import farthest_mm
from prepadvisor.tui.model.open_job import RefusedError, revised

# The blend layout as it is moved about on the drawing: borders in mm, and how much room a panel has.

ZoneBorder = Literal["colour", "fade"]
USUAL_COLOUR_MM: Final = 150
"""Full colour on a new blend panel; common practice, and asked for in mm on the screen."""
USUAL_FADE_MM: Final = 400
"""Fade-out on a new blend panel; common practice."""
LEAST_FADE_MM: Final = 50
"""Less than a hand's width is no fade."""
SNAP_MM: Final = 10
"""Borders are set to whole centimetres."""


def room_mm(panel: Panel) -> float:
    """Return the depth of the panel's farthest point in mm; infinite without a source of colour."""
    stated = panel if panel.colour_mm is not None else revised(panel, {"colour_mm": 0.0})
    return farthest_mm(zoning(stated, 0.0).layout)


def usual_layout(panel: Panel, colour_mm: float | None = None, fade_mm: float | None = None) -> Panel:
    """Return a blend panel with the usual widths, or with shares of its room where that is too short.

    `colour_mm` and `fade_mm` are the usual widths of its outline, where that states them.
    """
    room = room_mm(panel)
    if room == float("inf"):
        return panel
    colour = min(USUAL_COLOUR_MM, _snapped(room * 0.15)) if colour_mm is None else colour_mm
    fade = min(USUAL_FADE_MM, _snapped(room * 0.4)) if fade_mm is None else fade_mm
    if colour + fade > room:
        colour, fade = min(USUAL_COLOUR_MM, _snapped(room * 0.15)), min(USUAL_FADE_MM, _snapped(room * 0.4))
    return revised(panel, {"colour_mm": float(colour), "fade_mm": float(fade)})


def moved(panel: Panel, border: ZoneBorder, by_mm: float) -> Panel:
    """Return a panel with one border moved; the fade keeps its width when the full colour moves.

    Raises:
        RefusedError: where no border can stand, with what to do instead.
    """
    if panel.colour_mm is None or panel.fade_mm is None:
        raise RefusedError("this panel has no fade yet: set where the colour comes from first")
    if border == "colour":
        return set_borders(panel, panel.colour_mm + by_mm, panel.fade_mm)
    return set_borders(panel, panel.colour_mm, panel.fade_mm + by_mm)


def moved_to(panel: Panel, border: ZoneBorder, depth: float) -> Panel:
    """Return a panel with one border put at a depth in mm, as the mouse does; the other border stays."""
    if panel.colour_mm is None or panel.fade_mm is None:
        raise RefusedError("this panel has no fade yet: set where the colour comes from first")
    outer = panel.colour_mm + panel.fade_mm
    depth = round(depth / SNAP_MM) * SNAP_MM
    if border == "colour":
        inner = min(depth, outer - LEAST_FADE_MM)
        return set_borders(panel, inner, outer - inner)
    return set_borders(panel, panel.colour_mm, max(depth - panel.colour_mm, LEAST_FADE_MM))


def set_borders(panel: Panel, colour_mm: float, fade_mm: float) -> Panel:
    """Return a panel with its full colour and fade in mm, refused where the panel has no room for them."""
    if fade_mm < LEAST_FADE_MM:
        raise RefusedError(f"a fade under {LEAST_FADE_MM} mm is no fade: a step would show")
    room = room_mm(panel)
    if colour_mm + fade_mm > room:
        raise RefusedError(
            f"no room: {colour_mm:.0f} + {fade_mm:.0f} mm reach past the panel's {room:.0f} mm; "
            "full colour here, blend the next panel"
        )
    return revised(panel, {"colour_mm": max(float(colour_mm), 0.0), "fade_mm": float(fade_mm)})


def _snapped(mm: float) -> int:
    return int(mm // SNAP_MM) * SNAP_MM


PanelPart = Feature | Patch
Corners = tuple[Point, ...]
WHOLE: Final[Corners] = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
"""The outline of a panel that has no drawing: all of its rectangle."""


def parts_of(panel: Panel) -> tuple[PanelPart, ...]:
    """Return the panel's patches and lines."""
    return (*panel.patch, *panel.feature)


def part_of(panel: Panel, part_id: str) -> PanelPart | None:
    """Return the line or patch of an id, or None."""
    return next((part for part in parts_of(panel) if part.id == part_id), None)


def with_part(panel: Panel, part_id: str, **changes: Any) -> Panel:
    """Return the panel with facts of one line or patch changed."""
    part = part_of(panel, part_id)
    if part is None:
        raise RefusedError(f'there is no line or patch "{part_id}" here')
    new = revised(part, changes)
    if new.id != part_id and part_of(panel, new.id) is not None:
        raise RefusedError(f'"{new.id}" is on this panel already; take another id')
    if isinstance(new, Patch):
        if new.id in SIDES:
            raise RefusedError(f'"{new.id}" is the name of a side; take another name for the patch')
        patches = tuple(new if old.id == part_id else old for old in panel.patch)
        sources = tuple(new.id if name == part_id else name for name in panel.colour_from)
        return revised(panel, {"patch": patches, "colour_from": sources})
    return revised(panel, {"feature": tuple(new if old.id == part_id else old for old in panel.feature)})


def add_line(panel: Panel, kind: str, path: tuple[Point, ...]) -> tuple[Panel, str]:
    """Return the panel with a line along a path of at least two points, and the line's id."""
    if len(path) < 2:
        raise RefusedError("a line needs two points or more")
    line_id = _free(panel, "E")
    line = Feature.model_validate({"id": line_id, "kind": kind, "path": path, "reach": "machine"})
    return revised(panel, {"feature": (*panel.feature, line)}), line_id


USUAL_PATCH_MM: Final = (300.0, 250.0)
"""Length and height of a new patch, to be changed; on a small panel a third of it, in whole mm."""
LEAST_PATCH_MM: Final = 20.0
"""A smaller patch is a spot of primer that nobody plans."""


def add_patch(panel: Panel, surface: str, at: Point, shape: Corners = WHOLE) -> tuple[Panel, str]:
    """Return the panel with a patch around a point, and its id. The first patch brings the colour in.

    Args:
        panel: the panel.
        surface: what is on the repaired area.
        at: where its middle is wanted; it is moved as far as it must to lie on the panel.
        shape: the panel's outline.
    """
    patch_id = _free(panel, "R")
    length, height = USUAL_PATCH_MM
    size = (float(min(length, panel.length_mm // 3)), float(min(height, panel.height_mm // 3)))
    at = _nearest_on(panel, at, size, shape)
    coat = "primer" if surface in PRIMED_SURFACES else "base"
    patch = Patch.model_validate(
        {"id": patch_id, "surface": surface, "next": coat, "at": at, "size_mm": size}
    )
    grown = revised(panel, {"patch": (*panel.patch, patch)})
    if panel.role != "clear-only" and not panel.colour_from:
        grown = usual_layout(revised(grown, {"colour_from": (patch_id,)}))
    return grown, patch_id


def moved_patch(panel: Panel, patch_id: str, at: Point, shape: Corners = WHOLE) -> Panel:
    """Return the panel with the middle of a patch put at a point.

    Raises:
        RefusedError: where it would lie over an opening or off the panel.
    """
    part = part_of(panel, patch_id)
    if not isinstance(part, Patch):
        return panel
    at = _kept_inside(panel, at, part.size_mm)
    _refuse_off(panel, at, part.size_mm, shape)
    return with_part(panel, patch_id, at=at)


def nudged_patch(
    panel: Panel, patch_id: str, across_mm: float, down_mm: float, shape: Corners = WHOLE
) -> Panel:
    """Return the panel with a patch moved by mm."""
    part = part_of(panel, patch_id)
    if not isinstance(part, Patch):
        return panel
    at = (part.at[0] + across_mm / panel.length_mm, part.at[1] + down_mm / panel.height_mm)
    return moved_patch(panel, patch_id, at, shape)


def sized_patch(
    panel: Panel, patch_id: str, longer_mm: float, higher_mm: float, shape: Corners = WHOLE
) -> Panel:
    """Return the panel with a patch made longer and higher by mm about its middle."""
    part = part_of(panel, patch_id)
    if not isinstance(part, Patch):
        return panel
    size = (
        min(max(part.size_mm[0] + longer_mm, LEAST_PATCH_MM), panel.length_mm),
        min(max(part.size_mm[1] + higher_mm, LEAST_PATCH_MM), panel.height_mm),
    )
    at = _kept_inside(panel, part.at, size)
    _refuse_off(panel, at, size, shape)
    return with_part(panel, patch_id, size_mm=size, at=at)


def remove_part(panel: Panel, part_id: str) -> Panel:
    """Return the panel without a line or patch; a patch the colour came from leaves that list too."""
    sources = tuple(name for name in panel.colour_from if name != part_id)
    changes: dict[str, Any] = {
        "feature": tuple(line for line in panel.feature if line.id != part_id),
        "patch": tuple(patch for patch in panel.patch if patch.id != part_id),
        "colour_from": sources,
    }
    if panel.colour_from and not sources:
        changes |= {"colour_mm": None, "fade_mm": None}
    return revised(panel, changes)


def _free(panel: Panel, letter: str) -> str:
    taken = {part.id for part in parts_of(panel)}
    number = 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"


def _nearest_on(panel: Panel, at: Point, size: tuple[float, float], shape: Corners) -> Point:
    """Return the point nearest to the one wished for at which a patch lies on the panel, in steps of 1/20."""
    steps = [step / 20 for step in range(1, 20)]
    wished = _kept_inside(panel, at, size)
    points = [wished, *(_kept_inside(panel, (x, y), size) for x in steps for y in steps)]
    on = [point for point in points if _lies_on(panel, point, size, shape, part=1.0)]
    return min(on, key=lambda point: hypot(point[0] - wished[0], point[1] - wished[1]), default=wished)


def _refuse_off(panel: Panel, at: Point, size: tuple[float, float], shape: Corners) -> None:
    if not _lies_on(panel, at, size, shape):
        raise RefusedError("there the patch would lie over an opening or off the panel")


def _lies_on(panel: Panel, at: Point, size: tuple[float, float], shape: Corners, part: float = 0.85) -> bool:
    """Say whether most of a patch lies on the panel: primer may hang over an edge a little."""
    half_x, half_y = size[0] / 2 / panel.length_mm, size[1] / 2 / panel.height_mm
    rim = [
        (at[0] + along * half_x, at[1] + down * half_y)
        for along in (-0.98, -0.5, 0.0, 0.5, 0.98)
        for down in (-0.98, -0.5, 0.0, 0.5, 0.98)
        if max(abs(along), abs(down)) > 0.9
    ]
    return sum(is_inside(point, shape) for point in rim) >= part * len(rim) and is_inside(at, shape)


def is_inside(point: Point, shape: Corners) -> bool:
    """Say whether a point lies inside an outline, by the even-odd rule."""
    inside = False
    for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if (y1 > point[1]) != (y2 > point[1]) and point[0] < (x2 - x1) * (point[1] - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def _kept_inside(panel: Panel, at: Point, size: tuple[float, float]) -> Point:
    margin_x, margin_y = size[0] / 2 / panel.length_mm, size[1] / 2 / panel.height_mm
    x = min(max(at[0], margin_x), 1 - margin_x)
    y = min(max(at[1], margin_y), 1 - margin_y)
    return (round(x, 3), round(y, 3))
