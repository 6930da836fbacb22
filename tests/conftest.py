"""What all tests share: the shipped house, the demo jobs, and a clock and state folder of their own."""

from pathlib import Path

import pytest
from hypothesis import settings

from prepadvisor.standards.house import House

settings.register_profile("same every time", deadline=None, derandomize=True, database=None)
settings.load_profile("same every time")


@pytest.fixture(scope="session")
def shipped_house() -> House:
    """The shipped standards, shop, constants and outlines, loaded once."""
    from prepadvisor.files import load_house

    return load_house()


@pytest.fixture(autouse=True)
def _own_surroundings(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """No test reads or writes the person's own state, house or clock."""
    monkeypatch.setenv("PREPADVISOR_STATE", str(tmp_path_factory.mktemp("state")))
    monkeypatch.delenv("PREPADVISOR_HOUSE", raising=False)
    monkeypatch.delenv("PREPADVISOR_NOW", raising=False)


def demo_jobs() -> list[Path]:
    """List the demo jobs that ship with the program."""
    from prepadvisor.files.paths import demo_jobs_dir

    return sorted(demo_jobs_dir().glob("*.toml"))
