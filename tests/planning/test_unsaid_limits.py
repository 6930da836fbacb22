"""What no rule says is no bound: of film, risk and coats; and what is not there counts as nothing."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

import pytest

from prepadvisor.planning import advise
from prepadvisor.records import Advice, Estimate, Job, TooLittleLeft, ZoneBand
from prepadvisor.standards import House
from prepadvisor.standards.engine import EVERYTHING, Engine, Rule

JobOf = Callable[..., Job]
AdviseOn = Callable[..., Advice]
WHOLE: Final[dict[str, Any]] = {"colour_from": None, "colour_mm": None, "fade_mm": None}


def without(house: House, output: str, **own: Any) -> House:
    """Return a house of which no rule says an output or holds thin film, but one of its own sets others."""
    engine = house.engine
    rules = [rule for rule in engine.rules if output not in rule.set and rule.id != "film-gone"]
    assert len(rules) < len(engine.rules) - 1
    more = [Rule("own", "Says.", EVERYTHING, own, "practice")] if own else []  # type: ignore[arg-type]
    return replace(house, engine=Engine([*rules, *more], engine.impossibles, used=engine.used))


@pytest.mark.parametrize("least", [2, 3])
def test_coats_that_are_asked_for_are_laid_where_no_rule_says_how_many_at_most(
    job_of: JobOf, shipped_house: House, least: int
) -> None:
    """And lines are judged under all of them: the more coats, the lower the risk."""
    bed = {"wet_bed": "required", "bed_coats_min": least}
    advice = advise(job_of(), without(shipped_house, "bed_coats_max", **bed))
    fade = next(spot for spot in advice.spots if spot.id == "door/face/fade")
    assert (fade.wet_bed.need, fade.wet_bed.coats) == ("required", least)
    assert advice.panels[0].wet_bed.coats == least
    bare = next(spot for spot in advise(job_of(), shipped_house).spots if spot.id == fade.id)
    assert fade.line is not None
    assert bare.line is not None
    assert fade.line.risk < bare.line.risk


def test_film_may_be_cut_to_the_last_where_no_rule_says_what_stays(
    job_of: JobOf, shipped_house: House
) -> None:
    """A twentieth of a micrometre is left, and nothing holds; a rule of one micrometre does."""
    house = without(shipped_house, "film_left_min_um")
    sanded: dict[str, Any] = {"now": {"tool": "da", "grade": "P500"}}
    off = advise(job_of(**sanded, film_um=[4.0]), house).panels[0].film.off_um
    assert off > 1
    job = job_of(**sanded, film_um=[off + 0.05])
    advice = advise(job, house)
    assert advice.panels[0].film.left_um == pytest.approx(0.05)
    assert not [hold for hold in advice.holds if isinstance(hold.fact, TooLittleLeft)]
    held = advise(job, without(shipped_house, "film_left_min_um", film_left_min_um=1.0))
    (fact,) = (hold.fact for hold in held.holds if isinstance(hold.fact, TooLittleLeft))
    assert fact.left_um == pytest.approx(0.05)
    assert fact.least_um == 1.0


def test_any_risk_is_taken_where_no_rule_limits_it(job_of: JobOf, shipped_house: House) -> None:
    """A probability is one at most."""
    advice = advise(job_of(), without(shipped_house, "risk_limit"))
    said = [
        reason.says.risk_limit for spot in advice.spots for reason in spot.because
        if isinstance(reason.says, Estimate)
    ]  # fmt: skip
    assert set(said) == {1.0}
    assert not advice.holds


def test_what_is_held_takes_no_time(advise_on: AdviseOn) -> None:
    """Neither the panel, nor its places, nor the stage, nor the job."""
    held = advise_on(special="matt")
    assert [panel.minutes for panel in held.panels] == [0.0]
    assert {place.minutes for place in held.places} == {0.0}
    assert ([stage.minutes for stage in held.work.stages], held.minutes, held.discs) == ([0.0], 0.0, {})


@pytest.mark.parametrize(("role", "zone"), [("clear-only", "clear"), ("repair", "colour")])
def test_a_panel_that_no_colour_fades_out_on_is_one_zone(advise_on: AdviseOn, role: str, zone: str) -> None:
    """All of it, 1050 x 640 mm, without a border that a depth could be told of."""
    (panel,) = advise_on(role=role, next="clear" if role == "clear-only" else "base", **WHOLE).panels
    assert panel.bands == (ZoneBand(zone=zone, from_mm=0.0, to_mm=0.0, area_m2=pytest.approx(0.672)),)  # type: ignore[arg-type]


@pytest.mark.parametrize(("colour_mm", "fade_mm", "past"), [(150, 400, 150), (150, 870, 30), (150, 900, 0)])
def test_mist_lands_past_the_blend_as_far_as_there_is_panel(
    advise_on: AdviseOn, colour_mm: int, fade_mm: int, past: float
) -> None:
    """The shop's mist, but no farther than the 1050 mm that there are."""
    work = advise_on(colour_mm=colour_mm, fade_mm=fade_mm).work
    (blend,) = (entry for entry in work.booth if entry.do == "blend")
    assert (blend.from_mm, blend.to_mm) == (colour_mm, colour_mm + fade_mm)
    assert blend.past_mm == pytest.approx(past, abs=0.1)
