"""Trim off: when it is offered and what the offer says, for advices that differ in one thing each."""

from collections.abc import Callable
from typing import Any, Final

import pytest

from prepadvisor.planning import advise
from prepadvisor.planning.offers import offers
from prepadvisor.records import (
    Advice,
    Grade,
    Hold,
    Job,
    NoRule,
    Offer,
    PanelWetBed,
    RunsOn,
    TrimOff,
    WetBedAdvice,
)
from prepadvisor.standards import House

JobOf = Callable[..., Job]
AdviseOn = Callable[..., Advice]
RECESS: Final = "door/H1"
EDGE: Final = "door/E1"
HOLD: Final = NoRule()


def with_place(advice: Advice, place: str, **parts: Any) -> Advice:
    """Return an advice with one place changed."""
    places = tuple(one._replace(**parts) if one.id == place else one for one in advice.places)
    return advice._replace(places=places)


def with_bed(advice: Advice, need: Any, coats: int) -> Advice:
    """Return an advice with another wet bed of its panel."""
    (panel,) = advice.panels
    return advice._replace(panels=(panel._replace(wet_bed=PanelWetBed(need, coats)),))


def with_holds(advice: Advice, *spots: str) -> Advice:
    """Return an advice that holds at some spots only."""
    return advice._replace(holds=tuple(Hold(spot, HOLD) for spot in spots))


@pytest.fixture
def job(job_of: JobOf) -> Job:
    """Return a very fine door with a handle recess that the hand alone reaches."""
    return job_of()


@pytest.fixture
def before(advise_on: AdviseOn) -> Advice:
    """Return its advice, with a bed of two coats that the panel must have and the recess needs alone."""
    plain = with_place(advise_on(), EDGE, wet_bed=WetBedAdvice())
    recess = with_place(plain, RECESS, wet_bed=WetBedAdvice("required", 2), finish=Grade("P1200"))
    return with_bed(recess, "required", 2)._replace(minutes=100.0, mix_ml=500, holds=())


@pytest.fixture
def alike(before: Advice) -> Advice:
    """Return an advice with the trim off that differs in nothing that counts."""
    return before


def offered(job: Job, before: Advice, after: Advice) -> list[Offer]:
    """Return what is offered if trim off leads to another advice."""
    return [one for one in offers(job, before, lambda _: after) if isinstance(one.fact, TrimOff)]


def test_nothing_is_offered_that_changes_nothing(job: Job, before: Advice, alike: Advice) -> None:
    """Nor for fewer minutes or millilitres alone."""
    assert offered(job, before, alike) == []
    assert offered(job, before, alike._replace(minutes=1.0, mix_ml=1)) == []


@pytest.mark.parametrize(
    ("need", "coats", "is_offered"),
    [
        ("required", 1, True),
        ("advised", 2, True),
        ("advised", 1, True),
        ("no", 0, True),
        ("required", 2, False),
        ("required", 3, False),
        ("advised", 3, False),
    ],
)
def test_a_weaker_bed_is_offered_and_a_thicker_one_never(
    job: Job, before: Advice, need: Any, coats: int, *, is_offered: bool
) -> None:
    """With what it becomes, and what is saved in minutes and millilitres."""
    after = with_bed(before, need, coats)._replace(minutes=88.0, mix_ml=420)
    fact = TrimOff((RECESS,), "required", 2, need, coats, 0, Grade("P1200"), Grade("P1200"))
    expected = [Offer((RECESS,), fact, WetBedAdvice(need, coats), 12.0, 80)]
    assert offered(job, before, after) == (expected if is_offered else [])


def test_what_costs_more_saves_nothing(job: Job, before: Advice) -> None:
    """It is offered for its bed, without a saving."""
    (offer,) = offered(job, before, with_bed(before, "no", 0)._replace(minutes=101.0, mix_ml=501))
    assert (offer.saves_minutes, offer.saves_ml) == (0.0, 0)


@pytest.mark.parametrize("is_stronger", [False, True])
def test_a_bed_that_becomes_stronger_is_never_offered(job: Job, before: Advice, *, is_stronger: bool) -> None:
    """Though it lifts a stop."""
    stopped = with_holds(with_bed(before, "advised", 2), f"{RECESS}/fade")
    after = with_holds(with_bed(before, "required" if is_stronger else "advised", 2))
    assert bool(offered(job, stopped, after)) is not is_stronger


def test_a_stop_that_is_lifted_is_offered_without_a_saving(job: Job, before: Advice) -> None:
    """Minutes of a place that is held were never counted; all its zones are one stop."""
    stopped = with_holds(before, f"{RECESS}/fade", f"{RECESS}/colour", f"{EDGE}/fade")
    after = with_holds(before, f"{EDGE}/fade")._replace(minutes=90.0, mix_ml=400)
    (offer,) = offered(job, stopped, after)
    assert isinstance(offer.fact, TrimOff)
    assert (offer.fact.stops, offer.saves_minutes, offer.saves_ml) == (1, 0.0, 0)


def test_nothing_is_offered_that_stops_another_place(job: Job, before: Advice) -> None:
    """Whatever it lifts."""
    stopped = with_holds(before, f"{RECESS}/fade")
    assert offered(job, stopped, with_holds(with_bed(before, "no", 0), f"{EDGE}/fade")) == []
    assert offered(job, before, with_holds(with_bed(before, "no", 0), f"{RECESS}/fade")) == []


def test_another_grade_by_da_is_offered(job: Job, before: Advice) -> None:
    """With both grades."""
    (offer,) = offered(job, before, with_place(before, RECESS, finish=Grade("P1000")))
    assert isinstance(offer.fact, TrimOff)
    assert (offer.fact.by_hand, offer.fact.by_da) == ("P1200", "P1000")


@pytest.mark.parametrize(
    ("flake", "bed", "place", "zones", "is_asked"),
    [
        # the panel must have the very bed that the place needs
        ("solid", ("required", 2), {"wet_bed": WetBedAdvice("required", 2)}, "fade", True),
        ("solid", ("required", 2), {"wet_bed": WetBedAdvice("required", 1)}, "fade", False),
        ("solid", ("required", 2), {"wet_bed": WetBedAdvice("advised", 2)}, "fade", False),
        ("solid", ("advised", 2), {"wet_bed": WetBedAdvice("advised", 2)}, "fade", False),
        # a fine flake over a place that is seen and is finished otherwise than the face
        ("fine", ("no", 0), {"finish": "P1500"}, "fade", True),
        ("very-fine", ("no", 0), {"finish": "P1500"}, "fade", True),
        ("medium", ("no", 0), {"finish": "P1500"}, "fade", False),
        ("very-fine", ("no", 0), {"finish": "P1500", "seen": False}, "fade", False),
        ("very-fine", ("no", 0), {"finish": "P1000"}, "fade", False),
        ("very-fine", ("no", 0), {"finish": "P1500"}, "clear", False),
    ],
)
def test_trim_is_looked_at_where_it_decides(
    job: Job, before: Advice, flake: Any, bed: tuple[Any, int], place: dict[str, Any], zones: Any,
    *, is_asked: bool,
) -> None:  # fmt: skip
    """Where it needs the panel's bed, or under a fine flake asks a grade of its own; else nobody is asked."""
    whole = before._replace(
        job=before.job._replace(flake=flake),
        panels=(before.panels[0]._replace(face=Grade("P1000"), wet_bed=PanelWetBed(*bed)),),
        spots=tuple(spot._replace(zone=zones) if spot.feature == "H1" else spot for spot in before.spots),
    )
    whole = with_place(whole, RECESS, **{"wet_bed": WetBedAdvice(), "finish": "P1000", **place})
    assert bool(asked(job, whole)) is is_asked


def asked(job: Job, advice: Advice) -> list[dict[str, str | None]]:
    """Return the reach of the lines in each job that is advised again."""
    seen: list[dict[str, str | None]] = []

    def again(changed: Job) -> Advice:
        seen.append({line.id: line.reach for panel in changed.panel for line in panel.feature})
        assert changed.model_copy(update={"panel": job.panel}) == job
        return advice

    offers(job, advice, again)
    return seen


def test_a_held_line_is_looked_at_only_if_it_is_trim_that_the_hand_reaches(
    job_of: JobOf, shipped_house: House
) -> None:
    """Lines that lie on the panel itself, and trim that a machine reaches, are no trim to take off."""
    lines = [
        {"id": "A", "kind": "recess", "path": [[0.2, 0.2], [0.3, 0.2]], "reach": "hand"},
        {"id": "B", "kind": "cut-out", "path": [[0.2, 0.4], [0.3, 0.4]], "reach": "hand"},
        {"id": "C", "kind": "recess", "path": [[0.2, 0.6], [0.3, 0.6]], "reach": "machine"},
        {"id": "D", "kind": "body-line", "path": [[0.2, 0.8], [0.3, 0.8]], "reach": "hand"},
        {"id": "E", "kind": "recess", "path": [[0.2, 0.9], [0.3, 0.9]]},
        {"id": "F", "kind": "edge", "path": [[0, 0], [1, 0]], "reach": "hand"},
    ]
    job = job_of({"flake": "solid"}, feature=lines)
    advice = advise(job, shipped_house, seek_offers=False)
    held = with_holds(advice, *(f"door/{line['id']}/fade" for line in lines))
    (reached,) = asked(job, held)
    by_machine = {line for line, reach in reached.items() if reach == "machine"}
    assert by_machine == {"A", "B", "C", "E"}
    assert {line: reach for line, reach in reached.items() if line not in by_machine} == {
        "D": "hand",
        "F": "hand",
    }
    (some,) = asked(job, with_holds(advice, "door/B/fade", "door/D/fade"))
    assert {line for line, reach in some.items() if reach == "machine"} == {"B", "C"}
    assert asked(job, with_holds(advice, "door/D/fade", "door/C/fade")) == []


def test_ways_are_told_where_a_border_that_runs_on_is_held(job_of: JobOf, shipped_house: House) -> None:
    """Those that are held, with the bed of the panel; none where nothing holds there."""
    lines = [
        {"id": name, "kind": kind, "path": path, "reach": "machine"}
        for name, kind, path in (
            ("S1", "run-on", [[0.3, 0], [0.3, 1]]), ("S2", "run-on", [[0.9, 0], [0.9, 1]]),
            ("E1", "edge", [[0, 0], [0, 1]]),
        )
    ]  # fmt: skip
    job = job_of({"flake": "solid"}, feature=lines)
    advice = with_bed(advise(job, shipped_house, seek_offers=False), "advised", 2)
    found = offers(
        job, with_holds(advice, "door/S1/fade", "door/S1/colour", "door/E1/fade"), lambda _: advice
    )
    assert found == (Offer(("door/S1",), RunsOn(("door/S1",)), WetBedAdvice("advised", 2)),)
    assert offers(job, with_holds(advice, "door/E1/fade"), lambda _: advice) == ()


@pytest.mark.parametrize("stopped", [False, True])
def test_a_job_mixes_less_by_what_its_offers_save(
    job_of: JobOf, shipped_house: House, *, stopped: bool
) -> None:
    """As much as the job with that trim off mixes less, other panels and all; nothing for a stop lifted."""
    recess = {"id": "H", "kind": "recess", "path": [[0.1, 0.9], [0.9, 0.9]], "reach": "hand"}
    run_on = {"id": "S", "kind": "run-on", "path": [[0.9, 0], [0.9, 1]], "reach": "machine"}
    size = {"length_mm": 2000, "height_mm": 1400, "colour_mm": 100, "fade_mm": 1200, "kind": "bonnet"}
    colour = (
        {"flake": "vapour", "flake_um": 2.5} if stopped else {}
    )  # so small that it shows what the hand leaves
    one = job_of(colour, **size, feature=[recess, run_on])
    two = job_of(colour, **size, id="roof", feature=[recess | {"reach": "machine", "id": "I"}])
    job = one.model_copy(update={"panel": (*one.panel, *two.panel)})
    advice = advise(job, shipped_house)
    off = job_of(colour, **size, feature=[recess | {"reach": "machine"}, run_on])
    changed = job.model_copy(update={"panel": (*off.panel, *two.panel)})
    less = advice.mix_ml - advise(changed, shipped_house, seek_offers=False).mix_ml
    assert stopped or less >= 50
    trim = [offer.saves_ml for offer in advice.offers if isinstance(offer.fact, TrimOff)]
    assert trim == [0 if stopped else less]
    assert [offer.saves_ml for offer in advice.offers if isinstance(offer.fact, RunsOn)] == [0]
    assert advise(job, shipped_house, seek_offers=False).offers == ()


def test_every_panel_is_looked_at(job: Job, before: Advice) -> None:
    """A panel without trim that decides ends no search."""
    (door,), (panel,) = job.panel, before.panels
    bonnet = door.model_copy(update={"id": "bonnet", "feature": ()})
    both = job.model_copy(update={"panel": (bonnet, door, bonnet.model_copy(update={"id": "roof"}))})
    panels = tuple(panel._replace(id=each.id, wet_bed=PanelWetBed("no", 0)) for each in both.panel)
    after = before._replace(panels=panels)
    whole = before._replace(panels=(panels[0], panel, panels[2]))
    assert [offer.places for offer in offered(both, whole, after)] == [(RECESS,)]
