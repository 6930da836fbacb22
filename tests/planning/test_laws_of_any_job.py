"""Laws of the advice on any job under any house: what it may never do, whatever is laid on the bench."""

import json
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from prepadvisor.planning import advise
from prepadvisor.records.advice import Advice, LadderStep, Spot
from prepadvisor.records.job import Job
from prepadvisor.records.words import FLAKES, WET_BED
from prepadvisor.standards.house import House
from prepadvisor.surface.grades import DS50_UM, RANK
from prepadvisor.wording.json_form import advice_json
from prepadvisor.wording.json_schema import advice_schema

SCHEMA = Draft202012Validator(advice_schema())
AnyJob = st.SearchStrategy[Job]
AnyHouse = st.SearchStrategy[House]
any_case = settings(max_examples=25, suppress_health_check=list(HealthCheck))


def _strictness(spot: Spot) -> tuple[float, int, int]:
    """Return coarsest grade as a rank, need of a wet bed, and its coats; no finish is strictest of all."""
    if spot.finish is None:
        return (float("inf"), 99, 99)
    return (RANK[spot.finish.coarsest], WET_BED.index(spot.wet_bed.need), spot.wet_bed.coats)


def _looser(before: Advice, after: Advice) -> list[str]:
    """Name spots that ask for less in the second advice."""
    others = {spot.id: spot for spot in after.spots}
    return [
        f"{spot.id}: {_strictness(spot)} -> {_strictness(others[spot.id])}"
        for spot in before.spots
        if spot.id in others
        and any(now < was for was, now in zip(_strictness(spot), _strictness(others[spot.id]), strict=True))
    ]


def _with_colour(job: Job, **changes: Any) -> Job:
    return job.model_copy(update={"colour": job.colour.model_copy(update=changes)})


def _with_panels(job: Job, change: Callable[[Any], dict[str, Any]]) -> Job:
    panels = tuple(panel.model_copy(update=change(panel)) for panel in job.panel)
    return job.model_copy(update={"panel": panels})


@given(data=st.data())
@any_case
def test_a_finer_flake_never_asks_for_less(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """From solid to vapour, whatever else the job is. A measured flake is of one class, so none is given."""
    job = _with_colour(data.draw(any_job), flake_um=None, tilt_deg=None)
    advices = [advise(_with_colour(job, flake=flake), shipped_house) for flake in FLAKES]
    for coarser, finer in pairwise(advices):
        assert _looser(coarser, finer) == []


@pytest.mark.parametrize("fact", ["stages", "tone", "name"])
@given(data=st.data())
@any_case
def test_leaving_out_a_fact_of_the_colour_never_asks_for_less(
    fact: str, data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """What is not said is judged on the safe side."""
    job = data.draw(any_job)
    left_out = None if fact != "name" else ""
    assert (
        _looser(advise(job, shipped_house), advise(_with_colour(job, **{fact: left_out}), shipped_house))
        == []
    )


@given(data=st.data())
@any_case
def test_an_unknown_flake_is_never_judged_looser_than_very_fine(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """Blank or unsure counts as very fine."""
    job = _with_colour(data.draw(any_job), flake_um=None, tilt_deg=None)
    for flake in FLAKES[:5]:
        stated = advise(_with_colour(job, flake=flake), shipped_house)
        assert _looser(stated, advise(_with_colour(job, flake="unknown"), shipped_house)) == []


@given(data=st.data())
@any_case
def test_leaving_out_reach_never_allows_a_coarser_last_touch(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """A reach that is not stated is hand only."""
    job = data.draw(any_job)
    blank = _with_panels(
        job,
        lambda panel: {"feature": tuple(line.model_copy(update={"reach": None}) for line in panel.feature)},
    )
    assert _looser(advise(job, shipped_house), advise(blank, shipped_house)) == []


@given(data=st.data())
@any_case
def test_a_gauge_reading_never_loosens(data: st.DataObject, any_job: AnyJob, shipped_house: House) -> None:
    """A reading only adds demands."""
    job = data.draw(any_job)
    bare = _with_panels(job, lambda _: {"film_um": ()})
    assert _looser(advise(bare, shipped_house), advise(job, shipped_house)) == []


@given(data=st.data())
@any_case
def test_full_colour_is_never_stricter_than_the_fade(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """In the fade single flakes lie straight on the scratch."""
    advice = advise(data.draw(any_job), shipped_house)
    fades = {(spot.panel, spot.feature): spot for spot in advice.spots if spot.zone == "fade"}
    for spot in advice.spots:
        fade = fades.get((spot.panel, spot.feature))
        if spot.zone == "colour" and fade and spot.finish and fade.finish:
            assert RANK[fade.finish.coarsest] >= RANK[spot.finish.coarsest], spot.id


@given(data=st.data())
@any_case
def test_hand_as_last_touch_is_never_coarser_than_hand_ahead_of_a_da(
    data: st.DataObject, any_job: AnyJob, shipped_house: House
) -> None:
    """The same line, once reached by a DA and once not."""
    job = data.draw(any_job)

    def all_by(reach: str) -> Advice:
        return advise(
            _with_panels(
                job,
                lambda panel: {
                    "feature": tuple(line.model_copy(update={"reach": reach}) for line in panel.feature)
                },
            ),
            shipped_house,
        )

    ahead = {spot.id: spot.hand_coarsest for spot in all_by("machine").spots}
    for spot in all_by("hand").spots:
        limit = ahead.get(spot.id)
        if spot.finish and limit and spot.feature != "face":
            assert RANK[spot.finish.coarsest] >= RANK[limit], spot.id


@given(data=st.data())
@any_case
def test_no_place_is_left_out_and_each_without_an_answer_holds(
    data: st.DataObject, any_job: AnyJob, houses: AnyHouse
) -> None:
    """Every spot stands in one place, every place on its panel; one without a finish stands in holds."""
    job, house = data.draw(any_job), data.draw(houses)
    advice = advise(job, house)
    held = {hold.spot for hold in advice.holds}
    spots = [spot.id for spot in advice.spots]
    assert [spot.id for spot in advice.spots if spot.finish is None and spot.id not in held] == []
    assert held <= set(spots)
    assert [spot for place in advice.places for spot in place.spots] == spots
    assert len(set(spots)) == len(spots)
    named = {(panel.id, line.id) for panel in job.panel for line in panel.feature}
    named |= {(panel.id, patch.id) for panel in job.panel for patch in panel.patch}
    assert named <= {(place.panel, place.feature) for place in advice.places}
    assert [panel.id for panel in advice.panels] == [panel.id for panel in job.panel]


def _check_steps(steps: tuple[LadderStep, ...], now: str | None, finish: str) -> None:
    assert steps[-1].grade == finish
    grades = [*([now] if now else []), *(step.grade for step in steps)]
    if now and RANK[now] >= RANK[finish]:
        assert len(steps) == 1
    else:
        assert [DS50_UM[grade] for grade in grades] == sorted({DS50_UM[grade] for grade in grades})[::-1]
    assert all(step.minutes > 0 and step.film_off_um > 0 for step in steps)


@given(data=st.data())
@any_case
def test_grit_steps_run_from_what_is_there_to_the_finish(
    data: st.DataObject, any_job: AnyJob, houses: AnyHouse
) -> None:
    """Ever finer, the last is the finish, within the film that may come off."""
    job, house = data.draw(any_job), data.draw(houses)
    advice = advise(job, house)
    for panel, stated in zip(advice.panels, job.panel, strict=True):
        for place in (one for one in advice.places if one.panel == panel.id):
            steps = panel.ladder if place.kind == "face" else place.ladder
            now = stated.now if place.kind == "face" else None
            if place.ring_of:
                continue
            if place.kind == "patch":
                now = next(patch.now for patch in stated.patch if patch.id == place.feature)
            if steps and place.finish:
                _check_steps(steps, now.grade if now else None, place.finish)
            if place.kind == "face" and panel.film.off_max_um is not None:
                assert panel.film.off_um <= panel.film.off_max_um + 1e-9


@given(data=st.data())
@any_case
def test_a_wet_bed_lies_only_where_it_may(data: st.DataObject, any_job: AnyJob, shipped_house: House) -> None:
    """Over old clear ahead of colour, in colour and fade, within the base's two coats."""
    job = data.draw(any_job)
    surfaces = {(panel.id, patch.id): patch.surface for panel in job.panel for patch in panel.patch}
    for spot in advise(job, shipped_house).spots:
        if spot.wet_bed.need != "no":
            panel = next(one for one in job.panel if one.id == spot.panel)
            assert surfaces.get((panel.id, spot.feature), panel.surface) in ("aged-clear", "cured-clear")
            assert spot.zone in ("colour", "fade")
            assert 1 <= spot.wet_bed.coats <= 2


@given(data=st.data())
@any_case
def test_the_json_of_an_advice_is_what_its_schema_says(
    data: st.DataObject, any_job: AnyJob, houses: AnyHouse
) -> None:
    """A JSON Schema library finds no fault; no number in it is without meaning; no spot is lost."""
    advice = advise(data.draw(any_job), data.draw(houses))
    written = advice_json(advice)
    assert "NaN" not in written
    assert "Infinity" not in written
    data_form = json.loads(written)
    assert [error.message for error in SCHEMA.iter_errors(data_form)] == []
    assert [spot["id"] for spot in data_form["spots"]] == [spot.id for spot in advice.spots]
