"""What a look or an acceptance rested on, as short hashes; a shop's floor; and what ended a rub-through.

The basis of a place has a part for the job's number, the colour's name, the colour (only where colour or
fade reaches the place), the panel, how the place lies in the zones, what is decided there, the paths of
its lines, the patches of its panel and which panels the job has. A part that changed can so be named, and
a change re-opens only what it affects. Of standards, shop and constants only what they decide at the
place counts.
"""

from collections.abc import Container, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final, Protocol, get_args

from prepadvisor.cases import JudgedColour, with_lines
from prepadvisor.checkoff.spoken import WORK_STEPS
from prepadvisor.logbook import Entry, number_sign, sign
from prepadvisor.records import BasisPart, NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import Advice, Colour, Constants, Job, Outline, Panel, Place, Shop, Spot, Zone

# The part of a house that the check-off needs: shop, constants and outlines, however they are held.


class ShopFloor(Protocol):
    """What is on the shelf, how deep each tool cuts, and where the lines of a panel run.

    A `standards.house.House` is one; so is any record with these.
    """

    @property
    def shop(self) -> "Shop":
        """Shelf, rates, `gate_hours`, `look_hours` and `leads`."""

    @property
    def constants(self) -> "Constants":
        """Scratch depth by tool, in `groove.depth_per_grain`."""

    def judged(self, colour: "Colour") -> JudgedColour:
        """Return a job's colour as it is judged here."""

    def on(self, job: "Job") -> "ShopFloor":
        """Return the shop floor as it stands on the job's day and for its customer."""

    @property
    def outlines(self) -> Mapping[str, "Outline"]:
        """Outlines by kind: their lines stand in where a panel states none."""


_PARTS: Final[tuple[BasisPart, ...]] = get_args(BasisPart)

_TOLD: Final[frozenset[BasisPart]] = frozenset({"patches", "scope"})


class JobSigns(NamedTuple):
    """What the bases of all places of a job share: job number, colour's name, and the colour as judged."""

    number: str
    name: str
    paint: str


def job_signs(job: "Job", advice: "Advice") -> JobSigns:
    """Return what the bases of all places of a job share."""
    flake, colour = advice.job, job.colour
    measured = (colour.flake_um, colour.tilt_deg, colour.log_sd)
    paint = sign(flake.flake, flake.stages, flake.tone, *measured)
    return JobSigns(number_part(job), f"name:{sign(colour.name.casefold())}", paint)


def bases(
    job: "Job", advice: "Advice", floor: ShopFloor, panels: Container[str] | None = None
) -> dict[str, str]:
    """Return the basis of every place by its id, such as "number:1f3a… name:… colour:… panel:…".

    Args:
        job: the job.
        advice: the advice for exactly this job.
        floor: the shop.
        panels: those whose places are wanted; None for all.
    """
    signs, scope = job_signs(job, advice), f"scope:{scope_of(job)}"
    spots = {spot.id: spot for spot in advice.spots if panels is None or spot.panel in panels}
    stated = {panel.id: panel for panel in job.panel}
    places: dict[str, list[Place]] = {}
    for place in advice.places:
        if panels is None or place.panel in panels:
            places.setdefault(place.panel, []).append(place)
    return {
        name: f"{basis} {scope}"
        for panel, own in places.items()
        for name, basis in panel_bases(stated.get(panel), own, spots, signs, floor).items()
    }


def panel_bases(
    panel: "Panel | None",
    places: Iterable["Place"],
    spots: Mapping[str, "Spot"],
    signs: JobSigns,
    floor: ShopFloor,
) -> dict[str, str]:
    """Return the basis of each place of a panel by its id, but for which panels the job has.

    Args:
        panel: the panel as stated; None where the job has none of this name.
        places: its places.
        spots: their spots, by id.
        signs: what the bases of all places of the job share.
        floor: the shop.
    """
    shared = _PanelParts(with_lines(panel, floor.outlines)) if panel is not None else None
    found: dict[str, str] = {}
    for place in places:
        own = [spots[spot] for spot in place.spots if spot in spots]
        coloured = any(spot.zone != "clear" for spot in own)
        parts = (
            signs.number,
            signs.name,
            f"colour:{signs.paint if coloured else '-'}",
            f"panel:{shared.whole if shared else '-'}",
            f"zones:{sign(place.kind, place.reach, place.seen, *map(_lie, own))}",
            f"asks:{sign(*_asks(place), *map(_asked, own))}",
            f"paths:{shared.path_of(place) if shared else '-'}",
            f"patches:{shared.patches if shared else '-'}",
        )
        found[place.id] = " ".join(parts)
    return found


def number_part(job: "Job") -> str:
    """Return the part that ties an entry to the job's number; every entry has it, the panel's too."""
    return number_sign(job.job.number)


def scope_of(job: "Job") -> str:
    """Return the hash of which panels a job has."""
    return sign(*sorted(panel.id for panel in job.panel))


def changed(then: str, now: str) -> tuple[BasisPart, ...]:
    """Name the parts that both have and in which they differ.

    `patches` and `scope` re-open nothing: where a patch lies is in the zones and paths of what it touches,
    and that a panel came or went is told.
    """
    if then == now or then.startswith(f"{now} "):  # with more parts than are asked for
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

    def __init__(self, panel: "Panel") -> None:
        size = (panel.length_mm, panel.height_mm)
        self.whole = sign(panel.role, panel.surface, panel.next, panel.special, *size)
        self.patches = sign(*((each.id, each.surface, each.at, each.size_mm) for each in panel.patch))
        self._lines = {line.id: sign(line.path) for line in panel.feature}
        self._patches = {
            each.id: sign(each.at, each.size_mm, each.surface, each.next) for each in panel.patch
        }
        areas = [sign(each.at, each.size_mm) for each in panel.patch]
        self._all = sign(*sorted(self._lines.values()), *sorted(areas))

    def path_of(self, place: "Place") -> str:
        if place.kind == "face":
            return self._all
        return self._lines.get(place.feature) or self._patches.get(place.feature, "-")


def _asks(place: "Place") -> Iterable[object]:
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


def _lie(spot: "Spot") -> tuple[object, ...]:
    return spot.zone, None if spot.length_mm is None else round(spot.length_mm), round(spot.area_m2, 3)


def _asked(spot: "Spot") -> tuple[object, ...]:
    finish = spot.finish
    window = (finish.coarsest, finish.finest, finish.chosen, finish.verdict) if finish else None
    return spot.zone, window, spot.hand_coarsest


# What ended a rub-through: a patch there that was worked since, new primer, or full colour to there.

_TRIED: Final = 50
"""So many of the last rub-throughs at a place are held against mends; more stand."""


def mends(
    words: Sequence[Entry],
    basis: str,
    zones: tuple["Zone", ...],
    patches: Mapping[str, Sequence[Entry]],
    *,
    is_patch: bool,
) -> dict[int, Entry]:
    """Return for each rub-through at a place that has its mend the entry which that mend rests on.

    Args:
        words: entries at the place.
        basis: what the place rests on now.
        zones: its zones now.
        patches: entries at each patch that touches the place.
        is_patch: whether the place is a patch itself.
    """
    found: dict[int, Entry] = {}
    for each in [each for each in words if each.check.result == "cut-through"][-_TRIED:]:
        mend = _primed(each, words) if is_patch else _patched(each, basis, patches)
        mend = mend or _coloured(each, words, basis, zones)
        if mend is not None:
            found[each.number] = mend
    return found


def _primed(rub: Entry, words: Sequence[Entry]) -> Entry | None:
    return _last(each for each in words if each.check.step == "primed" and each.knew(rub))


def _patched(rub: Entry, basis: str, patches: Mapping[str, Sequence[Entry]]) -> Entry | None:
    """Return the last work on a patch that came after: a new or changed one, or one primed again since."""
    then, now = parts_of(rub.check.basis).get("patches"), parts_of(basis).get("patches")
    is_new = then is not None and then != now
    for entries in patches.values():
        primed = _primed(rub, entries)
        if primed is not None:
            return primed
        first_after = bool(entries) and all(each.number > rub.number for each in entries)
        if is_new or (then is None and first_after):
            work = _last(
                each
                for each in entries
                if each.check.step in WORK_STEPS and each.knew(rub) and not each.ahead
            )
            if work is not None:
                return work
    return None


def _coloured(rub: Entry, words: Sequence[Entry], basis: str, zones: tuple["Zone", ...]) -> Entry | None:
    """Return the last work after the place was re-planned as full colour all over; it was not so before."""
    then, now = parts_of(rub.check.basis).get("zones"), parts_of(basis).get("zones")
    if set(zones) != {"colour"} or then is None or then == now:
        return None
    return _last(
        each for each in words if each.check.step in WORK_STEPS and each.knew(rub) and not each.ahead
    )


def _last(entries: Iterable[Entry]) -> Entry | None:
    found: Entry | None = None
    for found in entries:  # noqa: B007 - the last one is kept
        pass
    return found
