"""Every place laid out for judging: its tasks, spots, surface, basis, and what lies round it."""

from collections.abc import Iterable, Mapping, Sequence

from prepadvisor.cases.colour import flake_numbers
from prepadvisor.cases.usual_lines import with_lines
from prepadvisor.cases.zones import patch_rect, path_mm
from prepadvisor.checkoff.basis import bases
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.limits import JudgedBy
from prepadvisor.checkoff.spoken import STEP_OF, SpokenPlace
from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Advice, DoneAdvice, PanelAdvice, Spot
from prepadvisor.records.advice import Place as PlaceAdvice
from prepadvisor.records.job import Job, Panel
from prepadvisor.records.words import Zone
from prepadvisor.records.work import Task
from prepadvisor.surface.nearness import NearShape, nearer_than, path_shape, rect_shape

_RATIO: float = 0.6
"""Least next grain over the last where the standards give none."""


class Bench(NamedTuple):
    """A place at work.

    Attributes:
        place: as the log names it.
        kind: face, patch, edge …; ring for what primer laps onto round a patch.
        chain: its tasks of this stage but the look, in order.
        look: its look.
        ground: what its grades are judged by.
        surface: what is sanded there.
        zones: its zones.
        basis: what it rests on now.
        advice: its record in the advice, None for a ring.
        panel: its panel's record in the advice.
        patches: patches that touch it.
    """

    place: SpokenPlace
    kind: str
    chain: tuple[Task, ...]
    look: Task | None
    ground: JudgedBy
    surface: str
    zones: tuple[Zone, ...]
    basis: str
    advice: PlaceAdvice | None
    panel: PanelAdvice | None
    patches: tuple[str, ...]

    @property
    def recut(self) -> DoneAdvice | None:
        """The advice's word on a scuff, as recorded."""
        return self.advice.done if self.advice is not None else None


def benches(job: Job, advice: Advice, tasks: Sequence[Task], floor: ShopFloor) -> dict[str, Bench]:
    """Lay every place out, by place id: those of the advice, and those that only the plan of work has.

    Args:
        job: the job.
        advice: the advice for exactly this job.
        tasks: the tasks of the stage that is worked.
        floor: the shop.
    """
    spots = {spot.id: spot for spot in advice.spots}
    panels = {panel.id: panel for panel in job.panel}
    advised = {panel.id: panel for panel in advice.panels}
    grain = flake_numbers(floor.constants, floor.judged(job.colour))
    based = bases(job, advice, floor)
    here: dict[str, list[Task]] = {}
    for task in tasks:
        if "/" in task.place:
            here.setdefault(task.place, []).append(task)
    near = {panel.id: _patches_by_place(with_lines(panel, floor.outlines), floor) for panel in job.panel}
    found: dict[str, Bench] = {}
    by_id = {place.id: place for place in advice.places}
    for name in dict.fromkeys((*by_id, *here)):
        place = by_id.get(name)
        panel_id, _, feature = name.partition("/")
        own = tuple(spots[spot] for spot in place.spots if spot in spots) if place else ()
        chain = tuple(task for task in here.get(name, ()) if task.do in {"scuff", "powder", "sand"})
        look = next((task for task in reversed(here.get(name, ())) if task.do == "look"), None)
        steps = frozenset(STEP_OF[task.do] for task in chain)
        found[name] = Bench(
            place=SpokenPlace(name, panel_id, feature, steps),
            kind=place.kind if place else "ring",
            chain=chain,
            look=look,
            ground=JudgedBy(own, grain, floor, _ratio(own)),
            surface=_surface(panels.get(panel_id), feature),
            zones=tuple(dict.fromkeys(spot.zone for spot in own)),
            basis=based.get(name, ""),
            advice=place,
            panel=advised.get(panel_id),
            patches=near.get(panel_id, {}).get(feature, ()),
        )
    return found


def _ratio(spots: Iterable[Spot]) -> float:
    stated = [
        float(each.value)
        for spot in spots
        for each in spot.because
        if each.output == "step_ratio_min" and isinstance(each.value, int | float)
    ]
    return max(stated, default=_RATIO)


def _surface(panel: Panel | None, feature: str) -> str:
    if panel is None:
        return ""
    patch = next((each for each in panel.patch if each.id == feature), None)
    return patch.surface if patch is not None else panel.surface


def _patches_by_place(panel: Panel, floor: ShopFloor) -> Mapping[str, tuple[str, ...]]:
    """Return the patches whose shape a line or another patch of the panel touches; the face has them all."""
    if not panel.patch:
        return {}
    patches = [(patch.id, rect_shape(patch_rect(panel, patch))) for patch in panel.patch]
    shapes: dict[str, NearShape] = {line.id: path_shape(path_mm(panel, line.path)) for line in panel.feature}
    shapes.update(patches)
    strip = floor.shop.edge_strip_mm
    near = {
        name: tuple(patch for patch, area in patches if patch != name and nearer_than(shape, area, strip))
        for name, shape in shapes.items()
    }
    return {**near, "face": tuple(patch for patch, _ in patches)}
