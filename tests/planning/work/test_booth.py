"""The booth list: every panel ends in the coats it needs, in the order a sprayer lays them."""

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Advice, BoothEntry, Job
from prepadvisor.standards import House


@pytest.fixture
def demo(shipped_house: House) -> Callable[[str], Advice]:
    """Advise on a demo job by its name."""

    def advised(name: str) -> Advice:
        return advise(load_job(demo_jobs_dir() / f"{name}.toml", shipped_house), shipped_house)

    return advised


def _n(entries: tuple[BoothEntry, ...], do: str, panel: str) -> list[int]:
    return [entry.n for entry in entries if (entry.do, entry.panel) == (do, panel)]


@given(data=st.data())
@settings(max_examples=60, suppress_health_check=list(HealthCheck))
def test_every_panel_that_gets_colour_is_coloured_and_every_panel_is_cleared(
    data: st.DataObject, any_job: st.SearchStrategy[Job], shipped_house: House
) -> None:
    """No panel leaves the booth without the coats it was prepared for, and clear is the last."""
    job = data.draw(any_job)
    work = advise(job, shipped_house).work
    last = max((entry.n for entry in work.booth), default=0)
    for panel in job.panel:
        if panel.id in work.unplanned:
            assert not [entry for entry in work.booth if entry.panel == panel.id]
            continue
        coloured = _n(work.booth, "colour", panel.id) + _n(work.booth, "blend", panel.id)
        assert bool(coloured) == (panel.role != "clear-only")
        assert _n(work.booth, "clear", panel.id) == [last]
        if coloured:
            assert len(_n(work.booth, "look", panel.id)) == 1
            assert len(_n(work.booth, "bed", panel.id)) <= 1


@given(data=st.data())
@settings(max_examples=40, suppress_health_check=list(HealthCheck))
def test_numbers_run_from_one_without_a_gap_and_ids_are_unique(
    data: st.DataObject, any_job: st.SearchStrategy[Job], shipped_house: House
) -> None:
    """What has one number is one thing done on several panels."""
    booth = advise(data.draw(any_job), shipped_house).work.booth
    assert sorted({entry.n for entry in booth}) == list(range(1, len({entry.n for entry in booth}) + 1))
    assert len({entry.id for entry in booth}) == len(booth)
    assert list(booth) == sorted(booth, key=lambda entry: entry.n)
    for n in {entry.n for entry in booth}:
        assert len({entry.do for entry in booth if entry.n == n}) == 1


@pytest.mark.practice
def test_a_panel_in_full_colour_beside_a_fading_one_is_coloured(demo: Callable[[str], Advice]) -> None:
    """The commonest blend job: the repaired wing gets colour with the door's full colour, before the bed."""
    booth = demo("coarse-silver").work.booth
    assert _n(booth, "colour", "right-front-wing") == _n(booth, "colour", "right-front-door")
    assert _n(booth, "colour", "right-front-door") < _n(booth, "bed", "right-front-door")
    assert _n(booth, "bed", "right-front-door") < _n(booth, "look", "right-front-door")
    assert _n(booth, "look", "right-front-door") < _n(booth, "blend", "right-front-door")


@pytest.mark.practice
def test_the_dry_look_comes_before_the_first_colour(demo: Callable[[str], Advice]) -> None:
    """Where no wet bed shows the lines, the lamp does, before any colour hides them."""
    booth = demo("coarse-silver").work.booth
    assert _n(booth, "look", "right-front-wing") < _n(booth, "colour", "right-front-wing")


@pytest.mark.practice
def test_vapour_flake_and_three_stages_get_a_ground_coat(demo: Callable[[str], Advice]) -> None:
    """By the paint maker's sheet, before colour."""
    for name, panel in (("vapour-bonnet", "bonnet"), ("three-stage", "right-front-wing")):
        booth = demo(name).work.booth
        assert _n(booth, "ground", panel) < _n(booth, "colour", panel)
    assert not _n(demo("coarse-silver").work.booth, "ground", "right-front-wing")


def test_a_panel_that_is_sealed_gets_colour_and_clear_too(
    advise_on: Callable[..., Advice],
) -> None:
    """Sealer, colour, clear: a new part under full colour."""
    advice = advise_on(
        role="repair",
        surface="primer-surfacer",
        next="sealer",
        colour_from=None,
        colour_mm=None,
        fade_mm=None,
    )
    order = [entry.do for entry in advice.work.booth]
    assert order == ["look", "seal", "colour", "clear"]


def test_nothing_is_mixed_without_a_bed_in_the_booth(advise_on: Callable[..., Advice]) -> None:
    """A panel that is held has no bed step, so none is mixed for it."""
    held = advise_on(special="matt")
    assert held.work.unplanned == ("door",)
    assert (held.mix_ml, held.work.booth) == (0, ())
    assert advise_on().mix_ml > 0
