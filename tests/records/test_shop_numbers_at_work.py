"""Numbers of shop and constants at work that the jobs worked by hand do not meet, each with its sum."""

import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.cards import write_card
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.planning.ladder import rates_of
from prepadvisor.records import Grade
from prepadvisor.standards import House
from prepadvisor.wording import advice_json
from tests.checkoff.shopfloor import Shopfloor

HEAD = '[job]\nnumber = "1"\n[colour]\nflake = "{flake}"\nstages = 2\ntone = "dark"\n'
WING = """[[panel]]
id = "p"
kind = "front-wing"
role = "repair"
surface = "aged-clear"
length_mm = 1000
height_mm = 1000
"""
BLEND = WING.replace("repair", "blend") + 'colour_from = ["front"]\ncolour_mm = 100\nfade_mm = {fade}\n'
LINE = """[[panel.feature]]
id = "{name}"
kind = "{kind}"
path = [[{at}, 0.0], [{at}, 1.0]]
reach = "{reach}"
"""
PATCH = """[[panel.patch]]
id = "R1"
surface = "feather-edge"
next = "primer"
at = [0.5, 0.5]
size_mm = [200, 100]
"""


def advice_on(text: str, folder: Path, house: House) -> dict[str, Any]:
    """Return the advice on a job as JSON has it."""
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    found: dict[str, Any] = json.loads(advice_json(advise(load_job(path, house), house)))
    return found


def minutes(advice: dict[str, Any]) -> dict[str, float]:
    """Return the minutes of every task."""
    return {task["id"]: task["minutes"] for task in advice["work"]["tasks"]}


def test_a_metre_by_hand_takes_its_minutes(tmp_path: Path, shipped_house: House) -> None:
    """A recess 3.5, a cut-out 3, a flange and an arch 2, an edge and a body line 1.5 (practice)."""
    kinds = {"recess": 3.5, "cut-out": 3, "flange": 2, "wheel-arch": 2, "edge": 1.5, "body-line": 1.5}
    lines = "".join(
        LINE.format(name=f"L{number}", kind=kind, at=0.1 * (number + 1), reach="hand")
        for number, kind in enumerate(kinds)
    )
    found = minutes(advice_on(HEAD.format(flake="solid") + WING + lines, tmp_path, shipped_house))
    assert [found[f"p/L{number}.scuff.1"] for number in range(6)] == pytest.approx([*kinds.values()])


def test_a_feather_edge_is_cut_open_with_p180_and_half_as_fast_again_as_clear(
    tmp_path: Path, shipped_house: House
) -> None:
    """2 dm² in one pass; then 0.08 · 82 µm of P180 by P320, r = 18.256 · 1.5, and a disc each."""
    found = advice_on(HEAD.format(flake="solid") + WING + PATCH, tmp_path, shipped_house)
    sanded = [task for task in found["work"]["tasks"] if task["id"].startswith("p/R1.sand")][:2]
    assert [(task["tool"], task["grade"]) for task in sanded] == [("block", "P180"), ("block", "P320")]
    assert [task["minutes"] for task in sanded] == pytest.approx(
        [0.02 / 0.3 + 0.5, 2 * 0.08 * 82 / (18.256 * 1.5) + 0.5], rel=1e-3
    )


@pytest.mark.parametrize(("fade", "is_narrow"), [(199, True), (200, False)])
def test_a_fade_of_less_than_200_mm_is_told(
    fade: int, tmp_path: Path, shipped_house: House, *, is_narrow: bool
) -> None:
    """The narrowest that hides the change of colour."""
    found = advice_on(HEAD.format(flake="fine") + BLEND.format(fade=fade), tmp_path, shipped_house)
    assert any("200 mm" in caution for caution in found["cautions"]) == is_narrow


@pytest.mark.parametrize(
    ("tool", "grade", "verdict"),
    [("hand-pad", "P500", "within"), ("hand-paper", "P600", "too-coarse"), ("hand-paper", "P800", "within")],
)
def test_a_scuff_may_cost_the_last_pass_no_more_than_its_minutes(
    tmp_path: Path, shipped_house: House, tool: str, grade: str, verdict: str
) -> None:
    """Solid, P800 last, r = 11.205: by pad 0.07 · 30.2 µm is 0.189 min a dm², by paper 0.09 · 25.8 is 0.207.

    The most is 0.19; P800 by paper is 0.175.
    """
    done = f'done = {{ tool = "{tool}", grade = "{grade}" }}\n'
    line = LINE.format(name="E1", kind="edge", at=0.0, reach="machine")
    job = HEAD.format(flake="solid") + WING + line + done
    found = advice_on(job, tmp_path, shipped_house)
    (place,) = (each for each in found["places"] if each["id"] == "p/E1")
    assert found["panels"][0]["face"] == "P800"
    assert place["done"]["verdict"] == verdict


def test_a_grain_cuts_no_faster_above_100_um(shipped_house: House) -> None:
    """P180 is 82 µm, P150 100, P120 125, P80 201 (FEPA 43); 10 · (82/18.3)^0.65, 10 · (100/18.3)^0.65."""
    rate = rates_of(shipped_house.constants, shipped_house.shop).rate_um
    assert rate[Grade("P1000")] == pytest.approx(10.0)
    assert rate[Grade("P180")] == pytest.approx(26.51, rel=1e-3)
    assert rate[Grade("P150")] == pytest.approx(30.16, rel=1e-3)
    assert rate[Grade("P120")] == rate[Grade("P80")] == rate[Grade("P150")]


def test_the_least_that_is_mixed_is_150_ml(tmp_path: Path, shipped_house: House) -> None:
    """A bed over 0.3 m x 0.2 m takes some ml: twice that and 75 is less."""
    small = BLEND.replace("= 1000\nheight_mm = 1000", "= 700\nheight_mm = 100").format(fade=200)
    bed = LINE.format(name="H1", kind="recess", at=0.2, reach="hand")
    found = advice_on(HEAD.format(flake="fine") + small + bed, tmp_path, shipped_house)
    assert found["panels"][0]["wet_bed"]["need"] == "required"
    assert found["mix_ml"] == 150


def test_twice_what_is_computed_and_75_ml_are_mixed(tmp_path: Path, shipped_house: House) -> None:
    """Fade 100 to 650 mm and 100 of overlap over 1.9 m: 1.235 m², 8 µm / (0.25 · 0.65): 60.8 ml a coat.

    Twice that and 75 is 196.6, up to the next 50.
    """
    tall = BLEND.replace("height_mm = 1000", "height_mm = 1900").format(fade=400)
    bed = LINE.format(name="H1", kind="recess", at=0.2, reach="hand")
    found = advice_on(HEAD.format(flake="fine") + tall + bed, tmp_path, shipped_house)
    (panel,) = found["panels"]
    assert panel["wet_bed"]["coats"] == 1
    assert panel["wet_bed"]["area_m2"] == pytest.approx(1.235)
    assert found["mix_ml"] == 200


def test_masking_takes_ten_minutes_a_panel(shipped_house: House) -> None:
    """Two panels, 20 minutes, told beside the time of the work."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    card = str(write_card(job, advise(job, shipped_house), shipped_house, to="text"))
    assert "mask 20 min" in " ".join(card.split())


def test_a_wipe_counts_for_a_day_and_a_look_for_four(shipped_house: House) -> None:
    """What was clear is not after 24 hours, for want of a wipe; after 96 for want of looks too."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    floor = Shopfloor(job.model_copy(update={"check": ()}), shipped_house).work_through()
    kinds = {
        hours: {hold.fact.kind for hold in floor.gate(dt.timedelta(hours=hours)).gate.holds}
        for hours in (23.5, 24.5, 94.9, 97)
    }
    assert kinds == {23.5: set(), 24.5: {"wipe-old"}, 94.9: {"wipe-old"}, 97: {"wipe-old", "look-old"}}
