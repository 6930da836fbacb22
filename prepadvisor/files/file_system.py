"""The few calls that saving rests on, in one object, so that tests can make each of them fail."""

import os
import sys
from contextlib import suppress
from pathlib import Path


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


def write_all(system: FileSystem, handle: int, data: bytes) -> None:
    """Write all of the data, however little the system takes at a time."""
    rest = memoryview(data)
    while rest:
        rest = rest[system.write(handle, bytes(rest)) :]
