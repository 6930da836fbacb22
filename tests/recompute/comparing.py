"""Holds the written advice of a job against the plain re-computation, and names every disagreement."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tests.recompute import shapes
from tests.recompute.booth import booth_wrong
from tests.recompute.house import House
from tests.recompute.panels import Panel, planned
from tests.recompute.placed import CLOSE, ladders_wrong, near, places_wrong
from tests.recompute.places import Place
from tests.recompute.remarks import remarks_wrong
from tests.recompute.spots import Answer, Colour, Part
from tests.recompute.tasks import work_wrong
from tests.recompute.troubles import Trouble, behind

LINE_CLOSE = 1e-3
"""Relative: what the line model promises."""
CALLED = {
    "hand-paper": "paper by hand", "hand-pad": "non-woven pad", "hand-foam": "foam pad", "block": "block",
    "da-hard": "DA, hard pad", "da": "DA", "da-soft": "DA, interface pad",
}  # fmt: skip
"""What a tool is called on a card."""


def disagreements(job: Mapping[str, Any], house: House, advice: Mapping[str, Any]) -> list[str]:
    """Return every point in which an advice differs from the re-computation."""
    colour = Colour(job["colour"], house)
    primed: dict[str, set[str]] = {}
    for check in job.get("check", []):
        primed.setdefault(check["panel"], set()).add(check["feature"])
    panels = [planned(stated, colour, primed.get(stated["id"], ())) for stated in job["panel"]]
    found = list(_spots(panels, house, advice))
    found += places_wrong(panels, colour, advice)
    found += _panels(panels, house, advice)
    found += _sums(panels, house, advice)
    found += work_wrong(panels, house, advice)
    found += remarks_wrong(job, panels, colour, advice)
    found += _summary(job, colour, advice["job"])
    found += booth_wrong(panels, colour, advice)
    return found


def _summary(job: Mapping[str, Any], colour: Colour, told: Mapping[str, Any]) -> Iterator[str]:
    head, stated = job["job"], job["colour"]
    expected = {
        "number": head["number"],
        "units": head.get("units", "metric"),
        "vehicle": head.get("vehicle", ""),
        "by": head.get("by", ""),
        "date": head["date"].isoformat() if "date" in head else None,
        "flake": colour.flake,
        "flake_stated": stated.get("flake", "unknown"),
        "stages": colour.stages,
        "tone": colour.tone,
    }
    if wrong := {key: told[key] for key, value in expected.items() if told[key] != value}:
        yield f"job {wrong} and not {expected}"


def _spots(panels: list[Panel], house: House, advice: Mapping[str, Any]) -> Iterator[str]:
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
        for key, (told, expected) in _spot(written[name], place, zone, answer, house).items():
            yield f"{name} {key}: {told} and not {expected}"


def _spot(
    told: Mapping[str, Any], place: Place, zone: str, answer: Answer, house: House
) -> dict[str, tuple[Any, Any]]:
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
        "because": (_because(told), sorted({*says["because"], *_kept_off(part, zone)}, key=str)),
    }
    pairs["line's reason"] = _line_reason(told, answer)
    wrong = {key: pair for key, pair in pairs.items() if pair[0] != pair[1]}
    length = told["length_mm"]
    if not near(length, amount if part.is_line else None, CLOSE, 0.05):
        wrong["length_mm"] = (length, amount)
    area = amount * house.shop["edge_strip_mm"] / 1e6 if part.is_line else amount
    if not near(told["area_m2"], area, CLOSE, 2e-6):
        wrong["area_m2"] = (told["area_m2"], area)
    line = told["line"] or {"arcsec": None, "risk": None}
    expected = answer.line or (None, None)
    for key, value in zip(("arcsec", "risk"), expected, strict=True):
        if not near(line[key], value, LINE_CLOSE, 1e-7):
            wrong[key] = (line[key], value)
    return wrong


def _line_reason(told: Mapping[str, Any], answer: Answer) -> tuple[Any, Any]:
    """Return what the card says that the estimate was made for: grade, tool, coats, limit."""
    own = [each for each in told["because"] if each["output"] == "line"]
    says = [each["says"] for each in own]
    if any((each["rule"], each["layer"], each["line"]) != ("line-model", "model", 0) for each in own):
        return own, "of the model"
    if answer.silent:
        return [(each["value"], each["source"]) for each in own], [(answer.silent, "model")]
    if answer.line is None or not answer.window:
        return says, []
    coats = answer.coats if answer.need == "required" else 0
    bed = f" under {coats} coat{'s' * (coats > 1)} of wet bed" if coats else ""
    limit = answer.says["risk_limit"]
    if [each["value"] for each in own] != [round(told["line"]["risk"], 4)] or own[0]["source"] != "estimate":
        return own, round(answer.line.risk, 4)
    head = f"{answer.window[2]} with {CALLED[answer.tool]}{bed}: "
    end = f"limit {1.0 if limit is None else limit:.2f}"
    return [(each.startswith(head), each.endswith(end)) for each in says], [(True, True)]


def _because(told: Mapping[str, Any]) -> list[tuple[str, str, Any]]:
    """Return the rules that decided a spot, as told."""
    found = [
        (each["output"], each["rule"], each["value"]) for each in told["because"] if each["output"] != "line"
    ]
    return sorted(found, key=str)


def _kept_off(part: Part, zone: str) -> set[tuple[str, str, Any]]:
    """Return what keeps a machine off a spot: its own rules, else those of the place's other zones."""
    own = part.kept_off.get(zone) or frozenset().union(*part.kept_off.values())
    return {("machine", rule, "never") for rule in own}


def _tool(panel: Panel) -> str | None:
    """Return the tool of the last pass over the first place that goes with the face."""
    return next(
        (
            place.tool
            for place in panel.places.values()
            if place.own and place.part.kind != "patch" and not place.part.by_hand
        ),
        None,
    )


def _panels(panels: list[Panel], house: House, advice: Mapping[str, Any]) -> Iterator[str]:
    for panel, told in zip(panels, advice["panels"], strict=True):
        name, film, bed = panel.stated["id"], told["film"], told["wet_bed"]
        face = panel.places.get("face")
        yield from ladders_wrong(f"{name} ladder", told["ladder"], (face.steps if face else None) or [])
        pairs = {
            "face": (told["face"], panel.face),
            "hand": (told["hand"], panel.hand),
            "hand_only": (told["hand_only"], panel.hand_only),
            "bed": ((bed["need"], bed["coats"]), panel.bed),
            "bed zones": (set(bed["zones"]), panel.bed_zones if panel.bed[0] != "no" else set()),
            "film most": (film["off_max_um"], panel.film_max_um),
            "reading": (film["reading_um"], min(panel.stated.get("film_um") or [None])),
            "tool": (told["tool"], _tool(panel)),
            "kind": (told["kind"], panel.stated["kind"]),
            "role": (told["role"], panel.stated["role"]),
            "seen as": (told["seen_as"], house.kinds(panel.stated["kind"])[-1]),
            "name": (told["name"], house.outlines[panel.stated["kind"]]["name"]),
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
        yield from _held(panel, [hold for hold in advice["holds"] if hold["spot"].startswith(f"{name}/")])


def _held(panel: Panel, told: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Hold the reasons to hold places, and where each stands, against those found."""
    name = panel.stated["id"]
    written = [
        (each["spot"], Trouble(each["kind"], each["facts"], frozenset(each["rules"]), tuple(each["lacks"])))
        for each in told
    ]
    expected = list(_holds(panel))
    for each in told:
        if len(set(each["rules"])) < len(each["rules"]):
            yield f"{each['spot']} names a rule twice: {each['rules']}"
    if sorted(map(_named, written)) != sorted(map(_named, expected)):
        yield f"{name} holds {written} and not {expected}"
        return
    for (where, one), (_, other) in zip(
        sorted(written, key=_named), sorted(expected, key=_named), strict=True
    ):
        facts = {key: value for key, value in one.facts.items() if key != "kind"}
        same = set(facts) == set(other.facts) and all(
            near(value, other.facts[key], LINE_CLOSE)
            if isinstance(value, float)
            else value == other.facts[key]
            for key, value in facts.items()
        )
        if not same or one.lacks != other.lacks:
            yield f"{where} held: {one} and not {other}"


def _named(hold: tuple[str, Trouble]) -> tuple[str, str, list[str]]:
    return hold[0], hold[1].kind, sorted(hold[1].rules)


def _holds(panel: Panel) -> Iterator[tuple[str, Trouble]]:
    """Yield each spot's own troubles, and those of a place at its first spot; a keyed ring has none."""
    for feature, place in panel.places.items():
        where = f"{panel.stated['id']}/{feature}"
        spots = place.part.spots
        for zone, answer in spots.items():
            yield from ((f"{where}/{zone}", each) for each in answer.trouble)
        first = where if place.by_shop else f"{where}/{next(iter(spots))}"
        yield from ((first, each) for each in place.trouble)
        if feature == "face" and panel.thin:
            rules = frozenset().union(*(behind(each.says, "film_left_min_um") for each in spots.values()))
            facts = {"left_um": panel.film_left_um, "least_um": panel.film_least_um}
            yield first, Trouble("too-little-left", facts, rules)


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
    starts = dict(zip(("colour", "fade", "clear"), (0.0, *panel.depths), strict=True))
    if not later.get("colour_from") and farthest:
        yield f"{panel.stated['id']} is {farthest} mm deep without a source"
    for band in told:
        if not near(band["from_mm"], starts[band["zone"]], CLOSE, 0.05):
            yield f"{panel.stated['id']} {band['zone']} starts at {band['from_mm']}"
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
