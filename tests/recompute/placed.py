"""Holds what the advice says of each place against the re-computation: record, grit steps, what was done."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, Final

from tests.recompute.climbing import Step, facts_of_ladder
from tests.recompute.house import WORDS, House, finer
from tests.recompute.panels import Panel
from tests.recompute.places import Place, known_grade
from tests.recompute.spots import Colour

CLOSE: Final = 2e-4
"""Relative: shapely's discs are polygons, and lengths and areas go into minutes and millilitres."""


def near(one: float | None, other: float | None, rel: float = CLOSE, least: float = 1e-6) -> bool:
    """Say whether two numbers, or two lacks of one, are equal but for rounding."""
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=rel, abs_tol=least)


def places_wrong(panels: list[Panel], colour: Colour, advice: Mapping[str, Any]) -> Iterator[str]:
    """Yield where a place is told otherwise, is missing or is one too many."""
    written = {place["id"]: place for place in advice["places"]}
    for panel in panels:
        for place in panel.places.values():
            name = f"{panel.stated['id']}/{place.part.id}"
            told = written.pop(name, None)
            if told is None:
                yield f"{name}: not in the advice"
                continue
            pairs = {
                **_place(told, place),
                **_record(told, place, colour.house),
                **_done(told["done"], place, colour),
            }
            for key, pair in pairs.items():
                if pair[0] != pair[1]:
                    yield f"{name} {key}: {pair[0]} and not {pair[1]}"
            yield from ladders_wrong(f"{name} ladder", told["ladder"], _own_ladder(place))
            yield from ladders_wrong(f"{name} recut", told["done"]["recut"], place.recut)
    if written:
        yield f"places too many: {sorted(written)}"


def _own_ladder(place: Place) -> list[Step] | None:
    return place.steps if place.part.kind == "patch" else None


def _place(told: Mapping[str, Any], place: Place) -> dict[str, tuple[Any, Any]]:
    answers = list(place.part.spots.values())
    if place.by_shop:
        return {"finish": (told["finish"], place.finish), "tool": (told["tool"], place.tool)}
    bed = told["wet_bed"]
    guides, needs = WORDS["guide_coat"], WORDS["wet_bed"]
    return {
        "finish": (told["finish"], place.finish),
        "tool": (told["tool"], place.tool),
        "hand_coarsest": (told["hand_coarsest"], place.hand),
        "guide_coat": (
            told["guide_coat"],
            max((each.says["guide_coat"] for each in answers), key=guides.index),
        ),
        "need": (bed["need"], max((each.need for each in answers), key=needs.index)),
        "coats": (bed["coats"], max(each.coats for each in answers)),
        "split": (dict(told["split"]), place.split),
        "surface": (told["surface"], place.part.surface),
        "pad": (told["interface_pad"], _soft(place)),
        "verdict": (told["done"]["verdict"], place.verdict if place.part.is_line else "not-recorded"),
    }


def _record(told: Mapping[str, Any], place: Place, house: House) -> dict[str, tuple[Any, Any]]:
    """Return what a place is, where it lies and what is noted there."""
    part, spots = place.part, place.part.spots
    name = part.panel["id"]
    says = {rule["id"]: rule["says"] for rule in house.rules}
    texts = {text for spot in spots.values() for output, _, text in spot.says["because"] if output == "notes"}
    kinds = Counter(told["notes_kinds"])
    rules = {
        (text, rule)
        for spot in spots.values()
        for output, rule, text in spot.says["because"]
        if output == "notes"
    }
    return {
        "id": ((told["panel"], told["feature"], told["kind"]), (name, part.id, part.kind)),
        "seen": (told["seen"], part.seen),
        "reach": (told["reach"], "hand" if part.by_hand else part.reach),
        "ring": (told["ring_of"], part.ring_of),
        "spots": (told["spots"], [] if place.by_shop else [f"{name}/{part.id}/{zone}" for zone in spots]),
        "notes": (set() if place.by_shop else texts - set(told["notes"]), set()),
        "note kinds": (
            (kinds["rule-note"], kinds["crosses-patch"], kinds["ring-of"]),
            (0 if place.by_shop else len(rules), len(part.crosses), int(bool(part.ring_of))),
        ),
        "kept off": (
            kinds["kept-off"],
            len({says[rule] for each in part.kept_off.values() for rule in each}),
        ),
    }


def _done(told: Mapping[str, Any], place: Place, colour: Colour) -> dict[str, tuple[Any, Any]]:
    """Return what is said of a scuff: its tool and grade, what is wrong with it, what a bed would do."""
    part, was = place.part, place.part.was if place.part.is_line else None
    used = known_grade(was, colour.house)
    kind, facts = None, None
    if was and not used:
        kind, facts = "grade-unknown", {}
    elif place.verdict == "too-fine":
        kind, facts = "too-fine", {"used": used, "grade": place.finish}
    elif place.verdict == "too-coarse" and place.recut is None:
        kind, facts = "no-way-out", {"used": used}
    elif place.verdict == "too-coarse" and used:
        fine = colour.flake in {"fine", "very-fine", "vapour"}
        bed = "none" if all(spot.need == "no" for spot in part.spots.values()) else "lead"
        if fine and finer("P800", used) and set(part.spots) != {"clear"}:
            bed = "never"
        kind, facts = "too-coarse", {"used": used, "bed": bed}
    return {
        "done": ((told["tool"], told["grade"]), (was["tool"] if was else None, used)),
        "done kind": ((told["kind"], told["facts"]), (kind, facts)),
    }


def _soft(place: Place) -> bool:
    soft = any(each.says["machine"] == "interface-pad" for each in place.part.spots.values())
    return soft and not place.part.by_hand


def ladders_wrong(name: str, told: Any, steps: list[Step] | None) -> Iterator[str]:
    """Yield where grit steps differ in minutes, film, tools, grades or powder."""
    if (told is None) != (steps is None):
        yield f"{name}: {told} and not {steps}"
        return
    if told is None or steps is None:
        return
    sums = facts_of_ladder(told)
    expected = (sum(step.minutes for step in steps), sum(step.film_um for step in steps))
    if not (near(sums[0], expected[0]) and near(sums[1], expected[1])):
        yield f"{name}: minutes and film {sums} and not {expected}: {told} and not {steps}"
        return
    ways = [(step["tool"], step["grade"], step["guide_coat"]) for step in told]
    plain = [(step.tool, step.grade, step.powder) for step in steps]
    if ways != plain:
        yield f"{name}: {ways} and not {plain}"
