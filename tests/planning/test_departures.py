"""Where a place departs from its panel's one answer: split over zones, kept coarser, or under clear alone."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, Final

import pytest

from prepadvisor.cases import zoning
from prepadvisor.planning import BothWays, advise
from prepadvisor.planning.materials import bed_area_m2
from prepadvisor.records import Grade, HandOnlyInClear, Job, KeyAllowsNoFiner, NoHandGrade, SplitPlace, Zone
from prepadvisor.standards import House
from prepadvisor.standards.engine import Engine, Rule, box_of

JobOf = Callable[..., Job]
LINE: Final = {"id": "B1", "kind": "body-line", "path": [[0.1, 0.5], [0.95, 0.5]], "reach": "machine"}
FAR: Final = {"id": "H1", "kind": "recess", "path": [[0.85, 0.5], [0.95, 0.5]], "reach": "hand"}
P800, P1000 = Grade("P800"), Grade("P1000")


def ruled(house: House, *rules: tuple[Mapping[str, list[str]], Any], drop: str = "") -> House:
    """Return a house with rules of its own, and without those that set one output."""
    engine = house.engine
    kept = [rule for rule in engine.rules if drop not in rule.set]
    own = [
        Rule(f"own-{at}", "Says.", box_of(where), sets, "practice") for at, (where, sets) in enumerate(rules)
    ]
    return replace(house, engine=Engine([*kept, *own], engine.impossibles, used=engine.used))


def test_a_split_place_gets_powder_once_and_each_zone_its_grade(job_of: JobOf, shipped_house: House) -> None:
    """Clear that keys up to P800 only lies beside a fade that needs P1000: two passes over one powder."""
    house = ruled(shipped_house, ({"zone": ["clear"]}, {"finish_finest": P800}))
    advice = advise(job_of(feature=[LINE]), house)
    own = [(task.do, task.grade) for task in advice.work.tasks if task.place == "door/B1"]
    assert own == [("scuff", P1000), ("powder", None), ("sand", P1000), ("sand", P800), ("look", None)]
    grades: tuple[tuple[Zone, Grade], ...] = (("colour", P1000), ("fade", P1000), ("clear", P800))
    assert advice.panels[0].exceptions == (SplitPlace("door/face", grades), SplitPlace("door/B1", grades))


def test_a_line_that_keys_no_finer_keeps_its_grade_and_is_named(job_of: JobOf, shipped_house: House) -> None:
    """The face needs P1200, the line takes P1000 at the finest."""
    house = ruled(
        shipped_house,
        ({"feature": ["face"]}, {"finish_coarsest": Grade("P1200")}),
        ({"feature": ["body-line"]}, {"finish_finest": P1000}),
    )
    advice = advise(job_of(feature=[LINE]), house)
    assert {place.id: place.finish for place in advice.places} == {"door/face": "P1200", "door/B1": P1000}
    assert advice.panels[0].exceptions == (KeyAllowsNoFiner("door/B1", P1000),)


@pytest.mark.parametrize(("finest", "grade"), [("P600", "P400"), ("P800", "P800"), ("P2000", "P800")])
def test_hand_only_work_under_clear_keys_no_finer_than_the_rules_allow(
    job_of: JobOf, shipped_house: House, finest: str, grade: str
) -> None:
    """P800 keys for clear by hand; where that is finer than allowed, it keeps its coarsest, P400."""
    recess = {"zone": ["clear"], "feature": ["recess"]}
    sets = {"hand_last_coarsest": Grade("P400"), "finish_finest": Grade(finest)}
    advice = advise(job_of(feature=[FAR]), ruled(shipped_house, (recess, sets), drop="hand_last_coarsest"))
    assert {place.id: place.finish for place in advice.places}["door/H1"] == grade
    assert advice.panels[0].exceptions == (HandOnlyInClear(("door/H1",), Grade(grade)),)


def test_a_scuff_that_one_zone_has_no_grade_for_holds_the_line(job_of: JobOf, shipped_house: House) -> None:
    """The fade asks for P3000 by hand, the clear for P1000; the shelf ends at P2000."""
    house = ruled(
        shipped_house,
        ({"zone": ["colour", "fade"]}, {"hand_coarsest": Grade("P3000")}),
        ({"zone": ["clear"]}, {"hand_coarsest": P1000}),
        drop="hand_coarsest",
    )
    advice = advise(job_of(feature=[LINE]), house)
    (hold,) = advice.holds
    assert hold.spot.startswith("door/B1/")
    assert (hold.fact, hold.lacks) == (NoHandGrade(P1000, Grade("P3000")), ("P3000",))
    assert [place.hand_coarsest for place in advice.places] == [None, None]
    assert not [task for task in advice.work.tasks if task.place == "door/B1"]


def test_a_panel_is_called_as_its_outline_is(job_of: JobOf, shipped_house: House) -> None:
    """Or by its kind where the house has no such outline."""
    door = shipped_house.outlines["front-door"]
    named = {**shipped_house.outlines, "front-door": door.model_copy(update={"name": "door, front"})}
    for outlines, name in ((named, "door, front"), ({}, "front door")):
        advice = advise(job_of(), replace(shipped_house, outlines=outlines))
        assert advice.panels[0].name == name


def test_a_bed_in_no_zone_has_no_area(job_of: JobOf) -> None:
    """In colour alone it is the 150 mm of a door 640 mm high."""
    (panel,) = job_of().panel
    zones = zoning(panel, 150.0)
    assert bed_area_m2(zones, (), (), 50.0) == 0.0
    assert bed_area_m2(zones, ("colour",), (), 50.0) == pytest.approx(0.096)


def test_two_standards_are_compared_without_seeking_offers(job_of: JobOf, shipped_house: House) -> None:
    """Offers plan panels again, and a comparison tells none; nor where one of the two is dated."""
    assert advise(job_of(), shipped_house).offers
    both = BothWays(shipped_house, replace(shipped_house))
    assert [advice.offers for advice in both.advise(job_of())] == [(), ()]
    both._dated = True
    assert [advice.offers for advice in both.advise(job_of())] == [(), ()]
