"""What an advice must tell beside its answers.

What was not stated, and how places depart from their panel.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from tests.recompute import shapes
from tests.recompute.house import finer
from tests.recompute.panels import Panel
from tests.recompute.places import known_grade
from tests.recompute.priming import WHOLE
from tests.recompute.spots import FLAKES, Colour

OPPOSITE: Final = (("front", "rear"), ("top", "bottom"))
TO_THE_END_MM: Final = 0.05
"""A mist that ends just where the panel does is not past it."""


def remarks_wrong(
    job: Mapping[str, Any], panels: Sequence[Panel], colour: Colour, advice: Mapping[str, Any]
) -> Iterator[str]:
    """Yield where the kinds of cautions and exceptions differ from what the job leaves open."""
    told = Counter(advice["cautions_kinds"])
    expected = Counter(_unstated(job, colour))
    for panel in panels:
        expected.update(_of_panel(panel, colour))
    expected.update(_by_rules(panels, advice))
    expected.update(_after_primer(panels, advice))
    if told != expected:
        yield f"cautions {dict(told - expected)} too many, {dict(expected - told)} too few"
    for panel, written in zip(panels, advice["panels"], strict=True):
        kinds = sorted(_exceptions(panel))
        if sorted(written["exceptions_kinds"]) != kinds:
            yield f"{panel.stated['id']} exceptions {written['exceptions_kinds']} and not {kinds}"


def _unstated(job: Mapping[str, Any], colour: Colour) -> Iterator[str]:
    stated, entry = job["colour"], colour.entry
    filled = {key for key, value in entry.items() if colour.sealed and value != "unknown"}
    said = filled | {key for key, value in stated.items() if value != "unknown"}
    if colour.word:
        yield ("from-book" if colour.sealed else "book-unsealed") if entry else "book-missing"
    for key in ("flake", "stages", "tone", "flake_um", "tilt_deg", "log_sd"):
        if key in stated and key in entry and "unknown" not in (stated[key], entry[key]) and (
            stated[key] != entry[key]
        ):  # fmt: skip
            yield "book-differs"
    if "flake" not in said:
        yield "flake-unknown"
    if "stages" not in said:
        yield "stages-unstated"
    elif colour.stages == 3 and stated.get("flake", "unknown") not in ("very-fine", "vapour"):
        yield "three-stages"
    if "tone" not in said:
        yield "tone-unstated"
    size = min((each["flake_um"] for each in (stated, entry) if "flake_um" in each), default=None)
    at = FLAKES.index(colour.flake)
    classes = colour.house.constants["flake"]
    if size is not None and any(
        size <= classes[name]["d50_um"]["value"]
        for name in FLAKES[at + 1 :]
        if name in classes and name != "vapour"
    ):
        yield "measured-finer"
    if any("now" not in patch for panel in job["panel"] for patch in panel.get("patch", [])):
        yield "patch-now-unstated"


def _of_panel(panel: Panel, colour: Colour) -> Iterator[str]:
    stated, house = panel.stated, colour.house
    lines = stated.get("feature") or house.outlines[stated["kind"]]["feature"]
    if any("reach" not in line for line in lines):
        yield "reach-unstated"
    if any("seen" not in line for line in lines if line["kind"] in ("flange", "cut-out")):
        yield "seen-unstated"
    ids = {line["id"] for line in lines} | {(line["kind"], line["name"]) for line in lines if "name" in line}
    shipped = () if stated.get("feature") else house.shipped_lines.get(stated["kind"], ())
    if any(line["id"] not in ids and (line["kind"], line.get("name")) not in ids for line in shipped):
        yield "lines-gone"
    for was in (stated.get("now"), *(patch.get("now") for patch in stated.get("patch", []))):
        if was and known_grade(was, house) is None:
            yield "sanded-unknown"
    if stated["role"] == "clear-only" or "colour_mm" not in stated:
        return
    if shapes.zones(stated, house.shop["mist_mm"] - TO_THE_END_MM)["clear"].area < 1e-3:
        meets = any(set(pair) <= set(stated["colour_from"]) for pair in OPPOSITE)
        yield "fades-meet" if meets else "mist-past-end"
    if stated["fade_mm"] < house.shop["fade_least_mm"] and colour.flake != "solid":
        yield "narrow-fade"


def _by_rules(panels: Sequence[Panel], advice: Mapping[str, Any]) -> Iterator[str]:
    texts = {
        text
        for panel in panels
        if panel.stated["id"] not in advice["work"]["unplanned"]
        for place in panel.places.values()
        if not place.by_shop
        for spot in place.part.spots.values()
        for text in spot.says["cautions"]
    }
    return ("rule-caution" for _ in texts)


def _after_primer(panels: Sequence[Panel], advice: Mapping[str, Any]) -> Iterator[str]:
    """Yield once each reason that will hold what is worked up to primer now, on panels that are worked."""
    found = set()
    for panel in panels:
        if panel.primer is None or panel.stated["id"] in advice["work"]["unplanned"]:
            continue
        waiting = panel.standing.waiting
        for feature, place in panel.paint.places.items():
            now = panel.primer.places.get(feature)
            waits = WHOLE in waiting or bool(waiting & {feature, place.part.ring_of})
            if waits and now is not None and not now.held:
                troubles = [
                    *place.trouble,
                    *(one for spot in place.part.spots.values() for one in spot.trouble),
                ]
                found |= {(each.kind, tuple(sorted(each.facts.items()))) for each in troubles}
    return ("held-after-primer" for _ in found)


def _exceptions(panel: Panel) -> Iterator[str]:
    """Name each place of the paint stage that departs from its panel; those under clear alone in one."""
    now = panel.primer if "panel" in panel.standing.waiting and panel.primer else panel.paint
    only_clear = False
    for place in now.places.values():
        part = place.part
        if place.finish is None or place.own is None or place.by_shop:
            continue
        if part.by_hand and set(part.amounts) == {"clear"}:
            only_clear = True
        elif place.split:
            yield "split-place"
        else:
            wanted = now.hand_colour if part.by_hand else place.own if part.kind == "patch" else now.face
            if wanted and place.finish != wanted and finer(wanted, place.finish):
                yield "key-allows-no-finer"
    if only_clear:
        yield "hand-only-in-clear"
