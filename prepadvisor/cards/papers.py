"""What a card is made from, with its look-ups: job, advice, shop, units, and what is ticked off already."""

from collections.abc import Collection, Iterable, Mapping
from typing import Final

from prepadvisor.cards import words
from prepadvisor.cards.sheet import Box
from prepadvisor.cards.units import Units
from prepadvisor.records.advice import Advice, PanelAdvice, Place, Spot
from prepadvisor.records.job import Feature, Job, Panel, Patch
from prepadvisor.records.words import HAND_TOOLS
from prepadvisor.standards.house import House

Ticks = Mapping[str, Collection[str]]
"""Steps that stand as done, by place id ("panel/feature") and, for cleaning and wiping, by panel id."""

_PRINT_ORDER: Final = ("colour", "fade", "clear")


class Papers:
    """Job, advice and house side by side, with the letter and number each place has on the card."""

    def __init__(self, job: Job, advice: Advice, house: House, ticks: Ticks | None = None) -> None:
        """Index everything once."""
        self.job = job
        self.advice = advice
        self.house = house
        self.units = Units(advice.job.units == "imperial")
        self.ticks: Ticks = ticks or {}
        self.ticks_known = ticks is not None
        self.spots: dict[str, Spot] = {spot.id: spot for spot in advice.spots}
        self.places: dict[str, Place] = {place.id: place for place in advice.places}
        self.place_of_spot = {spot: place.id for place in advice.places for spot in place.spots}
        self.letter_of = {panel.id: words.letters(index) for index, panel in enumerate(advice.panels)}
        self.job_panels: dict[str, Panel] = {panel.id: panel for panel in job.panel}
        self._features: dict[str, Feature | Patch] = {}
        for panel in job.panel:
            self._features |= {f"{panel.id}/{line.id}": line for line in panel.feature}
            self._features |= {f"{panel.id}/{patch.id}": patch for patch in panel.patch}
        self.held: dict[str, list[str]] = {}
        for hold in advice.holds:
            self.held.setdefault(self._place_id(hold.spot), []).append(hold.spot)

    def _place_id(self, spot: str) -> str:
        return self.place_of_spot.get(spot) or "/".join(spot.split("/")[:2])

    def of_panel(self, panel: str) -> list[Place]:
        """Return the places of a panel in printing order: lines by number, then patches, the face last."""
        rank = {"face": 2, "patch": 1}
        mine = [place for place in self.advice.places if place.panel == panel]
        return sorted(mine, key=lambda place: (rank.get(place.kind, 0), place.number))

    def spots_of(self, place: Place) -> list[Spot]:
        """Return the spots of a place that the advice has."""
        return [self.spots[spot] for spot in place.spots if spot in self.spots]

    def feature(self, place: Place) -> Feature | Patch | None:
        """Return the line or patch of the job behind a place; the face has none."""
        return self._features.get(place.id)

    def number(self, place: Place) -> str:
        """Return a place's number on the card, such as "A4"; the face of a panel has the letter alone."""
        letter = self.letter_of.get(place.panel, "?")
        return letter if place.kind == "face" else f"{letter}{place.number}"

    def name(self, place: Place) -> str:
        """Return what a place is called: its own name, else its kind with its id."""
        if place.kind == "face":
            return "face round patch" if self._has_patch(place.panel) else "whole face"
        if place.kind == "patch":
            return f"{self.surface_of_patch(place)} {place.feature}"
        return place.name or f"{words.KIND[place.kind]} {place.feature}"

    def surface_of_patch(self, place: Place) -> str:
        """Return what a patch is made of, in words."""
        patch = self.feature(place)
        return words.SURFACE[patch.surface] if isinstance(patch, Patch) else "patch"

    def _has_patch(self, panel: str) -> bool:
        return panel in self.job_panels and bool(self.job_panels[panel].patch)

    def label(self, place: Place) -> str:
        """Return number and name of a place, such as "A4 handle recess"."""
        return f"{self.number(place)} {self.name(place)}"

    def where(self, spot: str) -> str:
        """Return a spot id, place id or panel id in words: "A4 handle recess, fade"."""
        place = self.places.get(self._place_id(spot))
        if place is None:
            letter = self.letter_of.get(spot.split("/")[0])
            return f"{letter} {heading(spot.split('/')[0])}" if letter else spot
        zone = self.spots[spot].zone if spot in self.spots else None
        return self.label(place) + (f", {words.ZONE[zone]}" if zone else "")

    def zones(self, place: Place) -> str:
        """Return the zones of a place in short: "colour+fade", or "all zones" for three."""
        found = {spot.zone for spot in self.spots_of(place)}
        return "all zones" if len(found) == 3 else "+".join(zone for zone in _PRINT_ORDER if zone in found)

    def is_hand_only(self, place: Place) -> bool:
        """Say whether hand work is the last touch at a line."""
        by_hand = place.reach == "hand" or place.tool in HAND_TOOLS
        return place.kind not in {"face", "patch"} and by_hand

    def box(self, place: str, step: str) -> Box:
        """Return a box that is ticked where the check-off has the step."""
        return "done" if step in self.ticks.get(place, ()) else "open"

    def deviation_lines(self) -> tuple[str, ...]:
        """Return where the house departs from the base standards, in its own words, with file and line."""
        return tuple(
            f"{item.rule} {item.kind} by {item.by}: {item.says}"
            + (f" ({item.file}:{item.line})" if item.file else "")
            for item in self.advice.standards.deviations
        )

    def panel_held(self, panel: PanelAdvice) -> bool:
        """Say whether anything on a panel is on hold."""
        return any(place.split("/")[0] == panel.id for place in self.held)


def heading(identifier: str) -> str:
    """Return a panel's id as a heading: "left-front-door" becomes "LEFT FRONT DOOR"."""
    return identifier.replace("-", " ").replace("_", " ").upper()


def numbers(papers: Papers, places: Iterable[Place]) -> str:
    """Return the card numbers of places as a list, three or more in a row as a stretch: "A1-A3 and A5"."""
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
        named = [papers.number(place) for place in run]
        says += named if len(named) < 3 else [f"{named[0]}-{named[-1]}"]
    return words.listed(says)
