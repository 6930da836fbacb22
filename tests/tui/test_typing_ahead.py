"""Keys that come in one burst, faster than any screen comes up, each do what they say."""

from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from tests.tui.conftest import Play


def _burst(app: BenchApp, *keys: str) -> None:
    for key in keys:
        app.post_message(events.Key(key, key if len(key) == 1 else None))


def test_a_whole_panel_typed_in_one_burst(demo: Desk, play: Play) -> None:
    """A, outline, role, side: three dialogs come and go, and no key is lost between them."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        _burst(app, "a", "5", "2", "1")
        await pilot.pause()
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job.panel[-1].kind == "bonnet"

    play(demo, script, view="panels")


def test_keys_after_the_next_view_are_that_views(demo: Desk, play: Play) -> None:
    """N and on: the figures choose outline, role and side, and never a flake of the view before."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        _burst(app, "n", "a", "5", "2", "1")
        await pilot.pause()
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job.colour.flake == "very-fine"
        assert app.desk.session.job.panel[-1].kind == "bonnet"

    play(demo, script, view="colour")


def test_a_change_right_before_leaving_is_kept(shipped_house: House, tmp_path: Path, play: Play) -> None:
    """A flake and the key to leave in one burst: the file has the flake."""
    path = tmp_path / "door.toml"
    path.write_bytes((demo_jobs_dir() / "medium-metallic.toml").read_bytes())
    desk = Desk(shipped_house, tmp_path)
    desk.open(path)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        _burst(app, "1", "ctrl+q")
        await pilot.pause()

    play(desk, script, view="colour")
    assert 'flake = "solid"' in path.read_text(encoding="utf-8")


def test_a_number_typed_ahead_is_whole(desk: Desk, play: Play) -> None:
    """N, the number and Enter at once: every figure is in it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        _burst(app, "n", *"10427", "enter")
        await pilot.pause()
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job.job.number == "10427"

    play(desk, script)


def test_a_key_too_many_answers_no_other_dialog(demo: Desk, play: Play) -> None:
    """The same key twice in a dialog answers once and takes no screen away."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        _burst(app, "d", "n", "n")
        await pilot.pause()
        await pilot.pause()
        assert app.view is not None
        assert app.desk.session is not None
        assert len(app.desk.session.job.panel) == 2

    play(demo, script, view="panels")


def test_a_key_before_the_first_view_is_filled_counts(
    demo: Desk, play: Play, monkeypatch: pytest.MonkeyPatch
) -> None:
    """T as soon as the screens begin to come up turns the tone of the colour that is not shown yet."""
    monkeypatch.setattr(BenchApp, "on_load", lambda app: _burst(app, "t"), raising=False)

    async def script(_pilot: Pilot[Any], app: BenchApp) -> None:
        assert app.desk.session is not None
        assert app.desk.session.job.colour.tone != "light"

    play(demo, script, view="colour")
