"""What stands in a job's file at one moment, and what came of a save."""

import hashlib
from collections.abc import Callable
from pathlib import Path

from prepadvisor.files.disk.beside import entries_beside
from prepadvisor.records import NamedTuple

Reads = Callable[[bytes, str], object]
"""Reads a file's bytes as a job, or raises BadInputError; the name is what faults call it."""


class Version(NamedTuple):
    """A file's content at one moment."""

    raw: bytes

    @property
    def text(self) -> str:
        """The content as text, without byte-order mark."""
        return self.raw.decode("utf-8-sig")

    @property
    def sha256(self) -> str:
        """The content's digest."""
        return hashlib.sha256(self.raw).hexdigest()


class Saved(NamedTuple):
    """What came of a save.

    Attributes:
        version: what stands in the file now.
        taken_over: how many log entries of others are new in it.
        kept: where the job at hand was put, because somebody else had changed the same of it; None mostly.
        remark: what a person should know, such as that a loss of power may still take the save back.
        beside: whether an entry stands in a file of its own beside the job, which could not be locked; the
            version is then the job's file alone.
    """

    version: Version
    taken_over: int = 0
    kept: Path | None = None
    remark: str = ""
    beside: bool = False


class FolderSight(NamedTuple):
    """What a folder tells of a job file without reading it; it differs when anything of the job was saved."""

    inode: int
    modified_ns: int
    size: int
    beside: tuple[str, ...]


def sight(path: Path) -> FolderSight | None:
    """Look whether a job file is still what it was; None where it is gone for now."""
    try:
        status = path.stat()
        beside = tuple(entry.path.name for entry in entries_beside(path))
    except OSError:
        return None
    return FolderSight(status.st_ino, status.st_mtime_ns, status.st_size, beside)
