"""A case written as a job: reading the job back and judging it leads to the case again."""

import random

from prepadvisor.cases import NUMBER, Facts
from prepadvisor.files import job_of_text, job_text
from prepadvisor.planning import spot_facts
from prepadvisor.standards import House
from tests.cases.test_world import in_world
from tests.standards.random_jobs import random_case

CASES = 400


def alike(case: Facts, other: Facts) -> bool:
    """Say whether two cases are the same, numbers but for the last digits."""
    for fact in Facts._fields:
        one, two = getattr(case, fact), getattr(other, fact)
        if fact in NUMBER and one is not None and two is not None:
            if abs(one - two) > 1e-6 * max(1.0, one):
                return False
        elif one != two:
            return False
    return True


def test_a_job_written_from_a_case_has_it(shipped_house: House) -> None:
    """Random cases that a card can meet."""
    rng = random.Random(5)
    tried = 0
    while tried < CASES:
        case = random_case(rng)
        if not in_world(case) or shipped_house.engine.impossible(case):
            continue
        job = job_of_text(job_text(case, shipped_house).encode(), "case.toml", shipped_house)
        assert any(alike(case, found) for _, found in spot_facts(job, shipped_house)), case
        tried += 1
