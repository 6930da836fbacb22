"""What is kept of the gate, on thousands of steps of random jobs: pytest tests/long/test_kept_long.py."""

import random
from pathlib import Path

from prepadvisor.standards import House
from tests.checkoff.test_any_job import jobs
from tests.checkoff.test_kept_verdicts import differing

SEEDS = range(20_000, 20_300)


def test_kept_verdicts_on_many_jobs(tmp_path: Path, shipped_house: House) -> None:
    """At every step of a walk through each job the gate is the same as judged anew."""
    for seed, job in jobs(SEEDS, tmp_path, shipped_house):
        found = list(differing(job, shipped_house, random.Random(seed)))
        assert not found, (seed, found[:2])
