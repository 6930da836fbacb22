"""Fourteen kinds of wrong work that a lead found on thirty jobs, each with the guard against it.

What is expected is common practice, no source, unless a test says otherwise.
"""

import itertools
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import (
    RANK,
    Advice,
    CannotCutOut,
    FadesMeet,
    Grade,
    Job,
    MistPastEnd,
    RunsOn,
    Task,
    TrimOff,
)
from prepadvisor.standards import House
from tests.checkoff.shopfloor import Shopfloor, commands

pytestmark = pytest.mark.practice

EDGE: dict[str, Any] = {"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "machine"}
HANDLE: dict[str, Any] = {
    "id": "H1",
    "kind": "recess",
    "path": [[0.3, 0.3], [0.4, 0.3]],
    "reach": "hand",
    "seen": True,
}
RETURN = {"id": "F1", "kind": "flange", "path": [[0.98, 0.1], [0.98, 0.9]], "reach": "hand"}
DOOR: dict[str, Any] = {
    "id": "door", "kind": "front-door", "role": "blend", "surface": "aged-clear",
    "length_mm": 1050, "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400,
    "feature": [EDGE, HANDLE, RETURN],
}  # fmt: skip
WHOLE: dict[str, Any] = {"role": "repair", "colour_from": None, "colour_mm": None, "fade_mm": None}


def job(colour: dict[str, Any] | None = None, **panel: Any) -> Job:
    """Return a job of one door, changed as asked."""
    own = {key: value for key, value in {**DOOR, **panel}.items() if value is not None}
    stated = {"flake": "very-fine", "stages": 2, "tone": "light", **(colour or {})}
    return Job.model_validate({"job": {"number": "1"}, "colour": stated, "panel": [own]})


def at(advice: Advice, place: str, *dos: str) -> list[Task]:
    """Return the tasks at a place, in order."""
    return [task for task in advice.work.tasks if task.place == place and (not dos or task.do in dos)]


@pytest.fixture
def demo(shipped_house: House) -> Callable[[str], Advice]:
    """Advise on a demo job."""
    return lambda name: advise(load_job(demo_jobs_dir() / f"{name}.toml", shipped_house), shipped_house)


def test_01_no_panel_leaves_the_booth_unpainted(demo: Callable[[str], Advice], shipped_house: House) -> None:
    """A panel in full colour beside a fading one, and one that is sealed first."""
    sealed = advise(job(surface="primer-surfacer", next="sealer", **WHOLE), shipped_house)
    for advice in (demo("coarse-silver"), sealed):
        for panel in advice.panels:
            done = [entry.do for entry in advice.work.booth if entry.panel == panel.id]
            assert {"colour", "blend"} & set(done)
            assert done[-1] == "clear"


def test_02_filler_is_cleared_for_primer_and_never_for_colour(demo: Callable[[str], Advice]) -> None:
    """The stage worked now is the patch and the ring its primer laps onto; the door comes after."""
    advice = demo("filler-up-to-primer")
    first = advice.work.stages[0]
    assert (first.id, first.clear) == ("primer", "CLEAR FOR PRIMER")
    now = {task.place.split("/")[-1] for task in advice.work.tasks if task.stage == "primer"}
    assert now == {"right-rear-quarter", "R1", "R1-ring"}
    assert at(advice, "right-rear-quarter/R1-ring", "sand")[0].grade == "P320"


def test_03_powder_and_grit_steps_are_owed_on_faces(shipped_house: House) -> None:
    """Old clear at P320 under very fine flake: each step, and powder before each; leaving one out holds."""
    floor = Shopfloor(job(now={"tool": "da", "grade": "P320"}), shipped_house)
    work = at(floor.advice, "door/face", "powder", "sand")
    assert [task.grade or "powder" for task in work] == [
        "powder",
        "P500",
        "powder",
        "P800",
        "powder",
        "P1000",
    ]
    assert all(task.owed for task in work)
    runs = [run for run in commands(floor.advice) if run[:2] != ("door/face", "guide-coated")]
    assert "door/face" in floor.run(runs).gate().held


def test_04_lines_of_a_primed_panel_share_its_steps_and_are_scuffed_after_them(shipped_house: House) -> None:
    """Its edges stand at P320 too."""
    advice = advise(
        job(surface="primer-surfacer", now={"tool": "block", "grade": "P320"}, **WHOLE), shipped_house
    )
    face = [task.grade for task in at(advice, "door/face", "sand")]
    line = [(task.do, task.grade) for task in at(advice, "door/E1", "sand", "scuff")]
    assert [grade for do, grade in line if do == "sand"] == face
    assert line[-2][0] == "scuff"


def test_05_what_looks_found_stands_in_what_is_found(shipped_house: House) -> None:
    """Rubbed through, then reprinted: the gate has it as found, at its place."""
    floor = Shopfloor(job(), shipped_house).work_through()
    floor.put("door/E1", "inspected", result="cut-through")
    gate = floor.gate().gate
    assert not gate.clear
    assert any(found.place == "door/E1" for found in gate.found)


def test_06_film_counts_what_was_done(shipped_house: House) -> None:
    """Re-cut five times, an edge of old clear has lost more than its 5 µm, and that is found."""
    floor = Shopfloor(job(film_um=[95]), shipped_house).work_through()
    for _ in range(5):
        floor.put("door/E1", "scuffed", tool="hand-pad", grade="P1000")
        floor.put("door/E1", "guide-coated")
        floor.put("door/E1", "sanded", tool="da-soft", grade="P1000")
    floor.put("door/E1", "inspected", result="clear")
    assert any(found.place == "door/E1" for found in floor.gate().gate.found)


def test_07_a_drill_names_only_grades_that_its_panel_may_have(shipped_house: House) -> None:
    """Electrocoat ahead of primer is never told P1000."""
    floor = Shopfloor(job(surface="electrocoat", next="primer", **WHOLE), shipped_house).work_through()
    floor.put("door/face", "inspected", result="lines")
    mend = floor.gate().mend("door/face")
    assert "P320" in mend
    assert not any(grade in mend for grade in ("P500", "P600", "P800", "P1000"))


def test_08_the_lead_decides_is_a_hold(shipped_house: House) -> None:
    """A scuff that cannot be cut out within the film holds, and a finer scuff over it hides nothing."""
    coarse = {**EDGE, "done": {"tool": "hand-paper", "grade": "P80"}}
    advice = advise(job(feature=[coarse]), shipped_house)
    assert [type(hold.fact) for hold in advice.holds] == [CannotCutOut]
    assert not at(advice, "door/E1")


def test_09_a_place_has_one_answer_everywhere(shipped_house: House) -> None:
    """A hand-only return under clear takes the hand grade in use: place, task and gate agree."""
    advice = advise(job(), shipped_house)
    place = next(place for place in advice.places if place.feature == "F1")
    (scuff,) = at(advice, "door/F1", "scuff")
    assert place.finish == scuff.grade == advice.panels[0].hand == "P1000"
    assert scuff.range == ("P800", "P1500")
    ahead = {task.grade for task in advice.work.tasks if task.do == "scuff" and task.place == "door/E1"}
    assert ahead == {"P1000"}


def test_10_minutes_are_those_of_a_shop(demo: Callable[[str], Advice], shipped_house: House) -> None:
    """A door 20 to 40; a tailgate with four edges and a badge by hand far more than 6."""
    door = demo("very-fine-door-and-wing").panels[0]
    assert 20 <= door.minutes <= 40
    edges = [{**EDGE, "id": f"E{n}", "path": path} for n, path in enumerate(
        ([[0, 0], [0, 1]], [[0, 0], [1, 0]], [[1, 0], [1, 1]], [[0, 1], [1, 1]]))]  # fmt: skip
    tailgate = advise(
        job(kind="tailgate", length_mm=1250, height_mm=700, feature=[*edges, HANDLE], **WHOLE), shipped_house
    )
    assert tailgate.minutes >= 20


def test_11_without_an_edge_to_stop_at_it_holds_there_only(shipped_house: House) -> None:
    """The top of a rear quarter that runs into the roof: a hold there, ways out, and work everywhere else."""
    runs_on = {"id": "X1", "kind": "run-on", "path": [[0.2, 0], [0.4, 0]]}
    advice = advise(job(kind="rear-quarter", feature=[EDGE, runs_on], **WHOLE), shipped_house)
    assert {hold.spot.rpartition("/")[0] for hold in advice.holds} == {"door/X1"}
    assert at(advice, "door/face", "sand")
    assert [type(offer.fact) for offer in advice.offers] == [RunsOn]


def test_12_a_missing_grade_holds_where_it_is_missing_and_trim_off_lifts_it(shipped_house: House) -> None:
    """Without P1500 only the hand-only recess is held; with the handle off the DA's P1000 does there."""
    shelf = tuple(grade for grade in shipped_house.shop.shelf if RANK[grade] <= RANK[Grade("P1200")])
    house = replace(shipped_house, shop=shipped_house.shop.model_copy(update={"shelf": shelf}))
    advice = advise(job(), house)
    assert {hold.spot.rpartition("/")[0] for hold in advice.holds} == {"door/H1"}
    assert at(advice, "door/E1", "sand")
    (offer,) = advice.offers
    assert isinstance(offer.fact, TrimOff)
    assert offer.fact.stops == 1


@pytest.mark.parametrize("flake", ["fine", "very-fine", "vapour"])
@pytest.mark.parametrize("surface", ["aged-clear", "primer-surfacer"])
def test_13_a_grade_stands_between_p500_and_p1000(shipped_house: House, flake: str, surface: str) -> None:
    """From fine flake on, on clear and primer."""
    now = {"tool": "da", "grade": "P320"}
    advice = advise(job({"flake": flake}, surface=surface, now=now, **WHOLE), shipped_house)
    grades = [task.grade for task in at(advice, "door/face", "sand")]
    assert ("P500", "P1000") not in list(itertools.pairwise(grades))
    assert "P800" in grades


def test_14_smaller_things_are_told_right(shipped_house: House) -> None:
    """Look before colour, nothing mixed without a bed, mist no wider than it is, fades that meet mid-door."""
    whole = advise(job({"flake": "solid"}, **WHOLE), shipped_house)
    order = [entry.do for entry in whole.work.booth]
    assert order.index("look") < order.index("colour")
    assert whole.mix_ml == 0
    narrow = advise(job(colour_mm=800, fade_mm=120), shipped_house)
    (blend,) = [entry for entry in narrow.work.booth if entry.do == "blend"]
    assert blend.past_mm == pytest.approx(1050 - 920)
    meet = {type(caution) for caution in advise(job(colour_from=["front", "rear"]), shipped_house).cautions}
    assert FadesMeet in meet
    assert MistPastEnd not in meet
    inside = {"id": "L9", "kind": "body-line", "path": [[0.25, 0.5], [0.35, 0.5]], "reach": "machine"}
    patch = {"id": "R1", "surface": "primer-surfacer", "at": [0.3, 0.5], "size_mm": [300, 200]}
    crossing = advise(job(feature=[EDGE, inside], patch=[patch]), shipped_house)
    assert [task.do for task in at(crossing, "door/L9")] == ["look"]
