"""The opening: new jobs, files, demos, and what a crash left."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.pilot import Pilot
from textual.widgets import Input

from prepadvisor.files import Journal, demo_jobs_dir, load_job, recoverable
from prepadvisor.records import Job
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.ask import Page
from prepadvisor.tui.errands import DayBoard
from prepadvisor.tui.keeping import journal_text
from prepadvisor.tui.model import OpenJob, add_panel, with_colour
from prepadvisor.tui.screens.opening import Opening
from prepadvisor.tui.widgets import Note, Rows
from tests.tui.conftest import Play, until


def test_n_starts_a_new_job_with_a_number(desk: Desk, play: Play) -> None:
    """N, the number, Enter: the colour is asked next."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("n", "7", "7", "enter")
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job.job.number == "77"
        assert app.view is not None
        assert app.view.view == "colour"

    play(desk, script)


def test_a_number_is_asked_for_until_there_is_one(desk: Desk, play: Play) -> None:
    """Enter on an empty field says what is missing and goes nowhere; one is offered from the start."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("n")
        await pilot.pause()
        assert app.screen.query_one(Input).value == "0302-1"
        await pilot.press("backspace", "enter")
        await pilot.pause()
        assert app.desk.session is None
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, Opening)

    play(desk, script)


def test_a_number_whose_file_is_there_is_refused(desk: Desk, play: Play) -> None:
    """No job is written over another."""
    (desk.folder / "77.toml").write_text("# another job\n", encoding="utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("n", "7", "7", "enter")
        await pilot.pause()
        assert app.desk.session is None

    play(desk, script)
    assert (desk.folder / "77.toml").read_text(encoding="utf-8") == "# another job\n"


def test_a_demo_opens_read_only(desk: Desk, play: Play, screen_text: Callable[[BenchApp], str]) -> None:
    """The first demo of the list, with the arrows; the head says that nothing is saved."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "enter")
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.read_only
        assert "DEMO: nothing saved" in screen_text(app)

    play(desk, script)


def test_a_faulty_file_is_told_and_nothing_opens(desk: Desk, play: Play) -> None:
    """With the lines of all its faults on a page, and the first of them below the list afterwards."""
    text = '[job]\nnumber = "1"\nnumbr = 2\n[colour]\nflake = "tiny"\ntone = "pale"\n'
    (desk.folder / "bad.toml").write_text(text, encoding="utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("enter")
        await pilot.pause()
        assert app.desk.session is None
        assert isinstance(app.screen, Page)
        assert [line for line in (3, 5, 6) if f"bad.toml:{line}:" not in app.screen._words] == []
        await pilot.press("escape")
        await pilot.pause()
        assert "bad.toml:3:" in app.screen.query_one(Note).says

    play(desk, script)


def test_what_a_crash_left_is_offered_first_and_comes_back_whole(
    desk: Desk, play: Play, shipped_house: House, tmp_path: Path
) -> None:
    """The journal of a process that is gone is taken up with every change."""
    job, _ = add_panel(OpenJob.new("88"), shipped_house.outlines["bonnet"], "clear-only")
    job = with_colour(job, flake="coarse")
    left = Journal(tmp_path / "88.toml")
    left.write(journal_text(job))
    left.close()
    text = left.path.read_text(encoding="ascii")
    _, _, body = text.partition(" ")
    _of_a_dead_process(left.path, body)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert app.desk.starts()[0].kind == "recovery"
        await pilot.press("enter")
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job == job

    assert len(recoverable()) == 1
    play(desk, script)


def _of_a_dead_process(journal: Path, body: str) -> None:
    """Write the last record again as one of a process that is gone."""
    import json
    import zlib

    record = json.loads(body)
    record["pid"] = 2**22 + 1  # above the highest process id Linux gives
    fresh = json.dumps(record).encode()
    journal.write_bytes(b"%08x %s\n" % (zlib.crc32(fresh), fresh))


def test_the_list_says_where_a_job_was_left(demo: Desk, tmp_path: Path, shipped_house: House) -> None:
    """A job that was saved and put away comes back at the view it was left in."""
    demo.new("99")
    assert demo.session is not None
    job, _ = add_panel(demo.session.job, shipped_house.outlines["bonnet"], "clear-only")
    demo.session.do("add bonnet", job)
    demo.leave_view("check-off")
    demo.close()
    start = Desk(shipped_house, tmp_path).starts()[0]
    assert "check-off" in start.more
    again = Desk(shipped_house, tmp_path)
    again.open(Path(start.ident))
    assert again.session is not None
    assert again.session.view == "check-off"
    again.close()


def test_each_job_of_the_folder_says_where_it_stands(
    shipped_house: House, tmp_path: Path, play: Play, screen_text: Callable[[BenchApp], str]
) -> None:
    """State, next step and age; the sums of the day stand in the frame; a faulty file stops no other."""
    for name in ("solid", "a-place-that-holds"):
        text = (demo_jobs_dir() / f"{name}.toml").read_text("utf-8")
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    (tmp_path / "broken.toml").write_text("[job]\n", encoding="utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for _ in range(20):
            await pilot.pause(0.02)
        shown = screen_text(app)
        assert "3 jobs" in shown
        for words in ("STOP", "not begun", "FAULTY FILE", "not begun"):
            assert words in shown

    play(Desk(shipped_house, tmp_path), script, size=(120, 40))


def test_a_job_somebody_else_changed_is_read_again(shipped_house: House, tmp_path: Path) -> None:
    """The line follows the file."""
    path = tmp_path / "solid.toml"
    path.write_text((demo_jobs_dir() / "solid.toml").read_text("utf-8"), encoding="utf-8")
    board, now = DayBoard(), dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)

    def load(file: Path) -> Job:
        return load_job(file, shipped_house)

    assert board.work([str(path)], load, shipped_house, now)
    assert not board.work([str(path)], load, shipped_house, now)
    with path.open("a", encoding="utf-8") as file:
        panel = load(path).panel[0].id
        file.write(
            f'\n[[check]]\nat = 2026-03-02T09:00:00Z\nby = "KM"\npanel = "{panel}"\nfeature = "panel"\n'
            'step = "cleaned"\n'
        )
    assert board.work([str(path)], load, shipped_house, now)
    assert board.lines([str(path)])[str(path)].by == "KM"


def test_a_job_is_found_by_its_number(shipped_house: House, tmp_path: Path, play: Play) -> None:
    """Its file may be called anything: / and the number open it."""
    text = (demo_jobs_dir() / "solid.toml").read_text("utf-8")
    (tmp_path / "anything.toml").write_text(text, encoding="utf-8")
    number = load_job(demo_jobs_dir() / "solid.toml", shipped_house).job.number

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for _ in range(20):
            await pilot.pause(0.02)
        await pilot.press("slash", *number, "enter")
        for _ in range(50):
            await pilot.pause(0.02)
            if app.desk.session is not None:
                break
        assert app.desk.session is not None
        assert app.desk.session.job.job.number == number

    play(Desk(shipped_house, tmp_path), script)


def test_rows_stay_where_they_are_once_somebody_is_in_the_list(
    desk: Desk, play: Play, screen_text: Callable[[BenchApp], str]
) -> None:
    """Forty jobs: all are there, what holds comes on top, and nothing moves under a finger."""
    clear, held = (
        (demo_jobs_dir() / f"{name}.toml").read_text(encoding="utf-8")
        for name in ("solid", "a-place-that-holds")
    )
    for at in range(40):
        text = held if at == 39 else clear
        (desk.folder / f"{at:03}.toml").write_text(text, encoding="utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        rows = app.screen.query_one(Rows)
        await until(pilot, lambda: rows.rows[1].id.endswith("039.toml"))
        assert "40 jobs" in screen_text(app)
        await pilot.press("down", "down")
        here = rows.current
        (desk.folder / "000.toml").write_text(held, encoding="utf-8")
        order = [row.id for row in rows.rows]
        app.errands.show_starts()
        await until(
            pilot, lambda: any(row.id.endswith("000.toml") and row.right == "STOP" for row in rows.rows)
        )
        assert [row.id for row in rows.rows] == order
        assert rows.current == here

    play(desk, script)
