"""The verdict on a scuff as done, and its re-cut."""

from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.planning import advise
from prepadvisor.records import Advice, BedWay, DoneAdvice, Grade, Place, TooCoarse, TooMuchFilm
from prepadvisor.standards import House

AdviseOn = Callable[..., Advice]
FindPlace = Callable[[Advice, str], Place]


@pytest.fixture
def done(advise_on: AdviseOn, place: FindPlace) -> Callable[..., DoneAdvice]:
    """Judge one scuff on a line that a DA reaches, or that hand alone does; the door has no clear zone."""

    def judged(flake: str, grade: str | None, *, tool: str = "hand-pad", by_hand: bool = False) -> DoneAdvice:
        kind, reach = ("recess", "hand") if by_hand else ("edge", "machine")
        scuff = {"tool": tool, "grade": grade} if grade else {"tool": tool}
        line = {"id": "X", "kind": kind, "path": [[0.2, 0], [0.4, 0]], "reach": reach, "done": scuff}
        return place(advise_on({"flake": flake}, feature=[line], fade_mm=850), "X").done

    return judged


@pytest.mark.parametrize(
    ("flake", "grade", "verdict"),
    [
        ("very-fine", "P1000", "within"),
        ("very-fine", "P2000", "within"),
        ("very-fine", "P800", "too-coarse"),
        ("very-fine", "P600", "too-coarse"),
        ("fine", "P800", "within"),
        ("fine", "P600", "too-coarse"),
        ("solid", "P500", "within"),
        ("solid", "P400", "too-coarse"),
    ],
)
def test_ahead_of_a_da_only_the_hand_limit_judges(
    done: Callable[..., DoneAdvice], flake: str, grade: str, verdict: str
) -> None:
    """However fine, it is keyed by the DA that follows."""
    assert done(flake, grade).verdict == verdict


@pytest.mark.parametrize(
    ("grade", "verdict"), [("P1200", "too-coarse"), ("P1500", "within"), ("P2000", "too-fine")]
)
def test_hand_as_last_touch_is_judged_by_the_range(
    done: Callable[..., DoneAdvice], grade: str, verdict: str
) -> None:
    """Too fine does not key."""
    assert done("very-fine", grade, by_hand=True).verdict == verdict


def test_paper_cuts_deeper_than_a_pad_of_its_grade(done: Callable[..., DoneAdvice]) -> None:
    """P500 by paper is too deep for the pass that clears P500 by pad: k is 0.09 against 0.07."""
    assert done("solid", "P500").verdict == "within"
    assert done("solid", "P500", tool="hand-paper").verdict == "too-coarse"


def test_without_a_grade_it_is_not_recorded(done: Callable[..., DoneAdvice]) -> None:
    """Unknown is never taken as fine enough."""
    assert done("very-fine", None).verdict == "not-recorded"


def test_too_coarse_gets_its_recut_with_guide_coat_first(done: Callable[..., DoneAdvice]) -> None:
    """Grades, guide coat and minutes come before any talk of a wet bed."""
    judged = done("very-fine", "P400")
    assert judged.recut is not None
    assert judged.recut[-1].grade == "P1000"
    assert all(step.guide_coat for step in judged.recut)


@pytest.mark.parametrize("flake", ["fine", "very-fine", "vapour"])
def test_a_wet_bed_never_saves_a_scuff_coarser_than_p800_from_fine_on(
    done: Callable[..., DoneAdvice], flake: str
) -> None:
    """Three coats over P600 lines is dangerous advice."""
    assert done(flake, Grade("P600")).fact == TooCoarse(Grade("P600"), "never")


def test_a_pad_known_by_colour_stands_for_the_coarse_end_of_its_range(
    job_of: Callable[..., object], shipped_house: House, place: FindPlace
) -> None:
    """A pad without a grade is read from the shop file, else it is not recorded."""
    from dataclasses import replace

    from prepadvisor.records import Job

    line = {
        "id": "X", "kind": "edge", "path": [[0.2, 0], [0.4, 0]], "reach": "machine",
        "done": {"tool": "hand-pad", "pad": "grey"},
    }  # fmt: skip
    job = job_of(feature=[line])
    assert isinstance(job, Job)
    shop = shipped_house.shop.model_copy(update={"pads": {"grey": "P600"}})
    assert place(advise(job, shipped_house), "X").done.verdict == "not-recorded"
    assert place(advise(job, replace(shipped_house, shop=shop)), "X").done.verdict == "too-coarse"


@pytest.mark.practice
@pytest.mark.parametrize(
    ("flake", "path", "way"),
    [
        ("medium", [[0.2, 0], [1, 0]], "lead"),
        ("medium", [[0.2, 0], [0.4, 0]], "lead"),
        ("medium", [[0.8, 0], [1, 0]], "none"),
        ("solid", [[0.2, 0], [1, 0]], "none"),
        ("fine", [[0.2, 0], [1, 0]], "never"),
        ("fine", [[0.8, 0], [1, 0]], "none"),
    ],
)
def test_a_bed_may_be_the_leads_way_where_any_zone_of_the_line_has_one(
    advise_on: AdviseOn, place: FindPlace, flake: str, path: list[list[float]], way: BedWay
) -> None:
    """A P400 scuff: under a medium flake in the fade; under clear alone or a solid colour none is laid."""
    scuff = {"tool": "hand-pad", "grade": "P400"}
    line = {"id": "X", "kind": "edge", "path": path, "reach": "machine", "done": scuff}
    assert place(advise_on({"flake": flake}, feature=[line]), "X").done.fact == TooCoarse(Grade("P400"), way)


FIVE_UM = 5.0
"""What the design lets a line lose, design values of section 8: practice."""


@pytest.mark.practice
@pytest.mark.parametrize("flake", ["solid", "medium", "fine", "very-fine", "vapour"])
def test_the_work_at_a_line_never_cuts_more_than_may_come_off(advise_on: AdviseOn, flake: str) -> None:
    """The scuff that is laid on anew after a re-cut counts: P320 cut by P500, then P600 by hand, is 5.04."""
    scuffs = [
        (tool, grade)
        for tool in ("hand-pad", "hand-paper", "hand-foam", "da")
        for grade in ("P240", "P320", "P400", "P600")
    ]
    lines = [
        {
            "id": f"{tool}-{grade}", "kind": "edge", "path": [[0.2, 0], [0.4, 0]], "reach": "machine",
            "done": {"tool": tool, "grade": grade},
        }
        for tool, grade in scuffs
    ]  # fmt: skip
    advice = advise_on({"flake": flake}, feature=lines)
    held = {hold.spot.split("/")[1] for hold in advice.holds}
    for tool, grade in scuffs:
        place = f"door/{tool}-{grade}"
        off = sum(task.film_off_um or 0.0 for task in advice.work.tasks if task.place == place)
        assert off <= FIVE_UM
        assert bool(off) is (f"{tool}-{grade}" not in held)


@pytest.mark.parametrize("most_um", [1.2, 1.4])
def test_what_only_the_hand_reaches_keeps_to_its_film_too(
    job_of: Callable[..., object], most_um: float, tmp_path: Path
) -> None:
    """P1500 by pad on gloss cuts 0.07 x 12.6 = 0.88 um, P1000 0.07 x 18.3 = 1.28: held where 1.2 may go."""
    from prepadvisor.files import load_house
    from prepadvisor.records import Job

    (tmp_path / "ours.toml").write_text(
        '[standards]\nname = "Ours"\nversion = "1"\n[[rule]]\nid = "ours"\nsays = "Thin."\n'
        f'when = {{ feature = "recess" }}\nset = {{ film_off_max_um = {most_um} }}\nsource = "our panels"\n',
        encoding="utf-8",
    )
    recess = {"id": "H", "kind": "recess", "path": [[0.2, 0.2], [0.3, 0.2]], "reach": "hand"}
    job = job_of({"flake": "medium"}, feature=[recess], fade_mm=850)
    assert isinstance(job, Job)
    advice = advise(job, load_house(tmp_path))
    held = [hold.fact for hold in advice.holds if hold.spot.startswith("door/H/")]
    assert held == ([TooMuchFilm(None, Grade("P1000"), 0.07 * 18.3, 1.2)] if most_um < 1.28 else [])
