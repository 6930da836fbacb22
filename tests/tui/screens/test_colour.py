"""The colour view by its keys."""

from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model.open_job import OpenJob
from prepadvisor.tui.model.session import Session

Play = Callable[..., None]
Text = Callable[[BenchApp], str]


def _open(app: BenchApp) -> Session:
    assert app.desk.session is not None
    return app.desk.session


def _job(app: BenchApp) -> OpenJob:
    return _open(app).job


def test_a_number_takes_a_flake_and_advises_at_once(demo: Desk, play: Play, screen_text: Text) -> None:
    """1 is solid: no wet bed is needed any more, and the screen says so on the same press."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "bed NEEDED" in " ".join(screen_text(app).split())
        await pilot.press("1")
        await pilot.pause()
        assert _job(app).colour.flake == "solid"
        assert "NEEDED" not in screen_text(app)

    play(demo, script, view="colour")


def test_not_sure_takes_one_class_finer(demo: Desk, play: Play) -> None:
    """2 then S: medium."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("2", "s")
        await pilot.pause()
        assert _job(app).colour.flake == "medium"

    play(demo, script, view="colour")
