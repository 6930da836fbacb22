"""The order of work on one panel, step by step of the plan, and the ladders with their boxes.

Which places a step is about is said by what they are, such as "lines"; only where it is about some of them by
their numbers, because the rows name them all.
"""

from collections.abc import Collection, Sequence

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Ladder, OrderStep, Tick
from prepadvisor.records.advice import PanelAdvice, Place
from prepadvisor.records.job import Done, Patch
from prepadvisor.records.work import Task
from prepadvisor.wording import trade
from prepadvisor.wording.steps import step_says, tool_short


def order_of(papers: Papers, panel: PanelAdvice, places: Sequence[Place]) -> tuple[OrderStep, ...]:
    """Return the steps of the plan that have work on a panel, with their numbers over all panels."""
    found = []
    for step in papers.steps:
        tasks = [
            papers.tasks[name] for name in step.tasks if papers.tasks[name].place.split("/")[0] == panel.id
        ]
        if not tasks:
            continue
        own = [task for task in tasks if "/" not in task.place]
        done = all(task.state == "done" for task in tasks if task.owed) and any(task.owed for task in tasks)
        says = step_says(tasks, places, papers.words)
        found.append(OrderStep(step.n, says, papers.box(own), done, tuple(task.id for task in own)))
    return tuple(found)


def ladders(papers: Papers, panel: PanelAdvice, places: Sequence[Place]) -> tuple[Ladder, ...]:
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


def _ladder(papers: Papers, panel: PanelAdvice, group: list[Place]) -> Ladder:
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
        boxes.append(Tick(says, papers.box(alike), tuple(other.id for other in alike)))
    feature = papers.feature(first)
    title = papers.words.name(first)
    says_more: tuple[str, ...] = ()
    now = None
    if isinstance(feature, Patch):
        title = f"{title}, {papers.units.size(*feature.size_mm)}"
        now = feature.now
        says_more = () if feature.next == "base" else (f"next coat: {trade.NEXT[feature.next]}",)
    elif first.kind == "face" or panel.id in papers.job_panels:
        now = papers.job_panels[panel.id].now
        title = "face and lines" if len(group) > 1 else title
    number = papers.words.numbers(group)
    return Ladder(number, title, _chain(now, chain), tuple(boxes), says_more)


def _turn(papers: Papers, place: Place, task: Task) -> int:
    same = [one for one in _early(papers.at[place.id]) if (one.do, one.grade) == (task.do, task.grade)]
    return [one.id for one in same].index(task.id)


def _chain(now: Done | None, cuts: Sequence[Task]) -> tuple[str, ...]:
    steps = list(dict.fromkeys(task.grade for task in cuts if task.grade))
    start = [now.grade] if now and now.grade and steps and now.grade != steps[0] else []
    return (*start, *steps)
