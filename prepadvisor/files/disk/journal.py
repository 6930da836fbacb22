"""Keeps every edit of an open job on the disk before it is saved: a crash or closed window loses none.

Each edit adds one line to the job's journal in the state folder and is brought to the disk at once: the whole
text as it then is, with a checksum. A line that a crash cut short is left out when the journal is read.
"""

import datetime as dt
import hashlib
import json
import os
import secrets
import zlib
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

from prepadvisor.files.disk.append import AppendRefusedError, parsed
from prepadvisor.files.disk.atomic import FileSystem, is_alive, put, started, this_host, write_all
from prepadvisor.files.disk.merge import LOG_TABLES, missing
from prepadvisor.files.disk.not_saved import not_saved
from prepadvisor.files.paths import state_dir
from prepadvisor.records import NamedTuple

_REAL: Final = FileSystem()
_ENDING: Final = ".journal"
_BYTES_MAX: Final = 4_000_000
_OPEN: Final[set[Path]] = set()
"""Journals that this process writes."""


class Recovery(NamedTuple):
    """An edit that was never saved: of which file, by whom, when, the text, and the digest it began with.

    `base` is empty for a job that never had a file; `path` then is where it was to go. `began` is the text of
    the version with that digest, empty where an older program did not keep it; `pending` has the ids of the
    log entries that were not in the file, None where an older program did not say.
    """

    journal: Path
    path: Path
    by: str
    at: dt.datetime
    text: str
    base: str
    began: str = ""
    pending: tuple[str, ...] | None = None

    @property
    def file_has_changed(self) -> bool:
        """Whether the file is no longer the one that the edit began with."""
        try:
            return hashlib.sha256(self.path.read_bytes()).hexdigest() != self.base
        except OSError:
            return bool(self.base)

    def forget(self) -> None:
        """Take the journal away: the edit was taken over, or is not wanted."""
        with suppress(OSError):
            self.journal.unlink()


class Journal:
    """The journal of one open job; nothing is written before the first edit."""

    def __init__(
        self,
        path: Path,
        base: str = "",
        by: str = "",
        folder: Path | None = None,
        system: FileSystem = _REAL,
        began: str = "",
    ) -> None:
        """Name the job.

        Args:
            path: the job file, or where it is to go.
            base: digest of the version that is open, empty for a new job.
            by: initials.
            folder: where journals are; None for the platform's state folder.
            system: the file system.
            began: text of the version that is open, so that a crash leaves what it takes to join the edit.
        """
        self._began = began
        self._job = path.resolve()
        self._base = base
        self._by = by
        self._folder = folder or journal_folder()
        self._system = system
        self._handle: int | None = None
        self._bytes = 0
        self.path = self._named()
        self._let_go = False

    def write(self, text: str, pending: Sequence[str] = ()) -> None:
        """Bring the text as it now is to the disk.

        Args:
            text: the whole job with its log.
            pending: ids of the log entries that are not in the file.

        Raises:
            NotSavedError: the state folder is full, gone or read-only; the text is with the caller.
        """
        record = {
            "job": str(self._job),
            "base": self._base,
            "by": self._by,
            "at": dt.datetime.now(dt.UTC).isoformat(),
            "host": this_host(),
            "pid": os.getpid(),
            "start": started(os.getpid()),
            "text": text,
            "pending": list(pending),
        }
        if self._let_go:  # what was let go of may be taken up by somebody else
            self.path, self._let_go, self._bytes = self._named(), False, 0
        try:
            if self._handle is not None and not self.path.exists():
                self._close()  # somebody took it away: it is made anew
            if self._handle is None:
                record["began"] = self._began
            line = _line(record)
            if self._bytes + len(line) > _BYTES_MAX:
                line = _line({**record, "began": self._began})
                self._close()
                put(self.path, line, self._system, keep_previous=False)
                self._bytes = len(line)
                return
            write_all(self._system, self._opened(), line)
            self._system.sync(self._opened())
            self._bytes += len(line)
        except OSError as error:
            self._close()
            raise not_saved(self.path, error) from error

    def saved(self, base: str, began: str = "") -> None:
        """Drop the journal: the text is in its file now, whose digest is `base` and whose text is `began`."""
        self._close()
        with suppress(OSError):
            self._system.remove(self.path)
        _OPEN.discard(self.path)
        self._base = base
        self._began = began
        self._bytes = 0

    def close(self) -> None:
        """Let go of the journal; what is not saved stays in it for recovery."""
        self._close()
        _OPEN.discard(self.path)
        self._let_go = True

    def _named(self) -> Path:
        name = hashlib.sha256(str(self._job).encode()).hexdigest()[:16]
        return self._folder / f"{name}-{os.getpid()}-{secrets.token_hex(4)}{_ENDING}"

    def _opened(self) -> int:
        if self._handle is None:
            self._folder.mkdir(parents=True, exist_ok=True)
            is_new = not self.path.exists()
            self._handle = self._system.open_to_append(self.path)
            _OPEN.add(self.path)
            if is_new:
                self._system.sync_folder(self._folder)
            else:
                write_all(self._system, self._handle, b"\n")  # ends a line that a fault cut short
        return self._handle

    def _close(self) -> None:
        if self._handle is not None:
            with suppress(OSError):
                self._system.close(self._handle)
            self._handle = None


def journal_folder() -> Path:
    """Return the folder of journals; it may not exist yet."""
    return state_dir() / "journals"


def recoverable(folder: Path | None = None) -> tuple[Recovery, ...]:
    """Return the edits that a crash left unsaved, the newest first.

    Journals of processes that still run are theirs; this process's own count once they are let go of. One
    whose text is in its file already is taken away; nothing else is, however old it looks by the clock.
    """
    found = []
    for journal in _journals(folder or journal_folder()):
        last = _last_record(journal)
        if last is None or _is_in_use(journal, last):
            continue
        recovery = Recovery(
            journal=journal,
            path=Path(last["job"]),
            by=last["by"],
            at=dt.datetime.fromisoformat(last["at"]),
            text=last["text"],
            base=last["base"],
            began=last.get("began", ""),
            pending=tuple(last["pending"]) if isinstance(last.get("pending"), list) else None,
        )
        if _is_saved(recovery):
            recovery.forget()
        else:
            found.append(recovery)
    return tuple(sorted(found, key=lambda recovery: recovery.at, reverse=True))


def _journals(folder: Path) -> Iterator[Path]:
    with suppress(OSError):
        yield from sorted(path for path in folder.iterdir() if path.name.endswith(_ENDING))


def _is_in_use(journal: Path, last: dict[str, Any]) -> bool:
    if last["host"] != this_host():
        return False
    if last["pid"] == os.getpid() and last.get("start", "") in {"", started(os.getpid())}:
        return journal in _OPEN
    return is_alive(last["pid"], str(last.get("start", "")))


def _is_saved(recovery: Recovery) -> bool:
    """Say whether all that was kept is in the file: the job as it was kept, and every entry of its log."""
    try:
        raw = recovery.path.read_bytes()
        if raw == recovery.text.encode(errors="surrogatepass"):
            return True
        there, kept = parsed(raw), parsed(recovery.text.encode())
    except (OSError, AppendRefusedError, UnicodeEncodeError):
        return False
    logs = LOG_TABLES
    same = {key: value for key, value in there.items() if key not in logs} == {
        key: value for key, value in kept.items() if key not in logs
    }
    return same and not any(missing(kept.get(table), there.get(table)) for table in logs)


def _line(record: dict[str, Any]) -> bytes:
    body = json.dumps(record, ensure_ascii=True).encode()
    return b"%08x %s\n" % (zlib.crc32(body), body)


def _last_record(journal: Path) -> dict[str, Any] | None:
    try:
        lines = journal.read_bytes().split(b"\n")
    except OSError:
        return None
    last: dict[str, Any] | None = None
    for line in reversed(lines):
        checksum, _, body = line.partition(b" ")
        if checksum == b"%08x" % zlib.crc32(body):
            try:
                record: dict[str, Any] = json.loads(body)
            except ValueError:
                continue
            if not {"job", "base", "by", "at", "host", "pid", "text"} <= record.keys():
                continue
            if last is None:
                last = record
            if "began" in record and record["base"] == last["base"]:
                return {**last, "began": record["began"]}
    return last
