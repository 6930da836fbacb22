"""The wall table: for each flake, what face, hand work, powder and wet bed of a usual blend panel are.

Nothing is decided here. A door that fades out from its front, with all its usual lines, is advised on for
each flake by the standards in force, and another one with a spot of primer; the table says what came out.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.planning import advise
from prepadvisor.records import FLAKES, RANK, WET_BED, Advice, Colour, Flake, Job, JobHead, Panel, Patch, Spot
from prepadvisor.wording import FLAKE, TOOL

if TYPE_CHECKING:
    from prepadvisor.records import Grade
    from prepadvisor.standards import House

STOP: Final = "STOP"
NONE: Final = "-"
_POWDER: Final = {
    "every-change": "at every grade", "after-hand": "after hand work", "before-final": "before the last",
}  # fmt: skip
_COLOUR_MM: Final = 150.0
_FADE_MM: Final = 600.0
"""Wide enough that the usual hand-only place of a door, its handle, lies in the fade; some clear is left."""
_PATCH_MM: Final = (300.0, 250.0)


class WallRow(NamedTuple):
    """One flake class: the answers in the fade and in full colour of a usual door, and of a spot of primer.

    `face` is the final grade of the sander; `hand` the coarsest by hand ahead of it; `hand_last` the grade
    where hand is the last touch; `powder` when guide coat goes on; `bed` how far a wet bed is needed, and
    `bed_hand_only` with a hand-only place that is seen; `colour_face` and `colour_hand` are face and hand in
    full colour; `primer` the grit steps of primer surfacer.
    """

    flake: Flake
    name: str
    face: str
    hand: str
    hand_last: str
    powder: str
    bed: str
    bed_hand_only: str
    colour_face: str
    colour_hand: str
    primer: str


class Wall(NamedTuple):
    """The whole table, with the standards it comes from."""

    rows: tuple[WallRow, ...]
    standards: tuple[str, ...]
    clear_zone: str
    tools: str


def wall(house: "House") -> Wall:
    """Return the wall table of the standards in force.

    Args:
        house: standards, shop, constants and outlines.
    """
    doors = {flake: advise(_job(flake, house), house, seek_offers=False) for flake in FLAKES}
    rows = tuple(_row(flake, door, house) for flake, door in doors.items())
    last = doors["very-fine"]
    used = [f"{layer.name or layer.layer} {layer.version}".strip() for layer in last.standards.layers]
    return Wall(rows, tuple(used), _clear_zone(last), _tools(house))


def _row(flake: str, door: Advice, house: "House") -> WallRow:
    fade, colour = _in_zone(door, "fade"), _in_zone(door, "colour")
    return WallRow(
        flake=flake,  # type: ignore[arg-type]
        name=FLAKE[flake],
        face=_face(fade),
        hand=_hand(fade),
        hand_last=_finest(spot.finish.chosen if spot.finish else None for spot in fade if _is_last(spot)),
        powder=_powder(fade),
        bed=_bed(spot for spot in fade if not _is_last(spot)),
        bed_hand_only=_bed(fade),
        colour_face=_face(colour),
        colour_hand=_hand(colour),
        primer=_primer(advise(_job(flake, house, primed=True), house, seek_offers=False)),
    )


def _in_zone(advice: Advice, zone: str) -> list[Spot]:
    return [spot for spot in advice.spots if spot.zone == zone and spot.seen]


def _face(spots: list[Spot]) -> str:
    return _finest(spot.finish.chosen if spot.finish else None for spot in spots if spot.feature == "face")


def _hand(spots: list[Spot]) -> str:
    return _finest(spot.hand_coarsest for spot in spots if spot.reach == "machine" and spot.length_mm)


def _is_last(spot: Spot) -> bool:
    return spot.reach == "hand"


def _finest(grades: Iterable["Grade | None"]) -> str:
    """Return the finest of some grades; STOP where one is missing, a dash where there is none to say."""
    found = list(grades)
    if not found:
        return NONE
    known = [grade for grade in found if grade]
    return max(known, key=RANK.__getitem__) if len(known) == len(found) else STOP


def _job(flake: str, house: "House", primed: bool = False) -> Job:
    outline = house.outlines["front-door"]
    patch = Patch(id="R1", surface="primer-surfacer", at=(0.4, 0.6), size_mm=_PATCH_MM)
    panel = Panel(
        id="door", kind="front-door", role="repair" if primed else "blend", surface="aged-clear",
        length_mm=outline.length_mm, height_mm=outline.height_mm, feature=outline.feature,
        colour_from=("R1",) if primed else ("front",), colour_mm=_COLOUR_MM, fade_mm=_FADE_MM,
        film_um=(130.0,), patch=(patch,) if primed else (),
    )  # fmt: skip
    colour = Colour.model_validate({"flake": flake, "stages": 2, "tone": "light"})
    return Job(job=JobHead(number="wall"), colour=colour, panel=(panel,))


def _powder(spots: list[Spot]) -> str:
    asked = {spot.guide_coat for spot in spots if spot.reach == "machine"}
    return next((says for step, says in _POWDER.items() if step in asked), NONE)


def _bed(spots: Iterable[Spot]) -> str:
    beds = [spot.wet_bed for spot in spots]
    need = max((bed.need for bed in beds), key=WET_BED.index, default="no")
    coats = max((bed.coats for bed in beds), default=0)
    if need == "no":
        return NONE
    return f"{'NEEDED' if need == 'required' else 'advised'}, {coats} coat{'s' if coats != 1 else ''}"


def _primer(advice: Advice) -> str:
    place = next((place for place in advice.places if place.feature == "R1"), None)
    if place is None or not place.ladder:
        return STOP
    return " > ".join(step.grade for step in place.ladder)


def _clear_zone(advice: Advice) -> str:
    spots = [spot for spot in advice.spots if spot.zone == "clear"]
    return f"Clear only, any flake: by hand {_hand(spots)} or finer, then {_face(spots)}. No gloss left."


def _tools(house: "House") -> str:
    return f"Last pass: {TOOL[house.shop.finishing_tool]}. By hand: {TOOL[house.shop.hand_tool]}."
