"""Changes a file of a house that several people add to: under its lock, whole or not at all, read back."""

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.disk.atomic import FileSystem, MaybeReplacedError, put, sweep
from prepadvisor.files.disk.lock import locked
from prepadvisor.files.disk.not_saved import NotSavedError, UnknownResultError, not_saved

_REAL: Final = FileSystem()


def changed(path: Path, change: Callable[[bytes], bytes], by: str = "", system: FileSystem = _REAL) -> bytes:
    """Replace a file by what a change makes of what stands there now; return what stands there then.

    Args:
        path: the file; it and its folder are made where they are missing.
        change: makes new bytes of the old (none: b""), or raises and leaves the file as it is.
        by: initials, shown to whoever waits for the file.
        system: the file system.

    Raises:
        NotSavedError: the file is as it was; it says why.
        UnknownResultError: it cannot be known what stands in the file.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists() and os.name == "posix" and not path.stat().st_mode & 0o222:
            says = "the file is write-protected, and stays as it is"
            raise NotSavedError(path, says, f"allow writing first: chmod u+w {path.name}")
        with locked(path, by):
            sweep(path, system)
            old = system.read(path) if path.exists() else b""
            new = change(old)
            if new != old:
                _put(path, new, system)
            return new
    except OSError as error:
        raise not_saved(path, error) from error


def _put(path: Path, new: bytes, system: FileSystem) -> None:
    try:
        put(path, new, system)
    except MaybeReplacedError as error:
        with suppress(OSError):
            if system.read(path) == new:
                return
        raise UnknownResultError(path, error.strerror or str(error)) from error
    if system.read(path) != new:
        raise UnknownResultError(path, "what was written does not read back the same")
