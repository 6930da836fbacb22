"""Replay: the difference of two advices, the tally, and a second advice skipped only where it is equal."""

from dataclasses import replace
from typing import Any

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import (
    LARGEST_MOST,
    WAYS,
    BothWays,
    ChangedBy,
    JobDifference,
    PlaceChange,
    Tally,
    advise,
    difference,
    money,
    ways_of,
)
from prepadvisor.records import Grade, Place, Rates, WetBedAdvice
from prepadvisor.standards import House
from prepadvisor.standards.engine import Engine, Rule, box_of

PLACE = Place(
    id="p/E1",
    panel="p",
    feature="E1",
    kind="edge",
    number=1,
    reach="machine",
    seen=True,
    spots=("p/E1/fade",),
    finish=Grade("P1000"),
    tool="da-soft",
    hand_coarsest=Grade("P800"),
    guide_coat="after-hand",
    minutes=4.0,
)
CAUSE = ChangedBy("stricter", "draft.toml", 3, "new")
JOBS = sorted(path.name for path in demo_jobs_dir().glob("*.toml"))


def draft_of(house: House, *rules: Rule) -> House:
    """Return a house with more rules."""
    engine = house.engine
    more = Engine([*engine.rules, *rules], engine.impossibles, used=engine.used)
    return replace(house, engine=more)


FADE = box_of({"flake": ("fine", "very-fine"), "zone": ("fade",)})
STRICTER = Rule("stricter", "Says.", FADE, {"finish_coarsest": Grade("P1200")}, "practice")
IDLE = Rule("idle", "Says.", box_of({"flake": ("fine",)}), {"guide_coat": "no"}, "practice")


@pytest.mark.parametrize(
    ("changes", "ways"),
    [
        ({"finish": "P1200"}, ("finer",)),
        ({"finish": "P800"}, ("coarser",)),
        ({"finish": None}, ("held",)),
        ({"hand_coarsest": "P1000"}, ("hand finer",)),
        ({"hand_coarsest": None}, ("hand coarser",)),
        ({"wet_bed": WetBedAdvice(need="advised")}, ("wet bed more",)),
        ({"guide_coat": "no"}, ("guide coat less",)),
        ({"minutes": 5.0}, ("minutes more",)),
        ({"minutes": 4.0 + 1e-9}, ()),
        ({"tool": "da"}, ("tool",)),
        ({"finish": "P1200", "minutes": 3.0}, ("finer", "minutes less")),
        ({}, ()),
    ],
    ids=str,
)
def test_a_place_changes_in_these_ways(changes: dict[str, Any], ways: tuple[str, ...]) -> None:
    """Which way follows from what the place had and has."""
    assert ways_of(PLACE, PLACE._replace(**changes)) == ways


def test_a_held_place_with_a_finish_again_is_released() -> None:
    """Neither finer nor coarser: it had no grade before."""
    assert ways_of(PLACE._replace(finish=None), PLACE) == ("released",)


def test_every_way_has_words() -> None:
    """Nothing is counted that cannot be told."""
    assert set(ways_of(PLACE, PLACE._replace(finish=Grade("P1200")))) <= set(WAYS)


@pytest.mark.parametrize("name", JOBS)
def test_both_ways_is_the_same_as_two_single_runs(name: str, shipped_house: House) -> None:
    """For every demo job, whether the draft touches it or not."""
    draft = draft_of(shipped_house, STRICTER, IDLE)
    job = load_job(demo_jobs_dir() / name, shipped_house)
    before, after = BothWays(shipped_house, draft).advise(job)

    assert difference(before, after) == difference(advise(job, shipped_house), advise(job, draft))


def test_other_shop_numbers_change_a_job_though_all_answers_are_alike(shipped_house: House) -> None:
    """Equal answers are not enough where the shop differs."""
    slower = replace(shipped_house, shop=shipped_house.shop.model_copy(update={"disc_minutes": 9.0}))
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    found = difference(*BothWays(shipped_house, slower).advise(job))
    assert found.minutes[1] > found.minutes[0]


def test_a_rule_that_changes_no_answer_spares_the_second_advice(shipped_house: House) -> None:
    """The advice is one and the same object."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    before, after = BothWays(shipped_house, draft_of(shipped_house, IDLE)).advise(job)
    assert before is after


def some_difference(places: int, minutes: float) -> JobDifference:
    """Return a difference with so many changed places."""
    changes = tuple(PlaceChange(f"p/{n}", ("finer",), PLACE, PLACE, (CAUSE,)) for n in range(places))
    return JobDifference(10, changes, (5.0, 5.0 + minutes), ({Grade("P800"): 1}, {}))


def test_the_sum_of_parts_is_the_sum_of_all() -> None:
    """In whatever order and share two processes count."""
    differences = [(f"job {n:03}", some_difference(n % 7, n % 3)) for n in range(60)]
    whole, one, other = Tally(), Tally(), Tally()
    for place, (name, each) in enumerate(differences):
        whole.add(name, each)
        (one if place % 2 else other).add(name, each)
    one.merge(other)
    assert one == whole


def test_only_the_ten_largest_are_kept_by_name() -> None:
    """Most places first, then most minutes, so that memory stays flat."""
    tally = Tally()
    for number in range(50):
        tally.add(f"job {number:03}", some_difference(number, 0.0))
    assert [each.places for each in tally.largest] == list(range(49, 49 - LARGEST_MOST, -1))


def test_a_change_names_the_rule_behind_it_with_its_line(shipped_house: House) -> None:
    """Every changed place is put down to the draft's rule, and to no rule of the base."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    rule = STRICTER._replace(file="draft.toml", line=3)
    found = difference(*BothWays(shipped_house, draft_of(shipped_house, rule)).advise(job))
    finer = [change for change in found.changes if "finer" in change.ways]
    assert finer
    assert {cause for change in finer for cause in change.causes} >= {CAUSE}


def test_a_hold_is_no_minutes_saved(shipped_house: House) -> None:
    """A job with a place that only one of the two holds is summed apart."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    stop = Rule("stop", "Stop.", FADE, {"holds": ("Ask.",)}, "x", layer="ours", file="d.toml", line=9)
    found = difference(*BothWays(shipped_house, draft_of(shipped_house, stop)).advise(job))
    tally = Tally()
    tally.add("job", found)
    assert found.is_held_otherwise
    assert (tally.jobs_held, tally.sums.minutes) == (1, (0.0, 0.0))
    assert tally.held.minutes == found.minutes
    assert tally.causes[ChangedBy("stop", "d.toml", 9, "new")].ways["held"] > 0


def test_money_is_time_material_and_discs_at_the_shops_rates(shipped_house: House) -> None:
    """Worked by hand: 30 minutes at 60 an hour, half a litre at 40, three discs at 2."""
    advice = advise(load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house), shipped_house)
    advice = advice._replace(minutes=30.0, mix_ml=500, discs={Grade("P800"): 1, Grade("P1000"): 2})
    rates = Rates(labour_per_hour=60, wet_bed_per_litre=40, per_disc=2)
    assert money(advice, rates) == pytest.approx(30 + 20 + 6)
