"""The screens show the file: undo never reaches into it, others' entries come, a crash loses nothing."""

import datetime as dt
import json
import os
from pathlib import Path

import pytest
import tomli
from textual.pilot import Pilot

from prepadvisor.checkoff import Wanted
from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, journal_folder, recoverable
from prepadvisor.files.disk import journal as journal_module
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import Session, check_off, gate_view, with_colour
from tests.tui.conftest import Play

PANEL = "left-rear-door"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job with one panel and no log."""
    path = tmp_path / "1031.toml"
    path.write_bytes((demo_jobs_dir() / "solid.toml").read_bytes())
    return path


@pytest.fixture
def desk(job: Path, shipped_house: House) -> Desk:
    """A desk with the job open."""
    return _opened(job, shipped_house)


def _opened(job: Path, house: House) -> Desk:
    desk = Desk(house, job.parent)
    desk.open(job)
    return desk


def _session(desk: Desk) -> Session:
    assert desk.session is not None
    return desk.session


def _log(desk: Desk, step: str = "cleaned", where: str = "panel", **more: str) -> None:
    session = _session(desk)
    wanted = [Wanted(f"{PANEL}/{where}", step, "KM", **more)]  # type: ignore[arg-type]
    session.do(step, check_off.logging(session, wanted)(session.job))
    desk.keep()


def _steps(job: Path) -> list[str]:
    return [entry["step"] for entry in tomli.loads(job.read_text(encoding="utf-8")).get("check", [])]


def test_redo_after_a_save_never_brings_back_an_older_log(desk: Desk, job: Path) -> None:
    """Undone before it was saved, others logged, then redone: it comes below what is in the file."""
    _log(desk)
    _session(desk).undo()
    assert main(["log", str(job), f"{PANEL}/E1", "scuffed", "--by", "JB", "--tool", "hand-pad"]) == 0
    desk.look()
    _session(desk).redo()
    desk.save()
    assert _steps(job) == ["scuffed", "cleaned"]
    assert [check.step for check in _session(desk).job.check] == ["scuffed", "cleaned"]


@pytest.mark.parametrize("presses", ["u", "ur", "uur", "uru", "uurr", "rrr"])
def test_no_undo_or_redo_touches_what_is_in_the_file(presses: str, desk: Desk, job: Path) -> None:
    """In any order of keys, the screen has the file's entries, and the file keeps its bytes."""
    session = _session(desk)
    session.do("fine", with_colour(session.job, flake="fine"))
    _log(desk)
    desk.save()
    before = job.read_bytes()
    for press in presses:
        (session.undo if press == "u" else session.redo)()
        assert [check.step for check in session.job.check] == ["cleaned"]
    assert job.read_bytes() == before
    desk.save()
    assert _steps(job) == ["cleaned"]


def test_what_others_log_is_there_at_the_next_look_and_is_told(desk: Desk, job: Path) -> None:
    """On a screen that nobody touches: with whose entry it is."""
    assert main(["log", str(job), f"{PANEL}/panel", "cleaned", "--by", "JB"]) == 0
    told = desk.look()
    assert "JB" in told
    assert [check.by for check in _session(desk).job.check] == ["JB"]
    assert not _session(desk).is_dirty


def test_an_entry_says_what_its_writer_knew_of_the_disk(desk: Desk, job: Path) -> None:
    """The last entry in the file when it was last read; an own one on its way does not count."""
    main(["log", str(job), f"{PANEL}/panel", "cleaned", "--by", "JB"])
    first = tomli.loads(job.read_text(encoding="utf-8"))["check"][0]["id"]
    _log(desk, "scuffed", "E1", tool="hand-pad", grade="P800")
    desk.look()
    _log(desk, "scuffed", "E2", tool="hand-pad", grade="P800")
    _log(desk, "scuffed", "E3", tool="hand-pad", grade="P800")
    knew = [check.knew for check in _session(desk).log.pending]
    assert knew == ["start", first, first]


def test_entries_of_a_lead_who_edits_and_a_technician_who_logs_are_in_one_file(
    desk: Desk, job: Path, shipped_house: House
) -> None:
    """The same border moved by both: the log goes on in the job, nobody writes into a side file."""
    lead = _opened(job, shipped_house)
    for number, each in enumerate((lead, desk)):
        session = _session(each)
        session.do("flake", with_colour(session.job, flake=("coarse", "fine")[number]))
    lead.save()
    _log(desk)
    told = desk.save()
    assert "somebody else changed the same" in told
    _log(desk, "scuffed", "E1", tool="hand-pad", grade="P800")
    assert desk.save() == ""
    assert _steps(job) == ["cleaned", "scuffed"]
    assert _session(desk).path == job


def test_undo_takes_back_only_ones_own_change(desk: Desk, job: Path, shipped_house: House) -> None:
    """What a lead changed meanwhile stays."""
    session = _session(desk)
    session.do("fine", with_colour(session.job, flake="fine"))
    desk.save()
    text = job.read_text(encoding="utf-8").replace('vehicle = "', 'vehicle = "the other ')
    job.write_text(text, encoding="utf-8")
    desk.look()
    assert session.undo() == "fine"
    assert session.job.job.vehicle.startswith("the other ")
    assert session.job.colour.flake == "solid"
    del shipped_house


@pytest.mark.usefixtures("crash")
def test_after_a_crash_the_same_job_opens_with_what_was_kept(
    desk: Desk, job: Path, shipped_house: House
) -> None:
    """Joined with what others changed and logged since, by the program, and told."""
    session = _session(desk)
    session.do("fine", with_colour(session.job, flake="fine"))
    _log(desk)
    ident = session.log.pending[0].id
    main(["log", str(job), f"{PANEL}/E1", "scuffed", "--by", "JB", "--tool", "hand-pad"])
    again = Desk(shipped_house, job.parent)
    assert "recovered" in again.open(job)
    after = _session(again)
    assert after.job.colour.flake == "fine"
    assert [check.step for check in after.job.check] == ["scuffed", "cleaned"]
    again.save()
    assert _steps(job) == ["scuffed", "cleaned"]
    assert tomli.loads(job.read_text(encoding="utf-8"))["check"][1]["id"] == ident
    assert recoverable() == ()


@pytest.fixture
def crash(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every journal is that of a process that is gone."""
    monkeypatch.setattr(journal_module, "_is_in_use", lambda journal, last: not (journal and last))


@pytest.mark.usefixtures("crash")
def test_an_entry_that_got_to_the_file_before_the_crash_is_not_doubled(
    desk: Desk, job: Path, shipped_house: House
) -> None:
    """Killed between the save and the journal's end."""
    _log(desk)
    (journal,) = journal_folder().iterdir()
    kept = journal.read_bytes()
    desk.save()
    journal.write_bytes(kept)
    again = _opened(job, shipped_house)
    again.save()
    assert _steps(job) == ["cleaned"]


@pytest.mark.usefixtures("crash")
@pytest.mark.parametrize("year", [1970, 1999, 2020, 2100])
def test_no_journal_goes_by_the_clock(year: int, desk: Desk, job: Path, shipped_house: House) -> None:
    """Whatever year it says, what it keeps is offered."""
    _log(desk)
    (journal,) = journal_folder().iterdir()
    _sum, _, body = journal.read_bytes().splitlines()[-1].partition(b" ")
    record = json.loads(body) | {"at": dt.datetime(year, 1, 1, tzinfo=dt.UTC).isoformat()}
    journal.write_bytes(journal_module._line(record))
    assert len(recoverable()) == 1
    assert [check.step for check in _session(_opened(job, shipped_house)).job.check] == ["cleaned"]


def test_a_reused_process_number_hides_no_journal(desk: Desk) -> None:
    """Another process has the number of the one that died: it started at another time."""
    _log(desk)
    (journal,) = journal_folder().iterdir()
    last = journal_module._last_record(journal)
    assert last is not None
    parent = {**last, "pid": os.getppid(), "start": "00000000:1"}
    assert not last["start"] or not journal_module._is_in_use(journal, parent)


def test_an_unsaved_new_job_stays_in_the_list(tmp_path: Path, shipped_house: House) -> None:
    """Without a panel it has no file; it is offered again, also by the same run."""
    desk = Desk(shipped_house, tmp_path)
    desk.new("77")
    session = _session(desk)
    session.do("fine", with_colour(session.job, flake="fine"))
    desk.close()
    (start,) = [start for start in desk.starts() if start.kind == "recovery"]
    desk.recover(start.ident)
    assert (_session(desk).job.job.number, _session(desk).job.colour.flake) == ("77", "fine")


def test_a_file_that_somebody_spoils_is_told_and_shown_as_it_was(desk: Desk, job: Path) -> None:
    """And taken over again when it is mended."""
    whole = job.read_bytes()
    job.write_bytes(b"[job\n")
    assert "has a fault now" in desk.look()
    assert "has a fault now" in desk.state_words()
    job.write_bytes(whole)
    desk.look()
    assert desk.state_words() == "saved"


def test_an_entry_that_vanished_from_the_file_comes_back(desk: Desk, job: Path) -> None:
    """Overwritten by an older program: what was acknowledged here is put there again."""
    before = job.read_bytes()
    _log(desk)
    desk.save()
    job.write_bytes(before + b"# touched\n")
    desk.look()
    assert _session(desk).is_dirty
    desk.save()
    assert _steps(job) == ["cleaned"]


def test_the_gate_turns_by_itself(
    desk: Desk, job: Path, monkeypatch: pytest.MonkeyPatch, shipped_house: House
) -> None:
    """A wipe runs out on a screen that nobody touches."""
    _log(desk)
    desk.gate_turned()
    assert not desk.gate_turned()
    later = dt.datetime.now(dt.UTC) + dt.timedelta(days=30)
    monkeypatch.setenv("PREPADVISOR_NOW", later.isoformat(timespec="seconds"))
    verdict = gate_view.gate_of(_session(desk))
    assert verdict is not None
    desk._gate = (True, 0)
    assert desk.gate_turned() is not verdict.clear
    del job, shipped_house


def test_a_slip_that_is_saved_is_struck_on_the_screen(desk: Desk, job: Path, play: Play) -> None:
    """F9 asks, and a yes adds a strike of that very entry; nothing is deleted."""
    _log(desk)
    desk.save()
    (entry,) = tomli.loads(job.read_text(encoding="utf-8"))["check"]

    async def script(pilot: Pilot[None], _app: BenchApp) -> None:
        await pilot.press("f9")
        await pilot.pause()
        await pilot.press("y")
        await pilot.pause()

    play(desk, script)
    desk.save()
    steps = tomli.loads(job.read_text(encoding="utf-8"))["check"]
    assert [each["step"] for each in steps] == ["cleaned", "struck"]
    assert (steps[0], steps[1]["of"]) == (entry, entry["id"])


def test_an_untouched_screen_takes_over_and_lets_go(desk: Desk, job: Path, play: Play) -> None:
    """At a look: others' entries come in, own ones that rested go to the file."""

    async def script(pilot: Pilot[None], app: BenchApp) -> None:
        _log(desk)
        main(["log", str(job), f"{PANEL}/E1", "scuffed", "--by", "JB", "--tool", "hand-pad"])
        desk._changed -= 60
        app.editing.look_at_file()
        await pilot.pause()
        assert _steps(job) == ["scuffed", "cleaned"]
        assert [check.step for check in _session(desk).job.check] == ["scuffed", "cleaned"]

    play(desk, script)


def test_an_entry_made_on_an_older_screen_says_so(desk: Desk, job: Path) -> None:
    """What came into the file since the screen last showed it was not known to whoever pressed the key."""
    _log(desk)
    desk.save()
    first = tomli.loads(job.read_text(encoding="utf-8"))["check"][0]["id"]
    main(["log", str(job), f"{PANEL}/face", "inspected", "--by", "JB", "--result", "lines"])
    _log(desk, "inspected", "face", result="clear")
    desk.save()
    last = tomli.loads(job.read_text(encoding="utf-8"))["check"][-1]
    assert (last["result"], last["knew"]) == ("clear", first)
