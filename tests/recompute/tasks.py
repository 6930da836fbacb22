"""The plan of work held against the passes worked out plainly: tasks, order, minutes, film, discs, log."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

import networkx as nx

from tests.recompute.house import GRAIN, House
from tests.recompute.order import Before, orders_wrong, steps_wrong
from tests.recompute.panels import Panel
from tests.recompute.places import Answered, Place
from tests.recompute.troubles import behind
from tests.recompute.work import Pass, passes

LOGGED: Final = {
    "clean": "cleaned", "scuff": "scuffed", "powder": "guide-coated", "sand": "sanded", "look": "inspected",
    "wipe": "wiped",
}  # fmt: skip
CLOSE: Final = 3e-4

Task = Mapping[str, Any]


def near(one: float | None, other: float | None) -> bool:
    """Say whether two numbers, or lacks of one, are equal but for rounding."""
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=CLOSE, abs_tol=1e-6)


def work_wrong(panels: Sequence[Panel], house: House, advice: Mapping[str, Any]) -> Iterator[str]:
    """Yield every point in which the plan of work differs from what follows from places and rules."""
    work = advice["work"]
    tasks = {task["id"]: task for task in work["tasks"]}
    graph: Any = nx.DiGraph()
    graph.add_nodes_from(tasks)
    graph.add_edges_from((before, task["id"]) for task in work["tasks"] for before in task["after"])
    if set(graph) != set(tasks) or not nx.is_directed_acyclic_graph(graph):
        yield "after names no task, or tasks wait for one another"
        return
    before = Before({name: nx.ancestors(graph, name) for name in tasks})
    unplanned = []
    areas: Counter[str] = Counter()
    for panel in panels:
        stages = [("primer", panel.primer)] if panel.primer else []
        stages.append(("paint", panel.paint))
        mine = [task for task in work["tasks"] if task["place"].split("/")[0] == panel.stated["id"]]
        worked = [(stage, _worked(panel, stage, each, house)) for stage, each in stages if each]
        if not any(found for _, found in worked):
            unplanned.append(panel.stated["id"])
            if mine:
                yield f"{panel.stated['id']} is held and has tasks"
            continue
        for stage, found in worked:
            areas.update(_areas(found))
            yield from _stage(panel, stage, found, mine, before, house)
        yield from _panel_tasks(panel, mine, house)
    if unplanned != list(work["unplanned"]):
        yield f"unplanned {work['unplanned']} and not {unplanned}"
    yield from _steps(work, tasks, house)
    yield from steps_wrong(panels, work, before)
    yield from _sums(advice, areas, house)


def _worked(panel: Panel, stage: str, answer: Answered, house: House) -> dict[str, list[Pass]]:
    """Return the passes of each place that is not held in this stage; an empty list for a look only."""
    waiting = panel.standing.waiting
    found = {}
    for name, place in answer.places.items():
        waits = "panel" in waiting or bool(waiting & {name, place.part.ring_of})
        now = panel.places[name]
        stopped = stage == "paint" and ((waits and now.held) or (name == "face" and panel.thin))
        if not place.held and not stopped:
            found[name] = passes(place, answer, house, panel.standing.rings) or []
    return found


def _areas(found: Mapping[str, Sequence[Pass]]) -> Counter[str]:
    areas: Counter[str] = Counter()
    for each in found.values():
        for one in each:
            if one.do == "sand":
                areas[one.grade] += one.area_m2 * 100  # type: ignore[assignment]
    return areas


def _stage(
    panel: Panel,
    stage: str,
    found: Mapping[str, Sequence[Pass]],
    mine: Sequence[Task],
    before: Before,
    house: House,
) -> Iterator[str]:
    name = panel.stated["id"]
    tasks = [task for task in mine if task["stage"] == stage]
    of_place: dict[str, list[Task]] = {feature: [] for feature in found}
    for task in tasks:
        where = task["place"].split("/")
        if len(where) == 2:
            if where[1] not in of_place:
                yield f"{task['id']} at a place that has no work in {stage}"
                continue
            of_place[where[1]].append(task)
    answer = panel.primer if stage == "primer" else panel.paint
    assert answer is not None
    looks = {}
    for feature, own in of_place.items():
        yield from _place(answer.places[feature], found[feature], own, before.of)
        looks[feature] = [task["id"] for task in own if task["do"] == "look"]
    if any(len(each) != 1 for each in looks.values()):
        yield f"{name} {stage}: looks {looks}"
        return
    yield from orders_wrong(panel, stage, answer, of_place, mine, before, house)


def _place(
    place: Place, found: Sequence[Pass], own: Sequence[Task], before: Mapping[str, set[str]]
) -> Iterator[str]:
    where = f"{place.part.panel['id']}/{place.part.id}"
    expected: list[tuple[Any, ...]] = []
    for one in found:
        if one.powder:
            expected.append(("powder", None, None))
        expected.append((one.do, one.tool, one.grade))
    expected.append(("look", None, None))
    told = [(task["do"], task["tool"], task["grade"]) for task in own]
    if sorted(told, key=str) != sorted(expected, key=str):
        yield f"{where} tasks: {told} and not {expected}"
        return
    chain = [task for task in own if task["do"] in ("sand", "scuff")]
    ids = {each["id"] for each in own}
    by_order = sorted(chain, key=lambda task: (len(before[task["id"]] & ids), -GRAIN[task["grade"]]))
    for task, one in zip(by_order, found, strict=True):
        if not near(task["minutes"], one.minutes):
            yield f"{task['id']} minutes: {task['minutes']} and not {one.minutes}"
        if not near(task["film_off_um"], one.film_um):
            yield f"{task['id']} film: {task['film_off_um']} and not {one.film_um}"
        low, high = task["range"]
        if (low, high) != one.range:
            yield f"{task['id']} range: {low}, {high} and not {one.range}"
        if not GRAIN[high] <= GRAIN[one.grade] <= GRAIN[low]:
            yield f"{task['id']} range {low} {high} is without its grade"
        if set(task["rules"]) != _rules(place, *one.asked):
            yield f"{task['id']} rules: {task['rules']} and not {_rules(place, *one.asked)}"
    for task in own:
        if task["do"] == "powder" and (set(task["rules"]) != _rules(place, "guide_coat") or task["tool"]):
            yield f"{task['id']} rules: {task['rules']} and not {_rules(place, 'guide_coat')}"
        if task["do"] == "look" and (task["rules"] or task["tool"]):
            yield f"{task['id']} rules: {task['rules']}"
        if not task["owed"]:
            yield f"{task['id']} is not owed"
    powders = [task["id"] for task in own if task["do"] == "powder"]
    dusted = [task["id"] for task, one in zip(by_order, found, strict=True) if one.powder]
    for task in dusted:
        if not any(powder in before[task] for powder in powders):
            yield f"{task} without powder before it"


def _rules(place: Place, *outputs: str) -> frozenset[str]:
    """Return the rules that ask for a task; a ring keyed for primer has the shop's grade, by no rule."""
    if place.by_shop:
        return frozenset()
    return frozenset().union(*(behind(spot.says, *outputs) for spot in place.part.spots.values()))


def _panel_tasks(panel: Panel, mine: Sequence[Task], house: House) -> Iterator[str]:
    name, shop = panel.stated["id"], house.shop
    whole = {
        do: [task for task in mine if task["place"] == name and task["do"] == do]
        for do in ("clean", "wipe", "mask")
    }
    stages = list(dict.fromkeys(task["stage"] for task in mine))
    counts = {do: len(each) for do, each in whole.items()}
    if counts != {"clean": 1, "wipe": len(stages), "mask": len(stages)}:
        yield f"{name}: {counts} in {stages}"
        return
    square_metres = panel.stated["length_mm"] * panel.stated["height_mm"] / 1e6
    minutes = {
        "clean": shop["clean_minutes"] + shop["clean_minutes_per_m2"] * square_metres,
        "wipe": shop["wipe_minutes"],
        "mask": 0.0,
    }
    for do, each in whole.items():
        for task in each:
            if not near(task["minutes"], minutes[do]) or task["owed"] is (do == "mask"):
                yield f"{task['id']}: {task['minutes']} min, owed {task['owed']}"
            if list(task["rules"]) != ([] if do == "mask" else ["clean-first"]):
                yield f"{task['id']} rules: {task['rules']}"
    numbered = Counter((task["place"], task["do"]) for task in mine)
    ids = {f"{where}.{do}.{n + 1}" for (where, do), most in numbered.items() for n in range(most)}
    if ids != {task["id"] for task in mine}:
        yield f"{name}: ids {sorted(ids ^ {task['id'] for task in mine})}"


def _steps(work: Mapping[str, Any], tasks: Mapping[str, Task], house: House) -> Iterator[str]:
    order = [name for step in work["steps"] for name in step["tasks"]]
    if order != list(tasks) or [step["id"] for step in work["steps"]] != [
        f"{step['stage']}.{n}" for n, step in enumerate(work["steps"], 1)
    ]:
        yield "steps do not hold every task once, or are not numbered through"
        return
    for step in work["steps"]:
        own = [tasks[name] for name in step["tasks"]]
        if {task["stage"] for task in own} != {step["stage"]}:
            yield f"step {step['n']} mixes stages"
        if [list(each) for each in step["log"]] != [_log(task) for task in own if task["owed"]]:
            yield f"step {step['n']} logs {step['log']}"
        for panel in {_panel_of(task) for task in own if task["do"] == "powder"}:
            minutes = sum(
                task["minutes"]
                for task in own
                if task["do"] == "powder" and task["place"].split("/")[0] == panel
            )
            if not near(minutes, house.shop["guide_coat_minutes"]):
                yield f"step {step['n']}: powder on {panel} takes {minutes} min"


def _panel_of(task: Task) -> str:
    return str(task["place"].split("/")[0])


def _log(task: Task) -> list[str]:
    where = task["place"] if "/" in task["place"] else f"{task['place']}/panel"
    words = [where, LOGGED[task["do"]]]
    if task["do"] == "look":
        words += ["--result", "clear"]
    for key in ("tool", "grade"):
        if task[key]:
            words += [f"--{key}", task[key]]
    return words


def _sums(advice: Mapping[str, Any], areas: Counter[str], house: House) -> Iterator[str]:
    work = advice["work"]
    minutes: Counter[str] = Counter()
    for task in work["tasks"]:
        if task["do"] == "look" and not near(task["minutes"], house.shop["look_minutes"]):
            yield f"{task['id']} takes {task['minutes']} min"
        for key in {"all", f"stage {task['stage']}", task["place"].split("/")[0], task["place"]}:
            minutes[key] += task["minutes"]
    pairs = [("all", advice["minutes"])]
    pairs += [(f"stage {stage['id']}", stage["minutes"]) for stage in work["stages"]]
    pairs += [(each["id"], each["minutes"]) for each in (*advice["panels"], *advice["places"])]
    for name, told in pairs:
        if not near(told, float(minutes[name])):
            yield f"minutes of {name}: {told} and not {minutes[name]}"
    discs = {
        grade: {max(1, math.ceil(area / house.shop["disc_dm2"] + off)) for off in (-1e-3, 0.0, 1e-3)}
        for grade, area in areas.items()
        if area > 0
    }
    if set(discs) != set(advice["discs"]) or any(
        advice["discs"][grade] not in each for grade, each in discs.items()
    ):
        yield f"discs {advice['discs']} and not {discs}"
