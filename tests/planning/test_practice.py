"""What shops do, as the advice gives it for a whole door. Common practice, no published source."""

from collections.abc import Callable

import pytest

from prepadvisor.records import Advice, Place, Spot

pytestmark = pytest.mark.practice

AdviseOn = Callable[..., Advice]
FindSpot = Callable[[Advice, str], Spot]
FindPlace = Callable[[Advice, str], Place]


@pytest.mark.parametrize(
    ("flake", "coarsest", "chosen", "finest"),
    [
        ("solid", "P600", "P800", "P1200"),
        ("coarse", "P600", "P800", "P1200"),
        ("medium", "P800", "P800", "P1200"),
        ("fine", "P800", "P1000", "P1500"),
        ("very-fine", "P1000", "P1000", "P1500"),
        ("vapour", "P1200", "P1500", "P1500"),
    ],
)
def test_final_da_pass_in_the_fade(
    advise_on: AdviseOn, spot: FindSpot, flake: str, coarsest: str, chosen: str, finest: str
) -> None:
    """The table of finishing grades in the fade of aged clear; the line model takes none of them away."""
    finish = spot(advise_on({"flake": flake}), "face/fade").finish
    assert finish is not None
    assert (finish.coarsest, finish.chosen, finish.finest) == (coarsest, chosen, finest)


@pytest.mark.parametrize(
    ("flake", "limit"),
    [
        ("solid", "P500"),
        ("coarse", "P600"),
        ("medium", "P600"),
        ("fine", "P800"),
        ("very-fine", "P1000"),
        ("vapour", "P1200"),
    ],
)
def test_coarsest_hand_scuff_ahead_of_the_final_da_pass(
    advise_on: AdviseOn, spot: FindSpot, flake: str, limit: str
) -> None:
    """The table of hand grades ahead of a DA, on an edge in the fade."""
    assert spot(advise_on({"flake": flake}), "E2/fade").hand_coarsest == limit


def test_very_fine_metallics_are_finished_with_p1000_on_an_interface_pad(
    advise_on: AdviseOn,
) -> None:
    """P1000 by sander with soft pad is the last pass for very fine metallics."""
    panel = advise_on().panels[0]
    assert (panel.face, panel.tool) == ("P1000", "da-soft")


def test_a_hand_only_recess_in_the_fade_of_a_very_fine_colour_needs_the_wet_bed(
    advise_on: AdviseOn, place: FindPlace
) -> None:
    """Hand scratches are straight and no DA follows: P1500 and a wet bed."""
    found = place(advise_on(), "H1")
    assert (found.finish, found.wet_bed.need) == ("P1500", "required")


def test_the_trim_is_offered_off_where_it_decides_the_wet_bed(advise_on: AdviseOn) -> None:
    """With the handle off a DA reaches the recess and the bed is only advised."""
    (offer,) = advise_on().offers
    assert offer.places == ("door/H1",)
    assert offer.wet_bed.need == "advised"


def test_two_coats_over_seven_tenths_of_a_square_metre_are_150_to_300_ml_to_mix(
    advise_on: AdviseOn,
) -> None:
    """What a painter pours for a door and a bit."""
    assert 150 <= advise_on().mix_ml <= 300


def test_filler_up_to_primer_is_p80_p180_p320_with_guide_coat_at_each_change(
    advise_on: AdviseOn, place: FindPlace
) -> None:
    """Filler is cut with P80, then P180, then P320; an 80 scratch left under primer sinks and shows later."""
    filler = {
        "id": "R1", "surface": "filler", "next": "primer", "at": [0.1, 0.5], "size_mm": [200, 200],
        "now": {"tool": "block", "grade": "P80"},
    }  # fmt: skip
    advice = advise_on(role="repair", colour_mm=None, fade_mm=None, colour_from=None, patch=[filler])
    ladder = place(advice, "R1").ladder
    assert ladder is not None
    assert [(step.grade, step.guide_coat) for step in ladder] == [("P180", True), ("P320", True)]
