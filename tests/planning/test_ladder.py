"""Grit steps: brute force over every subset of the shelf, and what shops do."""

from itertools import combinations, pairwise
from typing import Any, Final

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from prepadvisor.planning import TIE, Climb, WorkRates, rates_of
from prepadvisor.planning.ladder import clears, ladder
from prepadvisor.records import DS50_UM, RANK, Grade, LadderStep, Tool
from prepadvisor.standards import House
from prepadvisor.surface import step_minutes
from tests.recompute import climbing
from tests.recompute.house import read_house

SHELF = tuple(map(Grade, (
    "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000",
)))  # fmt: skip


@pytest.fixture(scope="module")
def rates(shipped_house: House) -> WorkRates:
    """The shipped shop's rates."""
    return rates_of(shipped_house.constants, shipped_house.shop)


def _climb(
    start: tuple[Tool, Grade] | None, finish: Grade, *, area_m2: float = 0.672, ratio: float = 0.6,
    film: float | None = 10.0, guide: str = "no", between: Tool = "da", last: Tool = "da-soft",
) -> Climb:  # fmt: skip
    return Climb(start, None, finish, last, between, area_m2, ratio, film, guide)


def _cost(climb: Climb, grades: tuple[Grade, ...], rates: WorkRates) -> tuple[float, float] | None:
    """Cost one way by the handbook formula: minutes and film, None where it breaks a limit."""
    assert climb.now is not None
    last = (climb.finish_tool, climb.finish)
    states = [climb.now, *((climb.between_tool, grade) for grade in grades), last]
    minutes = film = 0.0
    for (tool, grade), (_, then) in pairwise(states):
        if DS50_UM[then] < climb.step_ratio_min * DS50_UM[grade] - 1e-9:
            return None
        below = rates.depth_um[tool, grade]
        coat = rates.guide_coat_minutes if climb.guide_coat == "every-change" else 0.0
        minutes += float(
            step_minutes(climb.area_m2, below, rates.rate_um[then], rates.pass_m2, rates.disc_minutes, coat)
        )
        film += below
    if climb.film_max_um is not None and film > climb.film_max_um + 1e-9:
        return None
    return minutes, film


@settings(max_examples=120, deadline=None)
@given(
    start=st.sampled_from(SHELF[:9]),
    finish=st.sampled_from(SHELF[3:]),
    shelf=st.sets(st.sampled_from(SHELF), min_size=3),
    tool=st.sampled_from(["hand-pad", "block", "da"]),
    area=st.floats(0.005, 2.0),
    ratio=st.sampled_from([0.4, 0.6, 0.7]),
    film=st.sampled_from([None, 3.0, 5.0, 10.0]),
    guide=st.sampled_from(["no", "every-change"]),
)
def test_the_steps_are_the_best_of_all_subsets_of_the_shelf(
    shipped_house: House, start: Grade, finish: Grade, shelf: set[Grade], tool: Tool, area: float,
    ratio: float, film: float | None, guide: str,
) -> None:  # fmt: skip
    """Brute force: least minutes within the limits; of those within 2 % of it, the least film."""
    assume(RANK[start] < RANK[finish])
    rates = rates_of(shipped_house.constants, shipped_house.shop)
    climb = _climb((tool, start), finish, area_m2=area, ratio=ratio, film=film, guide=guide)
    between = [grade for grade in SHELF if grade in shelf and RANK[start] < RANK[grade] < RANK[finish]]
    ways = [way for n in range(len(between) + 1) for way in combinations(between, n)]
    costs = [cost for way in ways if (cost := _cost(climb, way, rates)) is not None]
    found = ladder(climb, tuple(shelf), rates)
    if not costs:
        assert found is None
        return
    assert found is not None
    minutes, cut = sum(step.minutes for step in found), sum(step.film_off_um for step in found)
    least = min(cost[0] for cost in costs)
    assert minutes <= least * TIE + 1e-9
    assert cut == pytest.approx(min(film for time, film in costs if time <= least * TIE + 1e-12))


def _grades(steps: tuple[LadderStep, ...] | None) -> list[str]:
    assert steps is not None
    return [step.grade for step in steps]


@pytest.mark.practice
def test_filler_goes_from_p80_over_p180_to_p320_with_guide_coat_at_each_change(rates: WorkRates) -> None:
    """Common practice, no source: filler is cut with P80, then P180, then P320."""
    climb = _climb(
        ("block", Grade("P80")), Grade("P320"), area_m2=0.09, ratio=0.4, film=None, guide="every-change",
        between="block", last="block",
    )  # fmt: skip
    steps = ladder(climb, SHELF, rates)
    assert _grades(steps) == ["P180", Grade("P320")]
    assert steps is not None
    assert all(step.guide_coat for step in steps)


@pytest.mark.practice
def test_unsanded_filler_opens_with_p80(rates: WorkRates) -> None:
    """Common practice, no source: the cut from nothing starts with P80."""
    climb = _climb(
        None, Grade("P320"), area_m2=0.09, ratio=0.4, film=None, guide="every-change", between="block"
    )
    assert _grades(ladder(climb._replace(opening=("block", Grade("P80"))), SHELF, rates)) == [
        Grade("P80"),
        Grade("P180"),
        Grade("P320"),
    ]


@pytest.mark.practice
def test_an_opening_as_fine_as_the_finish_is_the_finish(rates: WorkRates) -> None:
    """Unsanded primer that opens with P320 and is finished with it is blocked once."""
    climb = _climb(None, Grade("P320"))._replace(opening=("block", Grade("P320")), surface="primer-surfacer")
    steps = ladder(climb, SHELF, rates)
    assert steps is not None
    assert [(step.tool, step.grade) for step in steps] == [("da-soft", Grade("P320"))]


def test_a_door_from_p800_to_p1000_takes_three_to_twelve_minutes(rates: WorkRates) -> None:
    """Common practice, no source: shop minutes for a door."""
    steps = ladder(_climb(("da", Grade("P800")), Grade("P1000")), SHELF, rates)
    assert steps is not None
    assert 3 <= sum(step.minutes for step in steps) <= 12


@pytest.mark.practice
def test_thirty_by_thirty_filler_from_p80_to_p180_takes_three_to_twelve_minutes(rates: WorkRates) -> None:
    """Common practice, no source: shop minutes for a palm-sized filler."""
    climb = _climb(
        ("block", Grade("P80")), Grade("P180"), area_m2=0.09, ratio=0.4, film=None, guide="every-change"
    )
    steps = ladder(climb, SHELF, rates)
    assert steps is not None
    assert 3 <= sum(step.minutes for step in steps) <= 12


def test_gloss_is_one_step(rates: WorkRates) -> None:
    """Without anything recorded a face is gloss."""
    assert _grades(ladder(_climb(None, Grade("P1000")), SHELF, rates)) == [Grade("P1000")]


def test_what_is_already_as_fine_still_gets_its_final_pass(rates: WorkRates) -> None:
    """The final pass comes after all hand work, whatever was there before."""
    assert _grades(ladder(_climb(("da", Grade("P1000")), Grade("P1000")), SHELF, rates)) == [Grade("P1000")]


def test_film_that_may_not_come_off_leaves_no_way(rates: WorkRates) -> None:
    """More minutes are never the answer to too little film."""
    assert ladder(_climb(("block", Grade("P80")), Grade("P1000")), SHELF, rates) is None


def test_before_final_powders_only_the_last_change(rates: WorkRates) -> None:
    """Guide coat before the final pass stands at the last step alone."""
    steps = ladder(_climb(("da", Grade("P320")), Grade("P1000"), guide="before-final"), SHELF, rates)
    assert steps is not None
    assert [step.guide_coat for step in steps] == [False] * (len(steps) - 1) + [True]


ALL: Final = climbing.Way(None, None, ("da-soft", "P1000"), "da", 0.1, 0.6, None, "no", "aged-clear")
HARD: Final = (
    (ALL._replace(opening=("block", "P120"), finish=("da-soft", "P500"), between="block", area_m2=1.5,
                  guide_coat="before-final"), SHELF),
    (ALL._replace(opening=("block", "P400"), finish=("da-soft", "P400"), film_max_um=10.0,
                  guide_coat="every-change", scuffed_um=3.0), SHELF[::2]),
    (ALL._replace(opening=("block", "P320"), area_m2=1.5, ratio=0.4, guide_coat="every-change"), SHELF),
    (ALL._replace(start=("da", "P320"), finish=("da-soft", "P320"), between="block", area_m2=0.6,
                  film_max_um=3.0, guide_coat="every-change", scuffed_um=3.0), SHELF),
    (ALL._replace(finish=("da-soft", "P240"), area_m2=0.02, film_max_um=2.0), SHELF),
    (ALL._replace(opening=("block", "P120"), finish=("da-soft", "P320"), ratio=0.4, scuffed_um=3.0), SHELF),
    (ALL._replace(opening=("block", "P240"), ratio=0.7, film_max_um=4.0, guide_coat="before-final"),
     SHELF[:9]),
    (ALL._replace(start=("da", "P400"), opening=("block", "P80"), guide_coat="every-change"), SHELF),
    (ALL._replace(start=("da-soft", "P1500"), guide_coat="every-change"), SHELF),
    (ALL._replace(area_m2=0.004, start=("hand-pad", "P240"), ratio=0.4), SHELF),
)  # fmt: skip
"""From gloss, unsanded, scratched, too fine; where ways lie near each other; with a scuff to cut out."""


@pytest.mark.parametrize("disc_minutes", [0.5, 0.0])
def test_hard_climbs_are_those_found_by_listing_every_way(shipped_house: House, disc_minutes: float) -> None:
    """The re-computation of tests/recompute: each way over the shelf as a path of a graph, costed plainly."""
    plain = read_house(None)
    plain.shop["disc_minutes"] = disc_minutes
    shop = shipped_house.shop.model_copy(update={"disc_minutes": disc_minutes})
    rates = rates_of(shipped_house.constants, shop)
    for way, shelf in HARD:
        every = climbing.steps(plain, way._replace(film_max_um=None), shelf)
        assert every is not None
        off = sum(step.film_um for step in every)
        for most in (way.film_max_um, off, off - 0.001, off * 0.7):
            words: Any = way._replace(film_max_um=most)
            climb = Climb(words.start, words.opening, *reversed(words.finish), *words[3:])
            found = ladder(climb, shelf, rates)
            expected = climbing.steps(plain, way._replace(film_max_um=most), shelf)
            assert (found is None) is (expected is None)
            for one, other in zip(found or (), expected or (), strict=True):
                assert (one.tool, one.grade, one.guide_coat) == other[:3]
                assert (one.minutes, one.film_off_um) == pytest.approx(other[3:])


def test_a_step_of_just_the_least_ratio_is_allowed(rates: WorkRates) -> None:
    """Grains of ISO 6344-3: P320 46.2, P800 21.8 um."""
    climb = _climb(("da", Grade("P320")), Grade("P800"), ratio=21.8 / 46.2)
    assert _grades(ladder(climb, (), rates)) == ["P800"]
    assert ladder(climb._replace(step_ratio_min=21.9 / 46.2), (), rates) is None


def test_nothing_is_cut_out_of_gloss(rates: WorkRates) -> None:
    """However fast a shop goes over an area, the pass and the disc are all that a first pass takes."""
    fast = rates._replace(pass_m2=1e6, disc_minutes=0.25)
    for opening in (None, ("block", Grade("P320"))):
        gloss: Any = _climb(None, Grade("P1000"), film=None)._replace(opening=opening)
        steps = ladder(gloss, SHELF, fast)
        assert steps is not None
        assert steps[0].minutes == pytest.approx(0.25, abs=1e-5)


def test_a_hand_groove_is_cleared_up_to_its_time_and_film(rates: WorkRates) -> None:
    """A depth of just the film, in just the time of its depth over the rate, goes; a little less does not."""
    pad, p800, p1000 = "hand-pad", Grade("P800"), Grade("P1000")
    depth = 0.07 * 21.8
    takes = depth / rates.rate_um[p1000]
    assert clears(pad, p800, p1000, rates, takes, depth)
    assert clears(pad, p800, p1000, rates, takes, None)
    assert not clears(pad, p800, p1000, rates, takes - 1e-6, None)
    assert not clears(pad, p800, p1000, rates, takes, depth - 1e-6)
