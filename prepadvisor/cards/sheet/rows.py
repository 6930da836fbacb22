"""The order of work on one panel, and its rows: one for each place, or each zone of a split one."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final, Literal

from prepadvisor.cards.sheet.record import BoxState, Ladder, OrderStep, PlaceRow, Tick
from prepadvisor.records import (
    AREA_KINDS,
    DA_TOOLS,
    Done,
    NamedTuple,
    PanelAdvice,
    Patch,
    Place,
    Task,
    TooCoarse,
)
from prepadvisor.wording import (
    NEXT,
    ZONE_SHORT,
    done_says,
    laxer_says,
    minutes,
    step_says,
    steps_words,
    tool_short,
)

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers


class WorkOnPanel(NamedTuple):
    """The work on one panel: its steps in order, its ladders, and a row for each place or zone of it."""

    order: tuple[OrderStep, ...]
    ladders: tuple[Ladder, ...]
    rows: tuple[PlaceRow, ...]


def work_on(
    papers: "Papers", panel: PanelAdvice, places: Sequence[Place], notes: Mapping[str, tuple[str, ...]]
) -> WorkOnPanel:
    """Return the work on a panel.

    Args:
        papers: what the card is made from.
        panel: the panel.
        places: those of its places that stand on the card.
        notes: what is said at single places, by place id.
    """
    steps = _ladders(papers, panel, places)
    boxed = {task for ladder in steps for box in ladder.boxes for task in box.tasks}
    rows = tuple(row for place in places for row in rows_of(papers, place, boxed, notes.get(place.id, ())))
    return WorkOnPanel(_order_of(papers, panel, places) if rows else (), steps, rows)


# The order of work on one panel, step by step of the plan, and the ladders with their boxes.
#
# Which places a step is about is said by what they are, such as "lines"; only where it is about some of
# them by their numbers, because the rows name them all.


def _order_of(papers: "Papers", panel: PanelAdvice, places: Sequence[Place]) -> tuple[OrderStep, ...]:
    """Return the steps of the plan that have work on a panel, with their numbers over all panels."""
    found = []
    for step, tasks in papers.steps_of.get(panel.id, ()):
        own = [task for task in tasks if "/" not in task.place]
        done = all(task.state == "done" for task in tasks if task.owed) and any(task.owed for task in tasks)
        says = step_says(tasks, places, papers.words)
        found.append(OrderStep(step.n, says, box_of(own), done, tuple(task.id for task in own)))
    return tuple(found)


def _ladders(papers: "Papers", panel: PanelAdvice, places: Sequence[Place]) -> tuple[Ladder, ...]:
    """Return the grit steps of places that take more than one, patches first, lines with their face.

    All but the last step have their boxes here; the last one's stand at the rows.
    """
    groups: dict[tuple[object, ...], list[Place]] = {}
    for place in sorted(places, key=lambda one: one.kind != "patch"):
        early = _early(papers.at.get(place.id, ()))
        if early:
            key = tuple((task.do, task.grade, task.tool) for task in early)
            groups.setdefault((place.kind == "patch" and place.id, *key), []).append(place)
    return tuple(_ladder(papers, panel, group) for group in groups.values())


def _early(tasks: Collection[Task]) -> list[Task]:
    """Return the passes ahead of the last one, with their powder."""
    cuts = [task for task in tasks if task.do == "sand"]
    last_after = {name for task in cuts for name in task.after}
    ahead = {task.id for task in cuts if _leads_on(task, tasks)}
    if not ahead:
        return []
    return [
        task
        for task in tasks
        if task.id in ahead
        or (task.do == "powder" and task.id in last_after and _before(task, tasks) in ahead)
    ]


def _leads_on(task: Task, tasks: Collection[Task]) -> bool:
    """Say whether another pass, powder or scuff at the place must follow a pass."""
    return any(task.id in other.after for other in tasks if other.do in {"sand", "powder", "scuff"})


def _before(powder: Task, tasks: Collection[Task]) -> str:
    """Return the pass that takes this powder out."""
    return next((task.id for task in tasks if task.do == "sand" and powder.id in task.after), "")


def _ladder(papers: "Papers", panel: PanelAdvice, group: list[Place]) -> Ladder:
    first = group[0]
    chain = [task for task in papers.at[first.id] if task.do == "sand"]
    boxes = []
    for task in _early(papers.at[first.id]):
        alike = [
            other
            for place in group
            for other in _early(papers.at[place.id])
            if (other.do, other.grade) == (task.do, task.grade)
            and _turn(papers, place, other) == _turn(papers, first, task)
        ]
        says = (
            "powder"
            if task.do == "powder"
            else f"{task.grade} {tool_short(task.tool) if task.tool else ''}".strip()
        )
        boxes.append(Tick(says, box_of(alike), tuple(other.id for other in alike)))
    feature = papers.features.get(first.id)
    title = papers.words.name(first)
    says_more: tuple[str, ...] = ()
    now = None
    if isinstance(feature, Patch):
        title = f"{title}, {papers.units.size(*feature.size_mm)}"
        now = feature.now
        says_more = () if feature.next == "base" else (f"next coat: {NEXT[feature.next]}",)
    elif first.kind == "face" or panel.id in papers.job_panels:
        now = papers.job_panels[panel.id].now
        title = "face and lines" if len(group) > 1 else title
    number = papers.words.numbers(group)
    return Ladder(number, title, _chain(now, chain), tuple(boxes), says_more)


def _turn(papers: "Papers", place: Place, task: Task) -> int:
    same = [one for one in _early(papers.at[place.id]) if (one.do, one.grade) == (task.do, task.grade)]
    return [one.id for one in same].index(task.id)


def _chain(now: Done | None, cuts: Sequence[Task]) -> tuple[str, ...]:
    steps = list(dict.fromkeys(task.grade for task in cuts if task.grade))
    start = [now.grade] if now and now.grade and steps and now.grade != steps[0] else []
    return (*start, *steps)


def box_of(tasks: Iterable[Task]) -> BoxState:
    """Return the box of some tasks: none without any, ticked where all are done."""
    states = {task.state for task in tasks}
    if not states:
        return "none"
    return "done" if states == {"done"} else "held" if "held" in states else "open"


STOP: Final = "STOP"
"""Stands where a grade would, on a place with a hold."""
NOTHING: Final = "-"
"""Stands where there is no such work."""
CREST: Final = "!"
"""Marks a crest or outer edge, which rubs through first."""

_Need = Literal["hand-only", "hand-then-machine", "machine"]


def rows_of(papers: "Papers", place: Place, boxed: set[str], notes: tuple[str, ...] = ()) -> list[PlaceRow]:
    """Return the rows of one place; a split place has one for each grade, the others one.

    Args:
        papers: job, advice and house.
        place: the place.
        boxed: tasks that have their box elsewhere, in a ladder.
        notes: what else is said at the place.
    """
    tasks = [task for task in papers.at.get(place.id, ()) if task.id not in boxed]
    said = (*_done_note(place), *_laxer_notes(papers, place), *notes)
    if not place.split or place.id in papers.held:
        return [_row(papers, place, papers.words.zones(place), tasks, said)]
    rows: list[PlaceRow] = []
    for zone, grade in place.split:
        mine = [
            task
            for task in tasks
            if (task.do == "sand" and task.grade == grade) or (task.do != "sand" and not rows)
        ]
        first = ("two grades on one place: change at the zone border, it is marked on the panel", *said)
        rows.append(_row(papers, place, ZONE_SHORT[zone], mine, () if rows else first))
    return rows


def _row(papers: "Papers", place: Place, zones: str, tasks: list[Task], notes: tuple[str, ...]) -> PlaceRow:
    stop = place.id in papers.held
    hand_only = place.id in papers.hand_only
    line = place.kind not in AREA_KINDS
    scuffs = [task for task in tasks if task.do == "scuff"]
    cuts = [task for task in tasks if task.do == "sand"]
    by_hand = STOP if stop and line else _grade(scuffs)
    last = _grade(cuts)
    machine = STOP if stop and not hand_only else last
    if not line and place.tool is not None and place.tool not in DA_TOOLS and not stop:
        by_hand, machine = last, NOTHING
    need: _Need = "hand-only" if hand_only else "hand-then-machine" if line else "machine"
    return PlaceRow(
        number=papers.words.number(place),
        place=place.id,
        feature=place.feature,
        kind=place.kind,
        name=papers.words.name(place),
        zones=zones,
        need=need,
        hand=by_hand,
        hand_or_finer=bool(scuffs) and not hand_only and not stop,
        machine=machine,
        mark=CREST if place.interface_pad and line and not hand_only and not stop else "",
        scuffed=box_of(scuffs),
        powder=box_of([task for task in tasks if task.do == "powder"]),
        sanded=box_of(cuts),
        look=box_of([task for task in tasks if task.do == "look"]),
        notes=notes,
        stop=stop,
        tasks=tuple(task.id for task in tasks if task.owed),
    )


def _grade(tasks: list[Task]) -> str:
    return tasks[-1].grade or NOTHING if tasks else NOTHING


def _laxer_notes(papers: "Papers", place: Place) -> tuple[str, ...]:
    laxer = (one for spot in papers.spots_at[place.id] for one in spot.laxer)
    return tuple(dict.fromkeys(laxer_says(one, papers.units) for one in laxer))


def _done_note(place: Place) -> tuple[str, ...]:
    done = place.done
    if done.verdict == "not-recorded":
        return (done_says(done),) if done.fact else ()
    if done.verdict == "within":
        return (f"scuffed {done.grade} already, within its limit: look, then tick",)
    return (done_words(place),)


def done_words(place: Place) -> str:
    """Return what a recorded scuff needs: "scuffed P600: RE-CUT P800, powder, P1000 (6 min)"."""
    done = place.done
    was = f"scuffed {done.grade or 'with a pad of unknown grade'}"
    if done.verdict == "too-fine":
        return f"{was}: TOO FINE to hold, scuff again. {done_says(done)}".strip()
    if not done.recut:
        return f"{was}: TOO COARSE. {done_says(done)}".strip()
    took = minutes(sum(step.minutes for step in done.recut))
    bed = "; no wet bed saves it" if isinstance(done.fact, TooCoarse) and done.fact.bed == "never" else ""
    return f"{was}: TOO COARSE, RE-CUT {steps_words(done.recut)} ({took}){bed}"
