"""File systems that misbehave as shares do: lost renames, late news, folded case, no answers."""

import errno
import os
from collections.abc import Callable
from pathlib import Path

from prepadvisor.files import FileSystem


class LostRenames(FileSystem):
    """Says that a rename was done, but for every so many it was not; the new file is gone with it."""

    def __init__(self, every: int) -> None:
        """Lose one rename of so many."""
        self._every = every
        self.renames = 0
        self.lost = 0

    def replace(self, path: Path, target: Path) -> None:
        """Rename, or only say so."""
        self.renames += 1
        if self.renames % self._every == 0 and target.suffix == ".toml":
            self.lost += 1
            path.unlink()
            return
        super().replace(path, target)


class UnheardRenames(FileSystem):
    """Does the rename, and says that the share did not answer; or does not do it, and says the same."""

    def __init__(self, is_done: Callable[[int], bool], code: int = errno.ETIMEDOUT) -> None:
        """Take which renames are done."""
        self._is_done = is_done
        self._code = code
        self.renames = 0

    def replace(self, path: Path, target: Path) -> None:
        """Rename or not, and raise either way where it is the job."""
        if target.suffix != ".toml":
            super().replace(path, target)
            return
        self.renames += 1
        if self._is_done(self.renames):
            super().replace(path, target)
        raise OSError(self._code, "no answer")


class LateNews(FileSystem):
    """Shows a file as it was before its last rename, for so many readings after it."""

    def __init__(self, readings: int) -> None:
        """Take after how many readings the news is there."""
        self._readings = readings
        self._old: dict[Path, tuple[bytes, int]] = {}

    def replace(self, path: Path, target: Path) -> None:
        """Rename, and keep what stood there for a while."""
        before = target.read_bytes() if target.exists() else None
        super().replace(path, target)
        if before is not None and target.suffix == ".toml":
            self._old[target] = (before, self._readings)

    def read(self, path: Path) -> bytes:
        """Read what was, until the news is there."""
        old, rest = self._old.get(path.resolve(), (b"", 0))
        if rest > 0:
            self._old[path.resolve()] = (old, rest - 1)
            return old
        return super().read(path)


class FoldedCase(FileSystem):
    """Takes names that differ in case for the same."""

    def _real(self, path: Path) -> Path:
        if not path.exists():
            for name in os.listdir(path.parent):  # noqa: PTH208 - names alone
                if name.casefold() == path.name.casefold():
                    return path.with_name(name)
        return path

    def read(self, path: Path) -> bytes:
        """Read under any case."""
        return super().read(self._real(path))

    def create(self, path: Path, mode: int | None) -> int:
        """Refuse a name that is there in other case."""
        if self._real(path) != path:
            raise FileExistsError(errno.EEXIST, "there in other case", str(path))
        return super().create(path, mode)

    def replace(self, path: Path, target: Path) -> None:
        """Replace what has the name in any case."""
        super().replace(self._real(path), self._real(target))

    def remove(self, path: Path) -> None:
        """Remove under any case."""
        super().remove(self._real(path))


class NoFolderSync(FileSystem):
    """Cannot bring a folder to the disk."""

    def sync_folder(self, folder: Path) -> None:
        """Refuse."""
        raise OSError(errno.EIO, "no folder sync", str(folder))
