"""A second opener sees who has the job open, and nobody is shut out."""

import json
import time
from pathlib import Path

import pytest

from prepadvisor.files import FORGOTTEN_AFTER_SECONDS, Opener
from prepadvisor.files.disk import openers as openers_module


def _names(opener: Opener) -> list[str]:
    return [owner.by for owner in opener.others()]


def test_each_sees_the_other_until_it_closes(job_file: Path) -> None:
    """By initials."""
    first, second = Opener(job_file, "K. M."), Opener(job_file, "J. B.")
    assert (_names(first), _names(second)) == (["J. B."], ["K. M."])
    first.close()
    assert _names(second) == []


def test_other_jobs_have_other_openers(job_file: Path) -> None:
    """A name that begins alike is another job."""
    Opener(job_file.with_name("1042.toml.old.toml"), "J. B.")
    assert _names(Opener(job_file, "K. M.")) == []


def test_the_dead_are_taken_away(job_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A crash leaves its sign; the next opener clears it."""
    Opener(job_file, "J. B.")
    monkeypatch.setattr(openers_module, "is_alive", lambda pid: pid < 0)
    assert _names(Opener(job_file, "K. M.")) == []
    assert len([path for path in job_file.parent.iterdir() if ".open-" in path.name]) == 1


@pytest.mark.parametrize(("age", "there"), [(60.0, True), (FORGOTTEN_AFTER_SECONDS + 1, False)])
def test_another_machine_is_there_until_it_is_silent_for_long(
    job_file: Path, age: float, there: bool
) -> None:
    """Its processes cannot be seen from here."""
    owner = {"by": "J. B.", "host": "the-office-pc", "pid": 1, "since": time.time() - age}
    job_file.with_name(f".{job_file.name}.open-1-x").write_text(json.dumps(owner), encoding="utf-8")
    assert bool(Opener(job_file, "K. M.").others()) is there


def test_a_folder_that_cannot_be_written_to_shuts_nobody_out(tmp_path: Path) -> None:
    """The job opens all the same."""
    opener = Opener(tmp_path / "no-such-folder" / "1042.toml", "K. M.")
    assert opener.others() == ()
    opener.close()


def test_signs_nobody_can_read_are_left_alone(job_file: Path) -> None:
    """They may be half-written by a living opener."""
    sign = job_file.with_name(f".{job_file.name}.open-1-x")
    sign.write_text("{", encoding="utf-8")
    assert Opener(job_file).others() == ()
    assert sign.exists()
