"""Saving: whole, merged with what others logged, both versions kept where it cannot be."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import tomli

from prepadvisor.files import (
    ChangedUnderneathError,
    NotSavedError,
    append_outcome,
    appended,
    edited,
    previous_of,
    read_version,
    save_text,
    sight,
    values_of,
)
from prepadvisor.records import Check, Job, Outcome
from tests.files.conftest import JOB_TEXT
from tests.files.disk.saving import append_check

Numbered = Callable[[int], Check]


def _notes(path: Path) -> list[str]:
    return [entry["note"] for entry in tomli.loads(path.read_text(encoding="utf-8")).get("check", [])]


def append_to(text: str, check: Check) -> str:
    """Return a job's text with an entry."""
    return appended(text.encode(), "check", [values_of(check)]).decode()


def _job(text: str) -> Job:
    return Job.model_validate(tomli.loads(text))


def test_a_check_is_in_the_file_when_the_call_returns(job_file: Path, numbered: Numbered) -> None:
    """And the comments are as they were."""
    before = job_file.read_bytes()
    append_check(job_file, numbered(1))
    assert job_file.read_bytes().startswith(before)
    assert _notes(job_file) == ["number 1"]


def test_an_outcome_is_in_the_file_when_the_call_returns(job_file: Path, numbered: Numbered) -> None:
    """Weeks later, the same way."""
    append_outcome(job_file, Outcome(at=numbered(1).at, by="K", panel="door", feature="E1", seen=True))
    assert tomli.loads(job_file.read_text(encoding="utf-8"))["outcome"][0]["seen"] is True


def test_the_version_before_is_kept_beside(job_file: Path, numbered: Numbered) -> None:
    """Under the name with a tilde."""
    before = job_file.read_bytes()
    append_check(job_file, numbered(1))
    assert previous_of(job_file).read_bytes() == before


def test_nothing_else_is_left_in_the_folder(job_file: Path, numbered: Numbered) -> None:
    """No lock, no half-written file."""
    for number in range(3):
        append_check(job_file, numbered(number))
    assert sorted(path.name for path in job_file.parent.iterdir()) == ["1042.toml", "1042.toml~"]


def test_a_new_file_is_saved(tmp_path: Path) -> None:
    """There is no version before it."""
    save_text(tmp_path / "new.toml", JOB_TEXT)
    assert [path.name for path in tmp_path.iterdir()] == ["new.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="rights and links of a POSIX system")
def test_rights_and_links_stay(job_file: Path, numbered: Numbered) -> None:
    """A file that the group may write stays so; a link still points to the file."""
    job_file.chmod(0o664)
    link = job_file.with_name("today.toml")
    link.symlink_to(job_file)
    append_check(link, numbered(1))
    assert link.is_symlink()
    assert job_file.stat().st_mode & 0o777 == 0o664
    assert _notes(job_file) == ["number 1"]


def test_a_save_that_finds_new_checks_keeps_them(job_file: Path, numbered: Numbered) -> None:
    """The painter moved a zone while the technician logged."""
    base = read_version(job_file)
    append_check(job_file, numbered(1))
    saved = save_text(job_file, base.text.replace("fade_mm = 400", "fade_mm = 350"), base)
    assert saved.taken_over == 1
    assert _notes(job_file) == ["number 1"]
    assert "fade_mm = 350" in job_file.read_text(encoding="utf-8")


def test_no_save_takes_an_entry_away(job_file: Path, numbered: Numbered) -> None:
    """Not even one whose text has no log at all."""
    before = read_version(job_file)
    append_check(job_file, numbered(1))
    save_text(job_file, before.text, read_version(job_file))
    assert _notes(job_file) == ["number 1"]


def test_entries_of_both_sides_are_joined_once(job_file: Path, numbered: Numbered) -> None:
    """What both have stands there once, what stands twice stays twice."""
    append_check(job_file, numbered(1))
    append_check(job_file, numbered(1))
    base = read_version(job_file)
    append_check(job_file, numbered(2))
    save_text(job_file, base.text.replace('"K. M."\n\n[colour]', '"J. B."\n\n[colour]'), base)
    assert sorted(_notes(job_file)) == ["number 1", "number 1", "number 2"]


def test_two_changes_of_the_job_keep_both_versions(job_file: Path) -> None:
    """Theirs stays in the file, ours lies beside it under a name that is told."""
    base = read_version(job_file)
    theirs = base.text.replace("fade_mm = 400", "fade_mm = 300")
    mine = base.text.replace("fade_mm = 400", "fade_mm = 350")
    job_file.write_text(theirs, encoding="utf-8")
    saved = save_text(job_file, mine, base)
    assert job_file.read_text(encoding="utf-8") == theirs
    assert saved.version.text == theirs
    assert saved.kept is not None
    assert saved.kept.read_text(encoding="utf-8") == mine


def test_entries_go_into_a_job_that_both_changed(job_file: Path, numbered: Numbered) -> None:
    """A lead moved the same border meanwhile: his job stands, and no entry waits in a file beside it."""
    base = read_version(job_file)
    append_check(job_file, numbered(1))
    mine = read_version(job_file).text.replace("fade_mm = 400", "fade_mm = 350")
    theirs = base.text.replace("fade_mm = 400", "fade_mm = 300")
    job_file.write_text(theirs, encoding="utf-8")
    saved = save_text(job_file, mine, base)
    assert _notes(job_file) == ["number 1"]
    assert "fade_mm = 300" in job_file.read_text(encoding="utf-8")
    assert saved.kept is not None


def test_different_changes_of_both_are_joined(job_file: Path, numbered: Numbered) -> None:
    """A lead moved a border and wrote a remark, the technician logged and named the car."""
    base = read_version(job_file)
    append_check(job_file, numbered(1))
    theirs = base.text.replace("fade_mm = 400", "fade_mm = 300 # as agreed")
    mine = base.text.replace('by = "K. M."\n', 'by = "K. M."\nvehicle = "estate"\n')
    mine = append_to(mine, numbered(2))
    job_file.write_text(theirs, encoding="utf-8")
    saved = save_text(job_file, mine, base)
    text = job_file.read_text(encoding="utf-8")
    assert saved.kept is None
    assert "fade_mm = 300 # as agreed" in text
    assert 'vehicle = "estate"' in text
    assert _notes(job_file) == ["number 2"]


def test_the_disks_entries_come_first_and_keep_their_bytes(job_file: Path, numbered: Numbered) -> None:
    """Then mine; a remark between them that a person wrote stays where it is."""
    base = read_version(job_file)
    mine = append_to(base.text, numbered(2))
    append_check(job_file, numbered(1))
    with job_file.open("a", encoding="utf-8") as file:
        file.write("# looked at by daylight\n")
    before = job_file.read_bytes()
    save_text(job_file, mine, base)
    assert job_file.read_bytes().startswith(before)
    assert _notes(job_file) == ["number 1", "number 2"]


def test_an_entry_is_known_by_its_id(job_file: Path, numbered: Numbered) -> None:
    """Saved once more under the same id, as after an unknown result, it stands there once."""
    check = numbered(1).model_copy(update={"id": "ab12-1"})
    append_check(job_file, check)
    append_check(job_file, check)
    assert _notes(job_file) == ["number 1"]


def test_what_would_not_be_read_as_a_job_is_never_written(job_file: Path, numbered: Numbered) -> None:
    """An entry that no reader takes is refused, and the file is as it was."""
    before = job_file.read_bytes()
    with pytest.raises(NotSavedError, match="could not be read afterwards"):
        append_check(job_file, numbered(1).model_copy(update={"note": "\u202e"}))
    with pytest.raises(NotSavedError, match="could not be read afterwards"):
        save_text(job_file, "[job]\nnumber = ''\n", read_version(job_file))
    assert job_file.read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="rights of a POSIX system")
def test_a_write_protected_job_stays_as_it_is(job_file: Path, numbered: Numbered) -> None:
    """Somebody put it away: nothing replaces it, and its rights stay."""
    before = job_file.read_bytes()
    job_file.chmod(0o444)
    with pytest.raises(NotSavedError, match="write-protected"):
        append_check(job_file, numbered(1))
    assert (job_file.read_bytes(), job_file.stat().st_mode & 0o777) == (before, 0o444)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root gives files away")
def test_owner_and_group_stay(job_file: Path, numbered: Numbered) -> None:
    """A file of the shop's group stays the group's, with the rights it has."""
    os.chown(job_file, 12_345, 23_456)
    job_file.chmod(0o2664)
    append_check(job_file, numbered(1))
    status = job_file.stat()
    assert (status.st_uid, status.st_gid, status.st_mode & 0o7777) == (12_345, 23_456, 0o2664)


def test_the_same_change_on_both_sides_is_no_conflict(job_file: Path) -> None:
    """Both moved the zone alike."""
    base = read_version(job_file)
    same = base.text.replace("fade_mm = 400", "fade_mm = 350")
    job_file.write_text(same + "# and a remark\n", encoding="utf-8")
    save_text(job_file, same, base)
    assert "fade_mm = 350" in job_file.read_text(encoding="utf-8")


def test_a_file_that_somebody_is_spoiling_is_left_alone(job_file: Path) -> None:
    """Half-saved by an editor: it is told, and ours waits where it is kept."""
    base = read_version(job_file)
    job_file.write_text("[job\n", encoding="utf-8")
    with pytest.raises(NotSavedError, match="not sound now"):
        save_text(job_file, base.text, base)
    assert job_file.read_text(encoding="utf-8") == "[job\n"


def test_a_new_file_never_overwrites_another(job_file: Path) -> None:
    """Somebody made one of that name meanwhile."""
    with pytest.raises(ChangedUnderneathError):
        save_text(job_file, "[job]\nnumber = '2'\n")


def test_a_change_underneath_is_seen(job_file: Path, numbered: Numbered) -> None:
    """Also that the file is gone."""
    before = sight(job_file)
    assert sight(job_file) == before
    append_check(job_file, numbered(1))
    assert sight(job_file) != before
    job_file.unlink()
    assert sight(job_file) is None


def test_a_deleted_file_is_saved_again(job_file: Path) -> None:
    """What is open is not lost by somebody's tidying."""
    base = read_version(job_file)
    job_file.unlink()
    save_text(job_file, base.text, base)
    assert job_file.read_text(encoding="utf-8") == base.text


def test_a_vanished_share_is_told_with_what_to_do(job_file: Path, numbered: Numbered) -> None:
    """The folder is gone, and nothing is made in its place."""
    base = read_version(job_file)
    away = job_file.parent.rename(job_file.parent.with_name("away"))
    with pytest.raises(NotSavedError, match="is gone; plug the drive in or log on"):
        append_check(job_file, numbered(1))
    with pytest.raises(NotSavedError, match="is gone"):
        save_text(job_file, base.text, base)
    assert not job_file.parent.exists()
    assert (away / job_file.name).exists()


def test_half_a_letter_is_told_and_nothing_is_written(job_file: Path) -> None:
    """A broken paste must not cost the job."""
    base = read_version(job_file)
    with pytest.raises(NotSavedError, match="no whole letter; delete it"):
        save_text(job_file, base.text + "# \ud800", base)
    assert job_file.read_bytes() == base.raw


def test_a_missing_job_is_not_made_by_logging(tmp_path: Path, numbered: Numbered) -> None:
    """A mistyped name gets no file."""
    with pytest.raises(NotSavedError):
        append_check(tmp_path / "1043.toml", numbered(1))
    assert [path.name for path in tmp_path.iterdir()] == []


def test_a_broken_job_is_not_logged_in(job_file: Path, numbered: Numbered) -> None:
    """And stays as it is."""
    job_file.write_text("[job\n", encoding="utf-8")
    with pytest.raises(NotSavedError, match="mend the file"):
        append_check(job_file, numbered(1))
    assert job_file.read_text(encoding="utf-8") == "[job\n"


def test_an_edit_keeps_comments_and_the_log(job_file: Path, numbered: Numbered) -> None:
    """Edit, merge, save."""
    base = read_version(job_file)
    before = _job(base.text)
    panel = before.panel[0].model_copy(update={"fade_mm": 350.0})
    append_check(job_file, numbered(1))
    after = before.model_copy(update={"panel": (panel,)})
    save_text(job_file, edited(base.text, before, after), base)
    text = job_file.read_text(encoding="utf-8")
    assert _job(text).panel[0].fade_mm == 350.0
    assert _notes(job_file) == ["number 1"]
    assert all(
        remark in text for remark in ("# the lead's remark", "# as on the key tag", "# rubs through first")
    )
