"""The trade's words for values in files, and what places are called on the card."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records import (
    AREA_KINDS,
    BUILT,
    FEATURE_KINDS,
    HAND_TOOLS,
    Advice,
    Built,
    FeatureKind,
    Place,
    Spot,
    Surface,
    letters,
)
from prepadvisor.wording.trade import FLAKE as FLAKE
from prepadvisor.wording.trade import NEXT as NEXT
from prepadvisor.wording.trade import OUTPUT as OUTPUT
from prepadvisor.wording.trade import ROLE as ROLE
from prepadvisor.wording.trade import SPECIAL as SPECIAL
from prepadvisor.wording.trade import SURFACE as SURFACE
from prepadvisor.wording.trade import TONE as TONE
from prepadvisor.wording.trade import TOOL as TOOL
from prepadvisor.wording.trade import ZONE as ZONE
from prepadvisor.wording.units import Units

ZONE_SHORT: Final = {"colour": "colour", "fade": "fade", "clear": "clear"}


def kind_word(kind: FeatureKind) -> str:
    """Return what a kind of place is called; mypy names a kind that has no word here."""
    match kind:
        case "face":
            return "flat area"
        case "patch" | "edge" | "recess" | "cut-out":
            return kind
        case "body-line":
            return "body line"
        case "wheel-arch":
            return "wheel arch"
        case "flange":
            return "flange (return)"
        case "run-on":
            return "border without an edge"
    if TYPE_CHECKING:
        assert_never(kind)
    return str(kind).replace("-", " ")


KIND: Final[dict[str, str]] = {kind: kind_word(kind) for kind in FEATURE_KINDS}
OUTLINE: Final = {
    "front-door": "front door",
    "rear-door": "rear door",
    "front-wing": "front wing",
    "rear-quarter": "rear quarter",
    "bonnet": "bonnet",
    "boot-lid": "boot lid",
    "tailgate": "tailgate",
    "roof": "roof",
    "sill": "sill",
    "front-bumper": "front bumper",
    "rear-bumper": "rear bumper",
    "pillar": "pillar",
    "mirror-cap": "mirror cap",
    "fuel-flap": "fuel flap",
}


def outline_words(kind: str) -> str:
    """Return a kind of panel in words; one that a house states itself is its own words."""
    return OUTLINE.get(kind) or kind.replace("-", " ")


def listed(items: list[str] | tuple[str, ...]) -> str:
    """Return items as a list in a sentence: "a", "a and b", "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def stretches(names: Iterable[str]) -> list[str]:
    """Return panels' letters, each once, four or more in a row as a stretch: "A-D"."""
    runs: list[list[str]] = []
    for name in dict.fromkeys(names):
        last = runs[-1][-1] if runs else ""
        if len(name) == len(last) == 1 and ord(name) == ord(last) + 1:
            runs[-1].append(name)
        else:
            runs.append([name])
    return [each for run in runs for each in (run if len(run) < 4 else [f"{run[0]}-{run[-1]}"])]


def side(kind: str, name: str) -> str:
    """Return what a panel's side is called on the car: a bumper's "front" end is its left one.

    Args:
        kind: a shipped outline: of a house's own the one it is like.
        name: front, rear, top or bottom, as in the job file.
    """
    match BUILT.get(kind, Built()).seen:
        case "ahead" | "behind":
            return {"front": "left", "rear": "right"}.get(name, name)
        case "above":
            return {"top": "right", "bottom": "left"}.get(name, name)
        case "side":
            return name


def coats(count: int) -> str:
    """Return a number of coats in words: "1 coat", "2 coats"."""
    return f"{count} coat{'' if count == 1 else 's'}"


_PRINT_ORDER = ("colour", "fade", "clear")


class Words:
    """Names of places as on the card, and units: what a sentence about one advice is made with."""

    def __init__(self, advice: Advice) -> None:
        """Index the places of an advice."""
        self.advice = advice
        self.units = Units(advice.job.units == "imperial")
        self.letter_of = {panel.id: letters(index) for index, panel in enumerate(advice.panels)}
        self.places: dict[str, Place] = {place.id: place for place in advice.places}
        self.spots: dict[str, Spot] = {spot.id: spot for spot in advice.spots}
        self.place_of_spot = {spot: place.id for place in advice.places for spot in place.spots}
        self._patched = {place.panel for place in advice.places if place.kind == "patch"}

    def place_id(self, where: str) -> str:
        """Return the place of a spot id, a place id as it is."""
        return self.place_of_spot.get(where) or "/".join(where.split("/")[:2])

    def number(self, place: Place) -> str:
        """Return a place's number on the card, such as "A4"; the face of a panel has the letter alone."""
        letter = self.letter_of.get(place.panel, "?")
        return letter if place.kind == "face" else f"{letter}{place.number}"

    def name(self, place: Place) -> str:
        """Return what a place is called: its own name, else its kind with its id."""
        if place.kind == "face":
            return face_name(patched=place.panel in self._patched)
        if place.ring_of:
            patch = self.places.get(f"{place.panel}/{place.ring_of}")
            return f"ring round {self.number(patch) if patch else place.ring_of}"
        if place.kind == "patch":
            return patch_name(place.surface, place.feature)
        return line_name(place.name, place.kind, place.feature)

    def label(self, place: Place) -> str:
        """Return number and name of a place, such as "A4 handle recess"."""
        return f"{self.number(place)} {self.name(place)}"

    def panel(self, panel: str) -> str:
        """Return letter and heading of a panel, such as "A LEFT FRONT DOOR"."""
        letter = self.letter_of.get(panel)
        return f"{letter} {heading(panel)}" if letter else panel

    def where(self, what: str) -> str:
        """Return a spot id, place id or panel id in words: "A4 handle recess, fade"."""
        place = self.places.get(self.place_id(what))
        if place is None:
            panel = what.split("/", maxsplit=1)[0]
            return self.panel(panel) if panel in self.letter_of else what
        zone = self.spots[what].zone if what in self.spots else None
        return self.label(place) + (f", {ZONE[zone]}" if zone else "")

    def zones(self, place: Place) -> str:
        """Return the zones of a place in short: "colour+fade", or "all" for three."""
        found = {self.spots[spot].zone for spot in place.spots if spot in self.spots}
        return "all" if len(found) == 3 else "+".join(zone for zone in _PRINT_ORDER if zone in found)

    def numbers(self, places: Iterable[Place]) -> str:
        """Return the card numbers of places: "A1-A3 and A5", three or more in a row as a stretch."""
        runs: list[list[Place]] = []
        for place in places:
            last = runs[-1][-1] if runs else None
            follows = last is not None and (last.panel, last.number + 1) == (place.panel, place.number)
            if follows and "face" not in {place.kind, last.kind if last else ""}:
                runs[-1].append(place)
            else:
                runs.append([place])
        says = []
        for run in runs:
            named = [self.number(place) for place in run]
            says += named if len(named) < 3 else [f"{named[0]}-{named[-1]}"]
        return listed(says)

    def numbers_of(self, places: Iterable[str]) -> str:
        """Return the card numbers of place ids as a list; an unknown id stands as it is."""
        known = [self.places[place] for place in places if place in self.places]
        return self.numbers(known) or listed(list(places))


def face_name(*, patched: bool) -> str:
    """Return what the flat area of a panel is called, with a patch in it or without."""
    return "face round patch" if patched else "whole face"


def patch_name(surface: Surface, ident: str) -> str:
    """Return what a patch is called: "primer surfacer R1"."""
    return f"{SURFACE[surface]} {ident}"


def line_name(name: str, kind: FeatureKind, ident: str) -> str:
    """Return what a line is called: its own name, else its kind with its id."""
    return name or f"{KIND[kind]} {ident}"


_FACTORS: Final[dict[str, dict[str, str]]] = {
    "tool": TOOL,
    "zone": {"colour": "full colour", "clear": "clear only"},
    "reach": {"machine": "hand, then DA"},
    "coats": {"0": "none", "1": "1 coat"},
    "kind": {"panel": "test panels", "outcome": "outcomes of jobs", "wet-look": "wet looks"},
}


def factor_says(factor: str, value: str) -> str:
    """Return one value of what places or test panels are grouped by, such as flake or tool; else as it is."""
    if factor == "flake":
        return flake_short(value)
    if factor == "coats" and value.isdecimal() and int(value) > 1:
        return f"{value} coats"
    return _FACTORS.get(factor, {}).get(value, value)


def flake_short(flake: str) -> str:
    """Return a class of flake in a word or two, for lists: very fine."""
    return flake.replace("-", " ")


def panel_name(identifier: str) -> str:
    """Return a panel's id as its name: "left-front-door" becomes "left front door"."""
    return identifier.replace("-", " ").replace("_", " ")


def heading(identifier: str) -> str:
    """Return a panel's name as a heading: "left-front-door" becomes "LEFT FRONT DOOR"."""
    return panel_name(identifier).upper()


def is_hand_only(place: Place) -> bool:
    """Say whether hand work is the last touch at a line."""
    by_hand = place.reach == "hand" or place.tool in HAND_TOOLS
    return place.kind not in AREA_KINDS and by_hand
