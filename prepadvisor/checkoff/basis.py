"""What a look or an acceptance rested on, as short hashes, so that a later change to the job re-opens it.

The basis of a place has a part for the job's number, the colour's name, the colour (only where colour or
fade reaches the place), the panel, how the place lies in the zones, what is decided there, the paths of
its lines, the patches of its panel and which panels the job has. A part that changed can so be named, and
a change re-opens only what it affects. Of standards, shop and constants only what they decide at the
place counts.
"""

from collections.abc import Iterable
from typing import Final, get_args

from prepadvisor.cases.usual_lines import with_lines
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.logbook.identity import number_sign, sign
from prepadvisor.records.advice import Advice, Place, Spot
from prepadvisor.records.gate import BasisPart
from prepadvisor.records.job import Job, Panel

_PARTS: Final[tuple[BasisPart, ...]] = get_args(BasisPart)

_TOLD: Final[frozenset[BasisPart]] = frozenset({"patches", "scope"})


def bases(job: Job, advice: Advice, floor: ShopFloor) -> dict[str, str]:
    """Return the basis of every place by its id, such as "number:1f3a… name:… colour:… panel:…"."""
    spots = {spot.id: spot for spot in advice.spots}
    panels = {panel.id: with_lines(panel, floor.outlines) for panel in job.panel}
    shared = {panel.id: _PanelParts(panel) for panel in panels.values()}
    flake, colour = advice.job, job.colour
    measured = (colour.flake_um, colour.tilt_deg, colour.log_sd)
    paint = sign(flake.flake, flake.stages, flake.tone, *measured)
    scope = f"scope:{scope_of(job)}"
    number, name = number_part(job), f"name:{sign(colour.name.casefold())}"
    found: dict[str, str] = {}
    for place in advice.places:
        own = [spots[spot] for spot in place.spots if spot in spots]
        panel = shared.get(place.panel)
        coloured = any(spot.zone != "clear" for spot in own)
        parts = (
            number,
            name,
            f"colour:{paint if coloured else '-'}",
            f"panel:{panel.whole if panel else '-'}",
            f"zones:{sign(place.kind, place.reach, place.seen, *map(_lie, own))}",
            f"asks:{sign(*_asks(place), *map(_asked, own))}",
            f"paths:{panel.path_of(place) if panel else '-'}",
            f"patches:{panel.patches if panel else '-'}",
            scope,
        )
        found[place.id] = " ".join(parts)
    return found


def number_part(job: Job) -> str:
    """Return the part that ties an entry to the job's number; every entry has it, the panel's too."""
    return number_sign(job.job.number)


def scope_of(job: Job) -> str:
    """Return the hash of which panels a job has."""
    return sign(*sorted(panel.id for panel in job.panel))


def changed(then: str, now: str) -> tuple[BasisPart, ...]:
    """Name the parts that both have and in which they differ.

    `patches` and `scope` re-open nothing: where a patch lies is in the zones and paths of what it touches,
    and that a panel came or went is told.
    """
    if then == now:
        return ()
    old, new = parts_of(then), parts_of(now)
    return tuple(
        part
        for part in _PARTS
        if part not in _TOLD and part in old and part in new and old[part] != new[part]
    )


def lacking(then: str) -> tuple[BasisPart, ...]:
    """Name the parts that an older version did not write."""
    old = parts_of(then)
    return () if len(old) == len(_PARTS) else tuple(part for part in _PARTS if part not in old)


def parts_of(basis: str) -> dict[str, str]:
    """Return the hash of each part."""
    return dict(part.partition(":")[::2] for part in basis.split())


class _PanelParts:
    """What the places of a panel share, reckoned once."""

    def __init__(self, panel: Panel) -> None:
        size = (panel.length_mm, panel.height_mm)
        self.whole = sign(panel.role, panel.surface, panel.next, panel.special, *size)
        self.patches = sign(*((each.id, each.surface, each.at, each.size_mm) for each in panel.patch))
        self._lines = {line.id: sign(line.path) for line in panel.feature}
        self._patches = {
            each.id: sign(each.at, each.size_mm, each.surface, each.next) for each in panel.patch
        }
        areas = [sign(each.at, each.size_mm) for each in panel.patch]
        self._all = sign(*sorted(self._lines.values()), *sorted(areas))

    def path_of(self, place: Place) -> str:
        if place.kind == "face":
            return self._all
        return self._lines.get(place.feature) or self._patches.get(place.feature, "-")


def _asks(place: Place) -> Iterable[object]:
    return (
        place.finish,
        place.tool,
        place.hand_coarsest,
        place.guide_coat,
        place.interface_pad,
        place.wet_bed.need,
        place.wet_bed.coats,
        tuple(place.split),
    )


def _lie(spot: Spot) -> tuple[object, ...]:
    return spot.zone, None if spot.length_mm is None else round(spot.length_mm), round(spot.area_m2, 3)


def _asked(spot: Spot) -> tuple[object, ...]:
    finish = spot.finish
    window = (finish.coarsest, finish.finest, finish.chosen, finish.verdict) if finish else None
    return spot.zone, window, spot.hand_coarsest
