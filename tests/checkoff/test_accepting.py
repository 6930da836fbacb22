"""What the lead may let stand, and who he is. Common practice, no source."""

from dataclasses import replace

import pytest

from prepadvisor.records import Job
from prepadvisor.records.gate import Accepted, NotAccepted
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, Shopfloor

pytestmark = pytest.mark.practice

E2 = f"{DOOR}/E2"
REASON = "hidden under the trim"


def medium(job: Job, house: House, leads: tuple[str, ...] = ()) -> Shopfloor:
    """Return a worked job in a medium flake, whose top edge was then scuffed too coarse by K. M."""
    shop = house.shop.model_copy(update={"leads": leads})
    floor = Shopfloor(job, replace(house, shop=shop))
    floor.with_job(flake="medium").work_through()
    floor.put(E2, "scuffed", tool="hand-pad", grade="P600")
    floor.put(E2, "guide-coated").put(E2, "sanded", tool="da-soft", grade="P800")
    return floor.put(E2, "inspected", result="clear")


def ended(floor: Shopfloor) -> Shopfloor:
    """Look at the face again, and wipe."""
    floor.put(f"{DOOR}/face", "inspected", result="clear")
    return floor.put(f"{DOOR}/panel", "wiped").put("left-front-wing/panel", "wiped")


@pytest.mark.parametrize(
    ("leads", "by", "clear"),
    [
        ((), "J. B.", True),
        ((), "K. M.", False),
        ((), "km", False),
        (("K. M.",), "KM", True),
        (("K. M.",), "J. B.", False),
        (("L. D.", "K. M."), "L. D.", True),
        (("L. D.", "K. M."), "K. M.", False),
        (("L. D.", "K. M."), "J. B.", False),
    ],
)
def test_who_accepts(
    fresh_job: Job, shipped_house: House, leads: tuple[str, ...], by: str, clear: bool
) -> None:
    """No leads: anyone but who did the work. One: he, his own too. More: one of them, never his own."""
    floor = medium(fresh_job, shipped_house, leads)
    assert E2 in floor.copy().gate().held
    said = ended(floor.put(E2, "accepted", by=by, note=REASON)).gate()
    assert said.clear is clear, [said.why(place) for place in said.held]
    assert ("his own work, as the shop's only lead" in said.told) is (clear and by == "KM")


def test_an_acceptance_does_not_reach_what_is_logged_after_it(fresh_job: Job, shipped_house: House) -> None:
    """What comes later is judged anew."""
    floor = medium(fresh_job, shipped_house).put(E2, "accepted", by="J. B.", note=REASON)
    floor.put(E2, "scuffed", tool="hand-pad", grade="P500")
    assert "P500 is coarser" in ended(floor).gate().why(E2)


def test_an_acceptance_names_what_it_accepts(fresh_job: Job, shipped_house: House) -> None:
    """By its id; the newest finding where it names none."""
    floor = medium(fresh_job, shipped_house)
    coarse = next(check for check in floor.log if check.grade == "P600")
    floor.put(E2, "inspected", result="lines").put(E2, "accepted", by="J. B.", note=REASON, of=coarse.id)
    said = ended(floor).gate()
    assert said.kinds(E2) == ["saw-something"]
    assert ended(floor.put(E2, "accepted", by="J. B.", note=REASON)).gate().clear


def test_a_changed_job_asks_the_lead_again(fresh_job: Job, shipped_house: House) -> None:
    """He accepted something else."""
    floor = medium(fresh_job, shipped_house).put(E2, "accepted", by="J. B.", note=REASON)
    said = ended(floor.with_panel(colour_mm=200)).gate()
    assert "P600" in said.why(E2)
    assert "the lead must accept it again" in said.told


@pytest.mark.parametrize(("by", "clear"), [("J. B.", True), ("K. M.", False)])
def test_what_the_lead_decides_holds_until_he_did(
    fresh_job: Job, shipped_house: House, by: str, clear: bool
) -> None:
    """A border without an edge is no place to end a coat, unless the lead writes that it may."""
    shop = shipped_house.shop.model_copy(update={"leads": ("J. B.", "L. D.")})
    floor = Shopfloor(fresh_job, replace(shipped_house, shop=shop)).with_line("E3", kind="run-on")
    floor.work_through()
    assert floor.gate().held == {f"{DOOR}/E3"}
    floor.put(f"{DOOR}/E3", "accepted", by=by, note="the clear is run out in the sail panel")
    assert floor.gate().clear is clear


def test_from_fine_flake_on_the_cut_that_is_accepted_decides_not_the_one_after_it(floor: Shopfloor) -> None:
    """P600 named is too coarse though P1000 went over it; lines over P1000 may stay."""
    floor.put(E2, "scuffed", tool="hand-pad", grade="P600")
    coarse = floor.log[-1].id
    floor.put(E2, "scuffed", tool="hand-pad", grade="P1000")
    for of, result, why in ((coarse, "", "too-coarse"), ("", "lines", None)):
        one = floor.copy()
        if result:
            one.put(E2, "inspected", result=result)
        one.put(E2, "accepted", by="J. B.", note=REASON, of=of)
        told = [each for each in one.gate().gate.told if isinstance(each, Accepted | NotAccepted)]
        assert [each.why if isinstance(each, NotAccepted) else None for each in told] == [why]
