"""One saver at a time; the lock of the dead opens; who holds it is told."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from prepadvisor.files import (
    BusyError,
    NoLocksError,
    NotSavedError,
    is_alive,
    lock_path,
    locked,
    started,
    this_host,
)
from prepadvisor.files.disk import lock as lock_module

ROOT = Path(__file__).parents[3]


@pytest.fixture
def dead_pid() -> int:
    """Return the id of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def _hold(path: Path, host: str, pid: int, since: float) -> None:
    owner = {"by": "J. B.", "host": host, "pid": pid, "since": since}
    lock_path(path).write_text(json.dumps(owner), encoding="utf-8")


def test_a_second_saver_waits_and_is_told_who_saves(job_file: Path) -> None:
    """By initials, machine and time."""
    with locked(job_file, "K. M."), pytest.raises(BusyError, match=f"K. M. on {this_host()} since"):
        locked(job_file, wait_seconds=0.05).__enter__()


def test_the_lock_is_gone_afterwards(job_file: Path) -> None:
    """Also after an error inside."""
    with pytest.raises(ZeroDivisionError), locked(job_file):
        _ = 1 / 0
    assert not lock_path(job_file).exists()
    with locked(job_file, wait_seconds=0):
        pass


@pytest.mark.skipif(sys.platform == "win32", reason="kill -9 of a POSIX system")
def test_the_lock_of_a_killed_saver_opens_at_once(job_file: Path) -> None:
    """The system lets go of it with the process, and what it left is swept up."""
    code = (
        "import sys, time; from pathlib import Path; from prepadvisor.files.disk.lock import locked\n"
        "with locked(Path(sys.argv[1]), 'J. B.'):\n    print('held', flush=True); time.sleep(60)"
    )
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT)}
    saver = subprocess.Popen(
        [sys.executable, "-c", code, str(job_file)], stdout=subprocess.PIPE, env=surroundings
    )
    with saver:
        assert saver.stdout is not None
        saver.stdout.readline()
        with pytest.raises(BusyError, match=r"J\. B\."):
            locked(job_file, wait_seconds=0.05).__enter__()
        saver.send_signal(signal.SIGKILL)
    assert lock_path(job_file).exists()
    with locked(job_file, wait_seconds=10):
        pass


def test_a_fresh_owner_on_another_machine_is_respected(job_file: Path) -> None:
    """The system's lock may not reach over the network; the text does."""
    _hold(job_file, "the-office-pc", 1, time.time())
    with pytest.raises(BusyError, match=r"J\. B\. on the-office-pc"):
        locked(job_file, wait_seconds=0.05).__enter__()


@pytest.mark.parametrize("age", [3600, 0, -3600])
def test_an_owner_on_another_machine_is_dead_when_his_sign_stands_unchanged(
    job_file: Path, age: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By this machine's own clock: what his says, an hour before or behind, counts for nothing."""
    monkeypatch.setattr(lock_module, "LEASE_SECONDS", 0.3)
    _hold(job_file, "the-office-pc", 1, time.time() - age)
    with pytest.raises(BusyError):
        locked(job_file, wait_seconds=0.1).__enter__()
    with locked(job_file, wait_seconds=5):
        pass


@pytest.mark.parametrize("age", [3600, 0, -3600])
def test_an_owner_on_another_machine_who_saves_again_and_again_is_respected(
    job_file: Path, age: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each save is a new sign; a clock an hour off makes nobody dead."""
    monkeypatch.setattr(lock_module, "LEASE_SECONDS", 0.3)
    waiting = lock_module._Wait(job_file, "K. M.", 5)
    for second in range(3):
        _hold(job_file, "the-office-pc", 1, time.time() - age + second)
        handle = os.open(lock_path(job_file), os.O_RDWR)
        try:
            assert not waiting._is_free(handle)
        finally:
            os.close(handle)
        time.sleep(0.2)


@pytest.mark.parametrize("text", ["", "{", "[]", '{"by": 1}', "\x00" * 5000])
def test_a_lock_file_that_says_nothing_holds_nothing(job_file: Path, text: str) -> None:
    """Cut short by a crash, or somebody's mistake."""
    lock_path(job_file).write_text(text, encoding="utf-8")
    with locked(job_file, wait_seconds=0):
        pass


def test_where_the_system_cannot_lock_the_text_is_the_lock(
    job_file: Path, dead_pid: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some shares know no locks: a living owner is respected, a dead one not."""

    def unsupported(handle: int) -> bool:
        raise OSError(95, f"not supported ({handle})")

    monkeypatch.setattr(lock_module, "_system_lock", unsupported)
    with pytest.raises(NoLocksError):
        locked(job_file, without=False).__enter__()
    _hold(job_file, this_host(), os.getppid(), time.time())
    with pytest.raises(BusyError):
        locked(job_file, wait_seconds=0.05).__enter__()
    _hold(job_file, this_host(), dead_pid, time.time())
    with locked(job_file, wait_seconds=0), pytest.raises(BusyError):
        locked(job_file, wait_seconds=0.05).__enter__()
    with locked(job_file, wait_seconds=0):
        pass


def test_another_error_of_a_lock_is_told(job_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what says that there are no locks is taken for that."""

    def broken(handle: int) -> bool:
        raise OSError(5, f"broken ({handle})")

    monkeypatch.setattr(lock_module, "_system_lock", broken)
    with pytest.raises(NotSavedError, match="the drive reports an error"):
        locked(job_file).__enter__()


@pytest.mark.skipif(sys.platform == "win32", reason="rights of a POSIX system")
def test_anybody_may_use_the_lock_that_another_user_left(job_file: Path) -> None:
    """The lock file takes no rights from those who may save here."""
    mask = os.umask(0o077)
    try:
        with locked(job_file):
            assert lock_path(job_file).stat().st_mode & 0o777 == 0o666
    finally:
        os.umask(mask)


def test_a_process_number_that_was_given_again_is_another_process() -> None:
    """By the start of the process, where the system tells it."""
    mine = started(os.getpid())
    assert is_alive(os.getpid(), mine)
    if mine:
        assert not is_alive(os.getpid(), "0000:1")


def test_a_process_is_alive_until_it_ends(dead_pid: int) -> None:
    """This one is, the ended one is not, none has the number 0."""
    assert [is_alive(os.getpid()), is_alive(dead_pid), is_alive(0)] == [True, False, False]
