"""A door and a wing worked to the end, and the shop they are in."""

from collections.abc import Callable

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import Check, Job
from prepadvisor.standards import House
from tests.checkoff import handmade
from tests.checkoff.shopfloor import Shopfloor


@pytest.fixture(scope="session")
def fresh_job(shipped_house: House) -> Job:
    """Return a door with every kind of place and a wing with a primer patch, nothing logged."""
    job = load_job(str(demo_jobs_dir() / "very-fine-door-and-wing.toml"), shipped_house)
    return job.model_copy(update={"check": ()})


@pytest.fixture(scope="session")
def worked_job(fresh_job: Job, shipped_house: House) -> Job:
    """Return the same worked to the end by its plan."""
    return Shopfloor(fresh_job, shipped_house).work_through().job


@pytest.fixture
def floor(worked_job: Job, shipped_house: House) -> Shopfloor:
    """Return the worked job, to do things to."""
    return Shopfloor(worked_job, shipped_house)


@pytest.fixture
def fresh(fresh_job: Job, shipped_house: House) -> Shopfloor:
    """Return the job with nothing logged."""
    return Shopfloor(fresh_job, shipped_house)


@pytest.fixture
def floor_of(shipped_house: House) -> Callable[[Job], Shopfloor]:
    """Return a maker of shop floors."""
    return lambda job: Shopfloor(job, shipped_house)


@pytest.fixture(scope="session")
def door() -> handmade.Case:
    """Return a door with a face in three zones, a patch, lines for machine and hand, some in clear only."""
    return handmade.DOOR


@pytest.fixture(scope="session")
def whole_log() -> tuple[Check, ...]:
    """Return a log of that door."""
    return handmade.whole_log()
