"""What a card is made from, with its look-ups: job, advice, shop, units, and the work of the stage."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from prepadvisor.planning import as_primed
from prepadvisor.wording import Words, is_hand_only

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import BoxState
    from prepadvisor.records import (
        Advice,
        Feature,
        Job,
        Panel,
        PanelAdvice,
        Patch,
        Place,
        Spot,
        StageName,
        Task,
        Work,
        WorkStep,
    )
    from prepadvisor.records.gate import Gate
    from prepadvisor.standards import House


class Papers:
    """Job, advice and house side by side, with the letter and number each place has on the card."""

    def __init__(self, job: "Job", advice: "Advice", house: "House", gate: "Gate | None" = None) -> None:
        """Index everything once."""
        self.job = job
        self.advice = advice
        self.house = house = house.on(job)
        self.words = Words(advice)
        self.units = self.words.units
        self.gate = gate
        self.spots: dict[str, Spot] = {spot.id: spot for spot in advice.spots}
        self.places: dict[str, Place] = {place.id: place for place in advice.places}
        self.place_of_spot = self.words.place_of_spot
        self.letter_of = self.words.letter_of
        now = as_primed(job, house.shop)
        self.job_panels: dict[str, Panel] = {panel.id: panel for panel in now.panel}
        self._features: dict[str, Feature | Patch] = {}
        for panel in now.panel:
            self._features |= {f"{panel.id}/{line.id}": line for line in panel.feature}
            self._features |= {f"{panel.id}/{patch.id}": patch for patch in panel.patch}
        self.held: dict[str, list[str]] = {}
        for hold in advice.holds:
            self.held.setdefault(self.words.place_id(hold.spot), []).append(hold.spot)
        self.work: Work = gate.work if gate else advice.work
        self.stage: StageName = self.work.stages[0].id if self.work.stages else "paint"
        self.tasks: dict[str, Task] = {task.id: task for task in self.work.tasks if task.stage == self.stage}
        self.at: dict[str, list[Task]] = {}
        for task in self.tasks.values():
            self.at.setdefault(task.place, []).append(task)

    @property
    def steps(self) -> list["WorkStep"]:
        """The steps of the card's stage, in order."""
        return [step for step in self.work.steps if step.stage == self.stage]

    def of_panel(self, panel: str) -> list["Place"]:
        """Return the places of a panel in printing order: lines by number, then patches, the face last."""
        rank = {"face": 2, "patch": 1}
        mine = [place for place in self.advice.places if place.panel == panel]
        return sorted(mine, key=lambda place: (rank.get(place.kind, 0), place.number))

    def spots_of(self, place: "Place") -> list["Spot"]:
        """Return the spots of a place that the advice has."""
        return [self.spots[spot] for spot in place.spots if spot in self.spots]

    def feature(self, place: "Place") -> "Feature | Patch | None":
        """Return the line or patch of the job behind a place; the face has none."""
        return self._features.get(place.id)

    def number(self, place: "Place") -> str:
        """Return a place's number on the card, such as "A4"; the face of a panel has the letter alone."""
        return self.words.number(place)

    def name(self, place: "Place") -> str:
        """Return what a place is called: its own name, else its kind with its id."""
        return self.words.name(place)

    def label(self, place: "Place") -> str:
        """Return number and name of a place, such as "A4 handle recess"."""
        return self.words.label(place)

    def where(self, spot: str) -> str:
        """Return a spot id, place id or panel id in words: "A4 handle recess, fade"."""
        return self.words.where(spot)

    def zones(self, place: "Place") -> str:
        """Return the zones of a place in short: "colour+fade", or "all" for three."""
        return self.words.zones(place)

    def is_hand_only(self, place: "Place") -> bool:
        """Say whether hand work is the last touch at a line."""
        return is_hand_only(place)

    def box(self, tasks: Iterable["Task"]) -> "BoxState":
        """Return the box of some tasks: none without any, ticked where all are done."""
        states = {task.state for task in tasks}
        if not states:
            return "none"
        return "done" if states == {"done"} else "held" if "held" in states else "open"

    def panel_held(self, panel: "PanelAdvice") -> bool:
        """Say whether a panel has no work at all because of what holds it."""
        if panel.id in self.work.unplanned:
            return True
        places = [place for place in self.advice.places if place.panel == panel.id]
        return bool(places) and all(place.id in self.held for place in places)

    def any_held(self, panel: "PanelAdvice") -> bool:
        """Say whether anything on a panel is on hold."""
        return any(place.split("/")[0] == panel.id for place in self.held)


def numbers(papers: Papers, places: Iterable["Place"]) -> str:
    """Return the card numbers of places as a list, three or more in a row as a stretch: "A1-A3 and A5"."""
    return papers.words.numbers(places)
