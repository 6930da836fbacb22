"""Writes a file whole or not at all, by few calls that tests can fail; tells whether a process still runs.

The new version is written beside the old one, brought to the disk, and takes its name in one step; then the
folder is brought to the disk. The version before stays as the name with "~" at its end.
"""

import os
import secrets
import socket
import sys
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Final

# Whether a process of this machine still runs.


@lru_cache(maxsize=1)
def this_host() -> str:
    """Return this machine's name."""
    return socket.gethostname()


def started(pid: int) -> str:
    """Return when a process of this machine started, as a sign of its own; empty where that cannot be known.

    A process number is given again to others; with its start it names one process, also over a restart.
    """
    try:
        with open(f"/proc/{pid}/stat", "rb") as file:  # noqa: PTH123 - a plain open is the fastest here
            ticks = file.read().rpartition(b")")[2].split()[19].decode()
    except (OSError, IndexError):
        return ""
    return f"{_this_boot()}:{ticks}"


@lru_cache(maxsize=1)
def _this_boot() -> str:
    try:
        with open("/proc/sys/kernel/random/boot_id", "rb") as file:  # noqa: PTH123 - likewise
            return file.read().strip().decode()[:8]
    except OSError:
        return ""


def is_alive(pid: int, start: str = "") -> bool:
    """Say whether a process of this machine still runs; in doubt it does.

    Args:
        pid: its number.
        start: what `started` said of it; another process that was given its number meanwhile does not count.
    """
    if pid <= 0:
        return False
    if start and (now := started(pid)) and now != start:
        return False
    if sys.platform == "win32":
        return _is_alive_on_windows(pid)
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return not _is_zombie(pid)


def _is_zombie(pid: int) -> bool:
    try:
        with open(f"/proc/{pid}/stat", "rb") as file:  # noqa: PTH123 - a plain open is the fastest here
            return file.read().rpartition(b")")[2].split()[0] in {b"Z", b"X"}
    except (OSError, IndexError):
        return False


if sys.platform == "win32":
    import ctypes

    def _is_alive_on_windows(pid: int) -> bool:
        kernel = ctypes.windll.kernel32
        handle = kernel.OpenProcess(0x1000, False, pid)  # PROCESS_QUERY_LIMITED_INFORMATION
        if not handle:
            return bool(kernel.GetLastError() == 5)  # access denied: it runs, but as somebody else
        code = ctypes.c_ulong()
        kernel.GetExitCodeProcess(handle, ctypes.byref(code))
        kernel.CloseHandle(handle)
        return code.value == 259  # STILL_ACTIVE
else:

    def _is_alive_on_windows(pid: int) -> bool:
        raise NotImplementedError(pid)


# The few calls that saving rests on, in one object, so that tests can make each of them fail.


class FileSystem:
    """The real file system. Every method is one call of the system and raises its OSError."""

    def read(self, path: Path) -> bytes:
        """Return the whole content of a file."""
        return path.read_bytes()

    def create(self, path: Path, mode: int | None) -> int:
        """Create a file that must not exist yet, never through a link, and return its handle for writing.

        `mode` has the rights of the file it will replace, None for a new one.
        """
        flags = (
            os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
        )
        handle = os.open(path, flags, 0o666)
        if mode is not None and sys.platform != "win32":
            with suppress(OSError):  # not every file system keeps rights
                os.fchmod(handle, mode)
        return handle

    def open_to_append(self, path: Path) -> int:
        """Open a file, made if need be and readable by its owner alone, so that writes land at its end."""
        flags = (
            os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
        )
        return os.open(path, flags, 0o600)

    def write(self, handle: int, data: bytes) -> int:
        """Write some of the data and return how many bytes were taken."""
        return os.write(handle, data)

    def sync(self, handle: int) -> None:
        """Return only when the disk has what was written."""
        os.fsync(handle)

    def close(self, handle: int) -> None:
        """Close a handle."""
        os.close(handle)

    def link(self, path: Path, other: Path) -> None:
        """Give a file a second name."""
        os.link(path, other)

    def replace(self, path: Path, target: Path) -> None:
        """Give a file another name in one step, in place of what had it."""
        path.replace(target)

    def remove(self, path: Path) -> None:
        """Take a name away."""
        path.unlink()

    def names_in(self, folder: Path) -> list[str]:
        """Return the names in a folder."""
        return os.listdir(folder)  # noqa: PTH208 - names alone, no path objects for a large folder

    def keep_owner(self, handle: int, uid: int, gid: int) -> None:
        """Give a new file the owner and the group of the one it replaces, as far as this user may."""
        if sys.platform != "win32":
            own = os.fstat(handle)
            if own.st_gid != gid:
                with suppress(OSError):
                    os.fchown(handle, -1, gid)
            if own.st_uid != uid:
                with suppress(OSError):
                    os.fchown(handle, uid, -1)

    def keep_mode(self, handle: int, mode: int) -> None:
        """Give a file the rights of the one it replaces, after it has its owner, which may take some away."""
        if sys.platform != "win32":
            with suppress(OSError):  # not every file system keeps rights
                os.fchmod(handle, mode)

    def sync_folder(self, folder: Path) -> None:
        """Return only when the disk has the folder's names; a system that cannot do so does it on its own."""
        if sys.platform == "win32":
            return
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


_AT_ONCE: Final = 1 << 22
Content = bytes | memoryview
"""What is written: bytes at hand, or a view of some that need not all be in memory."""


def write_all(system: FileSystem, handle: int, data: Content) -> None:
    """Write all of the data, however little the system takes at a time."""
    rest = memoryview(data)
    while rest:
        rest = rest[system.write(handle, bytes(rest[:_AT_ONCE])) :]


_NAME_KEPT: Final = 100
_LEFT_OVER: Final = (".new", ".old")


class MaybeReplacedError(OSError):
    """Giving the new version its name failed, or bringing the folder to the disk: it may still stand."""


def put(path: Path, data: Content, system: FileSystem, *, keep_previous: bool = True) -> None:
    """Write a file whole.

    Args:
        path: the file; a link is followed, so that the link itself stays.
        data: its new content.
        system: the file system.
        keep_previous: whether the version before stays beside it.

    Raises:
        OSError: the system refused, and the file is as it was.
        MaybeReplacedError: the last step failed, and only reading tells which version stands; where it is the
            new one, a loss of power may still take it back.
    """
    path = path.resolve()
    new = _beside(path, ".new")
    try:
        _write_new(new, path, data, system)
        if keep_previous:
            with suppress(OSError):  # losing the version before is no reason to lose this one
                _keep_previous(path, system)
    except OSError:
        with suppress(OSError):
            system.remove(new)
        raise
    try:
        system.replace(new, path)
        system.sync_folder(path.parent)
    except OSError as error:
        with suppress(OSError):
            system.remove(new)
        raise MaybeReplacedError(error.errno, error.strerror or str(error)) from error


def previous_of(path: Path) -> Path:
    """Return where the version before is kept."""
    return path.with_name(f"{path.name}~")


def sweep(path: Path, system: FileSystem) -> None:
    """Remove what a dead process left half-written beside a file; the caller holds the file's lock."""
    path = path.resolve()
    stem = _stem(path)
    with suppress(OSError):
        for name in os.listdir(path.parent):  # noqa: PTH208 - names alone, no path objects for a large folder
            if name.startswith(stem) and name.endswith(_LEFT_OVER):
                pid = name[len(stem) :].split("-", 1)[0]
                if not (pid.isdecimal() and is_alive(int(pid))):
                    with suppress(OSError):
                        system.remove(path.with_name(name))


def _stem(path: Path) -> str:
    return f".{path.name[:_NAME_KEPT]}."


def _beside(path: Path, ending: str) -> Path:
    return path.with_name(f"{_stem(path)}{os.getpid()}-{secrets.token_hex(4)}{ending}")


def _write_new(new: Path, path: Path, data: Content, system: FileSystem) -> None:
    kept = _status_of(path)
    handle = system.create(new, None if kept is None else kept.st_mode & 0o777)
    try:
        if kept is not None:
            system.keep_owner(handle, kept.st_uid, kept.st_gid)
            system.keep_mode(handle, kept.st_mode & 0o7777)
        write_all(system, handle, data)
        system.sync(handle)
    finally:
        system.close(handle)


def _status_of(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except OSError:
        return None


def _keep_previous(path: Path, system: FileSystem) -> None:
    """Give the version at hand its second name; a file system without second names gets a copy."""
    old = _beside(path, ".old")
    try:
        try:
            system.link(path, old)
        except FileNotFoundError:
            return
        except OSError:
            _write_new(old, path, system.read(path), system)
        system.replace(old, previous_of(path))
    finally:
        with suppress(OSError):
            system.remove(old)
