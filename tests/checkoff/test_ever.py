"""Whether a job ever was clear."""

import datetime as dt

from prepadvisor.checkoff import ever_clear
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
