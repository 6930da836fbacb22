"""Every demo job loads, says what it shows, and shows one thing each."""

from pathlib import Path

import pytest

from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.records import Job
from prepadvisor.standards import House

FILES = sorted(demo_jobs_dir().glob("*.toml"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_demo_job_loads_and_says_what_it_shows(path: Path, shipped_house: House) -> None:
    """The job is sound, and its file opens with a sentence in capitals on what it is about."""
    job = load_job(path, shipped_house)
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("# ")
    assert first[2:].split(".")[0].split(",")[0].isupper()
    assert job.job.by
    assert job.job.date


@pytest.fixture(scope="module")
def jobs(shipped_house: House) -> dict[str, Job]:
    """All demo jobs by file name."""
    return {path.stem: load_job(path, shipped_house) for path in FILES}


def test_numbers_are_given_once(jobs: dict[str, Job]) -> None:
    """No two demo jobs have the same number."""
    assert len({job.job.number for job in jobs.values()}) == len(jobs) >= 12


def test_every_flake_and_many_surfaces_are_shown(jobs: dict[str, Job]) -> None:
    """All flake classes, the unknown one, three stages, and the surfaces a shop meets."""
    assert {job.colour.flake for job in jobs.values()} == {
        "solid", "coarse", "medium", "fine", "very-fine", "vapour", "unknown",
    }  # fmt: skip
    assert any(job.colour.stages == 3 for job in jobs.values())
    surfaces = {panel.surface for job in jobs.values() for panel in job.panel}
    surfaces |= {patch.surface for job in jobs.values() for panel in job.panel for patch in panel.patch}
    assert {"aged-clear", "cured-clear", "primer-surfacer", "electrocoat", "filler", "bare"} <= surfaces


def test_the_door_and_wing_job_is_as_described(jobs: dict[str, Job]) -> None:
    """Very fine, light; a hand-only recess in the door's fade; a primer patch of 300 x 250 mm in the wing."""
    job = jobs["very-fine-door-and-wing"]
    door, wing = job.panel
    assert (job.colour.flake, job.colour.tone) == ("very-fine", "light")
    assert (door.colour_mm, door.fade_mm) == (150, 400)
    (recess,) = [line for line in door.feature if line.kind == "recess"]
    assert all(150 < x * door.length_mm < 700 for x, _ in recess.path)
    assert recess.reach == "hand"
    assert wing.patch[0].size_mm == (300, 250)
    assert wing.role == "repair"


def test_the_short_shelf_lacks_the_grade(jobs: dict[str, Job]) -> None:
    """The shelf of the demo house ends before the grade that a very fine silver needs."""
    assert jobs["shelf-lacks-the-grade"].colour.flake == "very-fine"
    assert load_house(demo_jobs_dir() / "houses" / "short-shelf").shop.shelf[-1] == "P800"
