"""The blend layout as it is moved about on the drawing: borders in mm, and how much room a panel has."""

from typing import Final, Literal

from prepadvisor.cases.zones import zoning
from prepadvisor.records.job import Panel
from prepadvisor.surface.layout import farthest_mm
from prepadvisor.tui.model.open_job import RefusedError, revised

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
