"""Verdicts on the panels of a job, kept while all they depend on stays: nothing else is judged anew."""

import datetime as dt
from collections.abc import Mapping
from typing import TYPE_CHECKING

from prepadvisor.checkoff.bench import PanelScene
from prepadvisor.checkoff.panel_verdict import JudgedPanel, panel_verdict
from prepadvisor.records import Advice, NamedTuple, StageName

if TYPE_CHECKING:
    from prepadvisor.records import Place, Spot, Task


class ByPanel(NamedTuple):
    """What an advice says, by panel.

    Attributes:
        tasks: tasks of the stage.
        places: places.
        spots: spots.
        names: all places, those that only work has too.
        unfinished: places of spots without a finish.
    """

    tasks: Mapping[str, tuple["Task", ...]]
    places: Mapping[str, tuple["Place", ...]]
    spots: Mapping[str, tuple["Spot", ...]]
    names: frozenset[str]
    unfinished: tuple[str, ...]


def by_panel(advice: Advice, stage: StageName) -> ByPanel:
    """Sort an advice by panel."""
    tasks: dict[str, list[Task]] = {}
    places: dict[str, list[Place]] = {}
    spots: dict[str, list[Spot]] = {}
    names = {place.id for place in advice.places}
    for task in advice.work.tasks:
        if task.stage == stage:
            panel, slash, _ = task.place.partition("/")
            tasks.setdefault(panel, []).append(task)
            if slash:
                names.add(task.place)
    for place in advice.places:
        places.setdefault(place.panel, []).append(place)
    for spot in advice.spots:
        spots.setdefault(spot.panel, []).append(spot)
    return ByPanel(
        tasks={panel: tuple(some) for panel, some in tasks.items()},
        places={panel: tuple(some) for panel, some in places.items()},
        spots={panel: tuple(some) for panel, some in spots.items()},
        names=frozenset(names),
        unfinished=tuple(f"{spot.panel}/{spot.feature}" for spot in advice.spots if spot.finish is None),
    )


class KeptVerdicts:
    """The verdict on each panel of a job, kept while the panel's scene stays; it never changes a verdict."""

    def __init__(self) -> None:
        """Keep nothing yet."""
        self._known: dict[str, tuple[PanelScene, JudgedPanel]] = {}
        self._parts: tuple[Advice, StageName, ByPanel] | None = None

    def by_panel(self, advice: Advice, stage: StageName) -> ByPanel:
        """Return what an advice says of each panel at a stage."""
        if self._parts is None or self._parts[0] is not advice or self._parts[1] != stage:
            self._parts = advice, stage, by_panel(advice, stage)
        return self._parts[2]

    def verdict(self, scene: PanelScene, now: dt.datetime) -> JudgedPanel:
        """Return the verdict on a panel at a time, in UTC."""
        known = self._known.get(scene.panel.id)
        if known is None or not known[1].stands(now) or known[0] != scene:
            known = self._known[scene.panel.id] = scene, panel_verdict(scene, now)
        return known[1]

    def forget_all_but(self, panels: Mapping[str, object]) -> None:
        """Let go of panels that the job has no more."""
        for panel in self._known.keys() - panels.keys():
            del self._known[panel]
