"""Saving from the screens: comments kept, entries of others taken over, both versions kept on a clash."""

from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.checkoff import Wanted
from prepadvisor.files import demo_jobs_dir, journal_folder, load_job
from prepadvisor.records import Check
from prepadvisor.standards import House
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import Session, check_off, with_colour
from tests.files.disk.saving import append_check


@pytest.fixture
def door(tmp_path: Path) -> Path:
    """A job file with comments of its own."""
    path = tmp_path / "door.toml"
    path.write_bytes((demo_jobs_dir() / "medium-metallic.toml").read_bytes())
    return path


@pytest.fixture
def opened(door: Path, shipped_house: House) -> Callable[[], tuple[Desk, Session]]:
    """Open the job on a desk of its own; call it twice for two openers."""

    def on_a_desk() -> tuple[Desk, Session]:
        desk = Desk(shipped_house, door.parent)
        desk.open(door)
        assert desk.session is not None
        return desk, desk.session

    return on_a_desk


Opened = Callable[[], tuple[Desk, Session]]


def _cleaned(session: Session) -> Check:
    panel = session.job.panel[0].id
    return check_off.logging(session, [Wanted(f"{panel}/panel", "cleaned", "JB")])(session.job).check[-1]


def test_saving_keeps_the_files_comments(door: Path, opened: Opened) -> None:
    """Only what changed is changed in the text."""
    comments = [line for line in door.read_text(encoding="utf-8").splitlines() if line.startswith("#")]
    desk, session = opened()
    session.do("flake fine", with_colour(session.job, flake="fine"))
    assert desk.save() == ""
    text = door.read_text(encoding="utf-8")
    assert 'flake = "fine"' in text
    assert [line for line in text.splitlines() if line.startswith("#")] == comments
    desk.close()


def test_a_check_is_appended_and_saved_once(door: Path, opened: Opened, shipped_house: House) -> None:
    """Saving twice does not log twice."""
    desk, session = opened()
    panel = session.job.panel[0].id
    wanted = [Wanted(f"{panel}/panel", "cleaned", "KM")]
    session.do("cleaned", check_off.logging(session, wanted)(session.job))
    desk.save()
    desk.save()
    assert [check.step for check in load_job(door, shipped_house).check] == ["cleaned"]
    desk.close()


def test_entries_of_another_opener_are_taken_over(door: Path, opened: Opened, shipped_house: House) -> None:
    """What was logged meanwhile stands in the file, on the screen, and is told."""
    desk, session = opened()
    append_check(door, _cleaned(session))
    session.do("flake fine", with_colour(session.job, flake="fine"))
    assert "taken over" in desk.save()
    assert [check.by for check in session.job.check] == ["JB"]
    assert [check.by for check in load_job(door, shipped_house).check] == ["JB"]
    assert not session.is_dirty
    desk.close()


def test_two_changed_versions_are_both_kept(door: Path, opened: Opened, shipped_house: House) -> None:
    """The first to save has the file; the second goes on with that, and is told where his own lies."""
    first_desk, first = opened()
    second_desk, second = opened()
    first.do("flake fine", with_colour(first.job, flake="fine"))
    second.do("flake solid", with_colour(second.job, flake="solid"))
    first_desk.save()
    told = second_desk.save()
    assert "somebody else changed the same of this job" in told
    assert load_job(door, shipped_house).colour.flake == "fine"
    (kept,) = door.parent.glob("door.mine-*.toml")
    assert kept.name in told
    assert load_job(kept, shipped_house).colour.flake == "solid"
    assert (second.path, second.job.colour.flake) == (door, "fine")
    second.do("flake coarse", with_colour(second.job, flake="coarse"))
    assert second_desk.save() == ""
    assert load_job(door, shipped_house).colour.flake == "coarse"
    first_desk.close()
    second_desk.close()


def test_what_cannot_be_saved_stays_in_the_journal(door: Path, opened: Opened) -> None:
    """The folder is gone: the words say what to do, and the edit can be recovered."""
    desk, session = opened()
    session.do("flake solid", with_colour(session.job, flake="solid"))
    gone = door.parent.with_name(door.parent.name + "-gone")
    door.parent.rename(gone)
    told = desk.save()
    assert told.startswith("not saved, but kept")
    assert session.is_dirty
    desk.keep_unsaved()
    assert any("solid" in path.read_text(encoding="ascii") for path in journal_folder().iterdir())
    gone.rename(door.parent)
    assert desk.save() == ""
    desk.close()


def test_closing_leaves_no_journal_and_no_sign(door: Path, opened: Opened) -> None:
    """A job that is saved and put away leaves only itself and its previous version."""
    desk, session = opened()
    session.do("flake solid", with_colour(session.job, flake="solid"))
    desk.keep()
    desk.close()
    assert list(journal_folder().iterdir()) == []
    assert [path.name for path in door.parent.iterdir() if ".open-" in path.name] == []
