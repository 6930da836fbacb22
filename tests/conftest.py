"""What all tests share: the shipped house, the demo jobs, and a clock and state folder of their own."""

import os
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

from prepadvisor.standards import House

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy: a second thread for small sums only waits

settings.register_profile("same every time", deadline=None, derandomize=True, database=None)
settings.load_profile("same every time")


@pytest.fixture(scope="session")
def shipped_house() -> House:
    """The shipped standards, shop, constants and outlines, loaded once."""
    from prepadvisor.files import load_house

    return load_house()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--accept`, without which no test writes what it is held against."""
    parser.addoption("--accept", action="store_true", help="write the goldens anew: look at them afterwards")


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> Callable[[Path, str], None]:
    """Write a golden where `--accept` is given; without it a missing golden fails."""

    def write(golden: Path, text: str) -> None:
        if request.config.getoption("--accept"):
            golden.parent.mkdir(exist_ok=True)
            golden.write_text(text, encoding="utf-8")
        elif not golden.exists():
            pytest.fail(f"{golden.name} is missing: run with --accept, look at it, keep it")

    return write


@pytest.fixture(scope="session")
def _states(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Return a giver of new folders: pytest's own numbering reads all that are there for each new one."""
    root = tmp_path_factory.mktemp("states")

    def each() -> Iterator[Path]:
        for number in count():
            (root / str(number)).mkdir()
            yield root / str(number)

    return each()


@pytest.fixture(autouse=True)
def _own_surroundings(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory, _states: Iterator[Path]
) -> None:
    """No test reads or writes the person's own state, house or clock."""
    monkeypatch.setenv("PREPADVISOR_STATE", str(next(_states)))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.getbasetemp() / "no-config"))
    monkeypatch.delenv("PREPADVISOR_SCREENS", raising=False)
    monkeypatch.delenv("PREPADVISOR_HOUSE", raising=False)
    monkeypatch.delenv("PREPADVISOR_NOW", raising=False)


def demo_jobs() -> list[Path]:
    """List the demo jobs that ship with the program."""
    from prepadvisor.files import demo_jobs_dir

    return sorted(demo_jobs_dir().glob("*.toml"))
