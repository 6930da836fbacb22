"""A person who presses, touches and resizes at random: after each hundred the file has what the screens show.

`python -m tests.tui.random_walk 3000 SEED [JOB…]` walks six jobs, or some; the long test and a slice in the
suite use the same.
"""

import asyncio
import os
import random
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import textual._wait
from textual.errors import NoWidget
from textual.pilot import OutOfBounds, Pilot
from textual.screen import ModalScreen

from prepadvisor.files import demo_jobs_dir, job_of_text, load_house
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob
from prepadvisor.tui.widgets import Note, PanelDrawing, Rows

JOBS: Final = (
    "very-fine-door-and-wing", "a-place-that-holds", "filler-up-to-primer", "three-stage", "plastic-bumper",
    "edge-scuffed-too-coarse",
)  # fmt: skip
SIZES: Final = ((60, 18), (80, 24), (100, 30), (120, 40), (160, 45), (200, 60), (44, 12))
KEYS: Final = (
    *"abcdefghijklmnoprstuvwxyz0123456789+/.", "enter", "enter", "space", "escape", "tab", "shift+tab", "up",
    "down", "down", "left", "right", "home", "end", "pageup", "pagedown", "backspace", "delete", "f1", "f2",
    "f3", "f4", "f5", "f6", "f7", "f8", "f9", "f10", "ctrl+s", "ctrl+z",
)  # fmt: skip
"""All keys but those that leave."""
EACH: Final = 100


async def walk(path: Path, house: House, steps: int, seed: int, each: int = EACH) -> int:
    """Walk on one job file; returns how often the screens were held against the file.

    Raises:
        AssertionError: the screens show something else than the file has.
    """
    chance = random.Random(seed)
    done = compared = 0
    while done < steps:
        desk = Desk(house, path.parent)
        desk.open(path)
        app = BenchApp(desk)
        async with app.run_test(size=(80, 24)) as pilot:
            while done < steps and app.is_running:
                done += 1
                await _step(pilot, app, chance)
                if desk.session is None or desk.session.path != path.resolve():
                    await _back(pilot, app, path)
                if done % each == 0 and app.is_running:
                    await _compare(pilot, app, path)
                    compared += 1
        desk.close()
    return compared


async def _step(pilot: Pilot[Any], app: BenchApp, chance: random.Random) -> None:
    what = chance.random()
    if what < 0.03:
        await pilot.resize_terminal(*chance.choice(SIZES))
    elif what < 0.25:
        at = (chance.randrange(max(app.size.width, 1)), chance.randrange(max(app.size.height, 1)))
        try:
            await pilot.click(offset=at)
        except (OutOfBounds, NoWidget):  # the window has just changed its size
            return
    else:
        await pilot.press(chance.choice(KEYS))  # which waits until it is done


async def _back(pilot: Pilot[Any], app: BenchApp, path: Path) -> None:
    """Open the job again after the walk led to another one."""
    await _close_dialogs(pilot, app)
    if app.is_running:
        await app.errands.begin(lambda: app.desk.open(path))
        await pilot.pause()


async def _close_dialogs(pilot: Pilot[Any], app: BenchApp) -> None:
    for _ in range(12):
        if not isinstance(app.screen, ModalScreen):
            return
        await pilot.press("escape")
        await pilot.pause()
        if isinstance(app.screen, ModalScreen):
            await pilot.press("y")  # a form asks whether to leave without its changes
            await pilot.pause()


async def _compare(pilot: Pilot[Any], app: BenchApp, path: Path) -> None:
    """Save, and hold job, log, list, facts and drawing against a program that only reads the file."""
    await _close_dialogs(pilot, app)
    await pilot.pause()
    if app.desk.session is None or app.desk.session.path != path.resolve():
        await _back(pilot, app, path)
    await pilot.press("ctrl+s", "f5", "f4")  # a path being drawn ends with its view
    await pilot.pause()
    session = app.desk.session
    assert session is not None
    for _ in range(200):  # a job without a panel is kept, not saved: the panels are brought back
        if session.job.panel or not session.undo_name:
            break
        await pilot.press("f9")
        await _close_dialogs(pilot, app)
        await pilot.press("ctrl+s")
    if not session.job.panel:
        return
    kept = f"{app.desk.state_words()}; {[note.says for note in app.screen.query(Note)]}"
    assert not session.is_dirty, f"something is not in the file after saving: {kept}"
    read = OpenJob.of(job_of_text(path.read_bytes(), str(path), app.desk.house))
    assert session.job == read
    fresh = Desk(app.desk.house, path.parent)
    fresh.open(path, read_only=True)
    assert fresh.session is not None
    fresh.session.view = "lines"
    fresh.session.select(session.panel_id, session.part_id)
    other = BenchApp(fresh)
    async with other.run_test(size=(app.size.width, app.size.height)) as beside:
        await beside.pause()
        for mine, theirs in zip(_shown(app), _shown(other), strict=True):
            assert mine == theirs, f"shown: {mine}\nin the file: {theirs}"


def _shown(app: BenchApp) -> list[object]:
    """Return what the lists, the facts and the drawing of a screen show."""
    shown: list[object] = [list(rows.rows) for rows in app.screen.query(Rows)]
    return [*shown, *(drawing.picture for drawing in app.screen.query(PanelDrawing))]


def walk_all(jobs: Sequence[str], steps: int, seed: int, each: int = EACH) -> int:
    """Walk on copies of demo jobs; returns how often screens and file were compared."""
    house = load_house()
    compared = 0
    for at, job in enumerate(jobs):
        with tempfile.TemporaryDirectory() as place:
            path = Path(place) / "1042.toml"
            path.write_bytes((demo_jobs_dir() / f"{job}.toml").read_bytes())
            compared += asyncio.run(walk(path, house, steps, seed + at, each))
    return compared


if __name__ == "__main__":
    os.environ["PREPADVISOR_STATE"] = tempfile.mkdtemp()
    os.environ["TEXTUAL_ANIMATIONS"] = "none"
    os.environ["PREPADVISOR_NOW"] = "2026-03-02T09:40:00+00:00"
    vars(textual._wait)["SLEEP_GRANULARITY"] = 0.004
    for number, name in enumerate(sys.argv[3:] or JOBS):
        print(name, walk_all((name,), int(sys.argv[1]), int(sys.argv[2]) + number), "times equal", flush=True)
