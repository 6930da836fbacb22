"""What became of finished places, read from a job and its advice; the statistics are held in test_shares."""

import datetime as dt
from typing import Any

import pytest

from prepadvisor.cases import FlakeNumbers, JudgedColour
from prepadvisor.checkoff import Finished, finished, in_sight, rates, with_risks
from prepadvisor.files import load_house
from prepadvisor.planning import LineModel
from prepadvisor.records import Check, Grade, Outcome, Reason, Tool, Zone

P600 = Grade("P600")
AT = dt.datetime(2026, 4, 20, tzinfo=dt.UTC)


def _outcome(feature: str, *, seen: bool) -> Outcome:
    return Outcome(at=AT, by="K. M.", panel="door", feature=feature, seen=seen)


@pytest.fixture
def reported(door: Any, whole_log: Any) -> tuple[Finished, ...]:
    """Return the door with all clear but the recess, which was first clear and then seen."""
    because = Reason(
        output="hand_last_coarsest", value="P1500", rule="hand-only-fine", layer="base", file="f", line=1,
        says="s", source="practice",
    )  # fmt: skip
    spots = tuple(
        spot._replace(because=(because,)) if spot.feature == "H1" else spot for spot in door.advice.spots
    )
    reports = (_outcome("all", seen=False), _outcome("H1", seen=True))
    job = door.job.model_copy(update={"check": whole_log, "outcome": reports})
    return finished(job, door.advice._replace(spots=spots))


def test_a_report_for_all_speaks_for_every_place_and_a_later_one_over_it(
    reported: tuple[Finished, ...],
) -> None:
    """The last word on each place counts."""
    assert {place.place for place in reported if place.seen} == {"door/H1"}
    assert len(reported) == 7


def test_a_failed_place_names_what_it_was_prepared_with_and_what_decided(
    reported: tuple[Finished, ...],
) -> None:
    """Tool and grade come from the log, coats and rules from the advice."""
    failed = next(place for place in reported if place.seen)
    assert failed[2:8] == ("very-fine", "", "hand-pad", "P1500", "not recorded", "hand only")
    assert failed.zone == "fade"
    assert failed.rules == ("hand-only-fine",)


def test_rates_count_each_place_once_by_each_factor(reported: tuple[Finished, ...]) -> None:
    """Two hand-only places, one of them seen; five by machine, none seen."""
    found = {(rate.value, rate.seen, rate.places) for rate in rates(reported, "reach")}
    assert found == {("hand only", 1, 2), ("machine", 0, 5)}


def _place(job: str, *, seen: bool, risk: float | None = None, **parts: str) -> Finished:
    stated: dict[str, Any] = {
        "job": job, "place": "p/E1", "flake": "fine", "hand": "", "tool": "da-soft", "grade": "P1000",
        "coats": "1", "reach": "machine", "in_sight": True, "seen": seen, "note": "", "rules": (),
        "risk": risk, **parts,
    }  # fmt: skip
    return Finished(**stated)


def test_rates_stand_by_how_often_lines_were_seen_then_by_places_then_by_name() -> None:
    """With their jobs and the mean of the risks that were predicted; what has no value has no rate."""
    places = [
        _place("1", seen=True, risk=0.4, colour="grey"), _place("2", seen=False, risk=0.2, colour="grey"),
        _place("2", seen=False, colour="grey"), _place("3", seen=True, colour="blue"),
        _place("1", seen=False, colour="red"), _place("4", seen=False, colour="black"),
        _place("5", seen=False, colour="white"), _place("5", seen=False, colour="white"),
        _place("6", seen=True, colour=""),
    ]  # fmt: skip
    found = rates(places, "colour")
    assert [(each.value, each.seen, each.places, each.jobs) for each in found] == [
        ("blue", 1, 1, 1), ("grey", 1, 3, 2), ("white", 0, 2, 1), ("black", 0, 1, 1), ("red", 0, 1, 1),
    ]  # fmt: skip
    assert [each.share for each in found] == pytest.approx([1.0, 1 / 3, 0.0, 0.0, 0.0])
    assert [(each.predicted, each.judged) for each in found[:2]] == [(None, 0), (pytest.approx(0.3), 2)]
    assert all(each.low <= each.share <= each.high and each.factor == "colour" for each in found)


def test_what_was_not_logged_is_counted_as_not_recorded(door: Any) -> None:
    """No log, no grade: never a guess."""
    job = door.job.model_copy(update={"outcome": (_outcome("E1", seen=True),)})
    assert finished(job, door.advice)[0][4:6] == ("not recorded", "not recorded")


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ({"tool": "hand-pad", "grade": "P800"}, "hand-pad P800"),
        ({"tool": "hand-pad"}, "hand-pad"),
        ({"grade": "P800"}, "not recorded P800"),
        ({}, "not recorded"),
    ],
)
def test_the_scuff_ahead_is_named_as_far_as_it_was_recorded(
    door: Any, stated: dict[str, str], says: str
) -> None:
    """Of two the last; a place that only the hand reaches has none ahead, nor has a face."""
    first = Check(at=AT, by="KM", panel="door", feature="E1", step="scuffed", tool="hand-foam", grade=P600)
    last = Check.model_validate(
        {"at": AT, "by": "KM", "panel": "door", "feature": "E1", "step": "scuffed", **stated}
    )
    hand = first.model_copy(update={"feature": "H1"})
    job = door.job.model_copy(
        update={"check": (first, last, hand), "outcome": (_outcome("all", seen=False),)}
    )
    found = {place.place: place.hand for place in finished(job, door.advice)}
    assert (found["door/E1"], found["door/H1"], found["door/face"]) == (says, "", "")


def test_places_of_a_job_that_never_was_clear_are_told_apart(door: Any) -> None:
    """As who asks knows; of what nobody said anything it is taken as clear, and the zone is not known."""
    job = door.job.model_copy(update={"outcome": (_outcome("E1", seen=True),)})
    assert [each.cleared for each in finished(job, door.advice)] == [True]
    assert [each.cleared for each in finished(job, door.advice, cleared=False)] == [False]
    assert (_place("1", seen=True).cleared, _place("1", seen=True).zone) == (True, "not known")
    bare = door.advice._replace(spots=())
    assert [(each.zone, each.rules, each.in_sight) for each in finished(job, bare)] == [
        ("not known", (), False)
    ]


def test_places_out_of_sight_are_told_apart(door: Any) -> None:
    """A flange that nobody sees is no evidence that a scratch does not show."""
    unseen = tuple(spot._replace(seen=False) if spot.feature == "F1" else spot for spot in door.advice.spots)
    job = door.job.model_copy(update={"outcome": (_outcome("all", seen=False),)})
    found = finished(job, door.advice._replace(spots=unseen))
    assert {place.place for place in found} - {place.place for place in in_sight(found)} == {"door/F1"}


def test_jobs_of_one_number_count_as_one(reported: tuple[Finished, ...]) -> None:
    """A job filed twice is no second witness."""
    (machine,) = (each for each in rates((*reported, *reported), "reach") if each.value == "machine")
    assert (machine.places, machine.jobs) == (10, 1)


def test_a_report_for_all_means_the_places_not_yet_reported(door: Any) -> None:
    """Lines seen at E1 are not wiped out by an all-clear said later of the rest."""
    reports = (_outcome("E1", seen=True), _outcome("all", seen=False))
    found = finished(door.job.model_copy(update={"outcome": reports}), door.advice)
    assert {place.place for place in found if place.seen} == {"door/E1"}
    assert len(found) == 7


def test_beds_are_counted_as_sprayed(door: Any) -> None:
    """Two coats logged over the panel; nothing logged in the booth is not recorded, not none."""
    coat = Check(at=AT, by="KM", panel="door", feature="panel", step="bedded")
    over = coat.model_copy(update={"step": "coloured"})
    job = door.job.model_copy(update={"outcome": (_outcome("H1", seen=True),)})
    coats = [
        finished(job.model_copy(update={"check": log}), door.advice)[0].coats
        for log in ((), (over,), (coat, coat, over))
    ]
    assert coats == ["not recorded", "0", "2"]


def test_what_was_done_is_judged_by_the_line_model_as_lines_would_be(door: Any, whole_log: Any) -> None:
    """Each place in colour or fade whose work was logged, with its tool and grade and the coats sprayed."""
    house, colour = load_house(), JudgedColour("very-fine", 2, "light")
    job = door.job.model_copy(update={"check": whole_log, "outcome": (_outcome("all", seen=False),)})
    places = {each.place: each for each in with_risks(finished(job, door.advice), colour, house)}
    flake = FlakeNumbers(8.0, 0.47, 7.0)
    done: list[tuple[str, Tool, str, Zone]] = [
        ("door/face", "da-soft", "P1000", "fade"),
        ("door/E1", "da-soft", "P1000", "colour"),
        ("door/H1", "hand-pad", "P1500", "fade"),
    ]
    model, solids = LineModel(house.constants), house.shop.wet_bed.set_solids
    for name, tool, grade, zone in done:
        line = model.estimate(flake, tool, Grade(grade), zone=zone, coats=0, set_solids=solids)
        assert places[name].risk == pytest.approx(line.risk)
    assert places["door/E2"].risk is None  # in the clear zone no flake lies over it
    for changed in ({"in_sight": False}, {"tool": "not recorded"}, {"grade": "not recorded"}):
        hidden = places["door/H1"]._replace(risk=None, **changed)
        assert with_risks([hidden], colour, house)[0].risk is None
    for coats, sprayed in (("2", 2), ("not recorded", 0)):
        (bed,) = with_risks([places["door/H1"]._replace(coats=coats)], colour, house)
        line = model.estimate(
            flake, "hand-pad", Grade("P1500"), zone="fade", coats=sprayed, set_solids=solids
        )
        assert bed.risk == pytest.approx(line.risk)
    bare = finished(job.model_copy(update={"check": ()}), door.advice)
    assert all(each.risk is None for each in with_risks(bare, colour, house))
    solid = with_risks(finished(job, door.advice), JudgedColour("solid", 2, "light"), house)
    assert all(each.risk is None for each in solid)


@pytest.mark.parametrize(
    ("book", "name", "colour"), [("hm-1", "Mist", "hm-1"), ("", "Mist", "Mist"), ("", "", "")]
)
def test_places_are_told_by_the_books_colour_else_by_its_name(
    door: Any, book: str, name: str, colour: str
) -> None:
    """A job without either has no rate by colour."""
    head = door.job.colour.model_copy(update={"book": book, "name": name})
    job = door.job.model_copy(update={"colour": head, "outcome": (_outcome("E1", seen=True),)})
    found = finished(job, door.advice)
    assert [each.colour for each in found] == [colour]
    assert [each.value for each in rates(found, "colour")] == [colour] * bool(colour)
    assert [(each.job, each.flake, each.note) for each in found] == [("1", "very-fine", "")]
