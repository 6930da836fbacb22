"""Whether a job ever was clear."""

import datetime as dt

from prepadvisor.checkoff import ever_clear, recuts
from tests.checkoff.shopfloor import DOOR, Shopfloor


def test_a_job_worked_to_the_end_was_clear_however_long_ago(floor: Shopfloor) -> None:
    """Age plays no part, nor what was seen in the booth after."""
    floor.now += dt.timedelta(days=60)
    floor.put(f"{DOOR}/panel", "seen-wet", result="lines")
    assert ever_clear(floor.job, floor.advice, floor.house)


def test_a_job_with_a_look_left_out_never_was(floor: Shopfloor) -> None:
    """Wiped all the same."""
    floor.with_log(check for check in floor.log if (check.feature, check.step) != ("E1", "inspected"))
    assert not ever_clear(floor.job, floor.advice, floor.house)


def test_an_unlogged_job_never_was(fresh: Shopfloor) -> None:
    """Nothing is known of it."""
    assert not ever_clear(fresh.job, fresh.advice, fresh.house)


E1, E2, H1, FACE = (f"{DOOR}/{each}" for each in ("E1", "E2", "H1", "face"))


def verdicts(floor: Shopfloor) -> dict[str, tuple[str | None, str | None, str | None]]:
    """Return what the advice says of scuffs once those of the log are taken for recorded ones."""
    advice = recuts(floor.job, floor.advice, floor.house)
    return {
        place.id: (place.done.verdict, place.done.tool, place.done.grade)
        for place in advice.places
        if place.done.tool is not None
    }


def test_scuffs_too_coarse_by_their_task_are_judged_as_if_recorded(floor: Shopfloor) -> None:
    """Ahead of a machine and by hand alone, each by its own limit; of several the last; within, none."""
    assert recuts(floor.job, floor.advice, floor.house) is floor.advice
    floor.put(E2, "scuffed", tool="hand-pad", grade="P1000").put(
        H1, "scuffed", tool="hand-pad", grade="P1500"
    )
    assert recuts(floor.job, floor.advice, floor.house) is floor.advice
    floor.put(E1, "scuffed", tool="hand-pad", grade="P400").put(
        E1, "scuffed", tool="hand-paper", grade="P600"
    )
    floor.put(H1, "scuffed", tool="hand-pad", grade="P1200").put(
        E1, "scuffed", tool="hand-pad", grade="P1000"
    )
    expected = {E1: ("too-coarse", "hand-paper", "P600"), H1: ("too-coarse", "hand-pad", "P1200")}
    assert verdicts(floor) == expected
    floor.put(FACE, "sanded", tool="da-soft", grade="P320").put(E2, "scuffed", tool="hand-pad")
    assert verdicts(floor) == expected


def test_what_the_job_has_recorded_stays_at_other_lines(floor: Shopfloor) -> None:
    """A scuff within its limits, as the file says."""
    floor.with_line("E2", done={"tool": "hand-pad", "grade": "P1200"})
    floor.put(E1, "scuffed", tool="hand-pad", grade="P400")
    assert verdicts(floor) == {
        E1: ("too-coarse", "hand-pad", "P400"),
        E2: ("within", "hand-pad", "P1200"),
    }


def test_it_was_clear_by_the_last_wipe_alone(floor: Shopfloor) -> None:
    """By the entries up to it, whatever came after; a wipe struck is none."""
    house = floor.house
    assert ever_clear(floor.job, floor.advice, house)
    floor.put(E1, "inspected", result="lines")
    assert ever_clear(floor.job, floor.advice, house)
    floor.put(f"{DOOR}/panel", "wiped")
    assert not ever_clear(floor.job, floor.advice, house)
    floor.put(f"{DOOR}/panel", "struck", of=floor.log[-1].id, note="wiped the wrong door")
    assert ever_clear(floor.job, floor.advice, house)
