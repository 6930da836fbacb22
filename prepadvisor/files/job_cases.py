"""Refuses a job that states what cannot be, by the standards' own list of impossible combinations."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from prepadvisor.files.blend_layout import blend_layout, stated_rect
from prepadvisor.records.facts import Facts
from prepadvisor.records.fault import Problem
from prepadvisor.records.job import Colour, Feature, Job, Panel, Patch
from prepadvisor.records.words import FLAKES
from prepadvisor.standards.house import House
from prepadvisor.surface.areas import area_below_mm2
from prepadvisor.surface.layout import Rect, length_below_mm

_ALL: Final = float("inf")
_LEAST: Final = 1.0
"""A stretch under 1 mm, or a part under 1 mm², of a place in a zone is rounding."""


class _Place(NamedTuple):
    """A face, patch or line as the job states it; `path` is where a fault of it is shown."""

    path: tuple[str | int, ...]
    name: str
    facts: Facts
    part: Patch | Feature | None


def impossible_places(job: Job, house: House) -> list[Problem]:
    """Return one problem for each place whose facts cannot be true together, in a zone it really touches."""
    problems: list[Problem] = []
    general = _general_facts(job.colour)
    for number, panel in enumerate(job.panel):
        told: set[str] = set()
        for place in _places(panel, number, general):
            because = _cannot_be(place, panel, house)
            if because and because not in told:
                told.add(because)
                says = f"{place.name} cannot be as stated: {because}"
                problems.append(Problem(place.path, says, "compare role, surface, next, special and reach"))
    return problems


def _general_facts(colour: Colour) -> Facts:
    return Facts(
        flake=FLAKES[-2] if colour.flake == "unknown" else colour.flake,
        tone=colour.tone or "light",
        stages=colour.stages or 2,
    )


def _places(panel: Panel, number: int, general: Facts) -> Iterator[_Place]:
    at: tuple[str | int, ...] = ("panel", number)
    face = general._replace(
        role=panel.role,
        surface=panel.surface,
        next=panel.next,
        panel=panel.kind,
        special=panel.special,
        feature="face",
        reach="machine",
        seen=True,
        film_um=min(panel.film_um, default=None),
        panel_m2=panel.length_mm * panel.height_mm / 1e6,
    )
    yield _Place((*at, "surface"), f"the panel {panel.id}", face, None)
    for place, patch in enumerate(panel.patch):
        facts = face._replace(feature="patch", surface=patch.surface, next=patch.next)
        yield _Place((*at, "patch", place, "surface"), f"the patch {patch.id}", facts, patch)
    for place, line in enumerate(panel.feature):
        facts = face._replace(feature=line.kind, reach=line.judged_reach, seen=line.judged_seen)
        yield _Place((*at, "feature", place, "kind"), f"the line {line.id}", facts, line)


def _cannot_be(place: _Place, panel: Panel, house: House) -> str | None:
    for zone in _zones(panel):
        because = house.engine.impossible(place.facts._replace(zone=zone))
        if because and (len(_zones(panel)) == 1 or _touches(zone, place.part, panel, house.shop.mist_mm)):
            return because
    return None


def _zones(panel: Panel) -> tuple[str, ...]:
    if panel.role == "clear-only":
        return ("clear",)
    return ("colour",) if panel.colour_mm is None else ("colour", "fade", "clear")


def _touches(zone: str, part: Patch | Feature | None, panel: Panel, mist_mm: float) -> bool:
    """Say whether a place reaches into a zone; asked only where the zone would make it impossible."""
    size = (panel.length_mm, panel.height_mm)
    layout = blend_layout(panel)
    colour_end = panel.colour_mm or 0.0
    fade_end = colour_end + (panel.fade_mm or 0.0) + mist_mm
    start, end = {"colour": (0.0, colour_end), "fade": (colour_end, fade_end), "clear": (fade_end, _ALL)}[
        zone
    ]
    if isinstance(part, Feature):
        path = tuple((x * size[0], y * size[1]) for x, y in part.path)
        return length_below_mm(layout, path, end) - length_below_mm(layout, path, start) > _LEAST
    whole = Rect(0.0, 0.0, *size) if part is None else stated_rect(panel, part)
    holes = () if part is not None else tuple(stated_rect(panel, patch) for patch in panel.patch)
    return area_below_mm2(layout, end, whole, holes) - area_below_mm2(layout, start, whole, holes) > _LEAST
