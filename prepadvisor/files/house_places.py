"""Where a house states what a finding about its data is about: file and line of the topmost such layer."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from prepadvisor.files.toml_in import TomlText, parse, read_bytes
from prepadvisor.standards.findings import Finding


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
