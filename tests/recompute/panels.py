"""A panel's one answer, its places, wet bed, film and holds, plainly."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from tests.recompute import climbing, shapes
from tests.recompute.climbing import Step, Way
from tests.recompute.house import WORDS, House, finer, finest
from tests.recompute.spots import (
    CUT_FLAT,
    SANDERS,
    Colour,
    Part,
    clears,
    decided,
    film_max,
    hand_limit,
    parts,
)

BED: Final = WORDS["wet_bed"]


@dataclass
class Place:
    """One part with its panel's answer laid over it."""

    part: Part
    own: str | None
    finish: str | None
    split: dict[str, str]
    hand: str | None = None
    tool: str | None = None
    steps: list[Step] | None = None
    verdict: str = "not-recorded"
    recut: list[Step] | None = None
    held: bool = False


@dataclass
class Panel:
    """All of one panel."""

    stated: Mapping[str, Any]
    places: dict[str, Place]
    face: str | None
    hand_only: str | None
    hand: str | None
    film_off_um: float
    film_max_um: float | None
    film_left_um: float | None
    bed: tuple[str, int]
    bed_zones: set[str]
    bed_m2: float
    held: set[str] = field(default_factory=set)


def planned(stated: Mapping[str, Any], colour: Colour) -> Panel:
    """Plan one panel of a job."""
    house = colour.house
    every = parts(stated, house)
    for part in every:
        decided(part, colour)
    own = {part.id: _own(part) for part in every}
    machine = [
        grade for part in every if not part.by_hand and part.kind != "patch" and (grade := own[part.id][0])
    ]
    by_hand = [
        grade for part in every if part.by_hand and not _only_clear(part) and (grade := own[part.id][0])
    ]
    face, hand_only = (finest(each) if each else None for each in (machine, by_hand))
    places = {}
    for part in sorted(every, key=lambda part: part.by_hand):
        grade, split = own[part.id]
        if part.by_hand and _only_clear(part):
            hands = [place.hand for place in places.values() if place.hand]
            finish = _in_clear(part, grade, split, finest(hands) if hands else None)
            places[part.id] = _place(part, grade, finish, split, colour)
            hand_only = hand_only or None
            continue
        wanted = hand_only if part.by_hand else grade if part.kind == "patch" else face
        takes = grade and wanted and not split and not any(
            finer(wanted, spot.window[1]) for spot in part.spots.values() if spot.window
        )  # fmt: skip
        places[part.id] = _place(part, grade, wanted if takes else grade, split, colour)
    places = {part.id: places[part.id] for part in every}
    in_clear = [
        place.finish for place in places.values()
        if place.part.by_hand and _only_clear(place.part) and place.finish
    ]  # fmt: skip
    hand_only = hand_only or (in_clear[0] if in_clear else None)
    hands = [place.hand for place in places.values() if place.hand]
    for place in places.values():
        place.held = place.held or _stopped(place, places.get("face"), hands, house)
    bed, over, area = _bed(stated, every, house)
    off, most, left, thin = _film(stated, places)
    held = {f"{part.id}" for part in every if places[part.id].held}
    panel = Panel(
        stated,
        places,
        face,
        hand_only,
        finest(hands) if hands else None,
        off,
        most,
        left,
        bed,
        over,
        area,
        held,
    )
    if thin:
        panel.held.add("face")
    return panel


def _only_clear(part: Part) -> bool:
    return set(part.spots) == {"clear"}


def _in_clear(part: Part, own: str | None, split: dict[str, str], hand: str | None) -> str | None:
    """Return the hand grade in use where it keys, P800 to P1500, else P800; its own where neither may be."""
    in_use = hand is not None and not finer("P800", hand) and not finer(hand, "P1500")
    wanted = hand if hand and in_use else "P800"
    windows = [spot.window for spot in part.spots.values() if spot.window]
    may = own and not split and all(
        not finer(window[0], wanted) and not finer(wanted, window[1]) for window in windows
    )  # fmt: skip
    return wanted if may else own


def _stopped(place: Place, face: Place | None, hands: list[str], house: House) -> bool:
    """Say whether a scuff cannot be cut out, or the way up with the face would cut a line too deep."""
    if place.verdict == "too-coarse" and place.recut is None:
        return True
    part, most = place.part, film_of(place.part)
    clear = part.surface in ("aged-clear", "cured-clear")
    if place.held or not part.is_line or part.by_hand or most is None or not clear or not place.finish:
        return False
    patches = part.panel.get("patch", [])
    lap = house.shop["lap_mm"] + house.shop["ring_mm"]
    holes = [
        shapes.primed_box(part.panel, patch, lap if shapes.waits(part.panel, patch) else 0.0)
        for patch in patches
        if patch["id"] in part.crosses
    ]
    if shapes.length_outside(part.shape, holes) <= 1:
        return False
    was = face.part.was if face else None
    used = known_grade(was, house)
    ahead = [step for step in (face.steps or [])[:-1] if finer(place.finish, step.grade)] if face else []
    if place.recut is not None:
        own = place.recut[:-1]
        if not ahead or (own and finer(ahead[0].grade, own[0].grade)):
            return False
    below = climbing.depth_um(house, was["tool"], used) if face and face.steps and was and used else 0.0
    if place.recut is not None and part.was:
        below = max(below, climbing.depth_um(house, part.was["tool"], known_grade(part.was, house) or ""))
    film = 0.0
    for step in ahead:
        film += below
        tool = "block" if step.tool == "block" else between_tool(part, house)
        below = climbing.depth_um(house, tool, step.grade)
    done = part.was if place.verdict == "within" and not ahead else None
    hand = (house.shop["hand_tool"], finest(hands)) if hands else None
    if done:
        hand = (done["tool"], known_grade(done, house) or "")
    film += max(below, climbing.depth_um(house, *hand) if hand else 0.0)
    return bool(film > most + 1e-9)


def _own(part: Part) -> tuple[str | None, dict[str, str]]:
    windows = {zone: spot.window for zone, spot in part.spots.items()}
    if not all(windows.values()):
        return None, {}
    chosen = {zone: window[2] for zone, window in windows.items() if window}
    grade = finest(chosen.values())
    forbidden = any(finer(grade, window[1]) for window in windows.values() if window)
    return grade, chosen if forbidden else {}


def between_tool(part: Part, house: House) -> str:
    """Return the tool of the steps ahead of the last."""
    if part.surface in CUT_FLAT:
        used = part.was["tool"] if part.was else "block"
        return used if used in SANDERS else "block"
    says = next(iter(part.spots.values())).says
    soft = says["machine"] == "interface-pad" and house.shop.get("interface_pad", True)
    return "da-soft" if soft else "da"


def known_grade(was: Mapping[str, Any] | None, house: House) -> str | None:
    """Return the grade of what was used; a pad stands for the coarse end of its range."""
    if not was:
        return None
    found = was.get("grade") or house.shop.get("pads", {}).get(was.get("pad"))
    return str(found) if found else None


def film_of(part: Part) -> float | None:
    """Return the film that may be cut: the least over its zones."""
    limits = [film_max(part, spot.says) for spot in part.spots.values()]
    return min((limit for limit in limits if limit is not None), default=None)


def ratio_of(part: Part) -> float:
    """Return the least grain of a next step over the last one's."""
    return max(spot.says["step_ratio_min"] or 0.0 for spot in part.spots.values())


def _place(part: Part, own: str | None, finish: str | None, split: dict[str, str], colour: Colour) -> Place:
    house = colour.house
    place = Place(part, own, finish, split, held=finish is None)
    tools = [spot.tool for spot in part.spots.values() if spot.window]
    place.tool = ("da-soft" if "da-soft" in tools else tools[0]) if tools and finish else None
    limits = [limit for spot in part.spots.values() if (limit := hand_limit(part, spot.says, finish, house))]
    place.hand = finest(limits) if limits else None
    if finish is None:
        _judged(place, colour)
        return place
    if part.is_line:
        place.held = not part.by_hand and place.hand is None
        _judged(place, colour)
        return place
    words = [spot.says["guide_coat"] for spot in part.spots.values()]
    guide = next((word for word in ("every-change", "before-final") if word in words), "no")
    used, first = known_grade(part.was, house), house.shop.get("first_grade", {}).get(part.surface)
    way = Way(
        (part.was["tool"], used) if part.was and used else None,
        ("block", first) if first else None,
        (place.tool or "", finish),
        between_tool(part, house),
        part.amount,
        ratio_of(part),
        film_of(part),
        guide,
        part.surface,
    )
    place.steps = climbing.steps(house, way, house.shelf)
    place.held = place.steps is None
    return place


def _judged(place: Place, colour: Colour) -> None:
    part, house, done = place.part, colour.house, place.part.was
    used = known_grade(done, house)
    if done is None or used is None:
        return
    place.verdict = "within"
    finish = place.finish
    if finish is None:
        return
    windows = [spot.window for spot in part.spots.values() if spot.window]
    if part.by_hand:
        coarse = any(finer(window[0], used) for window in windows)
    else:
        coarse = (place.hand is not None and finer(place.hand, used)) or not all(
            clears(house, done["tool"], used, finish, film_max(part, spot.says))
            for spot in part.spots.values()
        )
    if coarse:
        place.verdict = "too-coarse"
        tool = place.tool or house.shop["hand_tool"]
        way = Way(
            (done["tool"], used),
            None,
            (tool, finish),
            tool if part.by_hand else between_tool(part, house),
            part.amount * house.shop["edge_strip_mm"] / 1e6,
            ratio_of(part),
            film_of(part),
            "no" if part.by_hand else "every-change",
            part.surface,
        )
        place.recut = climbing.steps(house, way, house.shelf)
    elif part.by_hand and any(finer(used, window[1]) for window in windows):
        place.verdict = "too-fine"


def _film(
    stated: Mapping[str, Any], places: Mapping[str, Place]
) -> tuple[float, float | None, float | None, bool]:
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
    return off, most, left, bool(face) and left is not None and left < least


def _bed(
    stated: Mapping[str, Any], every: list[Part], house: House
) -> tuple[tuple[str, int], set[str], float]:
    spots = [(zone, spot) for part in every for zone, spot in part.spots.items()]
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
    for patch in stated.get("patch", []):
        lap = house.shop["lap_mm"] if shapes.waits(stated, patch) else 0.0
        region = region.difference(shapes.primed_box(stated, patch, lap))
    return (need, coats), over, region.area / 1e6
