"""Every place laid out for judging, with its tasks, spots and surface, and the limits of a logged step."""

from collections.abc import Iterable, Mapping

from prepadvisor.cases import FlakeNumbers, patch_rect, path_mm, with_lines
from prepadvisor.checkoff.basis import JobSigns, ShopFloor, panel_bases
from prepadvisor.checkoff.spoken import SpokenPlace
from prepadvisor.logbook import Entry, Primed
from prepadvisor.planning import LineModel
from prepadvisor.records import (
    DA_TOOLS,
    HAND_TOOLS,
    STEP_OF,
    DoneAdvice,
    Flake,
    NamedTuple,
    Panel,
    PanelAdvice,
    Spot,
    StageName,
    Task,
    Tool,
    Zone,
    too_coarse,
    too_fine,
)
from prepadvisor.records import Place as PlaceAdvice
from prepadvisor.records.gate import (
    CutTooCoarse,
    CutTooFine,
    GateHold,
    HoldFact,
    NotRecorded,
    Said,
    ShowsLines,
    WrongTool,
)
from prepadvisor.surface import NearShape, nearer_than, path_shape, rect_shape

# Holds the tool and grade of a logged scuff or sanding against the task that it is for.
#
# A task has its range; ahead of a DA only its coarse end counts. The same grade with a tool that cuts
# deeper than the one asked goes through the line model again. A tool or grade not stated is not recorded.


class JudgedBy(NamedTuple):
    """What a place is judged by: its spots, the flake in numbers, the shop, and how far a step may jump.

    `grain` is None where no flake comes over a scratch; `ratio` is the least next grain over the last.
    """

    spots: tuple[Spot, ...]
    grain: FlakeNumbers | None
    floor: ShopFloor
    ratio: float


def wrong(said: Said, task: Task, ground: JudgedBy, *, last_touch: bool) -> HoldFact | None:
    """Return what is wrong with the tool or grade of an entry for a task, None where it is within its limits.

    Args:
        said: the entry.
        task: the task that it is for.
        ground: what the place is judged by.
        last_touch: whether no machine goes over it after.
    """
    return (
        _not_recorded(said)
        or _wrong_tool(said, task)
        or _outside(said, task)
        or (would_show(said, task, ground) if last_touch else None)
    )


def _not_recorded(said: Said) -> HoldFact | None:
    check = said.check
    if check.tool is not None and check.grade is not None:
        return None
    if check.tool is None and check.grade is None:
        return NotRecorded(said, ("tool", "grade"))
    return NotRecorded(said, ("tool",) if check.tool is None else ("grade",))


def _wrong_tool(said: Said, task: Task) -> HoldFact | None:
    tool = said.check.tool
    if task.tool is None or tool == task.tool or tool is None:
        return None
    if task.do == "scuff" or task.tool in HAND_TOOLS:
        by_block = task.do == "sand" and task.tool == "block"
        fits = tool == "block" if by_block else tool in HAND_TOOLS
    else:
        fits = tool in DA_TOOLS and tool != "da-hard"
    return None if fits else WrongTool(said, task.tool)


def _outside(said: Said, task: Task) -> HoldFact | None:
    grade = said.check.grade
    if grade is None or task.range is None:
        return None
    if too_coarse(grade, task):
        return CutTooCoarse(said, task.range[0])
    return CutTooFine(said, task.range[1]) if too_fine(grade, task) else None


def would_show(said: Said, task: Task, ground: JudgedBy) -> ShowsLines | None:
    """Say where the tool really used would leave lines that show, None where it would not.

    Judged as the grit range was: with the coats of a required wet bed, else with none, and only where the
    advice judged a line at all. What was advised as borderline is not asked to be better than that.
    """
    check, asked, floor = said.check, task.tool, ground.floor
    if ground.grain is None or check.tool is None or check.grade is None or asked is None:
        return None
    if check.tool == asked or not cuts_deeper(check.tool, asked, floor):
        return None
    model = LineModel(floor.constants)
    for spot in ground.spots:
        if spot.line is None or spot.risk_limit is None:
            continue
        coats = spot.wet_bed.coats_counted
        solids = floor.shop.wet_bed.set_solids
        risk = model.estimate(
            ground.grain, check.tool, check.grade, zone=spot.zone, coats=coats, set_solids=solids
        ).risk
        limit = max(spot.risk_limit, spot.line.risk)
        if risk > limit:
            return ShowsLines(said, asked, risk, limit, spot.zone)
    return None


def cuts_deeper(tool: Tool, asked: Tool, floor: ShopFloor) -> bool:
    """Say whether a tool scratches deeper than the one that the advice was reckoned with."""
    depth = floor.constants.groove.depth_per_grain
    return depth[tool].value > depth[asked].value


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


class PanelScene(NamedTuple):
    """All that the verdict on a panel depends on, but the time.

    Attributes:
        panel: the panel as stated.
        advice: its record in the advice, None where it has none.
        places: its places in the advice.
        spots: their spots.
        stage: the stage that is worked.
        tasks: its tasks of that stage.
        is_held: whether it is not worked at all.
        planned: what of the plan holds at its places, by place.
        signs: what the bases of all places of the job share.
        flake: the flake as judged.
        floor: the shop.
        grain: the flake in numbers, None where none comes over a scratch.
        entries: the entries of the log that stand and name the panel.
        primed: where it was primed.
    """

    panel: Panel
    advice: PanelAdvice | None
    places: tuple[PlaceAdvice, ...]
    spots: tuple[Spot, ...]
    stage: StageName
    tasks: tuple[Task, ...]
    is_held: bool
    planned: tuple[tuple[str, tuple[GateHold, ...]], ...]
    signs: JobSigns
    flake: Flake
    floor: ShopFloor
    grain: FlakeNumbers | None
    entries: tuple[Entry, ...]
    primed: tuple[Primed, ...]


def panel_benches(scene: PanelScene) -> dict[str, Bench]:
    """Lay every place of a panel out, by place id: those of the advice, and those that only its work has."""
    panel, floor = scene.panel, scene.floor
    spots = {spot.id: spot for spot in scene.spots}
    based = panel_bases(panel, scene.places, spots, scene.signs, floor)
    here: dict[str, list[Task]] = {}
    for task in scene.tasks:
        if "/" in task.place:
            here.setdefault(task.place, []).append(task)
    near = _patches_by_place(with_lines(panel, floor.outlines), floor)
    found: dict[str, Bench] = {}
    by_id = {place.id: place for place in scene.places}
    for name in dict.fromkeys((*by_id, *here)):
        place = by_id.get(name)
        feature = name.partition("/")[2]
        own = tuple(spots[spot] for spot in place.spots if spot in spots) if place else ()
        chain = tuple(task for task in here.get(name, ()) if task.do in {"scuff", "powder", "sand"})
        look = next((task for task in reversed(here.get(name, ())) if task.do == "look"), None)
        steps = frozenset(STEP_OF[task.do] for task in chain)
        found[name] = Bench(
            place=SpokenPlace(name, panel.id, feature, steps),
            kind=place.kind if place else "ring",
            chain=chain,
            look=look,
            ground=JudgedBy(own, scene.grain, floor, _ratio(own)),
            surface=_surface(panel, feature),
            zones=tuple(dict.fromkeys(spot.zone for spot in own)),
            basis=based.get(name, ""),
            advice=place,
            panel=scene.advice,
            patches=near.get(feature, ()),
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


def _surface(panel: Panel, feature: str) -> str:
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
