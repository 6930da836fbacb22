"""What a card is made from, with its look-ups: job, advice, shop, units, and the work of the stage."""

from typing import TYPE_CHECKING

from prepadvisor.planning import DrillShop, as_primed, drills_of, once_worked
from prepadvisor.records import BUILT, Built
from prepadvisor.wording import Words, is_hand_only

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from prepadvisor.records import (
        Advice,
        Drill,
        Feature,
        Gate,
        Job,
        LeadDecides,
        Look,
        Panel,
        Patch,
        Place,
        Spot,
        StageName,
        Task,
        Work,
        WorkStep,
    )
    from prepadvisor.standards import House


_LAST_PRINTED = {"patch": 1, "face": 2}
"""Lines are printed first, by their numbers, then patches, the face last."""


class Papers:
    """Job, advice and house side by side, gathered once: a card is worded and laid out from these alone.

    Attributes:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by, with the layers in force on the job's day.
        gate: where the log leaves the work; None leaves every box open.
        words: names of places as on the card, and units.
        units: how numbers are shown.
        spots: spots by id.
        places: places by id.
        place_of_spot: place ids by spot id.
        letter_of: letters on the card by panel id.
        job_panels: panels of the job, once primed where the log says so, by id.
        features: lines and patches of the job behind places, by place id; the face has none.
        ungauged: panels whose film no gauge tells: plastic, and bumpers without a reading.
        held: spot ids that are on hold, by place id.
        held_panels: panels that have no work at all because of what holds them.
        part_held: panels with anything on hold.
        hand_only: places where hand work is the last touch.
        places_of: the places of each panel in printing order.
        spots_at: the spots of each place.
        work: all the work, with the states that the log gives it.
        stage: the stage that the card is for.
        steps: the steps of that stage, in order.
        tasks: its tasks by id.
        tasks_of: the same by panel.
        steps_of: the steps with work on a panel, each with its tasks there, by panel.
        at: its tasks by place.
        drills: what a look that finds something asks for, by place and by what is seen.
    """

    def __init__(self, job: "Job", advice: "Advice", house: "House", gate: "Gate | None" = None) -> None:
        """Index everything once."""
        self.job = job
        self.advice = advice
        self.house = house = house.on(job)
        self.gate = gate
        self.words = words = Words(advice)
        self.units = words.units
        self.spots = words.spots
        self.places = words.places
        self.place_of_spot = words.place_of_spot
        self.letter_of = words.letter_of
        self._gather_places()
        self._gather_work()
        worked = {place.panel for place in advice.places if place.id not in self.held}
        placed = {place.panel for place in advice.places}
        self.held_panels = {*self.work.unplanned, *(placed - worked)}
        self.part_held = {place.split("/")[0] for place in self.held}
        now = as_primed(job, house.shop)
        self.job_panels: dict[str, Panel] = {panel.id: panel for panel in now.panel}
        self.features: dict[str, Feature | Patch] = {
            f"{panel.id}/{line.id}": line for panel in now.panel for line in panel.feature
        }
        self.features |= {f"{panel.id}/{patch.id}": patch for panel in now.panel for patch in panel.patch}
        seen_as = {kind: outline.seen_as for kind, outline in house.outlines.items()}
        self.ungauged = {
            panel.id
            for panel in now.panel
            if panel.surface == "primed-plastic"
            or (not panel.film_um and BUILT.get(seen_as.get(panel.kind, panel.kind), Built()).is_plastic)
        }
        shop = DrillShop(advice.job.flake, house.shop.shelf, house.constants)
        self.drills = {
            place: self._drills(self.places[place], [task for task in tasks if task.do != "look"], shop)
            for place, tasks in self.at.items()
            if place in self.places
        }

    def _drills(
        self, place: "Place", chain: "list[Task]", shop: DrillShop
    ) -> "Mapping[Look, Drill | LeadDecides]":
        """Return what looks at a place ask for: as the gate has it by the log, else as the plan has it."""
        if self.gate is not None and place.id in self.gate.drills:
            return self.gate.drills[place.id]
        spots = self.spots_at[place.id]
        panel = next(each for each in self.advice.panels if each.id == place.panel)
        film = once_worked(chain, spots, panel, shop.constants)
        return drills_of(place, chain, tuple(spot.zone for spot in spots), film, shop)

    def _gather_places(self) -> None:
        advice = self.advice
        self.held: dict[str, list[str]] = {}
        for hold in advice.holds:
            self.held.setdefault(self.words.place_id(hold.spot), []).append(hold.spot)
        self.hand_only = {place.id for place in advice.places if is_hand_only(place)}
        self.places_of: dict[str, list[Place]] = {panel.id: [] for panel in advice.panels}
        for place in sorted(advice.places, key=lambda each: (_LAST_PRINTED.get(each.kind, 0), each.number)):
            self.places_of.setdefault(place.panel, []).append(place)
        self.spots_at: dict[str, list[Spot]] = {
            place.id: [self.spots[spot] for spot in place.spots if spot in self.spots]
            for place in advice.places
        }

    def _gather_work(self) -> None:
        self.work: Work = self.gate.work if self.gate else self.advice.work
        self.stage: StageName = self.work.stage
        self.steps: list[WorkStep] = [step for step in self.work.steps if step.stage == self.stage]
        self.tasks: dict[str, Task] = {task.id: task for task in self.work.tasks if task.stage == self.stage}
        self.at: dict[str, list[Task]] = {}
        self.tasks_of: dict[str, list[Task]] = {panel.id: [] for panel in self.advice.panels}
        for task in self.tasks.values():
            self.at.setdefault(task.place, []).append(task)
            self.tasks_of.setdefault(task.place.split("/")[0], []).append(task)
        self.steps_of = steps_by_panel(self.steps, self.tasks)


def steps_by_panel(
    steps: "Sequence[WorkStep]", tasks: "Mapping[str, Task]"
) -> "dict[str, list[tuple[WorkStep, list[Task]]]]":
    """Return the steps that have work on each panel, in their order, with their tasks there.

    Args:
        steps: the steps.
        tasks: their tasks by id.
    """
    found: dict[str, list[tuple[WorkStep, list[Task]]]] = {}
    for step in steps:
        here: dict[str, list[Task]] = {}
        for name in step.tasks:
            here.setdefault(tasks[name].place.split("/")[0], []).append(tasks[name])
        for panel, own in here.items():
            found.setdefault(panel, []).append((step, own))
    return found
