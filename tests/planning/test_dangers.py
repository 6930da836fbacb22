"""Wrong advice that must never come out, at the level of the whole advice. Common practice, no source.

The two that a check-off could give (clear to mask over gloss, or over lines not looked at) are guarded there.
"""

from collections.abc import Callable, Iterator
from itertools import product
from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.planning import advise
from prepadvisor.records import (
    FLAKES,
    RANK,
    SURFACES,
    Advice,
    FlakeUnknown,
    Grade,
    Job,
    Place,
    Spot,
    TooLittleLeft,
    TooMuchFilm,
)
from prepadvisor.standards import House
from prepadvisor.wording import Words, hold_mend
from prepadvisor.wording.remarks import hold_why

pytestmark = pytest.mark.practice

AdviseOn = Callable[..., Advice]
JobOf = Callable[..., Job]

NOT_CLEAR = [surface for surface in SURFACES if not surface.endswith("-clear")]
WHOLE = {"role": "repair", "colour_from": None, "colour_mm": None, "fade_mm": None}


def _patched(surface: str, then: str = "base", **more: Any) -> dict[str, Any]:
    """A patch in the middle of the door, in its fade."""
    return {"id": "R1", "surface": surface, "next": then, "at": [0.4, 0.5], "size_mm": [150, 150], **more}


def _patch_spots(advice: Advice) -> Iterator[Spot]:
    return (spot for spot in advice.spots if spot.kind == "patch")


@pytest.mark.parametrize("flake", FLAKES)
@pytest.mark.parametrize("surface", NOT_CLEAR)
def test_no_wet_bed_ever_goes_over_anything_but_clear(advise_on: AdviseOn, surface: str, flake: str) -> None:
    """Over primer, filler, bare metal, electrocoat or a rub-through it mends nothing."""
    advice = advise_on({"flake": flake}, patch=[_patched(surface)])
    assert [spot.id for spot in _patch_spots(advice) if spot.wet_bed.need != "no"] == []


def test_the_wet_bed_area_leaves_patches_out(advise_on: AdviseOn) -> None:
    """What is laid over the fade stops at the primer: 0.15 m × 0.15 m less."""
    with_patch = advise_on(patch=[_patched("primer-surfacer")]).panels[0].wet_bed.area_m2
    assert advise_on().panels[0].wet_bed.area_m2 - with_patch == pytest.approx(0.0225, rel=1e-3)


@pytest.mark.parametrize("flake", FLAKES)
def test_a_required_wet_bed_never_comes_with_a_coarser_grade_than_the_rules_allow(
    advise_on: AdviseOn, flake: str, shipped_house: House
) -> None:
    """Wet bed instead of sanding: never, and never more than two coats."""
    for spot in advise_on({"flake": flake}).spots:
        facts = Facts(
            flake=flake, zone=spot.zone, feature=spot.kind, reach=spot.reach, seen=spot.seen, panel_m2=0.672
        )
        decision = shipped_house.engine.decide(facts)
        limit = decision.hand_last_coarsest if spot.reach == "hand" else decision.finish_coarsest
        assert spot.finish is not None
        assert limit is not None
        assert RANK[spot.finish.chosen] >= RANK[limit]
        assert spot.wet_bed.coats <= 2


@pytest.mark.parametrize("grade", ["P80", "P120", "P180"])
def test_steps_that_cut_more_film_than_may_come_off_hold_and_never_ask_for_more_minutes(
    advise_on: AdviseOn, grade: Grade
) -> None:
    """Sanding on through thin clear to reach the number: the answer is fewer steps, or the lead."""
    advice = advise_on(now={"tool": "da", "grade": grade})
    assert advice.panels[0].ladder == ()
    (hold,) = (hold for hold in advice.holds if hold.spot.startswith("door/face"))
    assert isinstance(hold.fact, TooMuchFilm)
    assert hold.fact.off_um > hold.fact.off_max_um
    assert "lead" in hold_mend(hold, Words(advice))


@pytest.mark.parametrize("surface", ["aged-clear", "cured-clear"])
def test_nothing_is_sanded_where_a_reading_leaves_no_room_for_a_whole_clear(
    advise_on: AdviseOn, surface: str
) -> None:
    """Electrocoat 20 µm, colour 12 and 28 of a clear make 60: under that it is gone, or the gauge misread."""
    for film, places_held in (([5.0], True), ([59.9, 120.0], True), ([62.0], False), ([], False)):
        advice = advise_on(surface=surface, film_um=film)
        held = {hold.spot.rpartition("/")[0] for hold in advice.holds}
        assert held == ({place.id for place in advice.places} if places_held else set())
        assert [len(hold.rules) for hold in advice.holds] == [1] * len(advice.holds)
        assert (advice.minutes == 0) is places_held
        assert [panel.film.off_um > 0 for panel in advice.panels] == [not places_held]


def test_thin_film_holds_where_the_steps_would_leave_less_than_60_um(advise_on: AdviseOn) -> None:
    """From P500 the face loses more than 1 µm, and 61 µm were read."""
    advice = advise_on(now={"tool": "da", "grade": "P500"}, film_um=[61.0])
    (face,) = (hold for hold in advice.holds if isinstance(hold.fact, TooLittleLeft))
    assert (face.rules, face.fact.least_um) == (("film-thin",), 60.0)  # type: ignore[union-attr]
    assert not advise_on(now={"tool": "da", "grade": "P500"}, film_um=[64.0]).holds
    taken = advice.panels[0].film.off_um
    assert (60.0 + taken) - taken == 60.0, "else what is left is not 60 to the bit"
    assert not advise_on(now={"tool": "da", "grade": "P500"}, film_um=[60.0 + taken]).holds, "60 stay on"


@pytest.mark.parametrize(
    ("surface", "finest"),
    [("primer-surfacer", Grade("P1000")), ("primed-plastic", Grade("P1000")), ("aged-clear", Grade("P1500"))],
)
def test_no_flake_is_ever_finished_finer_than_its_surface_keys(
    advise_on: AdviseOn, surface: str, finest: Grade
) -> None:
    """P2000, or P1500 on primer or plastic, does not stick."""
    too_fine = [
        (flake, spot.id, spot.finish.chosen)
        for flake in FLAKES
        for spot in advise_on({"flake": flake}, surface=surface, **WHOLE).spots
        if spot.finish and RANK[spot.finish.chosen] > RANK[finest]
    ]
    assert too_fine == []


def test_a_blank_flake_is_judged_as_very_fine(
    advise_on: AdviseOn, job_of: JobOf, shipped_house: House
) -> None:
    """Blank or unsure taken as coarse or solid is dangerous: the spots are those of very fine."""
    job = job_of()
    for flake in ("unknown", ""):
        stated = job.model_dump(mode="json", exclude_none=True)
        stated["colour"]["flake"] = flake
        blank = advise(Job.model_validate(stated), shipped_house)
        assert blank.spots == advise_on().spots
        assert FlakeUnknown() in blank.cautions


@pytest.mark.parametrize(
    ("surface", "then"), list(product(["filler", "bare", "electrocoat", "feather-edge"], ["base", "clear"]))
)
def test_colour_or_clear_straight_on_what_needs_a_coat_first_holds(
    job_of: JobOf, shipped_house: House, surface: str, then: str
) -> None:
    """Colour straight on filler, bare metal or electrocoat: a hold for every flake, never a grade."""
    for flake in FLAKES:
        job = job_of({"flake": flake}, patch=[_patched(surface, then)], **WHOLE)
        patch = [spot for spot in advise(job, shipped_house).spots if spot.kind == "patch"]
        assert patch
        assert all(spot.finish is None for spot in patch), (flake, patch)


@pytest.mark.parametrize("special", ["matt", "lacquer", "wrap", "melt-out", "radar", "fresh-clear"])
def test_what_is_not_covered_holds_in_words_and_gives_no_number(advise_on: AdviseOn, special: str) -> None:
    """Never a number with a footnote."""
    advice = advise_on(special=special)
    assert all(spot.finish is None for spot in advice.spots)
    assert {hold.spot for hold in advice.holds} == {spot.id for spot in advice.spots}
    assert all(hold_why(hold, Words(advice)) for hold in advice.holds)


@pytest.mark.parametrize("flake", FLAKES)
def test_three_stages_are_judged_as_very_fine_at_least(advise_on: AdviseOn, flake: str) -> None:
    """A three-stage colour is no ordinary blend: its limits are never coarser than very fine's."""
    very_fine = {spot.id: spot for spot in advise_on({"flake": "very-fine"}).spots}
    for spot in advise_on({"flake": flake, "stages": 3}).spots:
        usual = very_fine[spot.id]
        assert spot.finish is not None
        assert usual.finish is not None
        assert RANK[spot.finish.coarsest] >= RANK[usual.finish.coarsest]


def test_adding_a_reading_a_patch_or_a_rub_through_never_loosens(
    advise_on: AdviseOn, place: Callable[[Advice, str], Place]
) -> None:
    """More that is known or found only ever tightens the places that were there."""
    before = advise_on()
    for more in ({"film_um": [150]}, {"film_um": [80]}, {"patch": [_patched("primer-surfacer")]}):
        after = advise_on(**more)
        for feature in ("E1", "E2", "H1"):
            was, now = place(before, feature), place(after, feature)
            assert was.finish is not None
            assert now.finish is None or RANK[now.finish] >= RANK[was.finish], (more, feature)
