"""The answer view: what-ifs and numbers."""

from typing import Any

import pytest
from textual.pilot import Pilot
from textual.strip import Strip

from prepadvisor.files import demo_jobs_dir
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.ask import Page
from prepadvisor.tui.widgets import Rows
from tests.tui.conftest import Play, Text, job_of, until


def test_a_what_if_is_marked_and_goes_back(demo: Desk, play: Play, screen_text: Text) -> None:
    """F tries vapour; X is back at the job, which never changed."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        before = job_of(app)
        await pilot.press("f")
        await pilot.pause()
        assert "WHAT IF vapour flake" in screen_text(app)
        assert "finish P1000 → P1500" in screen_text(app)
        await pilot.press("x")
        await pilot.pause()
        assert "WHAT IF" not in screen_text(app)
        assert job_of(app) is before

    play(demo, script, view="answer")


def test_every_number_of_a_place_is_one_key_away(demo: Desk, play: Play, screen_text: Text) -> None:
    """M shows the line model with its sources."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("m", "pagedown")
        await pilot.pause()
        assert isinstance(app.screen, Page)
        assert "FEPA" in app.screen._words
        assert "Every number here" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.view is not None

    play(demo, script, view="answer")


def test_the_list_says_where_a_wet_bed_is_needed(demo: Desk, play: Play, screen_text: Text) -> None:
    """On the very fine silver only the hand-only handle recess in the fade needs one."""

    async def script(_pilot: Pilot[Any], app: BenchApp) -> None:
        places = app.screen.query_one("#places", Rows).rows
        assert [row.text for row in places if row.right.endswith("+")] == ["A4 handle recess"]
        assert "P1500+" in screen_text(app)

    play(demo, script, view="answer", size=(120, 40))


def test_a_move_in_the_list_draws_only_the_two_rows_again(
    demo: Desk, play: Play, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The row that is left and the row that is reached, each of one line here; the other fifteen stay."""
    drawn: list[int] = []
    line = Rows.line

    def counted(self: Rows, at: int, width: int) -> Strip:
        drawn.append(at)
        return line(self, at, width)

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("down")
        await pilot.pause()
        monkeypatch.setattr(Rows, "line", counted)
        await pilot.press("down")
        await pilot.pause()
        assert sorted(drawn) == [1, 2]

    play(demo, script, view="answer", size=(80, 24))


@pytest.mark.parametrize("size", [(60, 18), (120, 40)], ids=["small", "large"])
def test_what_holds_stands_on_top_of_the_list(
    desk: Desk, play: Play, screen_text: Text, size: tuple[int, int]
) -> None:
    """The demo whose patch is bare metal with colour next."""
    desk.open(demo_jobs_dir() / "a-place-that-holds.toml", read_only=True)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "× HOLD: A8" in screen_text(app).splitlines()[3]
        await pilot.press("end")
        await pilot.pause()
        said = screen_text(app)
        assert "HOLD: Bare: primer" in said
        assert "first, by its sheet" in said

    play(desk, script, view="answer", size=size)


def test_a_small_window_has_grades_whole_plates_and_the_reasons(
    demo: Desk, play: Play, screen_text: Text
) -> None:
    """At 60x18 each place has its grade, no word is cut, and W shows the reasons at once."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press(*("down",) * 4)
        await until(pilot, lambda: "BY HAND  P1500 pad" in screen_text(app))
        said = screen_text(app)
        assert "A4 handle recess P1500+" in said
        assert "WET BED  2 coats NEEDED" in said
        assert "…" not in said
        await pilot.press("w")
        await until(pilot, lambda: "finest that still keys" in screen_text(app))

    play(demo, script, view="answer", size=(60, 18))
