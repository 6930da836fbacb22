"""A panel's one answer, its places, wet bed, film and holds, plainly."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from shapely.geometry.base import BaseGeometry

from tests.recompute import shapes, work
from tests.recompute.house import WORDS, House, finer, finest
from tests.recompute.places import Answered, Place, film_of, keyed, laid, own_grade
from tests.recompute.priming import WHOLE, Ring, Standing, standing
from tests.recompute.spots import Answer, Colour, Part, decided, hand_limit, parts

BED: Final = WORDS["wet_bed"]


@dataclass
class Panel:
    """All of one panel: its places as they stand now, and the work of both stages."""

    stated: Mapping[str, Any]
    standing: Standing
    places: dict[str, Place]
    primer: Answered | None
    paint: Answered
    face: str | None
    hand_only: str | None
    hand: str | None
    film_off_um: float
    film_max_um: float | None
    film_left_um: float | None
    film_least_um: float
    bed: tuple[str, int]
    bed_zones: set[str]
    bed_m2: float
    held: set[str] = field(default_factory=set)
    thin: bool = False
    zones: Mapping[str, BaseGeometry] = field(default_factory=dict)
    depths: tuple[float, float] = (0.0, 0.0)


def planned(stated: Mapping[str, Any], colour: Colour, primed: Collection[str] = ()) -> Panel:
    """Plan one panel of a job."""
    house = colour.house
    zones = shapes.zones(stated, house.shop["mist_mm"])
    stands = standing(stated, house.shop, primed)
    paint = answered(parts(stands.later, house, zones, stands.rings), colour, (), stands.rings)
    primer = None
    now = paint
    if WHOLE in stands.waiting:
        now = primer = answered(parts(stands.now, house, zones), colour)
    elif stands.waiting:
        waits = [part for part in parts(stands.now, house, zones) if part.id in stands.waiting]
        rings = [
            part for part in parts(stands.later, house, zones, stands.rings) if part.ring_of in stands.waiting
        ]
        primer = answered(waits, colour, rings)
        now = replace(paint, places={**paint.places, **primer.places})
    spots = [(zone, spot) for place in paint.places.values() for zone, spot in place.part.spots.items()]
    bed, over, area = _bed(stated, stands.later, spots, house)
    off, most, left, least = _film(stated, now.places)
    face = now.places.get("face")
    thin = left is not None and left < least and face is not None and bool(face.own)
    held = {name for name, place in now.places.items() if place.held}
    if thin:
        held.add("face")
    return Panel(
        stated, stands, now.places, primer, paint, now.face, now.hand_only, now.hand, off, most, left, least,
        bed, over, area, held, thin, zones, shapes.depths(stated, house.shop["mist_mm"]),
    )  # fmt: skip


def answered(
    every: list[Part], colour: Colour, rings: Sequence[Part] = (), around: Sequence[Ring] = ()
) -> Answered:
    """Lay the one answer of a panel over its parts; `rings` are keyed by the shop's grade, not by rules."""
    house = colour.house
    for part in (*every, *rings):
        decided(part, colour)
    own = {part.id: own_grade(part) for part in every}
    machine = [part for part in every if not part.by_hand and part.kind != "patch"]
    face = _finest_of(own[part.id][0] for part in machine)
    by_hand = [part for part in every if part.by_hand and set(part.amounts) != {"clear"}]
    hand_only = _finest_of(own[part.id][0] for part in by_hand)
    hand = _finest_of(
        hand_limit(part, spot.says, _taken(part, *own[part.id], face), house)
        for part in machine
        for spot in part.spots.values()
    )
    in_clear = None
    places = {}
    for part in every:
        grade, split = own[part.id]
        if part.by_hand and set(part.amounts) == {"clear"}:
            used = _in_clear(part, grade, split, hand)
            in_clear = in_clear or used
        else:
            wanted = hand_only if part.by_hand else grade if part.kind == "patch" else face
            used = _taken(part, grade, split, wanted)
        places[part.id] = laid(part, grade, used, split, colour, hand)
    found = Answered(places, face, hand, hand_only or in_clear, hand_only)
    for ring in rings:
        places[ring.id] = keyed(ring, colour)
    work.lines_cut_too_deep(found, house, around)
    return found


def _finest_of(grades: Iterable[str | None]) -> str | None:
    known = [grade for grade in grades if grade]
    return finest(known) if known else None


def _taken(part: Part, own: str | None, split: dict[str, str], wanted: str | None) -> str | None:
    """Return the panel's grade where every zone of a part keys with it, else the part's own."""
    if own is None or wanted is None or split:
        return own
    keyed = all(not finer(wanted, spot.window[1]) for spot in part.spots.values() if spot.window)
    return wanted if keyed else own


def _in_clear(part: Part, own: str | None, split: dict[str, str], hand: str | None) -> str | None:
    """Return the grade by hand where only clear goes on.

    The hand grade in use from P800 to P1500, else P800.
    """
    wanted = hand if hand and not finer("P800", hand) and not finer(hand, "P1500") else "P800"
    windows = [spot.window for spot in part.spots.values() if spot.window]
    if any(finer(window[0], wanted) for window in windows):
        return own
    return _taken(part, own, split, wanted)


def _film(
    stated: Mapping[str, Any], places: Mapping[str, Place]
) -> tuple[float, float | None, float | None, float]:
    face = places.get("face")
    off = sum(step.film_um for step in (face.steps or [])) if face else 0.0
    most = film_of(face.part) if face else None
    reading = min(stated.get("film_um") or [None])
    left = reading - off if reading is not None and most is not None else None
    least = (
        max((spot.says["film_left_min_um"] or 0.0 for spot in face.part.spots.values()), default=0.0)
        if face
        else 0.0
    )
    return off, most, left, least


def _bed(
    stated: Mapping[str, Any], later: Mapping[str, Any], spots: list[tuple[str, Answer]], house: House
) -> tuple[tuple[str, int], set[str], float]:
    need = max((spot.need for _, spot in spots), key=BED.index)
    coats = max(spot.coats for _, spot in spots)
    over = {"colour"} if any(zone == "colour" and spot.need == "required" for zone, spot in spots) else set()
    over |= (
        {"fade"}
        if any(zone == "fade" and spot.need in ("advised", "required") for zone, spot in spots)
        else set()
    )
    if need == "no" or not over:
        return (need, coats), over, 0.0
    colour_end, fade_end = shapes.depths(stated, house.shop["mist_mm"])
    reach = fade_end + house.shop["wet_bed"]["overlap_mm"] if "fade" in over else colour_end
    region = shapes.below(stated, reach)
    if "colour" not in over:
        region = region.difference(shapes.below(stated, colour_end))
    for patch in later["patch"]:
        region = region.difference(shapes.patch_box(later, patch))
    return (need, coats), over, region.area / 1e6
