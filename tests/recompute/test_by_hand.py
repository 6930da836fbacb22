"""Three jobs worked by hand on paper with the shipped numbers; each number of the advice beside its sum.

Sums: rate r = 10 (grain/18.3)^0.65 µm·dm²/min; a step = the longer of area/0.3 m² a min and 100 · m² ·
depth/r, and 0.5 for the disc; a line 30 mm wide, its disc the face's; by hand 1.5 min a metre (arch and
flange 2, recess 3.5), 1 at least; cleaning 2 + 3 a m²; powder 1 a panel and step; a look 0.5; the wipe 2.
"""

import json
from pathlib import Path
from typing import Any, Final

import pytest

from prepadvisor.files import load_job
from prepadvisor.planning import advise
from prepadvisor.standards import House
from prepadvisor.wording import advice_json

VERY_FINE_DOOR: Final = """
[job]
number = "A"
[colour]
flake = "very-fine"
stages = 2
tone = "light"
[[panel]]
id = "p"
kind = "front-door"
role = "blend"
surface = "aged-clear"
length_mm = 1000
height_mm = 1200
colour_from = ["front"]
colour_mm = 100
fade_mm = 300
film_um = [120, 112]
[[panel.feature]]
id = "E1"
kind = "edge"
path = [[0.0, 0.0], [0.0, 1.0]]
reach = "machine"
[[panel.feature]]
id = "L1"
kind = "body-line"
path = [[0.0, 0.5], [1.0, 0.5]]
reach = "machine"
[[panel.feature]]
id = "H1"
kind = "recess"
path = [[0.3, 0.2], [0.4, 0.2]]
reach = "hand"
"""
"""From the front 100 mm colour, 300 mm fade and 150 mm mist of 1000: 0.12, 0.54 and 0.54 m²."""

FILLED_WING: Final = """
[job]
number = "B"
[colour]
flake = "solid"
stages = 2
tone = "dark"
[[panel]]
id = "p"
kind = "front-wing"
role = "repair"
surface = "aged-clear"
length_mm = 1000
height_mm = 600
[[panel.patch]]
id = "R1"
surface = "filler"
next = "primer"
at = [0.5, 0.5]
size_mm = [200, 100]
[[panel.feature]]
id = "A1"
kind = "wheel-arch"
path = [[0.2, 1.0], [0.8, 1.0]]
reach = "machine"
"""
"""A patch of 0.02 m² grows by 50 mm all round to 300 × 200; its ring is 360 × 260 less that."""

COARSE_QUARTER: Final = """
[job]
number = "C"
[colour]
flake = "coarse"
stages = 2
tone = "mid"
[[panel]]
id = "p"
kind = "rear-quarter"
role = "blend"
surface = "cured-clear"
length_mm = 2000
height_mm = 1000
colour_from = ["front"]
colour_mm = 400
fade_mm = 600
now = { tool = "da", grade = "P400" }
[[panel.feature]]
id = "E1"
kind = "edge"
path = [[0.0, 0.0], [1.0, 0.0]]
reach = "machine"
done = { tool = "hand-pad", grade = "P320" }
[[panel.feature]]
id = "F1"
kind = "flange"
path = [[0.9, 0.1], [0.9, 0.6]]
reach = "hand"
"""
"""Sanded with P400 before; the edge scuffed with P320, too coarse for P600 ahead of the DA."""


def _advice(text: str, folder: Path, house: House) -> dict[str, Any]:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    found: dict[str, Any] = json.loads(advice_json(advise(load_job(path, house), house)))
    assert found["holds"] == []
    return found


def _by_id(entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {entry["id"]: entry for entry in entries}


def _minutes(advice: dict[str, Any]) -> dict[str, float]:
    return {task["id"]: task["minutes"] for task in advice["work"]["tasks"] if task["minutes"]}


def _close(values: dict[str, float]) -> Any:
    return pytest.approx(values, rel=1e-3)


@pytest.fixture
def door(tmp_path: Path, shipped_house: House) -> dict[str, Any]:
    """Return the advice on the very fine door."""
    return _advice(VERY_FINE_DOOR, tmp_path, shipped_house)


def test_the_door_lies_in_its_zones(door: dict[str, Any]) -> None:
    """1.2 m high: 0.1 · 1.2, 0.45 · 1.2, 0.45 · 1.2 m²; the body line 100 + 450 + 450 mm."""
    spots = _by_id(door["spots"])
    areas = {zone: spots[f"p/face/{zone}"]["area_m2"] for zone in ("colour", "fade", "clear")}
    lengths = {zone: spots[f"p/L1/{zone}"]["length_mm"] for zone in ("colour", "fade", "clear")}
    assert areas == _close({"colour": 0.12, "fade": 0.54, "clear": 0.54})
    assert lengths == _close({"colour": 100.0, "fade": 450.0, "clear": 450.0})
    assert spots["p/E1/colour"]["length_mm"] == pytest.approx(1200)


def test_the_door_is_finished_as_practice_says(door: dict[str, Any]) -> None:
    """Very fine: P1000 by DA, P1000 by hand ahead of it, P1500 by hand alone, two coats of bed for that."""
    (panel,) = door["panels"]
    assert (panel["face"], panel["hand"], panel["hand_only"]) == ("P1000", "P1000", "P1500")
    bed = _by_id(door["spots"])["p/H1/fade"]["wet_bed"]
    assert (bed["need"], bed["coats"]) == ("required", 2)


def test_the_door_is_mixed_for(door: dict[str, Any]) -> None:
    """Fade 100 to 550 mm and 100 of overlap: 0.55 · 1.2 = 0.66 m².

    0.66 · 8 µm · 2 coats / (0.25 · 0.65) = 64.98 ml; twice that and 75 = 204.97, so 250 ml.
    """
    assert door["panels"][0]["wet_bed"]["area_m2"] == pytest.approx(0.66)
    assert door["mix_ml"] == 250
    assert [each["ml"] for each in door["work"]["booth"] if each["do"] == "bed"] == [65]


def test_the_door_takes_its_minutes(door: dict[str, Any]) -> None:
    """Face 1.2/0.3 + 0.5; E1 3.6 dm² · 1.281 µm / 10; L1 3 dm² · 1.281 / 10; gloss under the face.

    No powder there.
    """
    assert _minutes(door) == _close(
        {
            "p.clean.1": 2 + 3 * 1.2,
            "p/H1.scuff.1": 1.0,  # 0.1 m · 3.5 is less
            "p/E1.scuff.1": 1.8,  # 1.2 m · 1.5
            "p/L1.scuff.1": 1.5,  # 1 m · 1.5
            "p/E1.powder.1": 1.0,  # one panel in one step: L1 has its powder with it
            "p/face.sand.1": 4.5,
            "p/E1.sand.1": 0.46116,
            "p/L1.sand.1": 0.3843,
            "p/face.look.1": 0.5,
            "p/E1.look.1": 0.5,
            "p/L1.look.1": 0.5,
            "p/H1.look.1": 0.5,
            "p.wipe.1": 2.0,
        }
    )
    assert door["minutes"] == pytest.approx(20.24546)


def test_the_door_loses_its_film_and_discs(door: dict[str, Any]) -> None:
    """0.039 · 18.3 = 0.7137 µm of 112; lines 0.07 · 18.3 = 1.281 µm; 120 + 3.6 + 3 dm² are 3 discs of 50."""
    film, tasks = door["panels"][0]["film"], _by_id(door["work"]["tasks"])
    assert (film["reading_um"], film["off_max_um"]) == (112, 10)
    assert (film["off_um"], film["left_um"]) == pytest.approx((0.7137, 111.2863))
    assert tasks["p/E1.sand.1"]["film_off_um"] == pytest.approx(1.281)
    assert tasks["p/H1.scuff.1"]["film_off_um"] == pytest.approx(0.07 * 12.6)
    assert door["discs"] == {"P1000": 3}


@pytest.fixture
def wing(tmp_path: Path, shipped_house: House) -> dict[str, Any]:
    """Return the advice on the filled wing."""
    return _advice(FILLED_WING, tmp_path, shipped_house)


def test_the_wing_goes_to_primer_and_on_to_paint(wing: dict[str, Any]) -> None:
    """Filler by block P80, P180, P320; then primer blocked with P320, P500, finished P600.

    The ring P320, P500, P800.
    """
    sanded: dict[str, list[str]] = {}
    for task in wing["work"]["tasks"]:
        if task["do"] == "sand":
            sanded.setdefault(f"{task['place']} {task['stage']}", []).append(
                f"{task['tool']} {task['grade']}"
            )
    assert sanded == {
        "p/R1 primer": ["block P80", "block P180", "block P320"],
        "p/R1-ring primer": ["da P320"],
        "p/R1 paint": ["block P320", "da P500", "da-soft P600"],
        "p/R1-ring paint": ["da P500", "da-soft P800"],
        "p/face paint": ["da-soft P800"],
        "p/A1 paint": ["da-soft P800"],
    }
    assert [stage["clear"] for stage in wing["work"]["stages"]] == ["CLEAR FOR PRIMER", "CLEAR TO MASK"]


def test_the_wing_takes_its_minutes(wing: dict[str, Any]) -> None:
    """Filler and primer are cut 2.4 times faster than clear.

    Grooves by block 0.08, by DA 0.05 of the grain.
    """
    assert _minutes(wing) == _close(
        {
            "p.clean.1": 2 + 3 * 0.6,
            **{f"p/R1.powder.{number}": 1.0 for number in range(1, 7)},
            "p/R1.sand.1": 0.02 / 0.3 + 0.5,
            "p/R1.sand.2": 2 * 16.08 / (26.51 * 2.4) + 0.5,  # r of P180: 10 · 4.481^0.65
            "p/R1.sand.3": 2 * 6.56 / (18.256 * 2.4) + 0.5,  # r of P320: 10 · 2.5246^0.65
            "p/R1-ring.sand.1": 0.0336 / 0.3 + 0.5,
            "p/R1.sand.4": 0.06 / 0.3 + 0.5,
            "p/R1.sand.5": 6 * 3.696 / (13.849 * 2.4) + 0.5,  # r of P500: 10 · 1.6503^0.65
            "p/R1.sand.6": 6 * 1.51 / (12.502 * 2.4) + 0.5,  # r of P600: 10 · 1.4098^0.65
            "p/R1-ring.sand.2": 3.36 * 2.31 / 13.849 + 0.5,
            "p/R1-ring.sand.3": 3.36 * 1.51 / 11.205 + 0.5,  # r of P800: 10 · 1.1913^0.65
            "p/A1.scuff.1": 0.6 * 2,
            "p/face.sand.1": 0.5064 / 0.3 + 0.5,
            "p/A1.sand.1": 1.8 * 0.07 * 30.2 / 11.205,
            **{
                f"p/{place}.look.{n}": 0.5
                for place, n in (("R1", 1), ("R1", 2), ("R1-ring", 1), ("R1-ring", 2))
            },
            "p/face.look.1": 0.5,
            "p/A1.look.1": 0.5,
            "p.wipe.1": 2.0,
            "p.wipe.2": 2.0,
        }
    )
    assert wing["minutes"] == pytest.approx(28.1936, abs=1e-3)


def test_the_wing_has_its_areas_and_discs(wing: dict[str, Any]) -> None:
    """0.6 − 0.36 · 0.26 = 0.5064 m² of face; P800 on face, ring and arch.

    50.64 + 3.36 + 1.8 dm², two discs.
    """
    spots = _by_id(wing["spots"])
    assert spots["p/face/colour"]["area_m2"] == pytest.approx(0.5064)
    assert spots["p/R1/colour"]["area_m2"] == pytest.approx(0.02)
    assert wing["discs"] == {"P80": 1, "P180": 1, "P320": 1, "P500": 1, "P600": 1, "P800": 2}
    assert wing["mix_ml"] == 0


@pytest.fixture
def quarter(tmp_path: Path, shipped_house: House) -> dict[str, Any]:
    """Return the advice on the coarse quarter."""
    return _advice(COARSE_QUARTER, tmp_path, shipped_house)


def test_the_quarter_climbs_from_what_is_there(quarter: dict[str, Any]) -> None:
    """P400 to P1000 is a ratio of 0.52.

    By P800, 200 dm² · 1.75 / 11.205 + 0.5, then 200 · 1.09 / 10 + 0.5 min.
    """
    (panel,) = quarter["panels"]
    steps = [(step["tool"], step["grade"], step["guide_coat"]) for step in panel["ladder"]]
    assert steps == [("da", "P800", False), ("da-soft", "P1000", False)]
    assert [step["minutes"] for step in panel["ladder"]] == pytest.approx([31.737, 22.3], rel=1e-3)
    assert panel["film"]["off_um"] == pytest.approx(0.05 * 35 + 0.05 * 21.8)


def test_the_quarters_edge_is_cut_again(quarter: dict[str, Any]) -> None:
    """0.07 · 46.2 = 3.234 µm of P320: by P500, 6 dm² · 3.234 / 13.849 + 0.5 min.

    Then scuffed P800, sanded P1000.
    """
    tasks, edge = _by_id(quarter["work"]["tasks"]), _by_id(quarter["places"])["p/E1"]
    assert edge["done"]["verdict"] == "too-coarse"
    assert [step["grade"] for step in edge["done"]["recut"]] == ["P500", "P1000"]
    assert tasks["p/E1.sand.1"]["minutes"] == pytest.approx(1.9011, rel=1e-3)
    assert tasks["p/E1.sand.1"]["film_off_um"] == pytest.approx(3.234)
    assert tasks["p/E1.scuff.1"]["grade"] == "P800"
    assert tasks["p/E1.scuff.1"]["minutes"] == pytest.approx(2 * 1.5)
    assert tasks["p/E1.sand.2"]["minutes"] == pytest.approx(6 * 0.07 * 21.8 / 10)


def test_the_quarter_is_mixed_for_and_has_its_discs(quarter: dict[str, Any]) -> None:
    """Fade 400 to 1150 mm and 100 of overlap: 0.85 m², one coat: 41.85 ml; twice and 75 is 158.7, so 200.

    P800 on 200 dm² is 4 discs, P1000 on 206 five.
    """
    assert quarter["panels"][0]["wet_bed"]["area_m2"] == pytest.approx(0.85)
    assert quarter["mix_ml"] == 200
    assert quarter["discs"] == {"P500": 1, "P800": 4, "P1000": 5}
    assert quarter["minutes"] == pytest.approx(72.353, abs=2e-3)


TWO_PATCHES: Final = """
[job]
number = "D"
[colour]
flake = "solid"
stages = 2
tone = "dark"
[[panel]]
id = "p"
kind = "front-wing"
role = "repair"
surface = "aged-clear"
length_mm = 1000
height_mm = 600
[[panel.patch]]
id = "R1"
surface = "filler"
next = "primer"
at = [0.45, 0.5]
size_mm = [100, 100]
[[panel.patch]]
id = "R2"
surface = "filler"
next = "primer"
at = [0.67, 0.5]
size_mm = [100, 100]
[[panel.feature]]
id = "A1"
kind = "wheel-arch"
path = [[0.2, 1.0], [0.8, 1.0]]
reach = "machine"
"""
"""Grown to 350 … 550 and 570 … 770 by 200 … 400 mm; their rings reach 30 mm farther and over one another."""


def test_rings_that_meet_count_once(tmp_path: Path, shipped_house: House) -> None:
    """Both outer borders together 480 · 260 = 124,800 mm²; the face has the rest of 600,000.

    R1's ring: 260² − 200² and 10 · 200 of R2's patch. R2's: 260² − 200², and of R1's border 40 · 260 less
    those 10 · 200 that are patch already.
    """
    advice = _advice(TWO_PATCHES, tmp_path, shipped_house)
    assert _by_id(advice["spots"])["p/face/colour"]["area_m2"] == pytest.approx(0.4752)
    minutes = _minutes(advice)
    assert minutes["p/R1-ring.sand.1"] == pytest.approx(0.0256 / 0.3 + 0.5)
    assert minutes["p/R2-ring.sand.1"] == pytest.approx(0.0192 / 0.3 + 0.5)
