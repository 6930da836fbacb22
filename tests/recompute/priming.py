"""A panel before and after the primer that it still waits for, as words of the job file."""

from collections.abc import Collection, Mapping
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
    """The panel as it is, under all its primer, what waits for it, and the rings round primed patches."""

    now: dict[str, Any]
    later: dict[str, Any]
    waiting: frozenset[str]
    rings: tuple[Ring, ...]


def standing(panel: Mapping[str, Any], shop: Mapping[str, Any], primed: Collection[str] = ()) -> Standing:
    """Lay all primer on a panel, that which is on by the log first.

    A primed patch is primer surfacer, colour next, not yet sanded, and larger by the lap all round. Where the
    whole panel is primed there is nothing to lap onto.
    """
    whole = panel.get("next", "base") == "primer"
    wanted = [patch["id"] for patch in panel.get("patch", []) if patch.get("next", "base") == "primer"]
    lap = 0 if whole else shop["lap_mm"]
    if whole:
        done = {WHOLE, *wanted} if WHOLE in primed else set()
        later = _under(panel, {WHOLE, *wanted}, lap)
        return Standing(_under(panel, done, lap), later, frozenset({WHOLE, *wanted} - done), ())
    done = set(wanted) & set(primed)
    later = _under(panel, set(wanted), lap)
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
    return Standing(_under(panel, done, lap), later, frozenset(set(wanted) - done), tuple(rings))


def _under(panel: Mapping[str, Any], features: Collection[str], lap_mm: float) -> dict[str, Any]:
    """Return a panel with primer on some patches, or on all of it."""
    found = dict(panel)
    found["patch"] = [
        _primed(patch, lap_mm) if patch["id"] in features else patch for patch in panel.get("patch", [])
    ]
    if WHOLE in features:
        found.pop("now", None)
        found |= {"surface": "primer-surfacer", "next": "base"}
    return found


def _primed(patch: Mapping[str, Any], lap_mm: float) -> dict[str, Any]:
    kept = {key: value for key, value in patch.items() if key != "now"}
    size = [side + 2 * lap_mm for side in patch["size_mm"]]
    return {**kept, "surface": "primer-surfacer", "next": "base", "size_mm": size}
