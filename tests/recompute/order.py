"""What each task must follow, and no more, and the steps that all tasks fall into."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from tests.recompute.house import GRAIN, House
from tests.recompute.panels import Panel
from tests.recompute.places import Answered, Place
from tests.recompute.priming import WHOLE

Task = Mapping[str, Any]
CRESTS: Final = ("edge", "body-line", "wheel-arch")
TURNS: Final = ("clean", "patch", "rung", "by hand", "scuff", "last", "look", "wipe", "mask")
"""Patches first, their dust gets everywhere; hand work ahead of the last DA pass, which blends it in."""


class Before:
    """The ids of all tasks that each task must follow."""

    def __init__(self, ancestors: Mapping[str, set[str]]) -> None:
        """Keep them."""
        self.of = ancestors

    def closed(self, ids: Iterable[str]) -> set[str]:
        """Return tasks with all that they follow."""
        found = set(ids)
        return found.union(*(self.of[each] for each in found))


def orders_wrong(
    panel: Panel,
    stage: str,
    answer: Answered,
    of_place: Mapping[str, Sequence[Task]],
    mine: Sequence[Task],
    before: Before,
    house: House,
) -> Iterator[str]:
    """Yield where a task of a stage follows more or less than it must.

    What a place follows: the cleaning, or the wipe ahead of the primer it waited for. A last pass: hand work
    that touches the place, of a face any. A look: the last work there, hand work that touches it, the patch
    that a line crosses and its ring, the face at a crest. A wipe: all looks. A mask: the wipe.
    """
    name = panel.stated["id"]
    clean = {task["id"] for task in mine if task["do"] == "clean"}
    wipes = {task["stage"]: task["id"] for task in mine if task["do"] == "wipe"}
    places = answer.places
    if not of_place:
        return

    def worked(feature: str, *does: str) -> set[str]:
        return {task["id"] for task in of_place.get(feature, ()) if task["do"] in does}

    def touching(feature: str) -> set[str]:
        return set().union(
            *(
                worked(other, "scuff")
                for other in of_place
                if other != feature
                and places[other].part.by_hand
                and (feature == "face" or _touch(panel, places[feature], places[other], house))
            )
        )

    for feature, own in of_place.items():
        place = places[feature]
        waited = stage == "paint" and "primer" in wipes and _waited(panel, feature)
        base = before.closed({wipes["primer"]}) if waited else clean
        ids = {task["id"] for task in own}
        last = set() if place.part.by_hand else _last(own, before)
        for task in own:
            if task["do"] != "look":
                expected = base | (before.closed(touching(feature)) if task["id"] in last else set())
                if before.of[task["id"]] - ids != expected - ids:
                    yield f"{task['id']} follows {sorted((before.of[task['id']] - ids) ^ expected)} or not"
        needed = worked(feature, "sand", "scuff", "powder") | touching(feature)
        if feature == "face":
            needed |= set().union(*(worked(each, "scuff") for each in of_place))
        if place.part.kind in CRESTS:
            needed |= worked("face", "sand")
        for other in of_place:
            if {other, places[other].part.ring_of} & set(place.part.crosses):
                needed |= worked(other, "sand")
        for look in worked(feature, "look"):
            if before.of[look] != (before.closed(needed) or clean):
                yield f"{look} follows {sorted(before.of[look] ^ before.closed(needed))} or not"
    looks = {task["id"] for own in of_place.values() for task in own if task["do"] == "look"}
    if before.of[wipes[stage]] != (before.closed(looks) or clean):
        yield f"{name}: the wipe of {stage} follows {sorted(before.of[wipes[stage]] ^ looks)} or not"
    for task in mine:
        if task["do"] == "mask" and before.of[task["id"]] != before.closed({wipes[task["stage"]]}):
            yield f"{task['id']} follows more than the wipe"


def _waited(panel: Panel, feature: str) -> bool:
    """Say whether a place was worked up to primer first: all of a panel that is primed whole."""
    if WHOLE in panel.standing.waiting:
        return True
    own = panel.primer.places.get(feature) if panel.primer else None
    return own is not None and not own.held


def _last(own: Sequence[Task], before: Before) -> set[str]:
    """Return the last passes at a place that a machine reaches, with their powder."""
    chain = [task for task in own if task["do"] != "look"]
    ends = {task["id"] for task in chain if not any(task["id"] in before.of[each["id"]] for each in chain)}
    named = {each for task in chain if task["id"] in ends for each in task["after"]}
    return ends | {task["id"] for task in chain if task["do"] == "powder" and task["id"] in named}


def _touch(panel: Panel, one: Place, other: Place, house: House) -> bool:
    """Say whether hand work at one place reaches another; all within a ring counts as the ring."""
    rings = {ring.patch: ring.outer for ring in panel.standing.rings}
    near, far = (rings.get(each.part.ring_of, each.part.shape) for each in (one, other))
    return bool(near.distance(far) < house.shop["edge_strip_mm"])


def steps_wrong(panels: Sequence[Panel], work: Mapping[str, Any], before: Before) -> Iterator[str]:
    """Yield where the steps are not those found one by one.

    Of all that may be begun, what is next in turn, and all that is done alike; powder before all else.
    """
    acts = _acts(panels, work["tasks"], before)
    done: set[str] = set()
    expected: list[tuple[str, set[str], list[str]]] = []
    while acts:
        ready = [(key, ids) for key, ids in acts if all(before.of[each] <= done | set(ids) for each in ids)]
        least = min(key for key, _ in ready)
        chosen = [ids for key, ids in ready if key == least]
        acts = [(key, ids) for key, ids in acts if ids not in chosen]
        powders = [ids[0] for ids in chosen if len(ids) > 1]
        rest = [ids[-1] for ids in chosen]
        done |= {*powders, *rest}
        expected.append((("primer", "paint")[least[0]], {*powders, *rest}, powders))
    told = [(step["stage"], set(step["tasks"]), step["tasks"]) for step in work["steps"]]
    for n, (step, (stage, ids, powders)) in enumerate(zip(told, expected, strict=False), 1):
        if step[:2] != (stage, ids) or set(step[2][: len(powders)]) != set(powders):
            yield f"step {n} is {step} and not {stage} {sorted(ids)}, {powders} first"
            return
    if len(told) != len(expected):
        yield f"{len(told)} steps and not {len(expected)}"
    panel_of = {task["id"]: task["place"].split("/")[0] for task in work["tasks"]}
    order = [panel.stated["id"] for panel in panels]
    for step in work["steps"]:
        by_half = [(each.split(".")[-2] != "powder", order.index(panel_of[each])) for each in step["tasks"]]
        if by_half != sorted(by_half):
            yield f"step {step['n']} is not in the order of the job"


_Key = tuple[int, int, float, str]


def _acts(
    panels: Sequence[Panel], tasks: Sequence[Task], before: Before
) -> list[tuple[_Key, tuple[str, ...]]]:
    """Return what is done in one go, a powder with the first sanding that takes it out, with when and how."""
    found: list[tuple[_Key, tuple[str, ...]]] = []
    named = {panel.stated["id"]: panel for panel in panels}
    powder_of: dict[str, str] = {}
    for task in tasks:
        if task["do"] == "powder":
            takes = [each for each in tasks if task["id"] in each["after"] and each["do"] == "sand"]
            powder_of[_first(takes, named)] = task["id"]
    for task in tasks:
        if task["do"] == "powder":
            continue
        turn = _turn(task, tasks, named, before)
        grain = -GRAIN[task["grade"]] if task["grade"] else -1e9
        key = (("primer", "paint").index(task["stage"]), TURNS.index(turn), grain, task["tool"] or "")
        own = powder_of.get(task["id"])
        found.append((key, (own, task["id"]) if own else (task["id"],)))
    return found


def _first(takes: Sequence[Task], panels: Mapping[str, Panel]) -> str:
    """Return the part of a split pass that is powdered for: that of the first zone."""
    panel, feature = takes[0]["place"].split("/")
    answer = panels[panel].primer if takes[0]["stage"] == "primer" else panels[panel].paint
    split = list(answer.places[feature].split.values()) if answer else []
    grade = split[0] if len(takes) > 1 else takes[0]["grade"]
    return str(next(task["id"] for task in takes if task["grade"] == grade))


def _turn(task: Task, tasks: Sequence[Task], panels: Mapping[str, Panel], before: Before) -> str:
    if task["do"] not in ("sand", "scuff"):
        return str(task["do"])
    panel, feature = task["place"].split("/")
    answer = panels[panel].primer if task["stage"] == "primer" else panels[panel].paint
    assert answer is not None
    part = answer.places[feature].part
    if part.kind == "patch":
        return "patch"
    if part.by_hand or task["do"] == "scuff":
        return "by hand" if part.by_hand else "scuff"
    own = [each for each in tasks if each["place"] == task["place"] and each["stage"] == task["stage"]]
    return "last" if task["id"] in _last(own, before) else "rung"
