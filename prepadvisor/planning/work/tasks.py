"""The tasks of one panel in one stage: one thing done at one place, each bound to those before it."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.planning.ladder import cleaning
from prepadvisor.records import CREST_KINDS, Do, NamedTuple, Panel, Shop, StageName, Task, Tool

if TYPE_CHECKING:
    from prepadvisor.planning.planner import SpotPlan
    from prepadvisor.planning.work.ground import Ground, Rung
    from prepadvisor.records import Grade

_CLEAN_RULE: Final = "clean-first"


class TaskGroup(NamedTuple):
    """Tasks that are done in one go at one place, such as powder and the sanding that takes it out.

    `turn` is when it is usually done; acts with equal turn, tool and grade are read as one step.
    """

    turn: int
    tool: Tool | None
    grade: "Grade | None"
    tasks: tuple[Task, ...]


CLEAN, AREAS, RUNGS, BY_HAND, SCUFF, LAST, LOOK, WIPE, MASK = range(9)
"""Turns. Patches first, their dust gets everywhere; hand work ahead of the last DA, which blends it in."""


class _Pen:
    """Writes tasks of one stage and numbers equal things at one place."""

    def __init__(self, stage: StageName, counts: Counter[tuple[str, str]]) -> None:
        self.stage = stage
        self._counts = counts

    def task(self, place: str, do: Do, after: Iterable[str], **more: object) -> Task:
        self._counts[place, do] += 1
        number = self._counts[place, do]
        bound = tuple(dict.fromkeys(after))
        return Task(id=f"{place}.{do}.{number}", stage=self.stage, place=place, do=do, after=bound, **more)  # type: ignore[arg-type]


def panel_acts(
    panel: Panel,
    stage: StageName,
    grounds: Sequence["Ground"],
    touching: Mapping[str, frozenset[str]],
    shop: Shop,
    counts: Counter[tuple[str, str]],
    behind: Mapping[str, str],
    cleaned: str,
) -> list[TaskGroup]:
    """Write the tasks of a panel in a stage.

    Args:
        panel: the panel.
        stage: the stage.
        grounds: the work at its places, none held.
        touching: for each feature the hand-only features whose work reaches it.
        shop: the shop's rates.
        counts: how many equal tasks there are already, by place and what is done; counted on.
        behind: for a place, the task of an earlier stage that its first one must follow.
        cleaned: the cleaning in an earlier stage, which serves for this one too; empty where there is none.
    """
    pen = _Pen(stage, counts)
    area = panel.length_mm * panel.height_mm / 1e6
    acts: list[TaskGroup] = []
    if not cleaned:
        clean = pen.task(panel.id, "clean", (), minutes=cleaning(area, shop), rules=(_CLEAN_RULE,))
        acts.append(TaskGroup(CLEAN, None, None, (clean,)))
        cleaned = clean.id
    hands: dict[str, tuple[str, ...]] = {}
    hand_only: dict[str, tuple[str, ...]] = {}
    heads: dict[str, str] = {}
    for ground in grounds:
        made, place = ground.draft, ground.place
        heads[place.feature] = behind.get(place.feature, cleaned)
        if made.by_hand:
            written, heads[place.feature] = _hand_acts(pen, ground, heads[place.feature])
            acts += written
            hand_only[place.feature] = (heads[place.feature],)
            hands[place.feature] = (heads[place.feature],)
    faces: tuple[str, ...] = ()
    ends: dict[str, tuple[str, ...]] = {}
    for ground in grounds:
        if ground.draft.by_hand:
            ends[ground.place.feature] = (heads[ground.place.feature],)
            continue
        feature = ground.place.feature
        near = hand_only.values() if ground.draft.subject.kind == "face" else [
            its for other, its in hand_only.items() if other in touching.get(feature, ())
        ]  # fmt: skip
        written, ends[feature], scuffed = _machine_acts(
            pen, ground, heads[feature], [one for many in near for one in many]
        )
        acts += written
        if scuffed:
            hands[feature] = (scuffed,)
        if ground.draft.subject.kind == "face":
            faces = ends[feature]
    rings = {ground.place.feature: ground.place.ring_of for ground in grounds if ground.place.ring_of}
    looks = []
    for ground in grounds:
        after = _seen_after(
            ground, ends, hands, hand_only=hand_only, touching=touching, faces=faces, rings=rings
        ) or (cleaned,)
        looks.append(pen.task(ground.place.id, "look", after, minutes=shop.look_minutes))
    acts += [TaskGroup(LOOK, None, None, (look,)) for look in looks]
    seen = [look.id for look in looks] or [cleaned]
    wipe = pen.task(panel.id, "wipe", seen, minutes=shop.wipe_minutes, rules=(_CLEAN_RULE,))
    mask = pen.task(panel.id, "mask", [wipe.id], owed=False)
    return [*acts, TaskGroup(WIPE, None, None, (wipe,)), TaskGroup(MASK, None, None, (mask,))]


def _hand_acts(pen: _Pen, ground: "Ground", head: str) -> tuple[list[TaskGroup], str]:
    acts = []
    rules = _rules(ground.draft.plans, {"hand_last_coarsest", "finish_finest"})
    for rung in ground.hand:
        task = _rung_task(pen, ground, "scuff", rung=rung, after=[head], rules=rules)
        acts.append(TaskGroup(BY_HAND, rung.tool, rung.grade, (task,)))
        head = task.id
    return acts, head


def _machine_acts(
    pen: _Pen, ground: "Ground", head: str, near: Sequence[str]
) -> tuple[list[TaskGroup], tuple[str, ...], str]:
    """Return the acts of a place that a machine reaches, the tasks it ends with, and its scuff."""
    plans, acts = ground.draft.plans, []
    finish = _rules(plans, {"finish_coarsest", "finish_target", "finish_finest"})
    early = AREAS if ground.draft.subject.kind == "patch" else RUNGS
    for rung in ground.early:
        tasks = _sanded(pen, ground, [rung], [head], _rules(plans, {"step_ratio_min"}))
        acts.append(TaskGroup(early, rung.tool, rung.grade, tasks))
        head = tasks[-1].id
    scuffed = ""
    for rung in ground.hand:
        task = _rung_task(
            pen, ground, "scuff", rung=rung, after=[head], rules=_rules(plans, {"hand_coarsest"})
        )
        acts.append(TaskGroup(SCUFF, rung.tool, rung.grade, (task,)))
        head = scuffed = task.id
    turn = AREAS if ground.draft.subject.kind == "patch" else LAST
    ends: list[str] = [] if ground.last else [head]
    powdered = head
    for at, rung in enumerate(ground.last):
        after = [powdered, *near]
        tasks = _sanded(pen, ground, [rung if at == 0 else rung._replace(powder=False)], after, finish)
        if tasks[0].do == "powder":
            powdered = tasks[0].id
        acts.append(TaskGroup(turn, rung.tool, rung.grade, tasks))
        ends.append(tasks[-1].id)
    return acts, tuple(ends), scuffed


def _sanded(
    pen: _Pen, ground: "Ground", rungs: Sequence["Rung"], after: Sequence[str], rules: tuple[str, ...]
) -> tuple[Task, ...]:
    tasks: list[Task] = []
    for rung in rungs:
        bound = list(after)
        if rung.powder:
            asked = _rules(ground.draft.plans, {"guide_coat"})
            powder = pen.task(ground.place.id, "powder", after, rules=asked)
            tasks.append(powder)
            bound = [powder.id]
        tasks.append(_rung_task(pen, ground, "sand", rung=rung, after=bound, rules=rules))
    return tuple(tasks)


def _rung_task(
    pen: _Pen, ground: "Ground", do: Do, rung: "Rung", after: Sequence[str], rules: tuple[str, ...]
) -> Task:
    return pen.task(
        ground.place.id,
        do,
        after,
        tool=rung.tool,
        grade=rung.grade,
        range=rung.range,
        minutes=rung.minutes,
        film_off_um=rung.film_um,
        rules=rules,
    )


def _seen_after(
    ground: "Ground",
    ends: Mapping[str, tuple[str, ...]],
    hands: Mapping[str, tuple[str, ...]],
    hand_only: Mapping[str, tuple[str, ...]],
    touching: Mapping[str, frozenset[str]],
    faces: tuple[str, ...],
    rings: Mapping[str, str],
) -> tuple[str, ...]:
    """Return what a look must follow: the last work there, hand work that reaches it, the face at a crest."""
    subject, feature = ground.draft.subject, ground.place.feature
    own = ends.get(feature, ())
    if subject.kind == "face":
        return (*own, *(task for many in hands.values() for task in many))
    reach = touching.get(feature, ())
    near = [task for other, its in hand_only.items() if other in reach for task in its]
    crossed = [
        task
        for other, its in ends.items()
        for task in its
        if other in subject.crosses or (rings.get(other) in subject.crosses)
    ]
    crest = faces if subject.kind in CREST_KINDS else ()
    return (*own, *near, *crossed, *crest)


def _rules(plans: Sequence["SpotPlan"], outputs: set[str]) -> tuple[str, ...]:
    """Return the ids of the rules that decide some outputs at a place."""
    return tuple(
        dict.fromkeys(
            reason.rule for plan in plans for reason in plan.decision.because if reason.output in outputs
        )
    )
