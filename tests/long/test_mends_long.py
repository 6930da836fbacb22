"""Mends followed on hundreds of wrong logs of every demo job, fresh seeds each time: by hand, some minutes.

A slice runs with the usual tests: `tests/checkoff/test_mends_law.py`. `MEND_SEED=N` begins there again.
"""

import os
import random
from typing import Final

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.standards import House
from tests.checkoff.test_mends_law import breaches

FIRST: Final = int(os.environ.get("MEND_SEED") or random.SystemRandom().randrange(10**6, 10**9))
EACH: Final = 300
JOBS: Final = sorted(path.stem for path in demo_jobs_dir().glob("*.toml"))


@pytest.mark.parametrize("name", JOBS)
def test_what_is_done_as_its_mend_says_holds_no_more(name: str, shipped_house: House) -> None:
    """And none leads into a stop."""
    print(f"MEND_SEED={FIRST}")
    job = load_job(demo_jobs_dir() / f"{name}.toml", shipped_house).model_copy(update={"check": ()})
    followed, wrong = breaches(job, shipped_house, range(FIRST, FIRST + EACH))
    assert followed > EACH / 3
    assert wrong == []
