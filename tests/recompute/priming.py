"""A panel before and after the primer that it still waits for, as words of the job file."""

from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from shapely import box
from shapely.geometry.base import BaseGeometry

from tests.recompute import shapes

WHOLE: Final = "panel"


class Ring(NamedTuple):
    """Old paint keyed round a patch that primer will lap onto."""

    patch: str
    shape: BaseGeometry
    outer: BaseGeometry


class Standing(NamedTuple):
    """The panel under all its primer, what waits for it, and the rings round primed patches."""

    later: dict[str, Any]
    waiting: frozenset[str]
    rings: tuple[Ring, ...]


def standing(panel: Mapping[str, Any], shop: Mapping[str, Any]) -> Standing:
    """Lay all primer on a panel; nothing of it is on yet.

    A primed patch is primer surfacer, colour next, not yet sanded, and larger by the lap all round. Where the
    whole panel is primed there is nothing to lap onto.
    """
    whole = panel.get("next", "base") == "primer"
    wanted = [patch["id"] for patch in panel.get("patch", []) if patch.get("next", "base") == "primer"]
    later = dict(panel)
    lap = 0 if whole else shop["lap_mm"]
    later["patch"] = [
        _primed(patch, lap) if patch["id"] in wanted else patch for patch in panel.get("patch", [])
    ]
    if whole:
        later = {key: value for key, value in later.items() if key != "now"}
        later |= {"surface": "primer-surfacer", "next": "base"}
        return Standing(later, frozenset({WHOLE, *wanted}), ())
    gone = [shapes.patch_box(later, patch) for patch in later["patch"]]
    rings = []
    for patch in later["patch"]:
        if patch["id"] in wanted:
            left, top, right, bottom = shapes.patch_box(later, patch).bounds
            wide = shop["ring_mm"]
            outer = box(left - wide, top - wide, right + wide, bottom + wide).intersection(
                shapes.whole(panel)
            )
            shape = outer
            for each in gone:
                shape = shape.difference(each)
            gone.append(outer)
            rings.append(Ring(patch["id"], shape, outer))
    return Standing(later, frozenset(wanted), tuple(rings))


def _primed(patch: Mapping[str, Any], lap_mm: float) -> dict[str, Any]:
    kept = {key: value for key, value in patch.items() if key != "now"}
    size = [side + 2 * lap_mm for side in patch["size_mm"]]
    return {**kept, "surface": "primer-surfacer", "next": "base", "size_mm": size}
