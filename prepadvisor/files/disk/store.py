"""Saves job files: under a lock, whole or not at all, with what others logged meanwhile, and never unheard.

A call that returns has put the change on the disk: what stands there was read back, byte for byte what was
checked to be a job before it replaced anything. One that raises has left the file as it was, or says that it
cannot know; it takes nothing away from the caller's version.
"""

import datetime as dt
import errno
import os
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.disk.append import AppendRefusedError, LogTable, Values, values_of
from prepadvisor.files.disk.atomic import FileSystem, MaybeReplacedError, put, sweep
from prepadvisor.files.disk.beside import entries_beside, put_beside, take_away
from prepadvisor.files.disk.lock import NoLocksError, locked
from prepadvisor.files.disk.merge import join, with_entries
from prepadvisor.files.disk.not_saved import (
    BusyError,
    ChangedUnderneathError,
    NotSavedError,
    UnknownResultError,
    not_logged,
    not_saved,
)
from prepadvisor.files.disk.version import Reads, Saved, Version
from prepadvisor.files.job_file import check_shape
from prepadvisor.records import BadInputError, Outcome

_REAL: Final = FileSystem()
_WAIT_FOR_ENTRY_SECONDS: Final = 3.0
"""So long an entry waits for the job; then it stands beside it, in a file of its own."""
_READ_AGAIN_SECONDS: Final = (0.0, 0.02, 0.1, 0.3, 0.8, 1.5)
_ROUNDS_MAX: Final = 8
_NOT_TOLD: Final = frozenset(
    getattr(errno, name)
    for name in ("EIO", "ETIMEDOUT", "ESTALE", "EINTR", "ECONNRESET", "ENOTCONN", "EREMOTEIO")
    if hasattr(errno, name)
)
"""Errors after which a rename may have been done all the same."""


def read_version(path: Path, system: FileSystem = _REAL) -> Version:
    """Read a job file as it is now, with the entries that stand beside it. Raises NotSavedError."""
    try:
        return Version(_whole(path, system))
    except OSError as error:
        raise not_saved(path, error) from error


def save_text(
    path: Path,
    text: str,
    base: Version | None = None,
    by: str = "",
    system: FileSystem = _REAL,
    reads: Reads = check_shape,
) -> Saved:
    """Save a whole job file.

    Args:
        path: the file.
        text: its new content.
        base: the version it was made from; None for a new file.
        by: initials, shown to whoever waits for the lock.
        system: the file system.
        reads: reads the new bytes as a job before they replace anything.

    Returns:
        What stands in the file now: what others changed and logged since `base`, with the changes and entries
        of the text put in. Where both changed the same of the job, theirs stays and this one is kept beside.

    Raises:
        NotSavedError: the file is as it was; it says why.
        ChangedUnderneathError: a new job, but another file has its name meanwhile.
        UnknownResultError: it cannot be known what stands in the file.
    """
    try:
        mine = text.encode()
    except UnicodeEncodeError as error:  # half of a letter, as a broken paste may leave it
        says = f"{text[error.start : error.end]!a} is no whole letter"
        raise NotSavedError(path, says, "delete it, then save again") from None
    _refuse_protected(path)
    began = base.raw if base else b""
    with locked(path, by):
        try:
            sweep(path, system)
            return _Saving(path, system, reads).save(began, mine)
        except AppendRefusedError as error:
            says = f"somebody else changed the file, and it is not sound now: {error}"
            raise NotSavedError(path, says, "mend the file, then save again") from error
        except OSError as error:
            raise not_saved(path, error) from error


def append_outcome(
    path: Path, outcome: Outcome, by: str = "", system: FileSystem = _REAL, reads: Reads = check_shape
) -> Saved:
    """Add what was seen weeks later; see `append_entries`."""
    return append_entries(path, [("outcome", values_of(outcome))], by or outcome.by, system, reads)


def append_entries(
    path: Path,
    entries: Sequence[tuple[LogTable, Values]],
    by: str = "",
    system: FileSystem = _REAL,
    reads: Reads = check_shape,
) -> Saved:
    """Add entries to a job; they are on the disk, and were read back as part of a job, when this returns.

    An entry whose id stands in the job already is there already. Where the job cannot be locked, or nobody
    can tell whether it was written, each entry with an id is put beside the job in a file of its own.

    Raises:
        NotSavedError: none of them is in the file; it says why.
        UnknownResultError: it cannot be known whether they are in the file.
    """
    _refuse_protected(path)
    named = all(values.get("id") for _, values in entries)
    try:
        with locked(path, by, _WAIT_FOR_ENTRY_SECONDS if named else 10.0, without=not named):
            sweep(path, system)
            return _Saving(path, system, reads).add(entries)
    except (NoLocksError, BusyError, UnknownResultError):
        if not named:
            raise
        return _beside(path, entries, system, reads)
    except AppendRefusedError as error:
        raise NotSavedError(path, str(error), "mend the file, then log it again") from error
    except OSError as error:
        raise not_logged(path, error) from error


class _Saving:
    """One save under the lock: reads the disk, joins, checks, replaces, and reads back what came of it."""

    def __init__(self, path: Path, system: FileSystem, reads: Reads) -> None:
        self._path = path
        self._system = system
        self._reads = reads
        self._others = entries_beside(path, system)

    def save(self, began: bytes, mine: bytes) -> Saved:
        """Save a whole version that began with another."""
        kept: Path | None = None
        for _ in range(_ROUNDS_MAX):
            disk = self._read_or_none()
            if disk is None:
                new, taken_over = self._with_others(mine), 0
            elif not began and disk != mine:
                raise ChangedUnderneathError(self._path, _kept_beside(self._path, mine, self._system))
            else:
                whole = self._with_others(disk)
                joined = join(began, whole, mine)
                new, taken_over = joined.raw, joined.taken_over
                if not joined.with_job and kept is None:
                    kept = _kept_beside(self._path, mine, self._system)
            remark = self._replaced(disk, new)
            if remark is not None:
                return Saved(Version(new), taken_over, kept, remark)
        raise UnknownResultError(self._path, "others change this file all the time")

    def add(self, entries: Sequence[tuple[LogTable, Values]]) -> Saved:
        """Add entries to what stands on the disk.

        Those without id, of which nobody can say whether they are there already, are tried once.
        """
        named = all(values.get("id") for _, values in entries)
        for _ in range(_ROUNDS_MAX if named else 1):
            disk = self._system.read(self._path)
            new = with_entries(self._with_others(disk), entries)
            remark = self._replaced(disk, new)
            if remark is not None:
                return Saved(Version(new), 0, None, remark)
        raise UnknownResultError(self._path, "what was written does not read back the same")

    def _with_others(self, raw: bytes) -> bytes:
        return with_entries(raw, [(entry.table, entry.values) for entry in self._others])

    def _read_or_none(self) -> bytes | None:
        try:
            return self._system.read(self._path)
        except FileNotFoundError:
            if not self._path.parent.is_dir():
                raise
            return None

    def _replaced(self, old: bytes | None, new: bytes) -> str | None:
        """Replace the file and read it back; a remark for a person, None where somebody else was faster."""
        if old != new:
            self._check(new)
        remark = ""
        if old != new:
            try:
                put(self._path, new, self._system)
            except MaybeReplacedError as error:
                remark = self._in_spite_of(error, old, new)
            else:
                found = self._found(old, _READ_AGAIN_SECONDS)
                if found == old:
                    raise UnknownResultError(self._path, "what was written does not show")
                if found != new:
                    return None
        take_away(self._others, self._system)
        return remark

    def _in_spite_of(self, error: OSError, old: bytes | None, new: bytes) -> str:
        """Find out by reading whether the file was replaced all the same; return what to know of it."""
        pauses = _READ_AGAIN_SECONDS if error.errno in _NOT_TOLD else (0.0,)
        found = self._found(old, pauses)
        if found == new:
            return "saved, but this drive did not confirm that it would outlast a loss of power"
        if found == old and error.errno not in _NOT_TOLD:
            raise error
        raise UnknownResultError(self._path, error.strerror or str(error)) from error

    def _found(self, old: bytes | None, pauses: Sequence[float]) -> bytes | None:
        """Read the file until it shows something else than what was there before, or patience ends."""
        found = old
        for pause in pauses:
            time.sleep(pause)
            with suppress(OSError):
                found = self._system.read(self._path)
                if found != old:
                    break
        return found

    def _check(self, new: bytes) -> None:
        """Refuse bytes that would not be read as a job."""
        try:
            self._reads(new, str(self._path))
        except BadInputError as error:
            fault = error.faults[0]
            says = f"the file could not be read afterwards: {fault.says}"
            raise NotSavedError(self._path, says, fault.mend) from error


def _whole(path: Path, system: FileSystem) -> bytes:
    """Return a file's bytes with the entries that stand beside it; as they are where they are no TOML.

    What stands beside it is read first: who takes an entry in removes its own file last.
    """
    others = entries_beside(path, system)
    raw = system.read(path)
    try:
        return with_entries(raw, [(entry.table, entry.values) for entry in others])
    except AppendRefusedError:
        return raw


def _beside(
    path: Path, entries: Sequence[tuple[LogTable, Values]], system: FileSystem, reads: Reads
) -> Saved:
    """Put each entry beside the job that cannot be locked, once it is seen that the job could take it."""
    try:
        raw = system.read(path)
        try:
            reads(with_entries(raw, entries), str(path))
        except (BadInputError, AppendRefusedError) as error:
            fault = error.faults[0].says if isinstance(error, BadInputError) else str(error)
            raise NotSavedError(path, fault, "mend it, then log it again") from error
        for table, values in entries:
            put_beside(path, table, values, system)
        return Saved(Version(raw), 0, None, "", beside=True)
    except OSError as error:
        raise not_logged(path, error) from error


def _refuse_protected(path: Path) -> None:
    """Refuse to replace a file that somebody made read-only for everybody."""
    with suppress(OSError):
        if not path.stat().st_mode & 0o222 and os.name == "posix":
            says = "the file is write-protected, and stays as it is"
            raise NotSavedError(path, says, f"allow writing first: chmod u+w {path.name}")


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
