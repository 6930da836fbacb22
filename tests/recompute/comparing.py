"""Holds the written advice of a job against the plain re-computation, and names every disagreement."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tests.recompute import shapes
from tests.recompute.booth import booth_wrong
from tests.recompute.climbing import Step, facts_of_ladder
from tests.recompute.house import WORDS, House
from tests.recompute.panels import Panel, planned
from tests.recompute.places import Place
from tests.recompute.remarks import remarks_wrong
from tests.recompute.spots import Answer, Colour
from tests.recompute.tasks import work_wrong

CLOSE = 2e-4
"""Relative: shapely's discs are polygons, and lengths and areas go into minutes and millilitres."""

LINE_CLOSE = 1e-3
"""Relative: what the line model promises."""


def disagreements(job: Mapping[str, Any], house: House, advice: Mapping[str, Any]) -> list[str]:
    """Return every point in which an advice differs from the re-computation."""
    colour = Colour(job["colour"], house)
    primed: dict[str, set[str]] = {}
    for check in job.get("check", []):
        primed.setdefault(check["panel"], set()).add(check["feature"])
    panels = [planned(stated, colour, primed.get(stated["id"], ())) for stated in job["panel"]]
    found = list(_spots(panels, advice))
    found += _places(panels, advice)
    found += _panels(panels, advice)
    found += _sums(panels, house, advice)
    found += work_wrong(panels, house, advice)
    found += remarks_wrong(job, panels, colour, advice)
    found += booth_wrong(panels, colour, advice)
    return found


def near(one: float | None, other: float | None, rel: float = CLOSE, least: float = 1e-6) -> bool:
    """Say whether two numbers, or two lacks of one, are equal but for rounding."""
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=rel, abs_tol=least)


def _spots(panels: list[Panel], advice: Mapping[str, Any]) -> Iterator[str]:
    written = {spot["id"]: spot for spot in advice["spots"]}
    named = {
        f"{panel.stated['id']}/{place.part.id}/{zone}": (place, zone, answer)
        for panel in panels
        for place in panel.places.values()
        if not place.by_shop
        for zone, answer in place.part.spots.items()
    }
    if set(written) != set(named):
        yield f"spots: {sorted(set(written) ^ set(named))}"
        return
    for name, (place, zone, answer) in named.items():
        for key, (told, expected) in _spot(written[name], place, zone, answer).items():
            yield f"{name} {key}: {told} and not {expected}"


def _spot(told: Mapping[str, Any], place: Place, zone: str, answer: Answer) -> dict[str, tuple[Any, Any]]:
    part, says = place.part, answer.says
    amount = part.amounts[zone]
    finish = told["finish"]
    pairs: dict[str, tuple[Any, Any]] = {
        "kind": (told["kind"], part.kind),
        "seen": (told["seen"], part.seen),
        "reach": (told["reach"], "hand" if answer.by_hand else part.reach),
        "guide_coat": (told["guide_coat"], says["guide_coat"]),
        "risk_limit": (told["risk_limit"], says["risk_limit"]),
        "notes": (sorted(told["notes"]), says["notes"]),
        "wet_bed": ((told["wet_bed"]["need"], told["wet_bed"]["coats"]), (answer.need, answer.coats)),
        "finish": (
            finish and (finish["coarsest"], finish["finest"], finish["chosen"], finish["verdict"]),
            answer.window,
        ),
        "tool": (finish and finish["tool"], answer.tool if answer.window else None),
        "because": (
            _because(told),
            [each for each in says["because"] if each[0] != "machine" or each[2] != "never"],
        ),
    }
    pairs["line's reason"] = _line_reason(told, answer)
    wrong = {key: pair for key, pair in pairs.items() if pair[0] != pair[1]}
    length = told["length_mm"]
    if not near(length, amount if part.is_line else None, CLOSE, 0.05):
        wrong["length_mm"] = (length, amount)
    if not part.is_line and not near(told["area_m2"], amount, CLOSE, 1e-6):
        wrong["area_m2"] = (told["area_m2"], amount)
    line = told["line"] or {"arcsec": None, "risk": None}
    expected = answer.line or (None, None)
    for key, value in zip(("arcsec", "risk"), expected, strict=True):
        if not near(line[key], value, LINE_CLOSE, 1e-7):
            wrong[key] = (line[key], value)
    return wrong


def _line_reason(told: Mapping[str, Any], answer: Answer) -> tuple[Any, Any]:
    """Return what the card says that the estimate was made for: grade, tool, coats, limit."""
    says = [each["says"] for each in told["because"] if each["output"] == "line"]
    if answer.line is None or not answer.window:
        return [each for each in says if " by " in each], []
    coats = answer.coats if answer.need == "required" else 0
    bed = f" under {coats} coat{'s' * (coats > 1)} of wet bed" if coats else ""
    limit = answer.says["risk_limit"]
    head, end = f"{answer.window[2]} by {answer.tool}{bed}: ", f"limit {1.0 if limit is None else limit:.2f}"
    return [(each.startswith(head), each.endswith(end)) for each in says], [(True, True)]


def _because(told: Mapping[str, Any]) -> list[tuple[str, str, Any]]:
    """Return the rules that decided a spot; what keeps a machine off may come from another zone."""
    found = [
        (each["output"], each["rule"], each["value"]) for each in told["because"] if each["output"] != "line"
    ]
    return sorted((each for each in found if each[0] != "machine" or each[2] != "never"), key=str)


def _places(panels: list[Panel], advice: Mapping[str, Any]) -> Iterator[str]:
    written = {place["id"]: place for place in advice["places"]}
    for panel in panels:
        for place in panel.places.values():
            name = f"{panel.stated['id']}/{place.part.id}"
            told = written.pop(name, None)
            if told is None:
                yield f"{name}: not in the advice"
                continue
            for key, pair in _place(told, place).items():
                if pair[0] != pair[1]:
                    yield f"{name} {key}: {pair[0]} and not {pair[1]}"
            yield from _ladders(f"{name} ladder", told["ladder"], _own_ladder(place))
            yield from _ladders(f"{name} recut", told["done"]["recut"], place.recut)
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


def _soft(place: Place) -> bool:
    soft = any(each.says["machine"] == "interface-pad" for each in place.part.spots.values())
    return soft and not place.part.by_hand


def _ladders(name: str, told: Any, steps: list[Step] | None) -> Iterator[str]:
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


def _panels(panels: list[Panel], advice: Mapping[str, Any]) -> Iterator[str]:
    for panel, told in zip(panels, advice["panels"], strict=True):
        name, film, bed = panel.stated["id"], told["film"], told["wet_bed"]
        face = panel.places.get("face")
        yield from _ladders(f"{name} ladder", told["ladder"], (face.steps if face else None) or [])
        pairs = {
            "face": (told["face"], panel.face),
            "hand": (told["hand"], panel.hand),
            "hand_only": (told["hand_only"], panel.hand_only),
            "bed": ((bed["need"], bed["coats"]), panel.bed),
            "bed zones": (set(bed["zones"]), panel.bed_zones if panel.bed[0] != "no" else set()),
            "film most": (film["off_max_um"], panel.film_max_um),
        }
        for key, pair in pairs.items():
            if pair[0] != pair[1]:
                yield f"{name} {key}: {pair[0]} and not {pair[1]}"
        numbers = {
            "bed m2": (bed["area_m2"], panel.bed_m2),
            "film off": (film["off_um"], panel.film_off_um),
            "film left": (film["left_um"], panel.film_left_um),
        }
        for key, (one, other) in numbers.items():
            if not near(one, other, CLOSE, 2e-6):
                yield f"{name} {key}: {one} and not {other}"
        yield from _bands(panel, told["bands"])
        held = sorted(
            (hold["spot"].split("/")[1], hold["kind"])
            for hold in advice["holds"]
            if hold["spot"].startswith(f"{name}/")
        )
        expected = sorted(_holds(panel))
        if held != expected:
            yield f"{name} holds {held} and not {expected}"


def _holds(panel: Panel) -> Iterator[tuple[str, str]]:
    for feature, place in panel.places.items():
        for answer in place.part.spots.values():
            yield from ((feature, kind) for kind in answer.trouble)
        yield from ((feature, kind) for kind in place.trouble)
    if panel.thin:
        yield "face", "too-little-left"


def _bands(panel: Panel, told: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Hold the zones against their depths and the area that patches leave of them."""
    later = panel.standing.later
    rest = shapes.whole(later)
    for patch in later["patch"]:
        rest = rest.difference(shapes.patch_box(later, patch))
    areas = shapes.amounts(rest, panel.zones, 1e-6, 1e6)
    found = {band["zone"]: band["area_m2"] for band in told}
    if set(found) != set(areas) or not all(near(found[zone], areas[zone], CLOSE, 2e-6) for zone in areas):
        yield f"{panel.stated['id']} bands {found} and not {areas}"
    ends = dict(zip(("colour", "fade"), panel.depths, strict=True))
    farthest = max((band["to_mm"] for band in told), default=0.0)
    for band in told:
        end = ends.get(band["zone"])
        if end is not None and not near(band["to_mm"], min(end, farthest), CLOSE, 0.2):
            yield f"{panel.stated['id']} {band['zone']} ends at {band['to_mm']} and not {end}"


def _sums(panels: list[Panel], house: House, advice: Mapping[str, Any]) -> Iterator[str]:
    bed, mixing = (
        house.shop["wet_bed"],
        {key: each["value"] for key, each in house.constants["mixing"].items()},
    )
    worked = [panel for panel in panels if panel.stated["id"] not in advice["work"]["unplanned"]]
    square_metres = sum(panel.bed_m2 * panel.bed[1] for panel in worked)
    ml = (
        1000
        * square_metres
        * bed["dry_um_per_coat"]
        / (1000 * bed["volume_solids"] * bed["transfer_efficiency"])
    )
    asked = (mixing["factor"] * ml + mixing["extra_ml"]) / mixing["step_ml"]
    expected = {
        0 if ml == 0 else max(math.ceil(asked + off) * mixing["step_ml"], mixing["least_ml"])
        for off in (-1e-3, 0.0, 1e-3)
    }
    if advice["mix_ml"] not in expected:
        yield f"mix_ml {advice['mix_ml']} and not {expected}"
