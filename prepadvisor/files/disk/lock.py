"""One process at a time saves a job: a lock beside the file that the death of its owner opens.

The system itself holds the lock where it can and lets go of it when the owner dies, however it dies. The lock
file says who holds it: initials, machine, process and time. A system's lock may not reach another machine, so
the sign of an owner elsewhere counts too, until it stood unchanged for a while by this machine's own clock.
Where the system knows no locks at all, a second file, made exclusively, holds for those who change the job.
"""

import datetime as dt
import errno
import json
import os
import secrets
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.disk.atomic import is_alive, started, this_host
from prepadvisor.files.disk.not_saved import BusyError, NotSavedError, not_saved
from prepadvisor.records import NamedTuple

LEASE_SECONDS: Final = 4.0
"""A save takes well under a second; the sign of an owner elsewhere that stands for so long is of the dead."""

_PAUSE_SECONDS: Final = (0.001, 0.05)
_NO_LOCKS: Final = frozenset(
    getattr(errno, name)
    for name in ("ENOSYS", "ENOTSUP", "EOPNOTSUPP", "ENOLCK", "EINVAL", "EBADF")
    if hasattr(errno, name)
)
"""What a system says that knows no locks here; anything else is an error and is told."""


class NoLocksError(NotSavedError):
    """The system knows no locks in this folder."""


class Owner(NamedTuple):
    """Who holds a lock: initials, machine, process, since when (seconds since 1970), the process's start."""

    by: str
    host: str
    pid: int
    since: float
    start: str = ""

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
def locked(path: Path, by: str = "", wait_seconds: float = 10.0, *, without: bool = True) -> Iterator[None]:
    """Hold the lock of a file while the block runs.

    Args:
        path: the file that is about to be saved.
        by: initials shown to whoever has to wait.
        wait_seconds: how long to wait for another owner.
        without: whether a file made exclusively will do where the system knows no locks.

    Raises:
        BusyError: another owner does not let go.
        NoLocksError: the system knows no locks here, and `without` is False.
        NotSavedError: the lock cannot be made, because the folder is gone, full or may not be written to.
    """
    wait = _Wait(path, by, wait_seconds)
    try:
        held = wait.take()
        if held is None:
            if not without:
                raise NoLocksError(path, "the system knows no locks here", "")
            held = wait.take_exclusively()
    except OSError as error:
        raise not_saved(path, error) from error
    try:
        yield
    finally:
        held.let_go()


class _Held(NamedTuple):
    """A lock that is held: its file, and the handle that the system's own lock is on."""

    lock: Path
    handle: int | None

    def let_go(self) -> None:
        """Let go of it; whatever the system says then, the block is done."""
        if self.handle is None:
            with suppress(OSError):
                self.lock.unlink()
            return
        with suppress(OSError):
            os.ftruncate(self.handle, 0)
        if sys.platform == "win32":
            os.close(self.handle)
            with suppress(OSError):
                self.lock.unlink()
            return
        with suppress(OSError):
            if os.path.samestat(os.fstat(self.handle), self.lock.stat()):
                self.lock.unlink()
        os.close(self.handle)


class _Wait:
    """One wait for a lock: what was seen of other owners, and for how long it stood unchanged."""

    def __init__(self, path: Path, by: str, wait_seconds: float) -> None:
        self._path = path
        self._lock = lock_path(path)
        self._by = by
        self._deadline = time.monotonic() + wait_seconds
        self._pause = _PAUSE_SECONDS[0]
        self._seen: dict[Path, tuple[object, float]] = {}

    def take(self) -> _Held | None:
        """Wait for the system's lock; None where the system knows none."""
        while True:
            handle = self._opened()
            if handle is not None:
                held = False
                try:
                    held = self._is_free(handle)
                    if held:
                        _sign(handle, self._owner())
                        held = not self._is_held_by_name()
                    if held:
                        return _Held(self._lock, handle)
                    owner = _owner(handle)
                except _NoLocksHere:
                    return None
                finally:
                    if not held:
                        os.close(handle)
            else:
                owner = None
            self._rest(owner)

    def take_exclusively(self) -> _Held:
        """Wait for the file that only one can make."""
        name = self._hold_path()
        while True:
            if self._made(name):
                owner = _owner_of(self._lock)
                if owner is None or self._is_dead(self._lock, owner):
                    return _Held(name, None)
                with suppress(OSError):  # one that holds the system's lock was first
                    name.unlink()
            else:
                owner = _owner_of(name)
                if self._is_dead(name, owner):
                    with suppress(OSError):
                        name.unlink()
                    continue
            self._rest(owner)

    def _hold_path(self) -> Path:
        return self._lock.with_name(f"{self._lock.name[:-5]}.hold")

    def _owner(self) -> Owner:
        return Owner(self._by, this_host(), os.getpid(), time.time(), started(os.getpid()))

    def _rest(self, owner: Owner | None) -> None:
        if time.monotonic() >= self._deadline:
            who = owner.words if owner else "somebody else"
            raise BusyError(self._path, f"{who} is saving it", "wait a moment, then save again")
        time.sleep(self._pause)
        self._pause = min(_PAUSE_SECONDS[1], self._pause * 1.5)

    def _opened(self) -> int | None:
        """Open the lock file, another user's too; None where it may only be waited for."""
        flags = os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
        try:
            handle = os.open(self._lock, os.O_RDWR | flags, 0o666)
        except PermissionError:
            if not self._lock.exists():
                raise
            with suppress(PermissionError):
                return os.open(self._lock, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
            if self._stands(self._lock, os.lstat(self._lock).st_mtime_ns):
                self._lock.unlink()  # nobody signs a lock for so long; where this is refused, it is told
            return None
        if sys.platform != "win32":
            with suppress(OSError):  # so that anybody who may save here can use it when this user is gone
                if stat.S_IMODE(os.fstat(handle).st_mode) != _ANYBODY:
                    os.fchmod(handle, _ANYBODY)
        return handle

    def _is_free(self, handle: int) -> bool:
        """Take the system's lock; then see that the file still has that name, and its last owner is gone."""
        try:
            if not _system_lock(handle):
                return False
        except PermissionError:  # as some shares say that another holds it
            return False
        except OSError as error:
            if error.errno in _NO_LOCKS:
                raise _NoLocksHere from error
            raise
        try:
            if not os.path.samestat(os.fstat(handle), self._lock.stat()):
                return False
        except FileNotFoundError:
            return False
        owner = _owner(handle)
        return owner is None or owner.host == this_host() or self._is_dead(self._lock, owner)

    def _is_held_by_name(self) -> bool:
        name = self._hold_path()
        if not name.exists():
            return False
        if self._is_dead(name, _owner_of(name)):
            with suppress(OSError):
                name.unlink()
            return False
        return True

    def _is_dead(self, name: Path, owner: Owner | None) -> bool:
        """Say whether an owner is gone: known of this machine's own, else by a sign that stands unchanged."""
        if owner is not None and owner.host == this_host():
            return not is_alive(owner.pid, owner.start)
        return self._stands(name, owner)

    def _stands(self, name: Path, sign: object) -> bool:
        """Say whether a sign stood unchanged for the lease, by this machine's own clock since first seen."""
        seen, since = self._seen.get(name, (None, 0.0))
        if seen != sign or name not in self._seen:
            self._seen[name] = (sign, time.monotonic())
            return False
        return time.monotonic() - since > LEASE_SECONDS

    def _made(self, name: Path) -> bool:
        """Make the file that only one can make, with the owner's sign in it from the start if that works."""
        sign = json.dumps(self._owner()._asdict()).encode()
        draft = name.with_name(f"{name.name}-{secrets.token_hex(4)}.new")
        handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        try:
            os.write(handle, sign)
        finally:
            os.close(handle)
        try:
            os.link(draft, name)
        except FileExistsError:
            return False
        except OSError:  # a file system without second names
            try:
                handle = os.open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
            except FileExistsError:
                return False
            os.write(handle, sign)
            os.close(handle)
        finally:
            with suppress(OSError):
                draft.unlink()
        return True


class _NoLocksHere(Exception):  # noqa: N818 - not an error: another way is taken
    """The system knows no locks in this folder."""


_ANYBODY: Final = 0o666


def _sign(handle: int, owner: Owner) -> None:
    with suppress(OSError):  # a full disk, another user's file: the system's lock holds without a name on it
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, json.dumps(owner._asdict()).encode())


def _owner(handle: int) -> Owner | None:
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        return _parsed(os.read(handle, 4096))
    except OSError:
        return None


def _owner_of(name: Path) -> Owner | None:
    try:
        return _parsed(name.read_bytes()[:4096])
    except OSError:
        return None


def _parsed(sign: bytes) -> Owner | None:
    try:
        found = json.loads(sign)
        return Owner(
            str(found["by"]), str(found["host"]), int(found["pid"]), float(found["since"]),
            str(found.get("start", "")),
        )  # fmt: skip
    except (ValueError, KeyError, TypeError):
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
