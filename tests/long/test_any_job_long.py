"""Thousands of random jobs worked by their plan, then by less and in another order; and logs out of order.

By hand, some minutes for each 400: `python -m pytest tests/long/test_any_job_long.py`; PREPADVISOR_LONG
states how many jobs are taken.
"""

import os
import random
from pathlib import Path
from typing import Final

from prepadvisor.standards import House
from tests.checkoff.shopfloor import Shopfloor
from tests.checkoff.test_any_job import faults, jobs

COUNT: Final = int(os.environ.get("PREPADVISOR_LONG", "4000"))


def test_what_the_plan_asks_clears_any_job_and_nothing_less_does(
    tmp_path: Path, shipped_house: House
) -> None:
    """As the slice in the suite, on other seeds."""
    found: list[str] = []
    for seed, job in jobs(range(1_000, 1_000 + COUNT), tmp_path, shipped_house):
        found += faults(seed, job, shipped_house, random.Random(seed))
    assert found == []


def test_any_two_lines_swapped_hold(tmp_path: Path, shipped_house: House) -> None:
    """Whatever two, in any job."""
    cleared = []
    for seed, job in jobs(range(100_000, 100_000 + COUNT // 4), tmp_path, shipped_house):
        floor = Shopfloor(job, shipped_house).work_through()
        if len(floor.log) < 3 or not floor.gate().clear:
            continue
        some = random.Random(seed)
        for _ in range(5):
            log = list(floor.log)
            one, other = some.sample(range(len(log)), 2)
            log[one], log[other] = log[other], log[one]
            if Shopfloor(floor.job, shipped_house).with_log(log).gate().clear:
                cleared.append((seed, one, other))
    assert cleared == []
