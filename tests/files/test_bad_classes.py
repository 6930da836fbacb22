"""One bad file of each class: every fault with its line and mend, exit 2, nothing written."""

import random
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from tests.files.bad_files import CLASSES, bad_file


@pytest.mark.parametrize("name", CLASSES)
def test_a_bad_file_is_told_and_nothing_is_written(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In plain lines of a bounded number, none of them longer than a screen or two."""
    job = tmp_path / "job.toml"
    job.write_bytes(bad_file(name, random.Random(name)))
    assert main(["gate", str(job)]) == 2
    printed = capsys.readouterr()
    lines = printed.err.splitlines()
    assert printed.out == ""
    assert 0 < len(lines) <= 202
    assert all(line.startswith(str(job)) or "more faults follow" in line for line in lines), lines[:3]
    assert all(len(line) < 2_500 and line.isprintable() for line in lines)
    assert not [line for line in lines if "; " not in line and "more faults" not in line], "no mend"
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_there_are_classes_enough() -> None:
    """As many as the long run wants."""
    assert len(CLASSES) >= 40
