"""Corners that random jobs seldom meet, each written out, against the plain re-computation."""

import json
from pathlib import Path
from typing import Any, Final

import pytest
import tomli_w

from prepadvisor.files import load_house, load_job
from prepadvisor.planning import advise, spot_plans
from prepadvisor.standards import House
from prepadvisor.wording import advice_json
from tests.recompute.comparing import disagreements
from tests.recompute.house import House as PlainHouse
from tests.recompute.house import read_house
from tests.recompute.houses import HOUSES

Words = dict[str, Any]
DOOR: Final[Words] = {
    "id": "d", "kind": "front-door", "role": "blend", "surface": "aged-clear", "length_mm": 1000.0,
    "height_mm": 600.0, "colour_from": ["front"], "colour_mm": 200.0, "fade_mm": 300.0,
}  # fmt: skip
WHOLE: Final = {"role": "repair", "colour_from": None, "colour_mm": None, "fade_mm": None}


def line(name: str, *points: tuple[float, float], kind: str = "edge", **more: Any) -> Words:
    """Return a line of a panel that a machine reaches."""
    return {"id": name, "kind": kind, "path": [list(each) for each in points], "reach": "machine", **more}


def patch(name: str, surface: str, coat: str, at: tuple[float, float] = (0.5, 0.5), **more: Any) -> Words:
    """Return a patch of 150 mm by 100 mm."""
    return {"id": name, "surface": surface, "next": coat, "at": list(at), "size_mm": [150.0, 100.0], **more}


def used(tool: str, grade: str | None = None) -> Words:
    """Return what was used on a surface."""
    return {"tool": tool, **({"grade": grade} if grade else {})}


FRONT, TOP, REAR = (
    line("E1", (0, 0), (0, 1)),
    line("E2", (0, 0), (1, 0)),
    line("E3", (1, 0), (1, 1)),
)
MID: Final = line("L1", (0.1, 0.5), (0.9, 0.5), kind="body-line")
RECESS: Final = line("H1", (0.3, 0.3), (0.4, 0.3), kind="recess", reach="hand")
LONG: Final = line("H2", (0.1, 0.9), (0.9, 0.9), kind="recess", reach="hand")
FAR: Final = line("H9", (0.8, 0.3), (0.9, 0.3), kind="recess", reach="hand")
ALL: Final = [FRONT, TOP, REAR, MID, RECESS, FAR]

CORNERS: Final[dict[str, tuple[str, list[Words]]]] = {
    "filler goes on with the tool that shaped it, if that levels": (
        "medium",
        [
            {**WHOLE, "surface": "filler", "next": "primer", "now": used("da-hard", "P80")},
            {**WHOLE, "id": "e", "surface": "filler", "next": "primer", "now": used("hand-paper", "P80")},
            {**WHOLE, "id": "f", "surface": "filler", "next": "primer"},
            {**WHOLE, "id": "g", "surface": "feather-edge", "next": "primer", "now": used("da", "P180")},
        ],
    ),
    "a patch of each kind that is blocked, and rings round them": (
        "fine",
        [
            {
                "patch": [
                    patch("R1", "filler", "primer", (0.2, 0.3), now=used("block", "P120")),
                    patch("R2", "feather-edge", "primer", (0.6, 0.7), now=used("da", "P180")),
                ],
                "feature": ALL,
            },
            {
                "id": "e",
                "now": used("hand-paper", "P80"),
                "patch": [patch("R1", "filler", "primer", (0.2, 0.3), now=used("block", "P120"))],
                "feature": [FRONT],
            },
        ],
    ),
    "colour that comes in from a patch, and a line through it": (
        "very-fine",
        [
            {
                "colour_from": ["R1"],
                "colour_mm": 60.0,
                "fade_mm": 150.0,
                "feature": [MID, TOP],
                "patch": [patch("R1", "primer-surfacer", "base", now=used("block", "P320"))],
            },
        ],
    ),
    "a line that lies in a patch all the way": (
        "coarse",
        [
            {
                "patch": [patch("R1", "primer-surfacer", "base")],
                "feature": [line("L2", (0.46, 0.5), (0.54, 0.5), kind="body-line"), MID],
            },
        ],
    ),
    "lines that climb with a face that is sanded": (
        "fine",
        [
            {"now": used("da", "P320"), "feature": ALL, "film_um": [300.0]},
            {"id": "e", "now": used("da", "P500"), "feature": ALL},
            {"id": "f", "now": used("da-soft", "P800"), "feature": ALL, "film_um": [100.0, 140.0]},
            {"id": "g", "now": used("hand-pad", "P600"), "feature": ALL},
        ],
    ),
    "film that does not last": (
        "medium",
        [
            {"film_um": [70.0], "feature": ALL},
            *({"id": f"g{at}", "film_um": [um], "feature": ALL} for at, um in enumerate((0.7, 0.75, 0.9))),
            {"id": "e", "film_um": [89.0], "now": used("da", "P240"), "feature": ALL},
            {"id": "f", "film_um": [90.0, 91.0], "now": used("da", "P400"), "feature": ALL},
        ],
    ),
    "scuffs recorded: within, too coarse, too fine, not known, by paper": (
        "fine",
        [
            {
                "feature": [
                    {**FRONT, "done": used("hand-pad", "P800")},
                    {**TOP, "done": used("hand-pad", "P320")},
                    {**REAR, "done": used("hand-pad", "P2000")},
                    {**MID, "done": used("hand-paper", "P800")},
                    {**RECESS, "done": used("hand-pad", "P500")},
                    {**LONG, "done": used("hand-pad", "P800")},
                ]
            },
            {
                "id": "e",
                "feature": [
                    {**FRONT, "done": used("hand-pad")},
                    {**TOP, "done": used("hand-foam", "P80")},
                    {**MID, "done": used("hand-pad", "P600")},
                    {**RECESS, "done": used("hand-pad", "P2000")},
                ],
            },
            {
                "id": "f",
                "now": used("da", "P500"),
                "feature": [
                    {**FRONT, "done": used("hand-pad", "P240")},
                    {**TOP, "done": used("hand-pad", "P1000")},
                    {**RECESS, "done": used("hand-pad", "P1200")},
                ],
            },
        ],
    ),
    "sealer next, all over and on a patch": (
        "very-fine",
        [
            {**WHOLE, "surface": "primer-surfacer", "next": "sealer", "feature": [FRONT, RECESS]},
            {
                "id": "e",
                "feature": [TOP],
                "patch": [
                    patch("R1", "primer-surfacer", "sealer", (0.1, 0.4)),
                    patch("R2", "electrocoat", "sealer", (0.8, 0.4)),
                ],
            },
            {**WHOLE, "id": "f", "surface": "sealer"},
            {**WHOLE, "id": "g", "surface": "electrocoat", "next": "primer"},
        ],
    ),
    "a ground coat under a bed, and two coats": (
        "vapour",
        [
            {"kind": "bonnet", "feature": [FRONT, RECESS, {**RECESS, "id": "H2", "seen": False}]},
            {"id": "e", "kind": "roof", "colour_mm": 0.0, "feature": [RECESS]},
        ],
    ),
    "colour from two sides, fades that meet, mist past the end": (
        "coarse",
        [
            {"colour_from": ["front", "rear"], "colour_mm": 100.0, "fade_mm": 390.0, "feature": ALL},
            {"id": "e", "colour_from": ["top"], "colour_mm": 50.0, "fade_mm": 30.0, "feature": ALL},
            {"id": "f", "colour_from": ["bottom"], "colour_mm": 0.0, "fade_mm": 590.0, "feature": ALL},
        ],
    ),
    "a solid colour, the hand alone, and clear alone": (
        "solid",
        [
            {"feature": [{**each, "reach": "hand"} for each in ALL]},
            {
                "id": "e",
                "role": "clear-only",
                "colour_from": None,
                "colour_mm": None,
                "fade_mm": None,
                "feature": ALL,
            },
            {**WHOLE, "id": "f", "feature": [RECESS, {key: FRONT[key] for key in ("id", "kind", "path")}]},
        ],
    ),
    "plastic, and a seam that runs on": (
        "fine",
        [
            {
                **WHOLE,
                "kind": "front-bumper",
                "surface": "primed-plastic",
                "feature": [FRONT, {**RECESS, "done": used("hand-pad", "P120")}],
            },
            {
                "id": "e",
                "kind": "rear-quarter",
                "feature": [
                    line("S1", (0.9, 0), (0.9, 1), kind="run-on"),
                    FRONT,
                    line("C1", (0.5, 0.2), (0.6, 0.2), kind="cut-out"),
                    line("W1", (0.2, 0.9), (0.6, 0.9), kind="wheel-arch"),
                ],
            },
        ],
    ),
    "small panels of a house with rules of its own": (
        "solid",
        [
            {"length_mm": 700.0, "height_mm": 500.0, "feature": ALL},
            {"id": "e", "kind": "rear-bumper", "feature": ALL},
            {"id": "f", "length_mm": 1400.0, "feature": ALL},
            {"id": "g", "kind": "bonnet", "feature": ALL, "film_um": [84.0]},
        ],
    ),
    "places split where clear alone keys with no finer grade, and film that hand work takes": (
        "medium",
        [
            {"kind": "tailgate", "feature": [*ALL, LONG, {**FRONT, "id": "E9", "done": used("da", "P320")}]},
            {
                "id": "e",
                "kind": "tailgate",
                "now": used("da", "P320"),
                "feature": [
                    {**TOP, "done": used("hand-pad", "P320")},
                    {**LONG, "done": used("hand-pad", "P400")},
                    {**LONG, "id": "H3", "path": [[0.1, 0.8], [0.2, 0.8]]},
                ],
                "patch": [patch("R1", "primer-surfacer", "base", (0.45, 0.4))],
            },
            {
                "id": "f",
                "kind": "sill",
                "feature": [
                    {**MID, "done": used("hand-foam", "P320")},
                    LONG,
                    {**TOP, "done": used("hand-paper", "P1000")},
                ],
            },
            {"id": "g", "kind": "boot-lid", "feature": [*ALL, LONG]},
        ],
    ),
    "places held for each reason": (
        "fine",
        [
            {"kind": kind, "id": kind, "feature": ALL, "length_mm": 900.0}
            for kind in ("pillar", "mirror-cap", "fuel-flap", "roof", "bonnet", "front-wing")
        ],
    ),
    "scuffs on primer that go as deep as the face does": (
        "medium",
        [
            {
                **WHOLE,
                "id": tool,
                "surface": "primer-surfacer",
                "now": used(tool, grade),
                "feature": [
                    {**FRONT, "done": used("hand-paper", "P320")},
                    {**TOP, "done": used("hand-pad", "P400")},
                    {**MID, "done": used("da-hard", "P240")},
                    {**REAR, "done": used("hand-foam", "P500")},
                ],
            }
            for tool, grade in (("da", "P240"), ("block", "P320"), ("hand-paper", "P180"))
        ],
    ),
}

SCANT: Final = """
shelf = ["P80", "P180", "P320", "P500", "P800"]
hand_tool = "hand-paper"
clearing_minutes_per_dm2_max = 0.12
pass_m2_per_minute = 10
interface_pad = false
finishing_tool = "da"
"""

STRICT: Final = """
[standards]
name = "Strict"
version = "1"

[[rule]]
id = "pillars-three-coats"
says = "Three coats on a pillar."
when = { panel = "pillar", zone = "fade" }
set = { wet_bed = "required", bed_coats_min = 3 }
source = "our panels"

[[rule]]
id = "caps-under-a-bed"
says = "A cap is laid wet."
when = { panel = "mirror-cap", zone = "fade" }
set = { wet_bed = "required" }
source = "our panels"

[[rule]]
id = "caps-without-a-bed"
says = "No bed on a cap."
when = { panel = "mirror-cap" }
set = { bed_coats_max = 0 }
source = "our panels"

[[rule]]
id = "doors-powder-last"
says = "Powder ahead of the last pass of a solid colour."
when = { flake = "solid", panel = "front-door", zone = "fade" }
set = { guide_coat = "before-final" }
source = "our panels"

[[rule]]
id = "flaps-key-coarse"
says = "A flap keys with P600."
when = { panel = "fuel-flap" }
set = { finish_finest = "P600" }
source = "our panels"

[[rule]]
id = "roofs-show-all"
says = "A roof shows all."
when = { panel = "roof", zone = "fade" }
set = { risk_limit = 0.03, bed_coats_min = 2 }
source = "our panels"

[[rule]]
id = "bonnets-finest"
says = "P1500 on a bonnet."
when = { panel = "bonnet", zone = "fade" }
set = { finish_coarsest = "P1500", hand_last_coarsest = "P1500" }
source = "our panels"

[[rule]]
id = "wings-by-hand-fine"
says = "Scuff a wing's edges with P1500, by its edge no finer than P1000 ahead of clear alone."
when = { panel = "front-wing", reach = "machine", zone = ["fade", "colour"] }
set = { hand_coarsest = "P1500", risk_limit = 0.12 }
source = "our panels"
"""
"""Few grades, deep hand scratches, quick passes so that what is cut takes the time, rules that collide."""


def job_of(flake: str, panels: list[Words], stages: int) -> Words:
    """Return a job file's words; what a panel does not say it has from the door."""
    stated = [
        {key: value for key, value in {**DOOR, **panel}.items() if value is not None} for panel in panels
    ]
    return {
        "job": {"number": "1"},
        "colour": {"flake": flake, "stages": stages, "tone": "light"},
        "panel": stated,
    }


@pytest.fixture(scope="module", params=(2, 3, "scant"))
def judged(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[int, House, PlainHouse]:
    """Return stages and a house read twice: two in the shipped one, three in one with rules of its own.

    And two in one that holds much.
    """
    if request.param == 2:
        return 2, load_house(), read_house(None)
    own = tmp_path_factory.mktemp("house")
    files = next(each for each in HOUSES if each.rules and each.shop)
    shop, rules, stages = (files.shop, files.rules, 3) if request.param == 3 else (SCANT, STRICT, 2)
    (own / "ours.toml").write_text(rules, encoding="utf-8")
    (own / "shop.toml").write_text(shop, encoding="utf-8")
    return stages, load_house(own), read_house(own)


@pytest.mark.parametrize("corner", CORNERS)
def test_a_corner_is_advised_on_as_recomputed(
    corner: str, judged: tuple[int, House, PlainHouse], tmp_path: Path
) -> None:
    """Every number of the advice and of its work."""
    (flake, panels), (stages, house, plain) = CORNERS[corner], judged
    job = job_of(flake, panels, stages)
    path = tmp_path / "job.toml"
    path.write_text(tomli_w.dumps(job), encoding="utf-8")
    read = load_job(path, house)
    advice = advise(read, house)
    assert disagreements(job, plain, json.loads(advice_json(advice))) == []
    assert {plan.spot.id: plan.spot for plan in spot_plans(read, house)} == {
        spot.id: spot for spot in advice.spots
    }
