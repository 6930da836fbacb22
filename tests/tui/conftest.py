"""What the tests of the screens share: a job, a desk over a folder, and a stage to press keys on."""

import asyncio
import datetime as dt
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, Session

NOW = dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)

Script = Callable[[Pilot[Any], BenchApp], Awaitable[None]]
Play = Callable[..., None]
"""What plays a script on a desk."""
Text = Callable[[BenchApp], str]
"""What reads a screen."""


def session_of(app: BenchApp) -> Session:
    """Return the open job as the desk has it."""
    assert app.desk.session is not None
    return app.desk.session


def job_of(app: BenchApp) -> OpenJob:
    """Return the open job as it stands."""
    return session_of(app).job


@pytest.fixture(autouse=True)
def _fixed_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fix the clock, and keep the machine's own colour wishes out."""
    monkeypatch.setenv("PREPADVISOR_NOW", NOW.isoformat())
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.fixture(autouse=True)
def _short_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look for rest every 4 ms instead of 20: a key is pressed into an app at rest, and most rest at once."""
    monkeypatch.setattr("textual._wait.SLEEP_GRANULARITY", 0.004)


@pytest.fixture
def door_and_wing(shipped_house: House) -> OpenJob:
    """The demo job with a blend door and a repaired wing."""
    return OpenJob.of(load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house))


@pytest.fixture
def session(door_and_wing: OpenJob, shipped_house: House) -> Session:
    """The demo job as it is open on the screens."""
    return Session(door_and_wing, shipped_house, advise, clock=lambda: NOW)


@pytest.fixture
def desk(shipped_house: House, tmp_path: Path) -> Desk:
    """A desk over an empty folder, without an open job."""
    return Desk(shipped_house, tmp_path)


@pytest.fixture
def demo(desk: Desk) -> Desk:
    """A desk with the demo job open, at the check-off."""
    desk.open(demo_jobs_dir() / "very-fine-door-and-wing.toml", read_only=True)
    return desk


@pytest.fixture
def play() -> Callable[..., None]:
    """Run a script of key presses on the screens of a desk: `play(desk, script, view="panels")`."""

    def run(desk: Desk, script: Script, view: str = "", size: tuple[int, int] = (80, 24)) -> None:
        if view and desk.session is not None:
            desk.session.view = view

        async def on_stage() -> None:
            app = BenchApp(desk)
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                await script(pilot, app)

        asyncio.run(on_stage())

    return run


async def at_rest(pilot: Pilot[Any], app: BenchApp) -> None:
    """Wait until nothing long is worked out any more beside the screens."""
    if len(app.workers):
        await app.workers.wait_for_complete()
        await pilot.pause()


async def until(pilot: Pilot[Any], settled: Callable[[], bool], rounds: int = 200) -> None:
    """Let the app work until something is so: work done between two repaints may outlast one rest."""
    for _ in range(rounds):
        if settled():
            return
        await pilot.pause(0.02)
    raise AssertionError("what the screens should have come to, they have not")


@pytest.fixture
def screen_text() -> Callable[[BenchApp], str]:
    """Return the screen as plain text, lines without blanks at their ends."""

    def text(app: BenchApp) -> str:
        strips = app.screen._compositor.render_strips()
        return "\n".join(strip.text.rstrip() for strip in strips)

    return text
