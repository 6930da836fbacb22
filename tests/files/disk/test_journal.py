"""Every edit is on the disk at once, and is offered again after a crash."""

import errno
import hashlib
from pathlib import Path

import pytest

from prepadvisor.files import FileSystem, Journal, NotSavedError, journal_folder, recoverable
from prepadvisor.files.disk import journal as journal_module


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return where journals are."""
    return tmp_path / "state" / "journals"


@pytest.fixture
def crashed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make every process look dead, as after a crash."""
    monkeypatch.setattr(journal_module, "_is_in_use", lambda journal, last: not (journal and last))


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_an_edit_is_in_the_journal_when_the_write_returns(job_file: Path, folder: Path) -> None:
    """Nothing waits for a timer: whoever dies next loses no edit."""
    journal = Journal(job_file, folder=folder)
    journal.write("the last word")
    assert any("the last word" in path.read_text("utf-8") for path in folder.rglob("*") if path.is_file())
    journal.close()


@pytest.mark.usefixtures("crashed")
def test_the_last_edit_is_offered_after_a_crash(job_file: Path, folder: Path) -> None:
    """With its file, its author and what it began with."""
    journal = Journal(job_file, _digest(job_file), "K. M.", folder)
    for number in range(3):
        journal.write(f"text {number} with ß, \u202e and \ud800")
    (offer,) = recoverable(folder)
    assert (offer.path, offer.by, offer.text) == (job_file, "K. M.", "text 2 with ß, \u202e and \ud800")
    assert not offer.file_has_changed


@pytest.mark.usefixtures("crashed")
def test_an_offer_says_whether_its_file_has_changed(job_file: Path, folder: Path) -> None:
    """Then both versions have to be looked at."""
    Journal(job_file, _digest(job_file), folder=folder).write("text")
    job_file.write_text("other", encoding="utf-8")
    assert recoverable(folder)[0].file_has_changed


def test_a_living_process_keeps_its_journal(job_file: Path, folder: Path) -> None:
    """A second window offers nothing that is open in the first."""
    Journal(job_file, folder=folder).write("text")
    assert recoverable(folder) == ()
    assert len(list(folder.iterdir())) == 1


@pytest.mark.usefixtures("crashed")
def test_a_saved_job_offers_nothing(job_file: Path, folder: Path) -> None:
    """The journal goes with the save, and starts again with the next edit."""
    journal = Journal(job_file, folder=folder)
    journal.write("text")
    journal.saved("digest of the new version")
    assert recoverable(folder) == ()
    journal.write("more")
    assert [(offer.text, offer.base) for offer in recoverable(folder)] == [
        ("more", "digest of the new version")
    ]


@pytest.mark.usefixtures("crashed")
def test_an_edit_that_reached_its_file_is_not_offered(job_file: Path, folder: Path) -> None:
    """Killed between the save and the journal's end."""
    Journal(job_file, folder=folder).write(job_file.read_text(encoding="utf-8"))
    assert recoverable(folder) == ()
    assert list(folder.iterdir()) == []


@pytest.mark.usefixtures("crashed")
@pytest.mark.parametrize(
    "torn", [b"", b"0", b"00000000 {}", b'12345678 {"text": "x"}\n', b"\x00" * 4096, b"\xff\xfe\n"]
)
def test_a_torn_last_line_is_left_out(job_file: Path, folder: Path, torn: bytes) -> None:
    """The edit before it is offered."""
    journal = Journal(job_file, folder=folder)
    journal.write("whole")
    journal.close()
    with journal.path.open("ab") as file:
        file.write(torn)
    assert [offer.text for offer in recoverable(folder)] == ["whole"]


@pytest.mark.usefixtures("crashed")
def test_a_journal_that_grows_is_written_anew(
    job_file: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It stays small and keeps the last edit."""
    monkeypatch.setattr(journal_module, "_BYTES_MAX", 20_000)
    journal = Journal(job_file, folder=folder)
    for number in range(50):
        journal.write(f"{number} " + "x" * 1000)
        assert recoverable(folder)[0].text.startswith(f"{number} ")
    assert journal.path.stat().st_size <= 21_500


@pytest.mark.usefixtures("crashed")
def test_a_full_disk_is_told_and_the_next_edit_tries_again(job_file: Path, folder: Path) -> None:
    """The line that was cut short does not spoil the one after it."""

    class Full(FileSystem):
        is_full = False

        def write(self, handle: int, data: bytes) -> int:
            if not self.is_full or data == b"\n":
                return super().write(handle, data)
            super().write(handle, data[:20])
            raise OSError(errno.ENOSPC, "full")

    system = Full()
    journal = Journal(job_file, folder=folder, system=system)
    journal.write("one")
    system.is_full = True
    with pytest.raises(NotSavedError, match="the disk is full"):
        journal.write("two")
    assert recoverable(folder)[0].text == "one"
    system.is_full = False
    journal.write("three")
    assert recoverable(folder)[0].text == "three"


@pytest.mark.usefixtures("crashed")
def test_an_offer_that_is_not_wanted_is_forgotten(job_file: Path, folder: Path) -> None:
    """It is not offered twice."""
    Journal(job_file, folder=folder).write("text")
    recoverable(folder)[0].forget()
    assert recoverable(folder) == ()


@pytest.mark.usefixtures("crashed")
def test_offers_come_newest_first(tmp_path: Path, folder: Path) -> None:
    """Of several jobs that were open."""
    for name in ("a", "b", "c"):
        Journal(tmp_path / f"{name}.toml", folder=folder).write(name)
    assert [offer.text for offer in recoverable(folder)] == ["c", "b", "a"]


def test_without_a_state_folder_there_is_nothing_to_recover(folder: Path) -> None:
    """On the first start."""
    assert recoverable(folder) == ()


def test_a_jobs_name_cannot_lead_out_of_the_folder(tmp_path: Path, folder: Path) -> None:
    """The journal's name is made of a digest alone."""
    journal = Journal(tmp_path / ".." / ".." / "x.toml", folder=folder)
    journal.write("text")
    assert journal.path.parent == folder


def test_journals_lie_in_the_state_folder(job_file: Path) -> None:
    """Which the person may set."""
    journal = Journal(job_file)
    journal.write("text")
    assert journal.path.parent == journal_folder()
