"""A change to the job after a look re-opens what it affects, says why, and leaves the rest."""

from collections.abc import Callable
from typing import Any

import pytest

from prepadvisor.checkoff.basis import bases, changed
from prepadvisor.records.job import Check

Entry = Callable[..., Check]


@pytest.fixture
def based_log(door: Any, whole_log: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return the whole log with the basis that the program writes into each entry."""
    rests_on = bases(door.job, door.advice)
    return tuple(
        check.model_copy(update={"basis": rests_on.get(f"{check.panel}/{check.feature}", "")})
        for check in whole_log
    )


def _held(gate: Any) -> dict[str, str]:
    return {hold.place: hold.why for hold in gate.holds}


def test_nothing_reopens_while_nothing_changes(door: Any, based_log: tuple[Check, ...]) -> None:
    """The same job has the same basis."""
    assert door.gate(based_log).clear


def test_another_flake_reopens_the_looks_where_colour_lies(door: Any, based_log: tuple[Check, ...]) -> None:
    """An edge that lies in clear only does not see the flake; nor does what was scuffed become undone."""
    summary = door.advice.job._replace(flake="vapour")
    case = door._replace(advice=door.advice._replace(job=summary))
    held = _held(case.gate(based_log))
    assert set(held) == {f"door/{feature}" for feature in ("face", "R1", "E1", "H1", "L1", "F1")}
    assert all(
        why.startswith("the colour or its flake changed since it was looked at") for why in held.values()
    )


def test_a_moved_zone_reopens_the_place_it_moved_on(door: Any, based_log: tuple[Check, ...]) -> None:
    """Only the line whose lengths by zone changed is looked at again."""
    spots = tuple(
        spot._replace(length_mm=350.0) if spot.id == "door/L1/fade" else spot for spot in door.advice.spots
    )
    case = door._replace(advice=door.advice._replace(spots=spots))
    held = _held(case.gate(based_log))
    assert set(held) == {"door/L1"}
    assert "how this place lies in the blend zones changed" in held["door/L1"]


def test_another_size_reopens_the_looks_of_the_panel(door: Any, based_log: tuple[Check, ...]) -> None:
    """A panel that is another size is another panel."""
    panel = door.job.panel[0].model_copy(update={"length_mm": 1100.0})
    case = door._replace(job=door.job.model_copy(update={"panel": (panel,)}))
    held = _held(case.gate(based_log))
    assert len(held) == len(door.advice.places)
    assert "the panel's size, surface or role changed" in held["door/E2"]


def test_the_name_of_the_colour_changes_nothing(door: Any, based_log: tuple[Check, ...]) -> None:
    """A typing mistake in a name was not what anybody looked at."""
    colour = door.job.colour.model_copy(update={"name": "Harbor mist"})
    assert door._replace(job=door.job.model_copy(update={"colour": colour})).gate(based_log).clear


def test_a_changed_job_reopens_an_acceptance(door: Any, based_log: tuple[Check, ...], entry: Entry) -> None:
    """The lead accepted it for the flake as it was."""
    rests_on = bases(door.job, door.advice)["door/E1"]
    log = [
        entry(at, "E1", "scuffed", tool="hand-pad", grade="P600")
        if (c.feature, c.step) == ("E1", "scuffed")
        else c
        for at, c in enumerate(based_log)
    ]
    log.append(entry(60, "E1", "accepted", by="J. B.", note="hidden", basis=rests_on))
    assert door.gate(log).clear
    summary = door.advice.job._replace(flake="vapour")
    gate = door._replace(advice=door.advice._replace(job=summary)).gate(log)
    assert "P600 is coarser" in " ".join(hold.why for hold in gate.holds if hold.place == "door/E1")
    assert any("the lead must accept it again" in told for told in gate.told)


def test_a_rub_through_is_over_once_replanned_worked_and_seen_clear(
    door: Any, based_log: tuple[Check, ...], entry: Entry
) -> None:
    """The place was isolated and is full colour now: another job, worked and looked at anew."""
    before = bases(door.job, door.advice)["door/L1"]
    spots = tuple(
        spot._replace(length_mm=100.0) if spot.id == "door/L1/fade" else spot for spot in door.advice.spots
    )
    case = door._replace(advice=door.advice._replace(spots=spots))
    now = bases(case.job, case.advice)["door/L1"]
    rubbed = entry(60, "L1", "inspected", result="cut-through", basis=before)
    log = (
        *based_log,
        rubbed,
        entry(61, "L1", "inspected", result="clear", basis=now),
        entry(64, "panel", "wiped"),
    )
    assert "rubbed through" in _held(case.gate(log))["door/L1"]
    worked = (*log[:-2], entry(61, "L1", "sanded", tool="da-soft", grade="P1000"), *log[-2:])
    worked = (*worked[:-2], entry(62, "L1", "inspected", result="clear", basis=now), worked[-1])
    assert case.gate(worked).clear


@pytest.mark.parametrize(
    ("then", "now", "says"),
    [
        ("", "colour:1 panel:2", ()),
        ("colour:1 panel:2", "colour:1 panel:2", ()),
        ("colour:1 panel:2", "colour:9 panel:2", ("the colour or its flake",)),
        (
            "typed by hand",
            "colour:1 panel:2",
            ("the colour or its flake", "the panel's size, surface or role"),
        ),
    ],
)
def test_what_changed_is_named(then: str, now: str, says: tuple[str, ...]) -> None:
    """A basis that was never written says nothing; a strange one counts as another."""
    assert changed(then, now) == says
