"""What jobs add to a fit: outcomes and wet looks as rows, and the decisions of an archive."""

import datetime as dt

import pytest

from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.measured.from_jobs import candidates_of, decisions_of, job_rows
from prepadvisor.planning import advise
from prepadvisor.records import Check, Grade, Job, Outcome, PanelRow
from prepadvisor.standards import House

DOOR = "left-front-door"
AT = dt.datetime(2026, 3, 20, 9, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def house() -> House:
    """The shipped standards."""
    return load_house()


@pytest.fixture(scope="module")
def job(house: House) -> Job:
    """A very fine colour on a door and a wing, nothing logged."""
    return load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", house).model_copy(
        update={"check": (), "outcome": ()}
    )


def _rows(job: Job, house: House, **changes: object) -> list[PanelRow]:
    told = job.model_copy(update=changes)
    return job_rows(told, advise(told, house), house.judged(told.colour), "job.toml")


def _seen(feature: str, *, seen: bool) -> Outcome:
    return Outcome(at=AT, by="K", panel=DOOR, feature=feature, seen=seen)


def _check(step: str, feature: str, **rest: object) -> Check:
    return Check.model_validate(
        {"at": AT, "by": "K", "panel": DOOR, "feature": feature, "step": step, **rest}
    )


def test_an_outcome_is_a_row_of_its_kind(job: Job, house: House) -> None:
    """What was logged last is what was looked at weeks later."""
    sanded = _check("sanded", "face", tool="da", grade="P1200")
    (row,) = _rows(job, house, check=(sanded,), outcome=(_seen("face", seen=True),))
    assert (row.kind, row.shows, row.tool, row.grade, row.date) == (
        "outcome",
        "yes",
        "da",
        "P1200",
        AT.date(),
    )


def test_without_a_log_the_planned_grade_counts_as_done(job: Job, house: House) -> None:
    """Every outcome is a row."""
    (row,) = _rows(job, house, outcome=(_seen("face", seen=False),))
    assert (row.tool, row.grade) == ("da-soft", "P1000")


def test_the_last_word_on_a_place_counts(job: Job, house: House) -> None:
    """Not seen, then seen: one row, yes."""
    rows = _rows(job, house, outcome=(_seen("face", seen=False), _seen("face", seen=True)))
    assert [row.shows for row in rows] == ["yes"]


def test_a_report_on_a_whole_panel_is_one_row(job: Job, house: House) -> None:
    """At the place where a line was most likely: places of one panel go together."""
    (row,) = _rows(job, house, outcome=(_seen("all", seen=False),))
    assert row.shows == "no"


@pytest.mark.parametrize(("result", "shows"), [("clear", "no"), ("lines", "yes")])
def test_a_wet_look_is_a_row_of_its_kind(job: Job, house: House, result: str, shows: str) -> None:
    """Logged in the booth, after the coats of bed that were logged before it."""
    checks = (
        _check("sanded", "face", tool="da-soft", grade="P1000"),
        _check("bedded", "panel"),
        _check("seen-wet", "face", result=result),
    )
    (row,) = _rows(job, house, check=checks)
    assert (row.kind, row.shows, row.coats) == ("wet-look", shows, 1)


def test_a_struck_look_is_no_row(job: Job, house: House) -> None:
    """What was taken back counts nowhere."""
    look = _check("seen-wet", "face", result="clear", id="k-1")
    struck = _check("struck", "face", of="k-1", id="k-2", knew="k-1", note="wrong panel")
    assert _rows(job, house, check=(look, struck)) == []


def test_decisions_are_those_of_the_archives_places(job: Job, house: House) -> None:
    """Chosen grades and their neighbours on the shelf, as often as they are decided."""
    advice = advise(job, house)
    decisions = decisions_of([(house.judged(job.colour), advice)], house.shop.shelf, house.constants)
    chosen = {spot.finish.chosen for spot in advice.spots if spot.finish and spot.line}
    assert {one.case.label for one in decisions} == {"very-fine"}
    assert chosen <= {one.case.grade for one in decisions} <= set(house.shop.shelf)
    assert sum(one.times for one in decisions) >= 2 * sum(spot.line is not None for spot in advice.spots)


def test_candidates_are_on_the_shelf(job: Job, house: House) -> None:
    """A grade that is not there is never proposed."""
    decisions = decisions_of(
        [(house.judged(job.colour), advise(job, house))], (Grade("P600"), Grade("P1000")), house.constants
    )
    assert {one.grade for one in candidates_of(decisions, (Grade("P600"), Grade("P1000")))} <= {
        Grade("P600"),
        Grade("P1000"),
    }
