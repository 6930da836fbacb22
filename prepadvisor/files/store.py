"""Saves job files: under a lock, whole or not at all, with what others logged meanwhile, and never unheard.

A call that returns has put the change on the disk. One that raises has left the file as it was, says why and
what to do, and takes nothing away from the caller's version.
"""

import datetime as dt
import hashlib
from pathlib import Path
from typing import Final, NamedTuple

from prepadvisor.files.append import AppendRefusedError, Table, appended, values_of
from prepadvisor.files.atomic import put, sweep
from prepadvisor.files.edit import edited
from prepadvisor.files.file_system import FileSystem
from prepadvisor.files.lock import locked
from prepadvisor.files.merge import join
from prepadvisor.files.not_saved import ChangedUnderneathError, NotSavedError, not_logged, not_saved
from prepadvisor.records.job import Check, Job, Outcome

_REAL: Final = FileSystem()


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
    """The version that now stands in the file, and how many log entries of others were taken over into it."""

    version: Version
    taken_over: int = 0


def read_version(path: Path, system: FileSystem = _REAL) -> Version:
    """Read a file as it is now. Raises NotSavedError where it cannot be read."""
    try:
        return Version(system.read(path))
    except OSError as error:
        raise not_saved(path, error) from error


def has_changed(path: Path, since: Version, system: FileSystem = _REAL) -> bool:
    """Say whether a file is no longer the version it was; a file that is gone has changed."""
    try:
        return system.read(path) != since.raw
    except OSError:
        return True


def save_text(
    path: Path, text: str, base: Version | None = None, by: str = "", system: FileSystem = _REAL
) -> Saved:
    """Save a whole job file.

    Args:
        path: the file.
        text: its new content.
        base: the version it was made from; None for a new file, which then must not exist with other content.
        by: initials, shown to whoever waits for the lock.
        system: the file system.

    Returns:
        What stands in the file now: the text, with the log entries that others added since `base`.

    Raises:
        ChangedUnderneathError: others changed the job itself; theirs stays, this one is kept beside it.
        NotSavedError: the file is as it was; it says why.
    """
    try:
        mine = text.encode()
    except UnicodeEncodeError as error:  # half of a letter, as a broken paste may leave it
        says = f"{text[error.start : error.end]!a} is no whole letter"
        raise NotSavedError(path, says, "delete it, then save again") from None
    with locked(path, by):
        try:
            sweep(path, system)
            disk = _read_or_none(path, system)
            if disk is None or disk == mine:
                return _written(path, mine, system, 0)
            joined = join(base.raw if base else b"", disk, mine)
            if joined is None:
                raise ChangedUnderneathError(path, _kept_beside(path, mine, system))
            return _written(path, joined.raw, system, joined.taken_over)
        except OSError as error:
            raise not_saved(path, error) from error


def edit_job(
    path: Path, before: Job, after: Job, base: Version, by: str = "", system: FileSystem = _REAL
) -> Saved:
    """Save a changed job into its file, keeping comments, order and the log; see `edit.edited`.

    Args:
        path: the file.
        before: the job as it was read from `base`.
        after: the job as it is now.
        base: the version it was read from.
        by: initials, shown to whoever waits for the lock.
        system: the file system.

    Raises:
        ChangedUnderneathError: as `save_text`.
        NotSavedError: as `save_text`.
    """
    return save_text(path, edited(base.text, before, after), base, by, system)


def append_check(path: Path, check: Check, by: str = "", system: FileSystem = _REAL) -> Saved:
    """Add an entry to a job's check-off; it is on the disk when this returns. Raises NotSavedError."""
    return _append(path, "check", check, by or check.by, system)


def append_outcome(path: Path, outcome: Outcome, by: str = "", system: FileSystem = _REAL) -> Saved:
    """Add what was seen weeks later; it is on the disk when this returns. Raises NotSavedError."""
    return _append(path, "outcome", outcome, by or outcome.by, system)


def _append(path: Path, table: Table, entry: Check | Outcome, by: str, system: FileSystem) -> Saved:
    with locked(path, by):
        try:
            sweep(path, system)
            return _written(path, appended(system.read(path), table, [values_of(entry)]), system, 0)
        except AppendRefusedError as error:
            raise NotSavedError(path, str(error), "mend the file, then log it again") from error
        except OSError as error:
            raise not_logged(path, error) from error


def _written(path: Path, raw: bytes, system: FileSystem, taken_over: int) -> Saved:
    put(path, raw, system)
    if system.read(path) != raw:
        raise NotSavedError(path, "what was written does not read back the same", "save to another drive")
    return Saved(Version(raw), taken_over)


def _read_or_none(path: Path, system: FileSystem) -> bytes | None:
    try:
        return system.read(path)
    except FileNotFoundError:
        if not path.parent.is_dir():
            raise
        return None


def _kept_beside(path: Path, mine: bytes, system: FileSystem) -> Path:
    stamp = dt.datetime.now(dt.UTC).strftime("%Y%m%d-%H%M%S")
    for number in range(1, 100):
        kept = path.with_name(
            f"{path.stem[:80]}.mine-{stamp}{f'-{number}' if number > 1 else ''}{path.suffix}"
        )
        if not kept.exists():
            break
    put(kept, mine, system, keep_previous=False)
    return kept
