"""What a look or an acceptance rested on, as short hashes, so that a later change to the job re-opens it.

The basis of a place has four parts, each with its own hash: the colour (only where colour or fade reaches
the place), the panel, how the place lies in the zones, and what the advice asks of it. A part that changed
can so be named, and a change re-opens only the places it affects.
"""

import hashlib
from typing import Final

from prepadvisor.records.advice import Advice, Spot
from prepadvisor.records.job import Job

_WORDS: Final[dict[str, str]] = {
    "colour": "the colour or its flake",
    "panel": "the panel's size, surface or role",
    "zones": "how this place lies in the blend zones",
    "asks": "what the advice asks here",
}
_SIGNS: Final = 8


def bases(job: Job, advice: Advice) -> dict[str, str]:
    """Return the basis of every place by its id, such as "colour:1f3a… panel:… zones:… asks:…"."""
    spots = {spot.id: spot for spot in advice.spots}
    panels = {panel.id: panel for panel in job.panel}
    flake = advice.job
    colour = job.colour
    paint = _sign(flake.flake, flake.stages, flake.tone, colour.flake_um, colour.tilt_deg, colour.log_sd)
    found: dict[str, str] = {}
    for place in advice.places:
        own = [spots[spot] for spot in place.spots if spot in spots]
        panel = panels.get(place.panel)
        surface = (
            _sign(panel.role, panel.surface, panel.next, panel.special, panel.length_mm, panel.height_mm)
            if panel
            else "-"
        )
        parts = {
            "colour": paint if any(spot.zone != "clear" for spot in own) else "-",
            "panel": surface,
            "zones": _sign(place.kind, place.reach, place.seen, *map(_lie, own)),
            "asks": _sign(
                place.finish,
                place.tool,
                place.hand_coarsest,
                place.guide_coat,
                place.interface_pad,
                place.wet_bed.need,
                place.wet_bed.coats,
                place.split,
                *map(_asked, own),
            ),
        }
        found[place.id] = " ".join(f"{part}:{sign}" for part, sign in parts.items())
    return found


def changed(then: str, now: str) -> tuple[str, ...]:
    """Name in words the parts in which two bases differ; none where the older one was never written."""
    if not then or then == now:
        return ()
    old, new = _parts(then), _parts(now)
    named = tuple(says for part, says in _WORDS.items() if old.get(part) != new.get(part))
    return named or ("what it rested on",)


def _parts(basis: str) -> dict[str, str]:
    return dict(part.partition(":")[::2] for part in basis.split())


def _lie(spot: Spot) -> tuple[object, ...]:
    return spot.zone, None if spot.length_mm is None else round(spot.length_mm), round(spot.area_m2, 3)


def _asked(spot: Spot) -> tuple[object, ...]:
    finish = spot.finish
    window = (finish.coarsest, finish.finest, finish.chosen, finish.verdict) if finish else None
    return spot.zone, window, spot.hand_coarsest


def _sign(*values: object) -> str:
    return hashlib.sha256(repr(values).encode()).hexdigest()[:_SIGNS]
