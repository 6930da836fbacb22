"""The work at each place, pass by pass, from the places of a panel: tools, grades, minutes and film."""

from collections.abc import Sequence
from typing import Any, Final, NamedTuple

from shapely.geometry.base import BaseGeometry

from tests.recompute import shapes
from tests.recompute.climbing import Step, depth_um, sanding
from tests.recompute.house import GRAIN, WORDS, House, coarsest, finer, finest
from tests.recompute.places import Answered, Place, between_tool, film_of, known_grade, ratio_of
from tests.recompute.spots import NO_FILM, Part
from tests.recompute.troubles import Trouble

CLEARS: Final = ("aged-clear", "cured-clear")
FINEST: Final = min(GRAIN, key=GRAIN.__getitem__)
STEPS: Final = ("step_ratio_min",)
LAST: Final = ("finish_coarsest", "finish_target", "finish_finest")


class Pass(NamedTuple):
    """One go over a place, in the range of grades that the gate takes; `asked` by what answers of rules."""

    do: str
    tool: str
    grade: str
    powder: bool
    minutes: float
    film_um: float | None
    area_m2: float = 0.0
    range: tuple[str, str] = ("", "")
    asked: tuple[str, ...] = ()


def passes(place: Place, panel: Answered, house: House, rings: Sequence[Any] = ()) -> list[Pass] | None:
    """Return the passes over a place that is not held; None where another place's work covers it.

    Args:
        place: the place.
        panel: those it is worked with.
        house: rates.
        rings: the rings round primed patches: a line's part there is worked with them.
    """
    if not place.part.is_line:
        return _area(place, house)
    length = own_mm(place.part, rings)
    if length <= 1:
        return None
    return _by_hand(place, house, length) if place.part.by_hand else _line(place, panel, house, length)


def own_mm(part: Part, rings: Sequence[Any]) -> float:
    """Return the length of a line outside the patches it crosses and the rings round those."""
    holes: list[BaseGeometry] = [
        shapes.patch_box(part.panel, patch)
        for patch in part.panel.get("patch", [])
        if patch["id"] in part.crosses
    ]
    holes += [ring.outer for ring in rings if ring.patch in part.crosses]
    return shapes.length_outside(part.shape, holes) if part.crosses else part.amount


def _area(place: Place, house: House) -> list[Pass]:
    part = place.part
    used = known_grade(part.was, house)
    below = (part.was["tool"], used) if part.was and used else None
    found = []
    for at, step in enumerate(place.steps or []):
        depth = depth_um(house, *below) if below else 0.0
        minutes = sanding(house, part.amount, depth, step.grade, part.surface, disc=True)
        film = None if part.surface in NO_FILM else step.film_um
        wide = between(
            below, step.grade, [each.grade for each in place.steps or []][at + 1 :], ratio_of(part)
        )
        found.append(
            Pass("sand", step.tool, step.grade, step.powder, minutes, film, part.amount, wide, STEPS)
        )
        below = (step.tool, step.grade)
    if place.by_shop:
        grades = list(GRAIN)
        last = grades[grades.index(house.shop["ring_grade"]) :][:3]
        return [*found[:-1], found[-1]._replace(range=(last[0], last[-1]))]
    return [*found[:-1], *_coarse_first(_split(found[-1], place))]


def between(below: tuple[str, str] | None, grade: str, ahead: Sequence[str], ratio: float) -> tuple[str, str]:
    """Return the grades of a step between: coarse enough to go on from, fine enough to go to.

    Args:
        below: tool and grade of what lies there.
        grade: the step's own, which always may be.
        ahead: those of the steps after it, none for the last.
        ratio: the least grain of a step as a share of the last one's.
    """
    if not ahead:
        return "", ""
    low = [
        one
        for one in GRAIN
        if GRAIN[ahead[0]] >= ratio * GRAIN[one] - 1e-9 and (below is None or finer(one, below[1]))
    ]
    high = [
        one
        for one in GRAIN
        if below and GRAIN[one] >= ratio * GRAIN[below[1]] - 1e-9 and finer(ahead[0], one)
    ]
    return coarsest([*low, grade]), finest([*high, grade])


def _window(place: Place) -> tuple[str, str]:
    windows = [spot.window for spot in place.part.spots.values() if spot.window]
    low, high = finest(window[0] for window in windows), coarsest(window[1] for window in windows)
    return (high, high) if finer(low, high) else (low, high)


def _split(last: Pass, place: Place) -> list[Pass]:
    """Return the last pass with its range, one for each grade where zones have their own."""
    last = last._replace(asked=("hand_last_coarsest", "finish_finest") if last.do == "scuff" else LAST)
    if not place.split:
        return [last._replace(range=_window(place))]
    part = place.part
    found: list[Pass] = []
    for grade in dict.fromkeys(place.split.values()):
        zones = [zone for zone, one in place.split.items() if one == grade]
        windows = [window for zone in zones if (window := part.spots[zone].window)]
        share = sum(part.amounts[zone] for zone in zones) / part.amount
        wide = (finest(window[0] for window in windows), coarsest(window[1] for window in windows))
        found.append(
            last._replace(
                grade=grade, minutes=last.minutes * share, area_m2=last.area_m2 * share, range=wide,
                powder=last.powder and not found,
            )
        )  # fmt: skip
    return found


def _coarse_first(parts: Sequence[Pass]) -> list[Pass]:
    """Return the parts of a split pass as the steps take them; none of them waits for another."""
    return sorted(parts, key=lambda each: -GRAIN[each.grade])


def hand_minutes(house: House, kind: str, length_mm: float) -> float:
    """Return the minutes of going along a line by hand once; a kind without a number takes the slowest."""
    rates = house.shop["hand_minutes_per_metre"]
    rate = rates[kind] if kind in rates else max(rates.values())
    return float(max(house.shop["hand_minutes_least"], length_mm / 1000 * rate))


def _by_hand(place: Place, house: House, length_mm: float) -> list[Pass]:
    part = place.part
    once, counted = hand_minutes(house, part.kind, length_mm), part.surface in CLEARS
    found = []
    used = known_grade(part.was, house)
    below = (part.was["tool"], used) if place.recut and part.was and used else None
    recut = [step.grade for step in place.recut or []]
    for at, step in enumerate((place.recut or [])[:-1]):
        wide = between(below, step.grade, recut[at + 1 :], ratio_of(part))
        film = step.film_um if counted else None
        asked = ("hand_last_coarsest", "finish_finest")
        found.append(Pass("scuff", step.tool, step.grade, False, once, film, 0.0, wide, asked))
        below = (step.tool, step.grade)
    tool, grade = place.tool or "", place.finish or ""
    ready = place.verdict == "within"
    off = 0.0 if ready else depth_um(house, *(below or (tool, grade)))
    last = Pass("scuff", tool, grade, False, 0.0 if ready else once, off if counted else None)
    return [*found, *_split(last, place)]


def _line(place: Place, panel: Answered, house: House, length_mm: float) -> list[Pass]:
    part, counted = place.part, place.part.surface in CLEARS
    strip = length_mm * house.shop["edge_strip_mm"] / 1e6
    guide = max((spot.says["guide_coat"] for spot in part.spots.values()), key=WORDS["guide_coat"].index)
    below, steps, with_face = _climb(place, panel, house)
    found = []
    grades = [*(step.grade for step in steps), place.finish or ""]
    for at, step in enumerate(steps):
        tool = between_tool(part, house) if with_face and step.tool != "block" else step.tool
        depth = depth_um(house, *below) if below else 0.0
        minutes = sanding(house, strip, depth, step.grade, part.surface, disc=not with_face)
        powder = guide == "every-change" and step.powder
        film = depth if counted else None
        wide = between(below, step.grade, grades[at + 1 :], ratio_of(part))
        found.append(Pass("sand", tool, step.grade, powder, minutes, film, strip, wide, STEPS))
        below = (tool, step.grade)
    ready = place.verdict == "within" and not steps
    used = known_grade(part.was, house)
    scuff = panel.hand or place.hand or ""
    lies = (part.was["tool"], used) if ready and part.was and used else (house.shop["hand_tool"], scuff)
    once = 0.0 if ready else hand_minutes(house, part.kind, length_mm)
    found.append(
        Pass(
            "scuff", house.shop["hand_tool"], scuff, False, once, 0.0 if counted else None,
            range=(place.hand or "", FINEST), asked=("hand_coarsest",),
        )
    )  # fmt: skip
    depth = max(depth_um(house, *lies), depth_um(house, *below) if below else 0.0)
    minutes = sanding(house, strip, depth, place.finish or "", part.surface, disc=False)
    film = depth if counted else None
    last = Pass("sand", place.tool or "", place.finish or "", guide != "no", minutes, film, strip)
    return [*found, *_coarse_first(_split(last, place))]


def _climb(place: Place, panel: Answered, house: House) -> tuple[tuple[str, str] | None, list[Step], bool]:
    """Return what lies on a line, the passes ahead of its scuff, and whether they are the face's own."""
    face, part = panel.places.get("face"), place.part
    start, shared = None, []
    if face and face.steps and not face.held:
        was = face.part.was
        used = known_grade(was, house)
        start = (was["tool"], used) if was and used else None
        shared = [step for step in face.steps[:-1] if finer(place.finish or "", step.grade)]
    done = known_grade(part.was, house)
    if place.recut and part.was and done:
        own = place.recut[:-1]
        lies = (part.was["tool"], done)
        if not shared or (own and finer(shared[0].grade, own[0].grade)):
            return lies, own, False
        both = [lies, start] if start else [lies]
        return max(both, key=lambda state: depth_um(house, *state)), shared, True
    return start, shared, True


def lines_cut_too_deep(panel: Answered, house: House, rings: Sequence[Any]) -> None:
    """Hold every line that its passes cut deeper than it may be; parts of a split pass lie side by side."""
    for place in panel.places.values():
        most = film_of(place.part)
        if place.held or not place.part.is_line or most is None:
            continue
        found = passes(place, panel, house, rings) or []
        beside = len(set(place.split.values())) or 1
        deep = [each.film_um or 0.0 for each in found]
        if sum(deep[:-beside]) + max(deep[-beside:], default=0.0) > most + 1e-9:
            off = sum(deep[:-beside]) + max(deep[-beside:])
            facts = {"start": None, "finish": place.finish, "off_um": off, "off_max_um": most}
            place.held, place.trouble = True, (Trouble("too-much-film", facts),)
