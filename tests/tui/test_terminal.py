"""The program in a real terminal, a private tmux server: walk, resizing, kill and recovery, signals."""

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from prepadvisor.files import demo_jobs_dir

pytestmark = [
    pytest.mark.terminal,
    pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed"),
]
_PATIENCE_SECONDS = 15.0


class Terminal:
    """One window of a tmux server of its own."""

    def __init__(self, server: str, folder: Path, state: Path) -> None:
        """Name the server; windows work in `folder` and keep their state in `state`."""
        self._tmux = ["tmux", "-L", server, "-f", "/dev/null"]
        self._folder, self._state = folder, state

    def start(
        self, words: str = "", name: str = "one", term: str = "screen-256color", wishes: str = ""
    ) -> None:
        """Open a window that runs `prepadvisor bench` with `words` and then says how it was left."""
        settings = f"PREPADVISOR_STATE={self._state} TERM={term} PYTHONPATH={Path.cwd()} {wishes}"
        program = f"env {settings} {sys.executable} -m prepadvisor bench {words}"
        shell = f"cd {self._folder} && {program}; echo LEFT $?; sleep 60"
        self._run("new-session", "-d", "-x", "80", "-y", "24", "-s", name, shell)

    def keys(self, *keys: str, name: str = "one") -> None:
        """Press keys, by tmux's names."""
        self._run("send-keys", "-t", name, *keys)

    def resize(self, width: int, height: int) -> None:
        """Give the window another size."""
        self._run("resize-window", "-t", "one", "-x", str(width), "-y", str(height))

    def text(self, name: str = "one") -> str:
        """Return what is on the screen."""
        return self._run("capture-pane", "-p", "-t", name)

    def codes(self) -> str:
        """Return what is on the screen with the codes of its colours and styles."""
        return self._run("capture-pane", "-e", "-p", "-t", "one")

    def wait(self, words: str, name: str = "one") -> str:
        """Return the screen once it has some words; fail after a bounded time."""
        end = time.monotonic() + _PATIENCE_SECONDS
        while time.monotonic() < end:
            text = self.text(name)
            if words in text:
                return text
            time.sleep(0.05)
        raise AssertionError(f'"{words}" never came:\n{self.text(name)}')

    def program(self) -> int:
        """Return the process id of the running program."""
        shell = self._run("display-message", "-p", "-t", "one", "#{pane_pid}").strip()
        found = subprocess.run(["pgrep", "-P", shell], capture_output=True, text=True, check=True)
        return int(found.stdout.split()[0])

    def end(self) -> None:
        """End the server and all its windows."""
        subprocess.run([*self._tmux, "kill-server"], capture_output=True, check=False)

    def _run(self, *words: str) -> str:
        done = subprocess.run([*self._tmux, *words], capture_output=True, text=True, check=True, timeout=20)
        return done.stdout


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    """A terminal over an empty folder."""
    (tmp_path / "jobs").mkdir()
    found = Terminal(f"prep-{os.getpid()}-{tmp_path.name[-12:]}", tmp_path / "jobs", tmp_path / "state")
    yield found
    found.end()


def test_the_walk_survives_resizing_and_leaves_the_terminal_clean(terminal: Terminal, tmp_path: Path) -> None:
    """From nothing to a written card while the window changes its size; then the shell is back, status 0."""
    terminal.start()
    terminal.wait("Start a new job")
    terminal.keys("n")
    terminal.wait("Number of the job")
    terminal.keys("7", "7", "Enter")
    terminal.wait("grains seen")
    terminal.keys("5", "g", "n")
    terminal.wait("No panel yet: press A")
    terminal.resize(60, 18)
    terminal.keys("a", "3", "1")
    terminal.wait("front wing, repair")
    terminal.resize(200, 60)
    terminal.keys("a", "1", "2", "1")
    terminal.wait("front door, blend")
    terminal.resize(80, 24)
    terminal.keys("z", "Right", "Right")
    terminal.wait("Fade ends: 570 mm")
    terminal.keys("F7")
    terminal.wait("JOB 77")
    terminal.keys("t")
    terminal.wait("written:")
    terminal.keys("C-q")
    text = terminal.wait("LEFT 0")
    assert "Menu" not in text
    assert (tmp_path / "jobs" / "77-card.txt").exists()
    assert sorted(path.name for path in (tmp_path / "jobs").glob(".*.open-*")) == []


def test_kill_9_loses_nothing(terminal: Terminal, tmp_path: Path) -> None:
    """The panel was never saved; after kill -9 the opening offers it and it comes back with its border."""
    terminal.start()
    terminal.wait("Start a new job")
    terminal.keys("n")
    terminal.wait("Number of the job")
    terminal.keys("8", "8", "Enter")
    terminal.wait("grains seen")
    terminal.keys("n")
    terminal.wait("No panel yet: press A")
    terminal.keys("a", "1", "2", "1")
    terminal.wait("front door, blend")
    terminal.keys("z", "Right")
    terminal.wait("FADE 560")
    os.kill(terminal.program(), signal.SIGKILL)
    terminal.wait("LEFT 137")
    assert not (tmp_path / "jobs" / "88.toml").exists()
    terminal.start(name="two")
    terminal.wait("88: changes not saved", name="two")
    terminal.keys("Enter", name="two")
    terminal.wait("every change is back", name="two")
    terminal.keys("F3", name="two")
    terminal.wait("FADE 560", name="two")


def test_the_systems_signal_saves_and_leaves_clean(terminal: Terminal, tmp_path: Path) -> None:
    """SIGTERM: the job is on the disk, the status is 128 + 15, the screen is the shell's again."""
    job = tmp_path / "jobs" / "door.toml"
    shutil.copy(demo_jobs_dir() / "medium-metallic.toml", job)
    before = job.read_text(encoding="utf-8")
    terminal.start("door.toml")
    terminal.wait("[F5 Answer]")
    terminal.keys("F2")
    terminal.wait("[F2 Colour]")
    terminal.keys("5")
    terminal.wait("kept, not saved yet")
    os.kill(terminal.program(), signal.SIGTERM)
    text = terminal.wait("LEFT 143")
    assert "Menu" not in text
    after = job.read_text(encoding="utf-8")
    assert 'flake = "very-fine"' in after
    assert after.splitlines()[0] == before.splitlines()[0]  # the file's own comments are still there


def test_a_closed_window_loses_nothing(terminal: Terminal, tmp_path: Path) -> None:
    """SIGHUP, as when the window is closed: the job file has the change."""
    job = tmp_path / "jobs" / "door.toml"
    shutil.copy(demo_jobs_dir() / "medium-metallic.toml", job)
    terminal.start("door.toml")
    terminal.wait("[F5 Answer]")
    terminal.keys("F2")
    terminal.wait("[F2 Colour]")
    terminal.keys("6")
    terminal.wait("kept, not saved yet")
    os.kill(terminal.program(), signal.SIGHUP)
    terminal.wait("LEFT 129")
    assert 'flake = "vapour"' in job.read_text(encoding="utf-8")


def test_the_second_opener_is_told_and_not_shut_out(terminal: Terminal, tmp_path: Path) -> None:
    """Both can work on the same job."""
    shutil.copy(demo_jobs_dir() / "medium-metallic.toml", tmp_path / "jobs" / "door.toml")
    terminal.start("door.toml")
    terminal.wait("[F5 Answer]")
    terminal.start("door.toml", name="two")
    terminal.wait("has this job open too", name="two")
    terminal.keys("F6", name="two")
    terminal.wait("NOT CLEAR TO MASK", name="two")


def test_no_program_outlives_its_terminal(terminal: Terminal, tmp_path: Path) -> None:
    """A window that vanishes under the screens leaves no process that waits, or works, without end."""
    shutil.copy(demo_jobs_dir() / "medium-metallic.toml", tmp_path / "jobs" / "door.toml")
    terminal.start("door.toml")
    terminal.wait("[F5 Answer]")
    program = terminal.program()
    terminal.end()
    end = time.monotonic() + 20
    while _lives(program):
        assert time.monotonic() < end
        time.sleep(0.05)


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_no_color_keeps_to_the_terminals_own_colours(terminal: Terminal) -> None:
    """No colour is set but the default ones; the marked row and the banner are reversed; dialogs open."""
    terminal.start("--demo", wishes="NO_COLOR=1")
    terminal.wait("[F5 Answer]")
    terminal.keys("F6")
    terminal.wait("NOT CLEAR TO MASK")
    codes = set(re.findall(r"\x1b\[([0-9;]*)m", terminal.codes()))
    numbers = {int(number) for code in codes for number in code.split(";") if number}
    assert numbers <= {0, 1, 7, 39, 49}
    assert 7 in numbers
    terminal.keys("c")
    terminal.wait("Your initials")


def test_a_dumb_terminal_is_refused_with_the_reason(terminal: Terminal) -> None:
    """Status 2, no drawing."""
    terminal.start(term="dumb")
    assert 'TERM is "dumb"' in terminal.wait("LEFT 2")


def test_a_job_with_a_fault_is_told_before_any_screen(terminal: Terminal, tmp_path: Path) -> None:
    """Status 2 and the fault with its line, on the shell's own screen."""
    (tmp_path / "jobs" / "bad.toml").write_text("[job]\nnumber = 1\n", encoding="utf-8")
    terminal.start("bad.toml")
    assert "bad.toml:2:" in terminal.wait("LEFT 2").replace("\n", "")


def test_without_a_terminal_it_says_what_to_use_instead() -> None:
    """Status 2 at once; it never hangs."""
    done = subprocess.run(
        [sys.executable, "-m", "prepadvisor", "bench"],
        stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=20, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert "use card, why, gate and log" in done.stderr
