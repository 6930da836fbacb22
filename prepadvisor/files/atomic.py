"""Replaces a file whole or not at all: a reader finds the old version or the new one, never a mixture.

The new version is written beside the old one, brought to the disk, and takes its name in one step; then the
folder is brought to the disk. The version before stays as the name with "~" at its end.
"""

import os
import secrets
from contextlib import suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.alive import is_alive
from prepadvisor.files.file_system import FileSystem, write_all

_NAME_KEPT: Final = 100
_LEFT_OVER: Final = (".new", ".old")


class MaybeReplacedError(OSError):
    """Giving the new version its name failed, or bringing the folder to the disk: it may still stand."""


def put(path: Path, data: bytes, system: FileSystem, *, keep_previous: bool = True) -> None:
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


def _write_new(new: Path, path: Path, data: bytes, system: FileSystem) -> None:
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
