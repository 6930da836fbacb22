"""The head that is painted before anything large is read."""

import subprocess
import sys
from pathlib import Path

import pytest

from prepadvisor.cli.first_head import first_head


@pytest.fixture(autouse=True)
def _own_state(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PREPADVISOR_STATE", str(tmp_path / "state"))


def test_it_says_which_job_is_opened(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Number and colour of the file, with control signs made harmless."""
    job = tmp_path / "j.toml"
    job.write_text('[job]\nnumber = "1042"\n[colour]\nname = "Harbour\\u001b[2J mist"\n[[panel]]\n', "utf-8")
    with first_head(job):
        pass
    painted = capsys.readouterr().out
    assert "1042  Harbour?[2J mist" in painted


def test_a_file_with_faults_goes_by_its_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is wrong with it is told by whoever reads it."""
    job = tmp_path / "broken.toml"
    job.write_text("number = ", "utf-8")
    with first_head(job):
        pass
    assert "broken" in capsys.readouterr().out


def test_an_error_leaves_the_terminal_as_it_was(capsys: pytest.CaptureFixture[str]) -> None:
    """The other screen is left and the cursor shown again."""
    with pytest.raises(ValueError, match="fault"), first_head(None):
        raise ValueError("fault")
    assert capsys.readouterr().out.endswith("\x1b[?25h\x1b[?1049l")


def test_it_needs_no_large_package() -> None:
    """Neither textual nor pydantic nor numpy is imported for it: only then is it there at once."""
    code = (
        "import sys, prepadvisor.cli.bench, prepadvisor.cli.first_head\n"
        "print(sorted({'textual', 'pydantic', 'numpy', 'tomlkit'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
