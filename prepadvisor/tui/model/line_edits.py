"""Edits of a panel's edges, lines and patches: each returns the changed panel, or refuses in words."""

from typing import Any

from prepadvisor.records.job import Feature, Panel, Patch, Point
from prepadvisor.records.words import SIDES
from prepadvisor.tui.model.layout import usual_layout
from prepadvisor.tui.model.open_job import RefusedError, revised

Part = Feature | Patch


def parts_of(panel: Panel) -> tuple[Part, ...]:
    """Return the panel's patches and lines."""
    return (*panel.patch, *panel.feature)


def part_of(panel: Panel, part_id: str) -> Part | None:
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


def add_patch(
    panel: Panel, surface: str, at: Point, size_mm: tuple[float, float] = (300.0, 250.0)
) -> tuple[Panel, str]:
    """Return the panel with a patch around a point, and its id. The first patch brings the colour in."""
    patch_id = _free(panel, "R")
    size = (min(size_mm[0], panel.length_mm / 2), min(size_mm[1], panel.height_mm / 2))
    at = _kept_inside(panel, at, size)
    coat = "primer" if surface in {"feather-edge", "filler", "bare", "electrocoat"} else "base"
    patch = Patch.model_validate(
        {"id": patch_id, "surface": surface, "next": coat, "at": at, "size_mm": size}
    )
    grown = revised(panel, {"patch": (*panel.patch, patch)})
    if panel.role != "clear-only" and not panel.colour_from:
        grown = usual_layout(revised(grown, {"colour_from": (patch_id,)}))
    return grown, patch_id


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


def _kept_inside(panel: Panel, at: Point, size: tuple[float, float]) -> Point:
    margin_x, margin_y = size[0] / 2 / panel.length_mm, size[1] / 2 / panel.height_mm
    x = min(max(at[0], margin_x), 1 - margin_x)
    y = min(max(at[1], margin_y), 1 - margin_y)
    return (round(x, 3), round(y, 3))
