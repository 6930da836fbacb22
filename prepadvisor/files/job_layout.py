"""Checks that what a job lays on a panel fits it: sizes, patches, lines, and the blend's zones."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.cases.zones import blend_layout, stated_rect
from prepadvisor.records.fault import Problem
from prepadvisor.records.job import Job, Panel
from prepadvisor.records.nearest import did_you_mean
from prepadvisor.records.words import SIDES
from prepadvisor.surface.layout import depth_mm, farthest_mm

PANEL_MM_MIN: Final = 30
"""No panel is shorter or lower; a smaller number was meant in another unit."""
PATCH_MM_MIN: Final = 1
_HAIR_MM: Final = 0.1
"""A fade that ends this near the panel's far end ends at it; also how exact the farthest point is known."""


def layout_problems(job: Job) -> list[Problem]:
    """Return everything that does not fit its panel, and every blend layout that is not complete."""
    problems: list[Problem] = []
    for number, panel in enumerate(job.panel):
        at: tuple[str | int, ...] = ("panel", number)
        problems += _absurd(panel, at)
        problems += _off_the_panel(panel, at)
        problems += _dots(panel, at)
        problems += _layout(panel, at)
    return problems


def _absurd(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    for key, size in (("length_mm", panel.length_mm), ("height_mm", panel.height_mm)):
        if size < PANEL_MM_MIN:
            mend = "give it in millimetres" + (f": {size * 1000:g}?" if 0.1 < size <= 6 else "")
            yield Problem((*at, key), f"{key} is {size:g}: no panel is under {PANEL_MM_MIN} mm", mend)
    for number, patch in enumerate(panel.patch):
        if min(patch.size_mm) < PATCH_MM_MIN:
            says = f"the patch {patch.id} is under {PATCH_MM_MIN} mm"
            yield Problem((*at, "patch", number, "size_mm"), says, "give length and height in millimetres")


def _off_the_panel(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    if min(panel.length_mm, panel.height_mm) < PANEL_MM_MIN:
        return
    for number, patch in enumerate(panel.patch):
        rect = stated_rect(panel, patch)
        past = {
            "front": -rect.left,
            "rear": rect.right - panel.length_mm,
            "top": -rect.top,
            "bottom": rect.bottom - panel.height_mm,
        }
        off = [f"{mm:.0f} mm past the {side}" for side, mm in past.items() if mm > 0.5]
        if off:
            says = f"the patch {patch.id} reaches {' and '.join(off)} of the panel"
            mend = "move its middle (at) or make it smaller (size_mm)"
            yield Problem((*at, "patch", number, "size_mm"), says, mend)


def _dots(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    for number, line in enumerate(panel.feature):
        first = line.path[0]
        if all(point == first for point in line.path):
            says = f"the line {line.id} has no length: all its points are one"
            yield Problem((*at, "feature", number, "path"), says, "give where it starts and where it ends")


def _layout(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    """Check the blend layout: complete and with room for it, or none where no colour goes on."""
    if panel.role == "clear-only":
        yield from _colour_on_clear_only(panel, at)
        return
    if panel.role == "repair" and not _states_layout(panel):
        return
    unknown = list(_unknown_sources(panel, at))
    gaps = list(_layout_gaps(panel, at))
    yield from unknown
    yield from gaps
    if not unknown and not gaps and min(panel.length_mm, panel.height_mm) >= PANEL_MM_MIN:
        yield from _no_room(panel, at)


def _states_layout(panel: Panel) -> bool:
    return bool(panel.colour_from) or panel.colour_mm is not None or panel.fade_mm is not None


def _colour_on_clear_only(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    stated = [key for key in ("colour_from", "colour_mm", "fade_mm") if key in panel.model_fields_set]
    if _states_layout(panel):
        says = f"a clear-only panel gets no colour, yet {', '.join(stated)} is stated"
        mend = 'take that out, or say role = "blend"'
        yield Problem((*at, stated[0]), says, mend)


def _unknown_sources(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    known = [*SIDES, *(patch.id for patch in panel.patch)]
    for number, source in enumerate(panel.colour_from):
        if source not in known:
            says = f'"{source[:60]}" is neither a side nor a patch of this panel'
            yield Problem((*at, "colour_from", number), says, did_you_mean(source, known))


def _layout_gaps(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    if panel.role == "blend":
        whose, otherwise = "a blend panel", ""
    else:
        whose = "a repair panel that is blended inside itself"
        otherwise = ", or take colour_from, colour_mm and fade_mm out: then all of it is full colour"
    if not panel.colour_from:
        says = f"{whose} needs colour_from: where the colour comes in"
        yield Problem((*at, "colour_from"), says, f'add colour_from = ["front"]{otherwise}')
    if panel.colour_mm is None:
        says = f"{whose} needs colour_mm: how far full colour reaches"
        yield Problem((*at, "colour_mm"), says, f"add colour_mm = 150{otherwise}")
    if panel.fade_mm is None:
        says = f"{whose} needs fade_mm: how far the colour fades out"
        yield Problem((*at, "fade_mm"), says, f"add fade_mm = 400{otherwise}")
    elif panel.fade_mm == 0:
        says = "fade_mm is 0: colour that stops at a line leaves a step"
        yield Problem((*at, "fade_mm"), says, "give the fade some width, such as fade_mm = 400")


def _no_room(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    reach = (panel.colour_mm or 0.0) + (panel.fade_mm or 0.0)
    layout = blend_layout(panel)
    across, down = (0, panel.length_mm, 0, panel.length_mm), (0, 0, panel.height_mm, panel.height_mm)
    if depth_mm(layout, across, down).max() >= reach:  # a corner is deep enough: no search
        return
    farthest = farthest_mm(layout)
    if reach > farthest + _HAIR_MM:
        says = (
            f"no room for this blend: colour and fade reach {reach:.0f} mm, the panel's farthest point is "
            f"{farthest:.0f} mm from where the colour comes in"
        )
        yield Problem((*at, "fade_mm"), says, 'full colour here (role = "repair"), blend the next panel')
