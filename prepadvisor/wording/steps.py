"""One step of the plan of work in words.

Which places a step is about is said by what they are, such as "lines"; only where it is about some of them by
their numbers, because the rows of a card name them all.
"""

from collections.abc import Sequence
from typing import Final

from prepadvisor.records.advice import Place
from prepadvisor.records.words import AREA_KINDS, Tool
from prepadvisor.records.work import Task, WorkStep
from prepadvisor.wording import trade
from prepadvisor.wording.names import Words, is_hand_only

EVERY: Final = "every place"
HAND_ONLY: Final = "hand-only places"


def whole_step_says(step: WorkStep, words: Words) -> str:
    """Return what a step asks for on all its panels, as JSON carries it."""
    work = words.advice.work
    tasks = [task for task in work.tasks if task.id in set(step.tasks)]
    worked = {task.place for task in work.tasks if task.stage == step.stage}
    return (
        step_says(tasks, [place for place in words.advice.places if place.id in worked], words)
        if tasks
        else ""
    )


def step_says(tasks: Sequence[Task], places: Sequence[Place], words: Words) -> str:
    """Return what the tasks of one step ask for.

    Args:
        tasks: tasks that are done together, one at least.
        places: the places that are worked, of one panel or of all: what all of them need not name.
        words: names of places.
    """
    by_do = {do: [task for task in tasks if task.do == do] for do in ("powder", "scuff", "sand", "look")}
    if any(task.do == "clean" for task in tasks):
        return "wash, degrease twice"
    if any(task.do == "wipe" for task in tasks):
        return "wipe twice, white cloth stays clean"
    if any(task.do == "mask" for task in tasks):
        return "mask"
    if by_do["look"]:
        who = _who(words, places, by_do["look"])
        return "LOOK everywhere" if who == EVERY else f"LOOK at {who}"
    says = []
    if by_do["powder"] and len({task.place for task in tasks}) == 1:
        names = ", ".join(task.grade or "powder" for task in tasks)
        return f"{_who(words, places, tasks)} {names}"
    if by_do["powder"]:
        same = {task.place for task in by_do["powder"]} == {task.place for task in by_do["sand"]}
        says.append("powder" if same else "powder where boxed")
    for task_do, joint in (("scuff", "by hand "), ("sand", "")):
        for (grade, tool), group in _alike(by_do[task_do]).items():
            who = _who(words, places, group)
            joint = "" if who == HAND_ONLY else joint
            by = " block" if task_do == "sand" and tool == "block" else ""
            says.append(f"{who} {joint}{grade}{by}")
    return ", then ".join(says)


def _alike(tasks: Sequence[Task]) -> dict[tuple[str | None, Tool | None], list[Task]]:
    groups: dict[tuple[str | None, Tool | None], list[Task]] = {}
    for task in tasks:
        groups.setdefault((task.grade, task.tool), []).append(task)
    return groups


def tool_short(tool: Tool) -> str:
    """Return what a tool is called beside a box."""
    return "block" if tool == "block" else "DA" if tool.startswith("da") else "by hand"


def _who(words: Words, places: Sequence[Place], tasks: Sequence[Task]) -> str:
    """Return which places are meant: by what they are where it is all of them, else by their numbers."""
    meant = {task.place for task in tasks}
    if meant >= {place.id for place in places}:
        return EVERY
    kinds = (
        (HAND_ONLY, [place for place in places if is_hand_only(place)]),
        ("lines", [place for place in places if _is_line(place)]),
        ("face", [place for place in places if place.kind == "face"]),
    )
    named: list[str] = []
    left = set(meant)
    for word, group in kinds:
        ids = {place.id for place in group}
        if ids and ids <= left:
            named.append(words.number(group[0]) if len(group) == 1 and word != "face" else word)
            left -= ids
    rest = [place for place in places if place.id in left]
    rest_words = words.numbers(rest)
    beyond = sorted(left - {place.id for place in rest})
    named = ["face and lines"] if named == ["lines", "face"] else named
    return trade.listed([*named, *([rest_words] if rest_words else []), *map(words.where, beyond)])


def _is_line(place: Place) -> bool:
    return place.kind not in AREA_KINDS and not is_hand_only(place)
