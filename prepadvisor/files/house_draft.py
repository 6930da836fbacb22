"""A lead's draft: a copy of the top house folder beside it; rules are changed in it before they are live."""

import shutil
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import tomli

from prepadvisor.files.disk.atomic import FileSystem, put
from prepadvisor.files.disk.edit import with_changes
from prepadvisor.files.house_files import RECORD_FILE
from prepadvisor.files.in_force import versions
from prepadvisor.records import BadInputError, Fault

_ENDING: Final = "-draft"
_BEGAN: Final = ".began"
"""The folder in a draft that has the live files as they were when the draft began."""
FIRST_FOLDER: Final = "our-standards"
"""What a first house folder is called."""


class HouseDraft:
    """The draft of a house: its folder, and what it takes to make it live.

    Args:
        folders: the house folders, lowest layer first; none for the shipped standards alone.
        near: where the first house folder is made.
        place: the folder that the draft is in; None for beside the live one.
    """

    def __init__(self, folders: Sequence[str], near: Path, place: Path | None = None) -> None:
        """Find the draft's place; nothing is written."""
        self.below = tuple(folders[:-1])
        self.live = Path(folders[-1]) if folders else near.resolve() / FIRST_FOLDER
        self.path = (place or self.live.parent) / f"{self.live.name}{_ENDING}"

    @property
    def is_there(self) -> bool:
        """Whether a draft was begun and is not live or thrown away yet."""
        return any(self.path.glob("*.toml")) if self.path.is_dir() else False

    @property
    def folders(self) -> tuple[str, ...]:
        """The house folders with the draft in the place of the live one."""
        return (*self.below, str(self.path))

    def begin(self) -> None:
        """Copy the live folder, unless a draft is there. Raises BadInputError where that cannot be done."""
        if not self.is_there:
            self._doing(lambda: self._copy(self.path))

    def copy_to(self, folder: Path) -> None:
        """Put what the draft has, or the live folder where there is none, into an empty folder."""
        source = self.path if self.is_there else self.live
        folder.mkdir(parents=True, exist_ok=True)
        for path in sorted(source.glob("*.toml")) if source.is_dir() else ():
            shutil.copy2(path, folder / path.name)

    def change(self, file: str, make: Callable[[str], str]) -> None:
        """Change the text of one of the draft's files, or make it. Raises BadInputError as `begin`."""
        self.begin()
        path = self.path / file

        def write() -> None:
            before = path.read_bytes() if path.exists() else b""
            bom = b"\xef\xbb\xbf" if before.startswith(b"\xef\xbb\xbf") else b""
            text = before.removeprefix(bom).decode()
            put(path, bom + make(text).encode(), FileSystem(), keep_previous=False)

        self._doing(write)

    def changed(self) -> tuple[str, ...]:
        """Return the names of the files in which the draft differs from what was live when it began."""
        return tuple(
            path.name
            for path in sorted(self.path.glob("*.toml"))
            if _read(path) != _read(self.path / _BEGAN / path.name)
        )

    def file_for(self, name: str) -> str:
        """Return the file of the draft that a new rule goes to.

        The one of that name where there is one, else the first rule file, else a new one.
        """
        source = self.path if self.is_there else self.live
        rules = [path.name for path in sorted(source.glob("*.toml")) if _has_rules(path)]
        return name if name in rules else rules[0] if rules else "rules.toml"

    def make_live(self) -> list[Path]:
        """Bring the draft's changes into the live folder, end the draft, and return the files written.

        A file that somebody changed there meanwhile gets the draft's changes put in. Standards whose version
        is on record get a new one. Raises BadInputError where that cannot be done; the draft then stays.
        """
        written: list[Path] = []

        def write() -> None:
            self.live.mkdir(parents=True, exist_ok=True)
            changed = self.changed()
            for name in changed:
                target, raw = self.live / name, _read(self.path / name) or b""
                began, live = _read(self.path / _BEGAN / name), _read(target)
                put(target, raw if live == began else _joined(live or b"", began or b"", raw), FileSystem())
                written.append(target)
            if changed:
                self._new_version()
            self._end()

        self._doing(write)
        return written

    def throw_away(self) -> None:
        """End the draft; the live folder stays as it is. Raises BadInputError where that cannot be done."""
        self._doing(self._end)

    def _copy(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / _BEGAN).mkdir(exist_ok=True)
        for path in sorted(self.live.glob("*.toml")) if self.live.is_dir() else ():
            if path.name != RECORD_FILE:
                shutil.copy2(path, folder / _BEGAN / path.name)
                shutil.copy2(path, folder / path.name)

    def _end(self) -> None:
        shutil.rmtree(self.path / _BEGAN, ignore_errors=True)
        for path in self.path.glob("*.toml"):
            path.unlink()
        with suppress(OSError):  # something else of a person's is in it: that stays
            self.path.rmdir()

    def _new_version(self) -> None:
        """Give the live folder's standards a new version where the one they have is on record."""
        known = {entry.version for entry in versions(self.live)}
        for path in sorted(self.live.glob("*.toml")):
            raw = _read(path) or b""
            data = tomli.loads(raw.decode("utf-8-sig"))
            standards = data.get("standards")
            if isinstance(standards, dict) and standards.get("version") in known:
                version = _after(str(standards["version"]), known)
                new = {**data, "standards": {**standards, "version": version}}
                put(path, with_changes(raw, data, new), FileSystem())

    def _doing(self, work: Callable[[], None]) -> None:
        try:
            work()
        except (OSError, ValueError) as error:
            says = f"the draft cannot be written ({getattr(error, 'strerror', None) or error})"
            raise BadInputError([Fault(str(self.path), 0, 0, says, "see who may write there")]) from error


def _joined(live: bytes, began: bytes, draft: bytes) -> bytes:
    """Return a live file with what a draft changed since it began put in."""
    old, new = (tomli.loads(raw.decode("utf-8-sig")) for raw in (began, draft))
    return with_changes(live, old, new)


def _after(version: str, known: set[str]) -> str:
    """Return the next version that is not on record: "2" after "1", "2026-2" after "2026"."""
    for count in range(2, len(known) + 3):
        bare = str(int(version) + count - 1) if version.isdecimal() else f"{version}-{count}"
        if bare not in known:
            return bare
    return f"{version}-{len(known) + 3}"


def _read(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


def _has_rules(path: Path) -> bool:
    try:
        data = tomli.loads((_read(path) or b"").decode("utf-8-sig"))
    except (ValueError, OSError):
        return False
    return "rule" in data or "standards" in data
