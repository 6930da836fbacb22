"""A panel's blend as geometry in mm, for checks at load."""

from prepadvisor.records.job import Panel, Patch
from prepadvisor.records.words import SIDES
from prepadvisor.surface.layout import Layout, Rect


def blend_layout(panel: Panel) -> Layout:
    """Return where the colour comes in; sources that the panel does not have are passed over."""
    sides = tuple(dict.fromkeys(source for source in panel.colour_from if source in SIDES))
    patches = set(panel.colour_from).difference(SIDES)
    rects = tuple(stated_rect(panel, patch) for patch in panel.patch if patch.id in patches)
    return Layout(panel.length_mm, panel.height_mm, sides, rects)


def stated_rect(panel: Panel, patch: Patch) -> Rect:
    """Return a patch's rectangle in mm as stated, even where it reaches past the panel."""
    x, y = patch.at[0] * panel.length_mm, patch.at[1] * panel.height_mm
    half_x, half_y = patch.size_mm[0] / 2, patch.size_mm[1] / 2
    return Rect(x - half_x, y - half_y, x + half_x, y + half_y)
