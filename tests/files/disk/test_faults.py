"""Every call that saving makes is made to fail in every way: the file is whole, the old version or the new.

The faults are data: each call of a save, by its number, times each fault, before or after it took effect.
"""

import errno
from collections.abc import Callable
from pathlib import Path
from typing import Final, NamedTuple

import pytest
import tomli

from prepadvisor.files import (
    FileSystem,
    NotSavedError,
    UnknownResultError,
    read_version,
    save_text,
)
from prepadvisor.records import Check
from tests.files.disk.saving import append_check

pytestmark = pytest.mark.usefixtures("short_waits")

Numbered = Callable[[int], Check]
Save = Callable[[Path, Check, FileSystem], object]

ERRORS: Final = {
    "full disk": errno.ENOSPC,
    "drive error": errno.EIO,
    "no right": errno.EACCES,
    "read-only": errno.EROFS,
    "share gone": getattr(errno, "ESTALE", errno.EIO),
    "over quota": getattr(errno, "EDQUOT", errno.ENOSPC),
}


class Fault(NamedTuple):
    """Which call fails, how, and whether it took effect before it failed."""

    call: int
    code: int
    took_effect: bool


class Counting(FileSystem):
    """Makes every call pass one gate that counts it, and fails the one asked for."""

    def __init__(self, fault: Fault | None = None, at_most: int | None = None) -> None:
        """Take the fault, and how many bytes one write takes at most."""
        self.calls: list[str] = []
        self._fault = fault
        self._at_most = at_most

    def _fails(self, name: str, *, after: bool) -> None:
        if not after:
            self.calls.append(name)
        fault = self._fault
        if fault is not None and fault.call == len(self.calls) - 1 and fault.took_effect is after:
            raise OSError(fault.code, "made to fail")

    def read(self, path: Path) -> bytes:
        """Count, fail or read."""
        self._fails("read", after=False)
        data = super().read(path)
        self._fails("read", after=True)
        return data

    def create(self, path: Path, mode: int | None) -> int:
        """Count, fail or create."""
        self._fails("create", after=False)
        handle = super().create(path, mode)
        try:
            self._fails("create", after=True)
        except OSError:
            super().close(handle)
            raise
        return handle

    def write(self, handle: int, data: bytes) -> int:
        """Count, fail before, fail half-way, or write what one call takes."""
        self._fails("write", after=False)
        if self._fault is not None and self._fault.call == len(self.calls) - 1:
            super().write(handle, data[: len(data) // 2])
        self._fails("write", after=True)
        return super().write(handle, data[: self._at_most])

    def sync(self, handle: int) -> None:
        """Count, fail or sync."""
        self._fails("sync", after=False)
        super().sync(handle)
        self._fails("sync", after=True)

    def close(self, handle: int) -> None:
        """Count, close in any case, fail if asked to."""
        self._fails_closed(handle)

    def _fails_closed(self, handle: int) -> None:
        super().close(handle)
        self._fails("close", after=False)
        self._fails("close", after=True)

    def link(self, path: Path, other: Path) -> None:
        """Count, fail or link."""
        self._fails("link", after=False)
        super().link(path, other)
        self._fails("link", after=True)

    def replace(self, path: Path, target: Path) -> None:
        """Count, refuse or rename."""
        self._fails("replace", after=False)
        super().replace(path, target)
        self._fails("replace", after=True)

    def remove(self, path: Path) -> None:
        """Count, fail or remove."""
        self._fails("remove", after=False)
        super().remove(path)
        self._fails("remove", after=True)

    def sync_folder(self, folder: Path) -> None:
        """Count, fail or sync."""
        self._fails("sync_folder", after=False)
        super().sync_folder(folder)
        self._fails("sync_folder", after=True)


def _append(path: Path, check: Check, system: FileSystem) -> object:
    return append_check(path, check, system=system)


def _save(path: Path, check: Check, system: FileSystem) -> object:
    base = read_version(path)
    return save_text(path, f"# {check.note}\n{base.text}", base, system=system)


SAVES: Final[dict[str, Save]] = {"a check is added": _append, "a job is saved": _save}


@pytest.mark.parametrize("save", SAVES.values(), ids=SAVES.keys())
def test_after_any_fault_the_file_is_old_or_new_and_nothing_acknowledged_is_missing(
    job_file: Path, numbered: Numbered, save: Save, record_property: Callable[[str, object], None]
) -> None:
    """ENOSPC, EIO and others at each call; then a save without fault works, and leaves no litter."""
    append_check(job_file, numbered(0))
    counted = Counting()
    save(job_file, numbered(1), counted)
    faults = [
        Fault(call, code, took_effect)
        for call in range(len(counted.calls))
        for code in ERRORS.values()
        for took_effect in (False, True)
    ]
    acknowledged: list[str] = []
    for number, fault in enumerate(faults, 1000):
        before = job_file.read_bytes()
        try:
            save(job_file, numbered(number), Counting(fault))
        except UnknownResultError:
            new = job_file.read_bytes() != before
        except NotSavedError:
            new = False
            assert job_file.read_bytes() == before, fault
        else:
            new = True
            acknowledged.append(f"number {number}")
        assert new is (f"number {number}" in job_file.read_text(encoding="utf-8")), fault
        tomli.loads(job_file.read_text(encoding="utf-8"))
    save(job_file, numbered(9999), Counting())
    assert sorted(path.name for path in job_file.parent.iterdir()) == ["1042.toml", "1042.toml~"]
    final = job_file.read_text(encoding="utf-8")
    assert [note for note in acknowledged if note not in final] == []
    record_property("faults", len(faults))
    assert len(faults) >= 12 * 10


@pytest.mark.parametrize("at_most", [1, 7, 100])
def test_a_system_that_takes_little_at_a_time_gets_it_all(
    job_file: Path, numbered: Numbered, at_most: int
) -> None:
    """Short writes are no fault, they are only slow."""
    before = job_file.read_bytes()
    append_check(job_file, numbered(1), system=Counting(at_most=at_most))
    assert job_file.read_bytes().startswith(before)
    assert "number 1" in job_file.read_text(encoding="utf-8")


def test_a_system_without_second_names_keeps_the_version_before_as_a_copy(
    job_file: Path, numbered: Numbered
) -> None:
    """FAT and some shares know no links."""
    before = job_file.read_bytes()
    counted = Counting()
    append_check(job_file, numbered(1), system=counted)
    job_file.write_bytes(before)
    append_check(
        job_file, numbered(2), system=Counting(Fault(counted.calls.index("link"), errno.EPERM, False))
    )
    assert job_file.with_name("1042.toml~").read_bytes() == before


def test_a_drive_that_does_not_read_back_what_was_written_is_heard(
    job_file: Path, numbered: Numbered
) -> None:
    """An entry is acknowledged only when it is really there."""

    class Lying(FileSystem):
        def read(self, path: Path) -> bytes:
            return super().read(path).replace(b"number 1", b"number 7")

    with pytest.raises(NotSavedError, match="does not read back"):
        append_check(job_file, numbered(1), system=Lying())


@pytest.mark.parametrize(
    ("code", "says"),
    [
        (errno.ENOSPC, "the disk is full; free some room"),
        (errno.EROFS, "may not be written to; save to another folder"),
        (errno.EACCES, "may not be written to; save to another folder"),
        (errno.EIO, "the drive reports an error; save to another drive now"),
        (getattr(errno, "ESTALE", errno.ENOENT), "is gone; plug the drive in or log on to the network share"),
        (errno.EMFILE, "the system refuses"),
    ],
)
def test_each_fault_says_what_to_do(job_file: Path, numbered: Numbered, code: int, says: str) -> None:
    """One plain line with the file's name."""
    with pytest.raises(NotSavedError) as raised:
        append_check(job_file, numbered(1), system=Counting(Fault(1, code, False)))
    assert says in str(raised.value)
    assert str(job_file) in str(raised.value)


def test_a_clock_that_goes_backwards_loses_nothing(
    job_file: Path, numbered: Numbered, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither the lock nor the log goes by the clock alone."""
    for number in range(10):
        monkeypatch.setattr("time.time", lambda number=number: 1_800_000_000.0 - 1e6 * number)
        append_check(job_file, numbered(100 - number))
    log = tomli.loads(job_file.read_text(encoding="utf-8"))["check"]
    assert [entry["note"] for entry in log] == [f"number {100 - number}" for number in range(10)]
