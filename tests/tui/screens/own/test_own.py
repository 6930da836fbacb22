"""The shop's own numbers on screens: each change by keys, then what the house's files say."""

import shutil
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.cards.fit.report import FitReport, FitTold
from prepadvisor.files import demo_jobs_dir, load_house, load_job, read_panels
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.widgets import Rows
from tests.tui.conftest import NOW, Play, Script, Text, at_rest, until


@pytest.fixture
def ours(tmp_path: Path) -> Path:
    """A house folder with a shop file and nothing else, beside a folder with one job."""
    house, jobs = tmp_path / "ours", tmp_path / "jobs"
    house.mkdir()
    jobs.mkdir()
    (house / "shop.toml").write_text('leads = ["K. M."]\n', encoding="utf-8")
    shutil.copy(demo_jobs_dir() / "very-fine-door-and-wing.toml", jobs / "1042.toml")
    return house


@pytest.fixture
def shop(ours: Path) -> Desk:
    """A desk over that house and folder."""
    return _desk(ours)


def _desk(ours: Path) -> Desk:
    return Desk(load_house(str(ours)), ours.parent / "jobs")


async def _type(pilot: Pilot[Any], text: str) -> None:
    names = {" ": "space", ".": "full_stop", "-": "minus"}
    await pilot.press(*(names.get(char, char) for char in text))


def _keys(*keys: str) -> Script:
    """Press keys; a word after "=" is typed letter by letter."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key in keys:
            if key.startswith("="):
                await _type(pilot, key[1:])
            else:
                await pilot.press(key)
            await pilot.pause()
            await at_rest(pilot, app)

    return script


def _fill(*, flake: int, grade: int) -> list[str]:
    return ["home", "down", *["right"] * grade, "down", "down", *["right"] * flake]


def test_strips_are_typed_and_saved_one_after_the_other(shop: Desk, ours: Path, play: Play) -> None:
    """Grade and flake by arrows, the answer by a digit; the next strip is as the one before but for it."""
    play(shop, _keys("l", "p", *_fill(flake=4, grade=6), "1", "s", "home", "down", "right", "3", "s"))
    rows = read_panels(ours / "panels.csv", NOW.date())
    assert [(row.flake, row.tool, row.shows) for row in rows] == [
        ("very-fine", "da-soft", "yes"), ("very-fine", "da-soft", "barely"),
    ]  # fmt: skip
    assert rows[0].grade != rows[1].grade
    assert {row.date for row in rows} == {NOW.date()}


def test_a_strip_that_says_too_little_is_kept_in_the_form(shop: Desk, ours: Path, play: Play) -> None:
    """Every fault is told, nothing is written, and nothing typed is lost."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _keys("l", "p", *_fill(flake=4, grade=6), "s")(pilot, app)
        assert "shows: is empty" in str(app.screen.query_one("Note").render_line(0).text)
        await _keys("2", "s")(pilot, app)

    play(shop, script)
    assert [row.shows for row in read_panels(ours / "panels.csv", NOW.date())] == ["no"]


def test_a_second_judge_is_a_row_of_his_own(shop: Desk, ours: Path, play: Play) -> None:
    """J takes how the strip was made; who and what he sees is said anew."""
    (ours / "panels.csv").write_text("flake,tool,grade,coats,shows,by\nfine,da,P600,1,yes,A\n", "utf-8")
    play(shop, _keys("l", "p", "j", "enter", "=B", "enter", "2", "s"))
    rows = read_panels(ours / "panels.csv", NOW.date())
    assert [(row.by, row.shows, row.grade, row.coats) for row in rows] == [
        ("A", "yes", "P600", 1), ("B", "no", "P600", 1),
    ]  # fmt: skip


def test_a_colour_is_added_changed_and_sealed_by_a_lead(ours: Path, play: Play) -> None:
    """The seal goes on by a lead alone, and comes off with the next change."""

    def entry() -> tuple[str, str]:
        found = load_house(str(ours)).book["harbour mist"]
        return found.flake, found.sealed_by

    play(_desk(ours), _keys("l", "c", "a", "=Harbour mist", "enter", "tab", "right"))
    assert entry() == ("solid", "")
    play(_desk(ours), _keys("l", "c", "s", "=RT", "enter"))
    assert entry() == ("solid", "")
    play(_desk(ours), _keys("l", "c", "s", "=KM", "enter"))
    assert entry() == ("solid", "KM")
    play(_desk(ours), _keys("l", "c", "tab", "right"))
    assert entry() == ("coarse", "")


def test_numbers_are_put_in_force(ours: Path, play: Play) -> None:
    """After a yes the house has them, measured, and the view says so."""
    rows = [f"very-fine,da-soft,{grade},{shows}" for grade, shows in
            (("P320", "yes"), ("P600", "yes"), ("P1000", "no"), ("P1500", "no"))]  # fmt: skip
    (ours / "panels.csv").write_text("\n".join(["flake,tool,grade,shows", *rows]) + "\n", "utf-8")
    play(_desk(ours), _keys("l", "t", "w", "n"))
    assert not (ours / "constants.toml").exists()
    play(_desk(ours), _keys("l", "t", "w", "y"))
    line = load_house(str(ours)).constants.sight.thinnest_line_arcsec
    assert (line.known, line.rows, line.measured_on) == ("measured", 4, NOW.date())


def test_an_outcome_is_in_the_job_at_once(shop: Desk, ours: Path, play: Play) -> None:
    """Where, what, who with a note; the text beside it counts the place."""
    play(shop, _keys("l", "o", "enter", "3", "l", "=KM", "enter", "=lines", "enter"))
    (outcome,) = load_job(ours.parent / "jobs/1042.toml", load_house(str(ours))).outcome
    assert (outcome.by, outcome.seen, outcome.note) == ("KM", True, "lines")


def test_without_a_house_nothing_is_written_and_it_is_said(desk: Desk, play: Play, screen_text: Text) -> None:
    """The shipped standards belong to nobody: the note says how a house is made."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _keys("l", "c", "a", "=Mist", "enter")(pilot, app)
        assert "prepadvisor standards new" in screen_text(app)

    play(desk, script)


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
def test_every_view_is_laid_out_at_every_size(
    shop: Desk, play: Play, screen_text: Text, size: tuple[int, int]
) -> None:
    """Each pane is there with its title, and N leads through all four and on to the standards."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _keys("l", "c")(pilot, app)
        for view, title in (
            ("book", "Colours 0"), ("test-panels", "New strip"), ("fit", "Numbers"), ("outcomes", "Jobs 1"),
        ):  # fmt: skip
            assert app.view is not None
            assert app.view.view == view
            assert title in screen_text(app)
            await _keys("n")(pilot, app)
        assert app.view is not None
        assert app.view.view == "standards"

    play(shop, script, size=size)


_HEAD = "flake,colour,tool,grade,coats,shows,by,date"
_STRIPS = (
    "very-fine,,da-soft,P600,0,yes,AB,2026-03-01", "very-fine,,da-soft,P1000,1,barely,AB,2026-03-01",
    ",Grey mist,hand-pad,P1000,2,no,KM,2026-03-01", "medium,,hand-paper,P500,2,yes,L,2026-03-01",
)  # fmt: skip


def _strips(ours: Path) -> None:
    (ours / "panels.csv").write_text("\n".join((_HEAD, *_STRIPS)) + "\n", "utf-8")


def test_keys_are_alive_while_jobs_are_read(
    ours: Path, play: Play, screen_text: Text, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fit that takes long tells how far it is; one may look elsewhere meanwhile; W waits for it."""
    _strips(ours)
    halfway, go_on = threading.Event(), threading.Event()
    fit = OwnDesk.fit

    def slow(desk: OwnDesk, count: int, told: FitTold) -> FitReport:
        told("jobs", 0, 340)
        time.sleep(0.12)
        told("jobs", 120, 340)
        halfway.set()
        assert go_on.wait(20)
        return fit(desk, count, told)

    monkeypatch.setattr(OwnDesk, "fit", slow)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("l", "t")
        await until(pilot, halfway.is_set)
        await until(pilot, lambda: "reading our jobs 120 of 340" in screen_text(app))
        await pilot.press("w")
        assert "as soon as the fit is there" in screen_text(app)
        await pilot.press("p")
        assert app.view is not None
        assert app.view.view == "test-panels"
        await pilot.press("t")
        go_on.set()
        await at_rest(pilot, app)
        await until(pilot, lambda: "numbers in force" in screen_text(app))

    play(_desk(ours), script)


def test_a_strip_saved_meanwhile_is_in_the_fit(ours: Path, play: Play, screen_text: Text) -> None:
    """From the fit to the strips, a row saved, and back: it counts without being asked for."""
    _strips(ours)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _keys("l", "t")(pilot, app)
        assert "4 rows: 4 test panels" in screen_text(app)
        await _keys("p", *_fill(flake=4, grade=6), "1", "s", "t")(pilot, app)
        assert "5 rows: 5 test panels" in screen_text(app)

    play(_desk(ours), script, size=(120, 40))


def test_the_fit_names_the_jobs_that_change(ours: Path, play: Play, screen_text: Text) -> None:
    """Fifteen strips that never show: fewer coats and coarser finishes, job by job with its places."""
    rows = [f"very-fine,,{tool},{grade},0,no,AB,2026-03-01" for tool in ("da-soft", "hand-pad")
            for grade in ("P320", "P400", "P500", "P600", "P800", "P1000")]  # fmt: skip
    (ours / "panels.csv").write_text("\n".join((_HEAD, *rows)) + "\n", "utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _keys("l", "t", "end")(pilot, app)
        assert "1042 (1042.toml): " in screen_text(app)

    play(_desk(ours), script, size=(120, 40))


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
def test_lists_say_trade_words_that_fit(
    ours: Path, play: Play, screen_text: Text, size: tuple[int, int]
) -> None:
    """Strips and numbers: no file's word, and nothing cut off."""
    _strips(ours)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key, pane, words in (
            ("p", "#table", ("barely P1000 soft pad", "very fine, bed 1, AB", "medium, bed 2, L")),
            ("t", "#numbers", ("thinnest line", "depth, soft pad", "flake, Grey mist")),
        ):
            await _keys(*("l" if key == "p" else ""), key)(pilot, app)
            assert app.view is not None
            rows = app.view.query_one(pane, Rows)
            lines = [rows.line(at, rows.size.width - 1).text for at in range(rows.total)]
            assert not [line for line in lines if "…" in line or "very-fine" in line]
            assert all(any(word in line for line in lines) for word in words)
        assert "very-fine" not in screen_text(app)

    play(_desk(ours), script, size=size)
