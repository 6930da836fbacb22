"""Loss of power, modelled: what was not brought to the disk may be gone, in any order the disk likes.

A kill leaves what the system has taken; a loss of power does not. The model keeps for each file what is
surely on the disk and what may be, and for the folder which names surely are, and lets the power fail after
each call. Of names not yet brought to the disk any selection may have got there.
"""

from itertools import chain, combinations
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.files import FileSystem, put

OLD: Final = b"the old version\n"
NEW: Final = b"the new version, which is longer\n"
Name = str
Change = tuple[Name, int | None]


class PowerFailsError(Exception):
    """The power fails here."""


class Disk(FileSystem):
    """A folder in memory; each step changes what is seen at once and what is on the disk only when synced."""

    def __init__(self, path: Path, fails_after: int) -> None:
        """Begin with the old version surely on the disk."""
        self.seen: dict[int, bytes] = {0: OLD}
        self.sure: dict[int, bytes] = {0: OLD}
        self.names: dict[Name, int] = {path.name: 0}
        self.sure_names: dict[Name, int] = {path.name: 0}
        self.under_way: list[tuple[Change, ...]] = []
        self._left = fails_after

    def _step(self) -> None:
        if self._left == 0:
            raise PowerFailsError
        self._left -= 1

    def _change(self, *changes: Change) -> None:
        for name, inode in changes:
            if inode is None:
                self.names.pop(name, None)
            else:
                self.names[name] = inode
        self.under_way.append(changes)

    def read(self, path: Path) -> bytes:
        """Return what is seen."""
        self._step()
        return self.seen[self.names[path.name]]

    def create(self, path: Path, mode: int | None) -> int:
        """Make an empty file, whose name is not on the disk yet."""
        del mode
        self._step()
        inode = len(self.seen)
        self.seen[inode] = b""
        self._change((path.name, inode))
        return inode

    def write(self, handle: int, data: bytes) -> int:
        """Take a part; none of it is on the disk yet."""
        self._step()
        part = data[:10]
        self.seen[handle] += part
        return len(part)

    def sync(self, handle: int) -> None:
        """Bring the content to the disk."""
        self._step()
        self.sure[handle] = self.seen[handle]

    def close(self, handle: int) -> None:
        """Change nothing."""
        del handle
        self._step()

    def link(self, path: Path, other: Path) -> None:
        """Add a name."""
        self._step()
        self._change((other.name, self.names[path.name]))

    def replace(self, path: Path, target: Path) -> None:
        """Move a name in one step: both halves or neither."""
        self._step()
        self._change((target.name, self.names[path.name]), (path.name, None))

    def remove(self, path: Path) -> None:
        """Take a name away."""
        self._step()
        if path.name not in self.names:
            raise FileNotFoundError
        self._change((path.name, None))

    def sync_folder(self, folder: Path) -> None:
        """Bring the names to the disk."""
        del folder
        self._step()
        self.sure_names = dict(self.names)
        self.under_way = []

    def after_the_failure(self, path: Path) -> set[bytes | None]:
        """Return every content the file may have when the power is back; None where its name is gone."""
        found: set[bytes | None] = set()
        steps = range(len(self.under_way))
        for chosen in chain.from_iterable(combinations(steps, size) for size in range(len(steps) + 1)):
            names = dict(self.sure_names)
            for step in chosen:
                for name, inode in self.under_way[step]:
                    if inode is None:
                        names.pop(name, None)
                    else:
                        names[name] = inode
            inode = names.get(path.name)
            if inode is None:
                found.add(None)
            elif inode in self.sure:
                found.add(self.sure[inode])
            else:  # never synced: empty, torn or whole
                found |= {b"", self.seen[inode][:5], self.seen[inode]}
        return found


@pytest.mark.parametrize("keep_previous", [True, False])
def test_when_the_power_fails_the_file_is_old_or_new(tmp_path: Path, keep_previous: bool) -> None:
    """After each call of a save, whatever part of the folder had got to the disk."""
    path = tmp_path / "1042.toml"
    for calls in range(100):
        disk = Disk(path, calls)
        try:
            put(path, NEW, disk, keep_previous=keep_previous)
        except PowerFailsError:
            assert disk.after_the_failure(path) <= {OLD, NEW}, calls
        else:
            break
    assert calls >= 8


def test_when_a_save_has_returned_the_new_version_is_there_for_good(tmp_path: Path) -> None:
    """Acknowledged means on the disk, the name as well as the content."""
    path = tmp_path / "1042.toml"
    disk = Disk(path, 1000)
    put(path, NEW, disk)
    assert disk.after_the_failure(path) == {NEW}


def test_the_model_finds_a_save_that_does_not_sync(tmp_path: Path) -> None:
    """The check of the check: without the sync of the content a torn file is found."""
    path = tmp_path / "1042.toml"

    class Careless(Disk):
        def sync(self, handle: int) -> None:
            del handle

    disk = Careless(path, 1000)
    put(path, NEW, disk)
    assert b"" in disk.after_the_failure(path)
