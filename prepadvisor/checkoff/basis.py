"""What a look or an acceptance rested on, as short hashes, so that a later change to the job re-opens it.

The basis of a place has a part for the job's number, the colour's name, the colour (only where colour or fade
reaches the place), the panel, how the place lies in the zones, what is decided there, the paths of its lines
and the patches of its panel. A part that changed can so be named, and a change re-opens only what it affects.
Of standards, shop and constants only what they decide at the place counts.
"""

import hashlib
from collections.abc import Iterable
from typing import Final, get_args

from prepadvisor.cases.usual_lines import with_lines
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.records.advice import Advice, Place, Spot
from prepadvisor.records.gate import BasisPart
from prepadvisor.records.job import Job, Panel

_SIGNS: Final = 8
_PARTS: Final[tuple[BasisPart, ...]] = get_args(BasisPart)


def bases(job: Job, advice: Advice, floor: ShopFloor) -> dict[str, str]:
    """Return the basis of every place by its id, such as "number:1f3a… name:… colour:… panel:…"."""
    spots = {spot.id: spot for spot in advice.spots}
    panels = {panel.id: with_lines(panel, floor.outlines) for panel in job.panel}
    shared = {panel.id: _PanelParts(panel) for panel in panels.values()}
    flake, colour = advice.job, job.colour
    paint = _sign(flake.flake, flake.stages, flake.tone, colour.flake_um, colour.tilt_deg, colour.log_sd)
    number, name = number_part(job), f"name:{_sign(colour.name.casefold())}"
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
            f"zones:{_sign(place.kind, place.reach, place.seen, *map(_lie, own))}",
            f"asks:{_sign(*_asks(place), *map(_asked, own))}",
            f"paths:{panel.path_of(place) if panel else '-'}",
            f"patches:{panel.patches if panel else '-'}",
        )
        found[place.id] = " ".join(parts)
    return found


def number_part(job: Job) -> str:
    """Return the part that ties an entry to the job's number; every entry has it, the panel's too."""
    return f"number:{_sign(job.job.number.casefold())}"


def is_of_other_number(basis: str, here: str) -> bool:
    """Say whether an entry was made in a job of another number.

    Args:
        basis: what the entry rests on.
        here: the part of this job's number.
    """
    if not basis or basis.startswith(here):  # as nearly every entry is
        return False
    then = parts_of(basis).get("number")
    return then is not None and f"number:{then}" != here


def changed(then: str, now: str) -> tuple[BasisPart, ...]:
    """Name the parts that both have and in which they differ.

    `patches` alone re-opens nothing: where a patch lies is in the zones and paths of what it touches.
    """
    if then == now:
        return ()
    old, new = parts_of(then), parts_of(now)
    return tuple(
        part
        for part in _PARTS
        if part != "patches" and part in old and part in new and old[part] != new[part]
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
        self.whole = _sign(
            panel.role, panel.surface, panel.next, panel.special, panel.length_mm, panel.height_mm
        )
        self.patches = _sign(*((each.id, each.surface, each.at, each.size_mm) for each in panel.patch))
        self._lines = {line.id: _sign(line.path) for line in panel.feature}
        self._patches = {each.id: _sign(each.at, each.size_mm) for each in panel.patch}
        self._all = _sign(*sorted(self._lines.values()), *sorted(self._patches.values()))

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


def _sign(*values: object) -> str:
    return hashlib.sha256(repr(values).encode()).hexdigest()[:_SIGNS]
