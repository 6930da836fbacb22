"""A place with its panel's answer laid over it: hand limit, grit steps, what was done there, plainly."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tests.recompute import climbing
from tests.recompute.climbing import Step, Way
from tests.recompute.house import GRAIN, WORDS, House, finer, finest
from tests.recompute.spots import CUT_FLAT, SANDERS, Colour, Part, clears, film_max, hand_limit
from tests.recompute.troubles import Trouble


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
    by_shop: bool = False
    trouble: tuple[Trouble, ...] = ()


@dataclass
class Answered:
    """The places of a panel that are worked together, and their one answer."""

    places: dict[str, Place]
    face: str | None
    hand: str | None
    hand_only: str | None
    hand_colour: str | None = None


def own_grade(part: Part) -> tuple[str | None, dict[str, str]]:
    """Return the finest grade of its zones, and each zone's own where one forbids that."""
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


def laid(
    part: Part, own: str | None, finish: str | None, split: dict[str, str], colour: Colour, hand: str | None
) -> Place:
    """Return a place: its own grade, the one it is finished with, its zones' grades if it is split.

    `hand` is what all lines of the panel that a DA reaches are scuffed with.
    """
    house = colour.house
    place = Place(part, own, finish, split, held=finish is None)
    tools = [spot.tool for spot in part.spots.values() if spot.window]
    place.tool = ("da-soft" if "da-soft" in tools else tools[0]) if tools and finish else None
    limits = [hand_limit(part, spot.says, finish, house) for spot in part.spots.values()]
    found = [limit for limit in limits if limit]
    place.hand = finest(found) if found and None not in limits else None
    if finish is None:
        _judged(place, colour, hand)
        return place
    if part.is_line:
        _judged(place, colour, hand)
        if not part.by_hand and place.hand is None:
            place.trouble = (_no_hand_grade(place, finish, house),)
        if place.verdict == "too-coarse" and place.recut is None:
            place.trouble += (Trouble("cannot-cut-out", {"used": known_grade(part.was, house)}),)
        place.held = bool(place.trouble)
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
    _climbed(place, way, house)
    return place


def _climbed(place: Place, way: Way, house: House) -> None:
    """Give a place its grit steps, or what stops them: film on the shelf's own ways, else grades it lacks."""
    place.steps = climbing.steps(house, way, house.shelf)
    place.held = place.steps is None
    if place.steps is None:
        place.trouble = (_no_way(way, house),)


def _no_way(way: Way, house: House) -> Trouble:
    """Return what stops a climb: film where the shelf has a way or where none does, else grades it lacks."""
    ends = {"start": (way.start or way.opening or (None, None))[1], "finish": way.finish[1]}
    free = way._replace(film_max_um=None)
    best = climbing.steps(house, way, list(GRAIN))
    deep = climbing.steps(house, free, house.shelf)
    if deep is None and best is None:
        deep = climbing.steps(house, free, list(GRAIN))
    if deep is not None:
        off = sum(step.film_um for step in deep)
        return Trouble("too-much-film", {**ends, "off_um": off, "off_max_um": way.film_max_um})
    lacks = tuple(step.grade for step in best or () if step.grade not in house.shelf)
    return Trouble("no-way-up", ends, frozenset(), lacks)


def _no_hand_grade(place: Place, finish: str, house: House) -> Trouble:
    """Return what says that no hand grade is fine enough, and which there is would be."""
    part = place.part
    tool, film = house.shop["hand_tool"], film_of(part)
    enough = [grade for grade in GRAIN if clears(house, tool, grade, finish, film)]
    limits = [limit for spot in part.spots.values() if (limit := spot.says["hand_coarsest"])]
    needed = finest([max(enough, key=GRAIN.__getitem__), *limits]) if enough else None
    facts = {"finish": finish, "needed": needed}
    return Trouble("no-hand-grade", facts, frozenset(), (needed,) if needed else ())


def _judged(place: Place, colour: Colour, hand: str | None) -> None:
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
        word = max((spot.says["guide_coat"] for spot in part.spots.values()), key=WORDS["guide_coat"].index)
        tool = place.tool or house.shop["hand_tool"]
        scuff = None if part.by_hand else hand or place.hand
        way = Way(
            (done["tool"], used),
            None,
            (tool, finish),
            tool if part.by_hand else between_tool(part, house),
            part.amount * house.shop["edge_strip_mm"] / 1e6,
            ratio_of(part),
            film_of(part),
            "no" if part.by_hand else "before-final" if word == "after-hand" else word,
            part.surface,
            climbing.depth_um(house, house.shop["hand_tool"], scuff) if scuff else 0.0,
        )
        place.recut = climbing.steps(house, way, house.shelf)
    elif part.by_hand and any(finer(used, window[1]) for window in windows):
        place.verdict = "too-fine"


def keyed(ring: Part, colour: Colour) -> Place:
    """Return a ring ahead of primer: keyed from what the panel is now to the shop's ring grade."""
    house = colour.house
    ring.was = ring.panel.get("now")
    own, _ = own_grade(ring)
    if own is None:
        return Place(ring, None, None, {}, held=True)
    grade = house.shop["ring_grade"]
    place = Place(ring, grade, grade, {}, tool="da", by_shop=True)
    used = known_grade(ring.was, house)
    start = (ring.was["tool"], used) if ring.was and used else None
    first = house.shop.get("first_grade", {}).get(ring.surface)
    opening = ("block", first) if first else None
    way = Way(
        start, opening, ("da", grade), between_tool(ring, house), ring.amount, ratio_of(ring), film_of(ring),
        "no", ring.surface,
    )  # fmt: skip
    _climbed(place, way, house)
    return place
