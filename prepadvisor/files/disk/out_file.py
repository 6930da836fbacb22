"""Writes what a command was asked to write, and never over a job, a rule file, an input or a device."""

import stat
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from prepadvisor.files.disk.atomic import Content, FileSystem, put, sweep
from prepadvisor.files.reading import shown_name
from prepadvisor.records import BadInputError, Fault

_REAL: Final = FileSystem()
_KEPT_ENDINGS: Final = (".toml", ".toml~")
"""Jobs, rules and their versions before: data that only their own commands write."""


def put_out(path: Path, data: Content, inputs: Iterable[Path | str] = (), system: FileSystem = _REAL) -> None:
    """Write a file whole over whatever is there, or leave what is there as it is.

    What a killed writer left half-written beside it is taken away.

    Args:
        path: the file; its folder is made where it is missing.
        data: its new content.
        inputs: files that the command read; none of them is ever written over.
        system: the file system.

    Raises:
        BadInputError: the place is an input, a .toml file, no regular file, or cannot be written to.
    """
    refuse_out(path, inputs)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        sweep(path, system)
        put(path, data, system, keep_previous=False)
    except OSError as error:
        says = f"it cannot be written: {error.strerror or error}"
        raise _fault(path, says, "an older file there is untouched; name another place") from error


def refuse_out(path: Path, inputs: Iterable[Path | str] = ()) -> None:
    """Raise BadInputError where a command must not write; see `put_out`."""
    try:
        real = path.resolve()
    except (OSError, ValueError, RuntimeError) as error:
        says = f"this place cannot be written to: {getattr(error, 'strerror', None) or error}"
        raise _fault(path, says, "name another place") from None
    refuse_no_file(path)
    if any(name.lower().endswith(_KEPT_ENDINGS) for name in (path.name, real.name)):
        raise _fault(path, "a .toml file is a job or a rule file and is never written over",
                     "take another ending, such as .txt, .html or .pdf")  # fmt: skip
    if any(_is_same(real, each) for each in inputs):
        raise _fault(path, "this file was read as an input and is never written over", "name another file")


def refuse_no_file(path: Path) -> None:
    """Raise BadInputError where a place is a folder, a pipe or a device; none there yet is fine."""
    try:
        mode = path.stat().st_mode
    except FileNotFoundError:
        return
    except (OSError, ValueError) as error:
        says = f"this place cannot be written to: {getattr(error, 'strerror', None) or error}"
        raise _fault(path, says, "name another place") from None
    if stat.S_ISDIR(mode):
        raise _fault(path, "this is a folder", "name a file in it")
    if not stat.S_ISREG(mode):
        raise _fault(path, "this is no file but a pipe or a device", "name a file, or - for standard output")


def _is_same(real: Path, other: Path | str) -> bool:
    try:
        return real.samefile(other)
    except (OSError, ValueError):
        return False


def _fault(path: Path, says: str, mend: str) -> BadInputError:
    return BadInputError([Fault(shown_name(path), 0, 0, says, mend)])
