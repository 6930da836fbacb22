"""What stands in a house folder and is not read, and where a house states what a finding is about."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Final

from prepadvisor.files.paths import EARLIER
from prepadvisor.files.reading import TomlText, parse, read_bytes
from prepadvisor.standards import Finding

# Where a house states what a finding about its data is about: file and line of the topmost such layer.


def _numbered(text: TomlText, path: Sequence[str]) -> tuple[str | int, ...]:
    """Return a key's path in a file: an outline goes by its kind, in the file by its number."""
    if len(path) > 1 and path[0] == "outline":
        listed = text.data.get("outline")
        for number, entry in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(entry, dict) and entry.get("kind") == path[1]:
                return ("outline", number, *path[2:])
    return tuple(path)


def placed(findings: Iterable[Finding], folders: Sequence[str]) -> tuple[Finding, ...]:
    """Return the findings with file and line of the key that each names, where a house folder states it."""

    @cache
    def text_of(folder: str, name: str) -> TomlText | None:
        path = Path(folder) / name
        return parse(read_bytes(path), str(path), foreign=True) if path.is_file() else None

    def one(finding: Finding) -> Finding:
        if not finding.key:
            return finding
        name, *path = finding.key
        for folder in reversed(folders):
            text = text_of(folder, name)
            if text is None:
                continue
            place = _numbered(text, path)
            if text.locator.holds(place):
                return replace(finding, file=text.name, line=text.locator.key(place)[0])
        return replace(finding, file=finding.file or f"rules/{name}")

    return tuple(one(finding) for finding in findings)


_LEFT_BY_EDITORS: Final = ("~", ".swp", ".swo", ".bak", ".orig", ".tmp", ".new", ".old")
_OTHER_ENDINGS: Final = frozenset({".tml", ".tom", ".toml1", ".yaml", ".yml", ".json"})
_TEXT_ENDINGS: Final = frozenset({"", ".txt", ".text", ".cfg", ".ini", ".conf"})
_OF_A_HOUSE: Final = frozenset({"rules", "shop", "constants", "panels", "colours"})
"""What a house's files are called: a text file of that name was meant to be one of them."""

_TABLES: Final = re.compile(
    rb"(?:^|[\r\n\xbf\xff\xfe])[ \t]*\[+[ \t]*"
    rb"(?:standards|rule|withdraw|example|promise|outline|colour|wet_bed|pads|rates|first_grade)[ \t]*\]"
)
"""A table of a house's files at the head of a line; a byte-order mark may stand before the first."""


def strays(folders: Iterable[str]) -> list[Finding]:
    """Return a finding for each file of the house folders that was probably meant to count."""
    return [finding for folder in folders for finding in _of(Path(folder))]


def stale_schemas(folders: Iterable[str], kinds: Iterable[str]) -> list[Finding]:
    """Return a finding for each schema in a house folder that does not know a kind of the house's own."""
    found = []
    for folder in folders:
        for name in ("rules", "job"):
            path = Path(folder) / ".schemas" / f"{name}.json"
            try:
                text = path.read_text(encoding="utf-8", errors="replace")
            except OSError:
                continue
            lacking = [kind for kind in kinds if f'"{kind}"' not in text]
            if lacking:
                says = (
                    f"{path.name} in .schemas does not know {', '.join(lacking)}: an editor calls it wrong."
                )
                mend = f"Write it anew: prepadvisor schema {name} --house {folder} > {path}"
                found.append(Finding("file", says, mend, file=str(path), line=0))
    return found


def _of(folder: Path) -> Iterator[Finding]:
    for path in sorted(folder.iterdir()):
        if path.name.startswith("."):
            if path.suffix.lower() == ".toml":
                yield _finding(path, "its name begins with a dot, so it is not read", "Take the dot away.")
        elif path.is_dir() and path.name != EARLIER:
            inside = [each for each in sorted(path.rglob("*")) if each.suffix.lower() == ".toml"]
            if inside:
                many = "1 file" if len(inside) == 1 else f"{len(inside)} files"
                says = f"rules in a folder inside are not read ({many})"
                mend = f"Move them up, or give the folder as a layer of its own: --house {path}."
                yield _finding(inside[0], says, mend)
        elif _looks_meant(path):
            right = path.name.split(".", 1)[0] + ".toml"
            yield _finding(
                path, "it does not end in .toml, so it is not read", f'Call it "{right}", or move it away.'
            )


def _looks_meant(path: Path) -> bool:
    name = path.name.lower()
    if name.endswith((".toml", *_LEFT_BY_EDITORS)):
        return False
    text = path.suffix.lower() in _TEXT_ENDINGS
    named = name.split(".", 1)[0] in _OF_A_HOUSE or path.with_suffix(".toml").exists()
    other = ".toml" in name or path.suffix.lower() in _OTHER_ENDINGS
    return other or (text and (named or _holds_tables(path)))


def _holds_tables(path: Path) -> bool:
    """Say whether a text file has a table of a house's files, in whatever code page it was saved."""
    try:
        with path.open("rb") as file:
            start = file.read(65_536).replace(b"\0", b"")
    except OSError:
        return False
    return _TABLES.search(start) is not None


def _finding(path: Path, says: str, mend: str) -> Finding:
    return Finding("file", f"{path.name}: {says}.", mend, file=str(path), line=0)
