"""What is told because the job does not say it, or because it will matter later."""

from collections.abc import Callable

import pytest

from prepadvisor.records import Advice, FadesMeet, HeldAfterPrimer, MistPastEnd, NarrowFade, WillShow

AdviseOn = Callable[..., Advice]


def kinds(advice: Advice) -> set[type]:
    """Return the kinds of all cautions."""
    return {type(caution) for caution in advice.cautions}


def test_mist_past_the_end_is_told(advise_on: AdviseOn) -> None:
    """150 mm of mist beyond 850 mm of colour and fade, on a door of 980 mm."""
    assert MistPastEnd in kinds(advise_on(colour_mm=150, fade_mm=700, length_mm=980))
    assert MistPastEnd not in kinds(advise_on(colour_mm=150, fade_mm=600, length_mm=980))


def test_two_fades_that_meet_are_no_case_for_masking_the_next_panel(advise_on: AdviseOn) -> None:
    """From front and rear they meet mid-door."""
    told = kinds(advise_on(colour_from=["front", "rear"], colour_mm=100, fade_mm=400))
    assert FadesMeet in told
    assert MistPastEnd not in told


@pytest.mark.practice
def test_a_narrow_fade_is_told(advise_on: AdviseOn) -> None:
    """120 mm is too narrow for a flake to run out in; a solid colour has none."""
    assert NarrowFade in kinds(advise_on(fade_mm=120))
    assert NarrowFade not in kinds(advise_on(fade_mm=400))
    assert NarrowFade not in kinds(advise_on({"flake": "solid"}, fade_mm=120))


def test_what_will_be_held_once_primed_is_told_now(advise_on: AdviseOn) -> None:
    """Filler in the fade takes its primer; on that no grade that keys hides lines from a tiny flake."""
    patch = {"id": "R1", "surface": "filler", "next": "primer", "at": [0.35, 0.5], "size_mm": [60, 60]}
    advice = advise_on({"flake": "vapour", "flake_um": 2.0, "tilt_deg": 1.0}, patch=[patch])
    assert "door/R1" not in {hold.spot.rpartition("/")[0] for hold in advice.holds}
    told = [caution for caution in advice.cautions if isinstance(caution, HeldAfterPrimer)]
    assert [type(one.fact) for one in told if "door/R1" in one.places] == [WillShow]
    assert not [task for task in advice.work.tasks if task.place == "door/R1" and task.stage == "paint"]


@pytest.mark.practice
def test_a_plastic_front_bumper_asks_for_its_sensor_and_warns_of_bare_plastic(advise_on: AdviseOn) -> None:
    """Film over a radar and colour on bare plastic are found out too late."""
    advice = advise_on(
        kind="front-bumper", surface="primed-plastic", role="repair", colour_from=None, colour_mm=None,
        fade_mm=None,
    )  # fmt: skip
    assert any("sensor behind it" in str(caution) for caution in advice.cautions)
    face = next(place for place in advice.places if place.kind == "face")
    assert any("adhesion promoter" in str(note) for note in face.notes)


def test_without_an_interface_pad_crests_get_the_sander_and_keep_their_care(
    job_of: Callable[..., object], shipped_house: object
) -> None:
    """The pad is not cited, the care stays."""
    from dataclasses import replace

    from prepadvisor.planning import advise

    shop = shipped_house.shop.model_copy(update={"interface_pad": False, "finishing_tool": "da"})  # type: ignore[attr-defined]
    advice = advise(job_of(), replace(shipped_house, shop=shop))  # type: ignore[arg-type, type-var]
    edge = next(place for place in advice.places if place.feature == "E1")
    assert (edge.tool, edge.interface_pad) == ("da", True)
    assert not any(task.tool == "da-soft" for task in advice.work.tasks)
