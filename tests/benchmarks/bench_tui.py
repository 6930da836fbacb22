"""How fast the screens answer, as ratios within one run: python tests/benchmarks/bench_tui.py.

Key to repaint is measured in a real pseudo terminal on a demo job, from the write of the key to the last byte
it changed, in every view, against a bare Textual app whose key repaints 34 lines. Handler time is that of
one changed job of 40 spots: judged, advised on, and given to the widgets.
"""

import asyncio
import fcntl
import os
import pty
import select
import shutil
import struct
import subprocess
import sys
import tempfile
import termios
import time
from functools import partial
from pathlib import Path
from statistics import median

from prepadvisor.files import load_house, load_job
from prepadvisor.files.edit import new_text
from prepadvisor.files.paths import demo_jobs_dir
from prepadvisor.records.job import Feature, Job
from prepadvisor.standards.house import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model.open_job import OpenJob, revised
from prepadvisor.tui.model.panel_edits import add_panel, with_colour
from prepadvisor.tui.recent import Recent, remember
from prepadvisor.tui.screens.view import View

_QUIET_SECONDS = 0.05
_ROUNDS = 30

_BARE = """
from textual.app import App
from textual.binding import Binding
from textual.widgets import Static

class Bare(App):
    CSS = "Static { height: 1; }"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS = [Binding("down", "turn(1)"), Binding("up", "turn(-1)")]
    at = 0

    def compose(self):
        for index in range(WIDGETS):
            yield Static(f"widget {index}")

    def action_turn(self, step):
        self.at += step
        for widget in list(self.query(Static))[:CHANGED]:
            widget.update(f"row {self.at} of many, with some words on it, as wide as a list")

Bare().run()
"""
"""An app of WIDGETS widgets of which a key changes CHANGED."""


def forty_spots(house: House) -> OpenJob:
    """Return a job of at least 40 spots: a door with 13 lines, each across three zones."""
    job = with_colour(OpenJob.new("40"), flake="very-fine", stages=2, tone="light")
    job, _ = add_panel(job, house.outlines["front-door"], "blend", "front")
    lines = tuple(
        Feature(id=f"L{at}", kind="edge", path=((0.0, at / 14), (1.0, at / 14)), reach="machine")
        for at in range(13)
    )
    return revised(job, {"panel": (revised(job.panel[0], {"feature": lines}),)})


def key_seconds(command: list[str], settings: dict[str, str]) -> list[float]:
    """Return for each of many keys the seconds from its write to the last byte that it changed."""
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe(command[0], command, os.environ | settings)  # noqa: S606 - our own commands
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    _answer(terminal, patience=6.0, quiet=1.0)
    times = []
    for index in range(_ROUNDS):
        start = time.perf_counter()
        os.write(terminal, b"\x1b[B" if index % 20 < 10 else b"\x1b[A")
        last = _answer(terminal, patience=2.0, quiet=_QUIET_SECONDS)
        if last is not None:
            times.append(last - start)
    os.write(terminal, b"\x11")
    time.sleep(0.3)
    os.close(terminal)
    os.waitpid(child, 0)
    return times


def _answer(terminal: int, patience: float, quiet: float) -> float | None:
    """Read until nothing comes for `quiet` seconds; return when the last byte came."""
    last = None
    end = time.perf_counter() + patience
    while time.perf_counter() < end:
        ready, _, _ = select.select([terminal], [], [], quiet if last else patience)
        if not ready:
            break
        os.read(terminal, 65536)
        last = time.perf_counter()
    return last


async def handler_seconds(desk: Desk, view: str) -> tuple[float, int]:
    """Return the median seconds that one change takes in its handler, and how many widgets the view has."""
    app = BenchApp(desk)
    if desk.session is not None:
        desk.session.view = view
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        times = []
        for index in range(40):
            flake = ("fine", "very-fine", "medium", "coarse")[index % 4]
            event = View.Edited("flake", partial(with_colour, flake=flake))
            start = time.perf_counter()
            app._edited(event)
            times.append(time.perf_counter() - start)
        widgets = len(app.screen.query("*"))
    return median(times), widgets


def main() -> None:
    """Measure, and print one line for each."""
    house = load_house()
    with tempfile.TemporaryDirectory() as folder:
        state = {"PREPADVISOR_STATE": folder, "TERM": "xterm-256color", "TEXTUAL_ANIMATIONS": "none"}
        os.environ |= state
        path = Path(folder) / "forty.toml"
        path.write_text(new_text(forty_spots(house)), encoding="utf-8")
        job: Job = load_job(path, house)
        desk = Desk(house, Path(folder))
        desk.open(path)
        assert desk.session is not None
        assert desk.session.advice is not None
        print(f"job of {len(desk.session.advice.spots)} spots, {len(job.panel[0].feature)} lines")
        counted: dict[str, int] = {}
        for view in ("colour", "panels", "lines", "answer", "check-off", "card"):
            seconds, widgets = asyncio.run(handler_seconds(desk, view))
            counted[view] = widgets
            desk.open(path)
            print(f"handler on {view:<10} {seconds * 1000:6.2f} ms   (goal 10 ms)")
        desk.close()
        bare = Path(folder) / "bare.py"
        bare.write_text(_BARE.replace("WIDGETS", "34").replace("CHANGED", "34"), encoding="utf-8")
        theirs = median(key_seconds([sys.executable, str(bare)], state))
        print(f"a bare app that repaints 34 lines: {theirs * 1000:.1f} ms")
        shown = Path(folder) / "demo.toml"
        shutil.copy(demo_jobs_dir() / "very-fine-door-and-wing.toml", shown)
        for view in ("colour", "panels", "lines", "answer", "check-off", "card", "standards"):
            remember(Recent(str(shown.resolve()), "demo", view))
            ours = median(key_seconds([sys.executable, "-m", "prepadvisor", "bench", str(shown)], state))
            print(
                f"key to last byte on {view:<10} {ours * 1000:6.1f} ms, ratio {ours / theirs:.2f}, goal 1.25"
            )


if __name__ == "__main__":
    subprocess.run(["stty", "sane"], check=False, capture_output=True)
    main()
