"""Entries that stand in files of their own beside a job, where the job itself could not be locked.

Each is made exclusively, under the entry's own id, so two writers never meet in one. Everybody reads them
with the job; the next who can lock the job folds them into it. An entry that is folded in and still stands
here is the same entry, known by its id.
"""

import hashlib
import os
import re
import time
from collections.abc import Iterator, Sequence
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.files.disk.atomic import FileSystem, write_all
from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.files.disk.append import LogTable, Values


_NAME_KEPT: Final = 80
_MARK: Final = ".entry-"
_END: Final = b"# whole\n"
"""Ends every entry file: one that a crash cut short lacks it, and was never acknowledged."""
_SETTLED_SECONDS: Final = 3.0
"""A folder that was not changed for so long has the names it had when it was last listed."""
_READ_AGAIN_SECONDS: Final = (0.0, 0.05, 0.2, 0.5, 1.0)
_KNOWN_MAX: Final = 20_000
_known: Final[dict[Path, "Beside"]] = {}
"""Whole entries by their files."""
_BYTES_MAX: Final = 100_000
_PLAIN: Final = re.compile(r"[A-Za-z0-9-]{1,60}")


class Beside(NamedTuple):
    """One entry beside a job: its file, the table it belongs to, what it says, and when it came there.

    When it came is told by the one clock that all who save there share, in nanoseconds: the file's.
    """

    path: Path
    table: "LogTable"
    values: "Values"
    came_ns: int = 0


def entry_path(job: Path, ident: str) -> Path:
    """Return where the entry of an id stands beside a job."""
    real = job.resolve()
    name = ident if _PLAIN.fullmatch(ident) else hashlib.sha256(ident.encode()).hexdigest()[:32]
    return real.with_name(f"{_stem(real)}{name}")


def put_beside(job: Path, table: "LogTable", values: "Values", system: FileSystem) -> Path:
    """Put an entry beside its job; it is on the disk and was read back when this returns.

    Raises:
        OSError: the system refused; nothing that could be taken for a whole entry is left.
    """
    from prepadvisor.files.disk.append import appended

    path = entry_path(job, str(values["id"]))
    data = appended(b"", table, [values]) + _END
    try:
        handle = system.create(path, None)
    except FileExistsError:  # tried before: it is whole, or it is put anew
        if _read(path, system) == data:
            return path
        system.remove(path)
        handle = system.create(path, None)
    try:
        try:
            write_all(system, handle, data)
            system.sync(handle)
        finally:
            system.close(handle)
    except OSError:
        with suppress(OSError):
            system.remove(path)
        raise
    with suppress(OSError):  # some systems cannot sync a folder, and the entry stands
        system.sync_folder(path.parent)
    for pause in _READ_AGAIN_SECONDS:
        time.sleep(pause)
        if _read(path, system) == data:
            return path
    raise OSError(5, "what was written does not read back the same")


def entries_beside(job: Path, system: FileSystem | None = None) -> tuple[Beside, ...]:
    """Return the whole entries beside a job, each after those its writer knew; the torn are passed over."""
    system = system or FileSystem()
    real = job.resolve()
    found = []
    for name in _names(real, system):
        entry = _entry(real.with_name(name), system)
        if entry is not None:
            found.append(entry)
    return tuple(_in_order(found))


def take_away(entries: Sequence[Beside], system: FileSystem) -> None:
    """Take entries away that stand in the job now; the caller has read them there."""
    for entry in entries:
        with suppress(OSError):
            system.remove(entry.path)


def _stem(real: Path) -> str:
    return f".{real.name[:_NAME_KEPT]}{_MARK}"


def _names(real: Path, system: FileSystem) -> list[str]:
    """Return the names of a job's entries; a folder that rests is listed once for all its jobs."""
    stem = _stem(real)
    try:
        since = os.stat(real.parent).st_mtime_ns  # noqa: PTH116 - no path object for each job of an archive
        if type(system) is FileSystem and time.time() - since / 1e9 > _SETTLED_SECONDS:
            marked = _marked(str(real.parent), since)
        else:
            marked = tuple(name for name in system.names_in(real.parent) if _MARK in name)
    except OSError:
        return []
    if not marked:
        return []
    exact = [name for name in marked if name.startswith(stem)]
    folded = [name for name in marked if name.casefold().startswith(stem.casefold()) and name not in exact]
    if folded and _folds_case(real):
        exact += folded
    return sorted(exact)


@lru_cache(maxsize=64)
def _marked(folder: str, since: int) -> tuple[str, ...]:  # noqa: ARG001 - the time makes it another listing
    return tuple(name for name in os.listdir(folder) if _MARK in name)  # noqa: PTH208 - names alone


def _folds_case(real: Path) -> bool:
    """Say whether this file is the same under a name in other case."""
    try:
        return real.samefile(real.with_name(real.name.swapcase()))
    except OSError:
        return False


def _read(path: Path, system: FileSystem) -> bytes | None:
    with suppress(OSError):
        return system.read(path)[: _BYTES_MAX + 1]
    return None


def _came_ns(path: Path) -> int:
    try:
        return os.stat(path).st_mtime_ns  # noqa: PTH116 - the plain call
    except OSError:
        return 0


def _entry(path: Path, system: FileSystem) -> Beside | None:
    """Return a whole entry. An entry file is never written again, so each is read once."""
    known = _known.get(path)
    if known is not None:
        return known
    entry = _entry_read(path, system)
    if entry is not None and type(system) is FileSystem:
        if len(_known) >= _KNOWN_MAX:
            _known.clear()
        _known[path] = entry
    return entry


def _entry_read(path: Path, system: FileSystem) -> Beside | None:
    data = _read(path, system)
    if data is None or len(data) > _BYTES_MAX or not data.endswith(_END):
        return None
    from prepadvisor.files.disk.append import AppendRefusedError, parsed

    try:
        tables = parsed(data)
    except AppendRefusedError:
        return None
    names: tuple[LogTable, LogTable] = ("check", "outcome")
    for table in names:
        listed = tables.get(table)
        if (
            isinstance(listed, list)
            and len(listed) == 1
            and isinstance(listed[0], dict)
            and listed[0].get("id")
        ):
            return Beside(path, table, listed[0], _came_ns(path))
    return None


def _in_order(entries: list[Beside]) -> Iterator[Beside]:
    """Yield entries as they came, but none before one that its writer knew or had written earlier."""
    by_id = {str(entry.values["id"]): entry for entry in entries}
    earlier: dict[str, str] = {}
    last: dict[str, str] = {}
    for ident in sorted(by_id, key=lambda ident: _counted(by_id[ident].values)):
        writer = _counted(by_id[ident].values)[0]
        if writer in last:
            earlier[ident] = last[writer]
        last[writer] = ident
    begun: set[str] = set()
    done: set[str] = set()
    for first in sorted(by_id, key=lambda ident: (by_id[ident].came_ns, _counted(by_id[ident].values))):
        stack = [first]
        while stack:
            ident = stack[-1]
            begun.add(ident)
            needs = [
                each
                for each in (str(by_id[ident].values.get("knew", "")), earlier.get(ident, ""))
                if each in by_id and each not in begun  # a ring can only come from a hand that wrote it
            ]
            if needs and ident not in done:
                stack.extend(needs)
                continue
            stack.pop()
            if ident not in done:
                done.add(ident)
                yield by_id[ident]


def _counted(values: "Values") -> tuple[str, int]:
    writer, _, number = str(values["id"]).rpartition("-")
    return writer, int(number) if number.isdecimal() and len(number) < 12 else 0
