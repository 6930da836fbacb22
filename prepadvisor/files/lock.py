"""One process at a time saves a job: a lock beside the file that the death of its owner opens.

The system itself holds the lock where it can and lets go of it when the owner dies, however it dies. The
lock file says who holds it: initials, machine, process and time. Where the system cannot hold a lock over a
network share, that text alone is the lock, and it opens when its owner is dead or after half a minute.
"""

import datetime as dt
import json
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, NamedTuple

from prepadvisor.files.alive import is_alive, this_host
from prepadvisor.files.not_saved import BusyError, not_saved

LEASE_SECONDS: Final = 30.0
"""A save takes well under a second; an owner on another machine that is older than this is taken as dead."""

_PAUSE_SECONDS: Final = (0.001, 0.05)


class Owner(NamedTuple):
    """Who holds a lock: initials, machine, process, and since when in seconds since 1970."""

    by: str
    host: str
    pid: int
    since: float

    @property
    def words(self) -> str:
        """The owner as people say it."""
        at = dt.datetime.fromtimestamp(self.since, dt.UTC).astimezone()
        return f"{self.by or 'somebody'} on {self.host} since {at:%H:%M:%S}"


def lock_path(path: Path) -> Path:
    """Return the lock file of a job file."""
    real = path.resolve()
    return real.with_name(f".{real.name[:100]}.lock")


@contextmanager
def locked(path: Path, by: str = "", wait_seconds: float = 10.0) -> Iterator[None]:
    """Hold the lock of a file while the block runs.

    Args:
        path: the file that is about to be saved.
        by: initials shown to whoever has to wait.
        wait_seconds: how long to wait for another owner.

    Raises:
        BusyError: another owner does not let go.
        NotSavedError: the lock cannot be made, because the folder is gone, full or may not be written to.
    """
    lock = lock_path(path)
    try:
        handle = _take(lock, path, by, wait_seconds)
    except OSError as error:
        raise not_saved(path, error) from error
    try:
        yield
    finally:
        _let_go(lock, handle)


def _take(lock: Path, path: Path, by: str, wait_seconds: float) -> int:
    deadline = time.monotonic() + wait_seconds
    pause, longest = _PAUSE_SECONDS
    while True:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        held = False
        try:
            held = _is_free(lock, handle)
            if held:
                _sign(handle, Owner(by, this_host(), os.getpid(), time.time()))
                return handle
            owner = _owner(handle)
        finally:
            if not held:
                os.close(handle)
        if time.monotonic() >= deadline:
            who = owner.words if owner else "somebody else"
            raise BusyError(path, f"{who} is saving it", "wait a moment, then save again")
        time.sleep(pause)
        pause = min(longest, pause * 1.5)


def _is_free(lock: Path, handle: int) -> bool:
    """Take the system's lock; then see that the file still has that name, and its last owner is gone."""
    supported = True
    try:
        if not _system_lock(handle):
            return False
    except OSError:
        supported = False
    try:
        if not os.path.samestat(os.fstat(handle), lock.stat()):
            return False
    except FileNotFoundError:
        return False
    owner = _owner(handle)
    if owner is None:
        return True
    if owner.host == this_host():
        return supported or not is_alive(owner.pid)
    return abs(time.time() - owner.since) > LEASE_SECONDS


def _let_go(lock: Path, handle: int) -> None:
    with suppress(OSError):
        os.ftruncate(handle, 0)
    if sys.platform == "win32":
        os.close(handle)
        with suppress(OSError):
            lock.unlink()
        return
    with suppress(OSError):
        if os.path.samestat(os.fstat(handle), lock.stat()):
            lock.unlink()
    os.close(handle)


def _sign(handle: int, owner: Owner) -> None:
    os.ftruncate(handle, 0)
    os.lseek(handle, 0, os.SEEK_SET)
    with suppress(OSError):  # a full disk: the system's lock holds without a name on it
        os.write(handle, json.dumps(owner._asdict()).encode())


def _owner(handle: int) -> Owner | None:
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        found = json.loads(os.read(handle, 4096))
        return Owner(str(found["by"]), str(found["host"]), int(found["pid"]), float(found["since"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


if sys.platform == "win32":
    import msvcrt

    def _system_lock(handle: int) -> bool:
        try:
            os.lseek(handle, 1 << 20, os.SEEK_SET)  # past the text, so that others can read it
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except PermissionError:
            return False
        return True
else:
    import fcntl

    def _system_lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
