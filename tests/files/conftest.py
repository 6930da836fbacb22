"""A job file as a person wrote it, and entries to add to it."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.files.disk import beside as beside_module
from prepadvisor.files.disk import store as store_module
from prepadvisor.records import Check

JOB_TEXT = """\
# the lead's remark on top
[job]
number = "1042"          # as on the key tag
by = "K. M."

[colour]
flake = "very-fine"

[[panel]]
id = "door"              # left front
kind = "front-door"
role = "blend"
surface = "aged-clear"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400

[[panel.feature]]
id = "E1"                # rubs through first
kind = "edge"
path = [[0.0, 0.0], [0.0, 1.0]]
reach = "machine"
# the end
"""


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    """Return a job file with comments and no log."""
    path = tmp_path / "1042.toml"
    path.write_text(JOB_TEXT, encoding="utf-8")
    return path


@pytest.fixture
def numbered() -> Callable[[int], Check]:
    """Return a maker of entries that are told apart by their number."""

    def made(number: int) -> Check:
        at = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC) + dt.timedelta(seconds=number)
        return Check(
            at=at, by="K. M.", panel="door", feature="E1", step="guide-coated", note=f"number {number}"
        )

    return made


@pytest.fixture
def short_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody waits long for what a test holds back: as many readings as ever, hardly a pause between."""
    for module in (beside_module, store_module):
        pauses = [min(pause, 0.001) for pause in module._READ_AGAIN_SECONDS]
        monkeypatch.setattr(module, "_READ_AGAIN_SECONDS", pauses)
    monkeypatch.setattr(store_module, "_WAIT_FOR_ENTRY_SECONDS", 0.1)
