"""On odd shares: what is acknowledged is there once and in order; what is not known is said as unknown."""

import errno
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.files import (
    FileSystem,
    NotSavedError,
    UnknownResultError,
    entries_beside,
    entry_path,
    load_job,
    locked,
    put_beside,
    read_version,
    save_text,
    values_of,
)
from prepadvisor.files.disk import lock as lock_module
from prepadvisor.records import Check
from prepadvisor.standards import House
from tests.files.disk.odd_shares import FoldedCase, LateNews, LostRenames, NoFolderSync, UnheardRenames
from tests.files.disk.saving import append_check

Numbered = Callable[[int], Check]


pytestmark = pytest.mark.usefixtures("short_waits")


@pytest.fixture
def no_locks(monkeypatch: pytest.MonkeyPatch) -> None:
    """A share that knows no locks."""

    def unsupported(handle: int) -> bool:
        raise OSError(errno.ENOTSUP, f"not supported ({handle})")

    monkeypatch.setattr(lock_module, "_system_lock", unsupported)


def named(check: Check, number: int, knew: str = "start") -> Check:
    """Return an entry with an id."""
    return check.model_copy(update={"id": f"aa-{number}", "knew": knew})


def notes(path: Path) -> list[str]:
    """Return the notes of the whole log, with what stands beside the job."""
    return [entry["note"] for entry in tomllib.loads(read_version(path).text).get("check", [])]


@pytest.mark.usefixtures("no_locks")
def test_without_locks_each_entry_is_a_file_of_its_own(
    job_file: Path, numbered: Numbered, shipped_house: House
) -> None:
    """The job is as it was, everybody reads them with it, in the order they were made."""
    before = job_file.read_bytes()
    for number in range(1, 4):
        assert append_check(job_file, named(numbered(number), number)).beside
    assert job_file.read_bytes() == before
    assert notes(job_file) == ["number 1", "number 2", "number 3"]
    assert [check.note for check in load_job(job_file, shipped_house).check] == notes(job_file)


def test_the_next_who_can_lock_folds_them_in(
    job_file: Path, numbered: Numbered, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Below what the file has, above his own entry; nothing is left beside it."""
    with monkeypatch.context() as share:
        share.setattr(lock_module, "_system_lock", _unsupported)
        for number in (1, 2):
            append_check(job_file, named(numbered(number), number))
    append_check(job_file, numbered(3).model_copy(update={"id": "bb-1", "knew": "aa-2"}))
    assert [entry["note"] for entry in tomllib.loads(job_file.read_text(encoding="utf-8"))["check"]] == [
        "number 1", "number 2", "number 3",
    ]  # fmt: skip
    assert sorted(path.name for path in job_file.parent.iterdir()) == ["1042.toml", "1042.toml~"]


def _unsupported(handle: int) -> bool:
    raise OSError(errno.ENOTSUP, f"not supported ({handle})")


def test_an_entry_never_stands_above_one_its_writer_knew(job_file: Path, numbered: Numbered) -> None:
    """Whatever the clocks and the folder say of their order."""
    system = FileSystem()
    for ident, knew in (("zz-2", "cc-1"), ("zz-1", "start"), ("cc-1", "zz-1"), ("dd-1", "zz-2")):
        check = numbered(1).model_copy(update={"id": ident, "knew": knew})
        put_beside(job_file, "check", values_of(check), system)
    order = [entry.values["id"] for entry in entries_beside(job_file)]
    assert order == ["zz-1", "cc-1", "zz-2", "dd-1"]


def test_an_entry_file_that_was_cut_short_is_no_entry(job_file: Path, numbered: Numbered) -> None:
    """It was never acknowledged, and spoils nothing."""
    put_beside(job_file, "check", values_of(named(numbered(1), 1)), FileSystem())
    whole = entry_path(job_file, "aa-1")
    entry_path(job_file, "aa-2").write_bytes(whole.read_bytes()[:-12])
    assert notes(job_file) == ["number 1"]


def test_an_entry_that_is_folded_in_and_still_there_counts_once(job_file: Path, numbered: Numbered) -> None:
    """As after a kill between the two."""
    put_beside(job_file, "check", values_of(named(numbered(1), 1)), FileSystem())
    kept = entry_path(job_file, "aa-1").read_bytes()
    append_check(job_file, named(numbered(2), 2))
    entry_path(job_file, "aa-1").write_bytes(kept)
    assert notes(job_file) == ["number 1", "number 2"]
    append_check(job_file, named(numbered(3), 3))
    assert notes(job_file) == ["number 1", "number 2", "number 3"]


def test_an_entry_does_not_wait_for_whoever_holds_the_job(job_file: Path, numbered: Numbered) -> None:
    """It stands beside it, acknowledged."""
    with locked(job_file, "J. B."):
        saved = append_check(job_file, named(numbered(1), 1))
    assert (saved.beside, notes(job_file)) == (True, ["number 1"])


@pytest.mark.usefixtures("no_locks")
def test_without_locks_a_changed_job_keeps_every_entry(job_file: Path, numbered: Numbered) -> None:
    """The change goes into the file, the entries stay beside it or go in."""
    base = read_version(job_file)
    append_check(job_file, named(numbered(1), 1))
    save_text(job_file, base.text.replace("fade_mm = 400", "fade_mm = 350"), base)
    assert notes(job_file) == ["number 1"]
    assert "fade_mm = 350" in job_file.read_text(encoding="utf-8")


@pytest.mark.parametrize(("every", "count"), [(1, 2), (2, 3), (3, 4)])
def test_lost_renames_lose_no_acknowledged_entry(
    every: int, count: int, job_file: Path, numbered: Numbered
) -> None:
    """What does not show is put beside the job; each is there once."""
    system = LostRenames(every)
    for number in range(1, count + 1):
        append_check(job_file, named(numbered(number), number), system=system)
    assert system.lost
    assert notes(job_file) == [f"number {number}" for number in range(1, count + 1)]


@pytest.mark.parametrize("is_done", [True, False])
def test_a_rename_without_answer_is_found_out_by_reading(
    is_done: bool, job_file: Path, numbered: Numbered
) -> None:
    """Done or not, the entry is there once; a change of the job is said as saved or as unknown."""
    system = UnheardRenames(lambda _number: is_done)
    saved = append_check(job_file, named(numbered(1), 1), system=system)
    assert (saved.beside, notes(job_file)) == (not is_done, ["number 1"])
    base = read_version(job_file)
    changed = base.text.replace("fade_mm = 400", "fade_mm = 350")
    if is_done:
        assert "did not confirm" in save_text(job_file, changed, base, system=system).remark
    else:
        with pytest.raises(UnknownResultError, match="not known whether this was saved"):
            save_text(job_file, changed, base, system=system)
    assert ("fade_mm = 350" in job_file.read_text(encoding="utf-8")) is is_done


@pytest.mark.parametrize("readings", [1, 2, 3, 50])
def test_late_news_loses_and_doubles_nothing(readings: int, job_file: Path, numbered: Numbered) -> None:
    """The writer waits a little for what it wrote; where that is not enough, the entry stands beside too."""
    for number in range(1, 3):  # each writer has its own view of the share
        append_check(job_file, named(numbered(number), number), system=LateNews(readings))
    assert notes(job_file) == [f"number {number}" for number in range(1, 3)]


def test_folded_case_doubles_nothing(job_file: Path, numbered: Numbered) -> None:
    """A job opened under its name in capitals is the same job."""
    capitals = job_file.with_name("1042.TOML")
    capitals.symlink_to(job_file)  # as a system does that folds case
    system = FoldedCase()
    append_check(job_file, named(numbered(1), 1), system=system)
    append_check(capitals, named(numbered(2), 2), system=system)
    assert notes(job_file) == ["number 1", "number 2"]


def test_a_failed_folder_sync_is_said_as_saved(job_file: Path, numbered: Numbered) -> None:
    """Not as "log it again": it is there."""
    saved = append_check(job_file, named(numbered(1), 1), system=NoFolderSync())
    assert "saved, but this drive did not confirm" in saved.remark
    assert notes(job_file) == ["number 1"]


def test_a_refused_entry_is_not_there(job_file: Path, numbered: Numbered) -> None:
    """An error that says no is a no, at once."""
    system = UnheardRenames(lambda _number: False, errno.EACCES)
    with pytest.raises(NotSavedError, match="may not be written to"):
        append_check(job_file, named(numbered(1), 1), system=system)
    assert notes(job_file) == []


def test_a_reader_meets_every_entry_however_it_is_taken_in(
    job_file: Path, numbered: Numbered, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between looking beside the job and reading it, somebody folds the entry in."""
    put_beside(job_file, "check", values_of(named(numbered(1), 1)), FileSystem())
    real = FileSystem.read

    def meanwhile(self: FileSystem, path: Path) -> bytes:
        if path == job_file:
            monkeypatch.setattr(FileSystem, "read", real)
            append_check(job_file, named(numbered(2), 2))
        return real(self, path)

    monkeypatch.setattr(FileSystem, "read", meanwhile)
    assert notes(job_file) == ["number 1", "number 2"]
    assert not entries_beside(job_file)
