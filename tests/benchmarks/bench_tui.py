"""How fast the screens answer, as ratios within one run: python tests/benchmarks/bench_tui.py.

What a key costs is measured in a real pseudo terminal on a demo job, from the write of the key to the last
byte it changed, in every view, against a bare Textual app whose key repaints 34 lines: by the clock, and in
time of the processor over all threads, which other work of the machine touches less (Linux only). Handler
time is that of one changed job of 40 spots: judged, advised on, and given to the widgets.

A start is timed in the same terminal with compiled files, from the start of the process: to the head of the
job, which is written ahead of all else, and to the last byte before three seconds without any. A shorter
quiet would take the head alone for the screen. It is held against the last byte of a bare app of one widget.
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
from collections.abc import Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path
from statistics import median
from typing import NamedTuple

from prepadvisor.files import demo_jobs_dir, load_house, load_job, new_text
from prepadvisor.records import Feature, Job
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, add_panel, revised, with_colour
from prepadvisor.tui.screens.view import View
from prepadvisor.tui.starts import Recent, remember

_QUIET_SECONDS = 0.12
_ROUNDS = 30
_START_QUIET_SECONDS = 3.0
_LEAST_HEAD = 200
"""Bytes of a write that paints something; the shorter ones ask the terminal what it can do."""

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


_ALONE = """
from textual.app import App
from textual.widgets import Static

class Alone(App):
    ENABLE_COMMAND_PALETTE = False

    def compose(self):
        yield Static("one widget")

Alone().run()
"""


def forty_spots(house: House) -> OpenJob:
    """Return a job of at least 40 spots: a door with 13 lines, each across three zones."""
    job = with_colour(OpenJob.new("40"), flake="very-fine", stages=2, tone="light")
    job, _ = add_panel(job, house.outlines["front-door"], "blend", "front")
    lines = tuple(
        Feature(id=f"L{at}", kind="edge", path=((0.0, at / 14), (1.0, at / 14)), reach="machine")
        for at in range(13)
    )
    return revised(job, {"panel": (revised(job.panel[0], {"feature": lines}),)})


ARROWS = (b"\x1b[B",) * 10 + (b"\x1b[A",) * 10
VIEWS: tuple[tuple[str, bytes, tuple[bytes, ...]], ...] = (
    ("colour", b"", ARROWS),
    ("colour", b"", (b"t",)),
    ("panels", b"", (b"\x1b[B", b"\x1b[A")),
    ("panels", b"z", (b"\x1b[C",) * 10 + (b"\x1b[D",) * 10),
    ("lines", b"", ARROWS),
    ("answer", b"", ARROWS),
    ("answer", b"", (b"f", b"x")),
    ("check-off", b"", ARROWS),
    ("card", b"", ARROWS),
    ("standards", b"", ARROWS),
)
"""A view, a key that is pressed before, and the keys that are timed: rows, a tone, a border, a what-if.

The panels view starts on its list, whose arrows go from panel to panel.
"""


def processor_seconds(process: int) -> float:
    """Return what all threads of a process have used of the processor; 0 where the system does not say."""
    used = 0
    for thread in Path(f"/proc/{process}/task").glob("*/schedstat"):
        with suppress(OSError):
            used += int(thread.read_text().split()[0])
    return used / 1e9


class Cost(NamedTuple):
    """The median seconds of a key, by the clock to its last byte, and of the processor's time."""

    clock: float
    processor: float


def key_cost(
    command: list[str], settings: dict[str, str], keys: Sequence[bytes] = ARROWS, first: bytes = b""
) -> Cost:
    """Return what a key costs from its write to the last byte that it changed."""
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe(command[0], command, os.environ | settings)  # noqa: S606 - our own commands
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    _answer(terminal, patience=6.0, quiet=1.0)
    if first:
        os.write(terminal, first)
        _answer(terminal, patience=2.0, quiet=0.5)
    times, used = [], []
    for index in range(_ROUNDS):
        start, before = time.perf_counter(), processor_seconds(child)
        os.write(terminal, keys[index % len(keys)])
        last = _answer(terminal, patience=1.0, quiet=_QUIET_SECONDS)
        used.append(processor_seconds(child) - before)
        if last is not None:
            times.append(last - start)
    _leave(child, terminal)
    return Cost(median(times) if times else 0.0, median(used))


class Start(NamedTuple):
    """The least seconds of some starts: to the head, to the last byte, and of the processor's time."""

    head: float
    whole: float
    processor: float


def starts(commands: dict[str, list[str]], settings: dict[str, str], rounds: int = 7) -> dict[str, Start]:
    """Return what starting each of some commands costs; the first round compiles and is not counted."""
    found: dict[str, list[Start]] = {name: [] for name in commands}
    with tempfile.TemporaryDirectory() as bytecode:
        environment = {**os.environ, **settings, "PYTHONPYCACHEPREFIX": bytecode}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        for turn in range(rounds + 1):
            for name, command in commands.items():
                start = time.perf_counter()
                child, terminal = pty.fork()
                if child == 0:
                    os.execvpe(command[0], command, environment)  # noqa: S606 - our own commands
                fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
                head = last = None
                while select.select([terminal], [], [], _START_QUIET_SECONDS if last else 20.0)[0]:
                    read = os.read(terminal, 65536)
                    last = time.perf_counter()
                    head = last if head is None and len(read) > _LEAST_HEAD else head
                used = processor_seconds(child)
                if turn and head and last:
                    found[name].append(Start(head - start, last - start, used))
                _leave(child, terminal)
    return {name: Start(*map(min, zip(*some, strict=True))) for name, some in found.items()}


def idle_seconds(command: list[str], settings: dict[str, str]) -> tuple[float, int]:
    """Return the processor's time for each second in which nobody does anything, and the bytes written."""
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe(command[0], command, os.environ | settings)  # noqa: S606 - our own commands
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    _answer(terminal, patience=10.0, quiet=_START_QUIET_SECONDS)
    before, seconds, read = processor_seconds(child), 8.0, 0
    end = time.perf_counter() + seconds
    while (left := end - time.perf_counter()) > 0:
        if select.select([terminal], [], [], left)[0]:
            read += len(os.read(terminal, 65536))
    used = processor_seconds(child) - before
    _leave(child, terminal)
    return used / seconds, read


def menu_seconds(command: list[str], settings: dict[str, str]) -> tuple[float, float]:
    """Return the least and the median seconds from Esc to the first byte of the menu."""
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe(command[0], command, os.environ | settings)  # noqa: S606 - our own commands
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    _answer(terminal, patience=10.0, quiet=_START_QUIET_SECONDS)
    times = []
    for _ in range(_ROUNDS):
        start = time.perf_counter()
        os.write(terminal, b"\x1b")
        if select.select([terminal], [], [], 3.0)[0]:
            times.append(time.perf_counter() - start)
        _answer(terminal, patience=1.0, quiet=0.3)
        os.write(terminal, b"\x1b")
        _answer(terminal, patience=1.0, quiet=0.3)
    _leave(child, terminal)
    return min(times), median(times)


def _leave(child: int, terminal: int) -> None:
    os.write(terminal, b"\x11")
    time.sleep(0.3)
    os.close(terminal)
    os.waitpid(child, 0)


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
        theirs = key_cost([sys.executable, str(bare)], state)
        print(f"a bare app of 34 lines: {theirs.clock * 1000:.1f} ms, CPU {theirs.processor * 1000:.1f} ms")
        shown = Path(folder) / "demo.toml"
        shutil.copy(demo_jobs_dir() / "very-fine-door-and-wing.toml", shown)
        alone = Path(folder) / "alone.py"
        alone.write_text(_ALONE, encoding="utf-8")
        opened = [sys.executable, "-m", "prepadvisor", "bench", str(shown)]
        begun = starts({"bare": [sys.executable, str(alone)], "ours": opened}, state)
        whole, used = (begun["bare"].whole, begun["bare"].processor)
        print(
            f"head painted {begun['ours'].head / whole:.2f} × a bare app (goal 1.4), all "
            f"{begun['ours'].whole / whole:.2f} × (goal 2.0), CPU {begun['ours'].processor / used:.2f} ×"
        )
        idle, written = idle_seconds(opened, state)
        print(f"idle: {idle * 1000:.2f} ms of CPU a second, {written} bytes (goal none)")
        least, usual = menu_seconds(opened, state)
        print(f"menu's first byte: {least * 1000:.0f} ms at least, {usual * 1000:.0f} median (goal 25)")
        for view, first, keys in VIEWS:
            remember(Recent(str(shown.resolve()), "demo", view))
            command = [sys.executable, "-m", "prepadvisor", "bench", str(shown)]
            ours = key_cost(command, state, keys, first)
            ratio, used = ours.clock / theirs.clock, ours.processor / theirs.processor
            name = f"{view} {first.decode().strip()}{keys[0].decode().strip(chr(27))}"
            print(
                f"key on {name:<14} {ours.clock * 1000:6.1f} ms, {ratio:.2f} ×, CPU {used:.2f} × (goal 1.25)"
            )


if __name__ == "__main__":
    subprocess.run(["stty", "sane"], check=False, capture_output=True)
    main()
