"""What to do where a look found something, by place: never a grade that is forbidden there."""

import random
from pathlib import Path

import pytest

from prepadvisor.records import Task, is_finer
from prepadvisor.records.gate import Drill, LeadDecides
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, Shopfloor
from tests.checkoff.test_any_job import jobs

E2, H1, FACE = f"{DOOR}/E2", f"{DOOR}/H1", f"{DOOR}/face"
PATCH = "left-front-wing/R1"


def mended(floor: Shopfloor, where: str, result: str = "lines") -> str:
    """Return the mend of a finding."""
    return floor.put(where, "inspected", result=result).gate().mend(where)


@pytest.mark.practice
def test_lines_on_an_edge_powder_and_the_same_grade_then_the_lead(floor: Shopfloor) -> None:
    """P800, one grade back, is forbidden in this flake, so after the same grade the lead is asked."""
    says = mended(floor, E2)
    assert says.startswith("guide coat, P1000 with DA")
    assert "P800" not in says.partition("no wet bed")[0]


@pytest.mark.practice
def test_lines_in_a_hand_only_place_have_no_powder(floor: Shopfloor) -> None:
    """Powder stays in a recess as specks."""
    says = mended(floor, H1)
    assert "scuff by hand with P1500" in says
    assert "guide coat" not in says


@pytest.mark.practice
def test_lines_on_a_primer_patch_go_back_to_the_step_before(floor: Shopfloor) -> None:
    """Its own grit steps stand below: found twice, the one before the last is taken again."""
    assert "still there: guide coat, P800 with DA" in mended(floor, PATCH)
    again = mended(floor, PATCH)
    assert again.startswith("guide coat, P800 with DA")
    assert "no wet bed goes over it here" in again


@pytest.mark.practice
def test_gloss_is_worked_from_the_start(floor: Shopfloor) -> None:
    """Unscuffed gloss peels."""
    assert "gloss peels: scuff by hand with P1000" in mended(floor, E2, "gloss")


@pytest.mark.practice
@pytest.mark.parametrize(("result", "says"), [("low", "fill the low spot"), ("pinhole", "stop it up")])
def test_fill_goes_back_to_its_first_grade(floor: Shopfloor, result: str, says: str) -> None:
    """A low spot is filled again and blocked from the start."""
    words = mended(floor, PATCH, result)
    assert says in words
    assert "P500" in words


@pytest.mark.practice
def test_a_bed_is_no_way_out_over_a_coarse_scuff(floor: Shopfloor) -> None:
    """From fine flake on no wet bed covers a scuff coarser than P800."""
    floor.put(H1, "scuffed", tool="hand-pad", grade="P600")
    assert "none covers a scuff coarser than P800" in mended(floor, H1)


def _forbidden(drill: Drill, chain: list[Task]) -> bool:
    ranges = [task.range for task in chain if task.range is not None]
    return any(
        ask.grade is not None
        and not any(not is_finer(low, ask.grade) and not is_finer(ask.grade, high) for low, high in ranges)
        for ask in (*drill.first, *drill.then)
    )


def test_no_drill_of_any_job_names_a_grade_that_is_forbidden_there(
    tmp_path: Path, shipped_house: House
) -> None:
    """For random jobs, each place, whatever is seen, twice."""
    found, count = [], 0
    for seed, job in jobs(range(25), tmp_path, shipped_house):
        floor = Shopfloor(job, shipped_house).work_through()
        looked = [task for task in floor.advice.work.tasks if task.do == "look"]
        for look in random.Random(seed).sample(looked, min(3, len(looked))):
            one = floor.copy()
            if look.stage != one.advice.work.stages[0].id:
                continue
            one.put(look.place, "inspected", result="lines").put(look.place, "inspected", result="lines")
            chain = [task for task in one.advice.work.tasks if task.place == look.place]
            for hold in one.gate().gate.found:
                assert isinstance(hold.mend, Drill | LeadDecides)
                if isinstance(hold.mend, Drill) and hold.place == look.place:
                    count += 1
                    found += [seed] if _forbidden(hold.mend, chain) else []
    assert count > 20
    assert found == []
