"""Where each key and value of a valid TOML text stands: the parser says that only for syntax errors."""

import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping
from contextlib import suppress
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import tomli

if TYPE_CHECKING:
    from prepadvisor.records import KeyPath

DEPTH_MAX: Final = 16
"""Deeper keys get the place of their ancestor; no file of this program is that deep."""
_PLACES_MAX: Final = 300_000

_BLANK: Final = re.compile(r"(?:[ \t\n\r]++|#[^\n]*+)*+")
_SPACES: Final = re.compile(r"[ \t]*+")
_PART: Final = re.compile(r"""[^\s"'.=\[\]{},#]++|"(?:[^"\\\n]++|\\.)*+"|'[^'\n]*+'""")
_DOT: Final = re.compile(r"[ \t]*+\.[ \t]*+")
_EQUALS: Final = re.compile(r"[ \t]*+=[ \t]*+")
_STRING: Final = re.compile(
    "|".join(
        (
            r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})',
            r"'''.*?'''(?:'{0,2})",
            r'"(?:[^"\\\n]++|\\.)*+"',
            r"'[^'\n]*+'",
        )
    ),
    re.DOTALL,
)
_SCALAR: Final = re.compile(r"\d{4}-\d\d-\d\d \d\d:[\d:.Zz+\-]++|[^\s,\]}#]++")
_ALL_AS_ASKED: Final[Mapping["KeyPath", str]] = MappingProxyType({})
_NO_BRACKET: Final = re.compile(r"""[^\[\]{}"'#]++|#[^\n]*+""")


class _AllFound(Exception):  # noqa: N818 - no error: the scan may end
    """Every path that is asked for was found."""


class Locator:
    """Line and column, both from 1, of every key and value of one text that parses as TOML.

    Columns count characters. A path that is not in the text gets the place of its nearest ancestor, the
    whole text that of its first character.
    """

    def __init__(
        self, text: str, written: Mapping["KeyPath", str] = _ALL_AS_ASKED, wanted: Iterable["KeyPath"] = ()
    ) -> None:
        """Scan the text once; text that is not valid TOML is scanned as far as it can be understood.

        Args:
            text: the text.
            written: the path of a key as it is asked for, to its spelling in the text where that differs.
            wanted: the only paths that are asked for: scanning ends when all are found; none for any path.
        """
        self._text = text
        self._written = written
        self._at = 0
        self._line_starts = [0, *(found.end() for found in re.finditer("\n", text))]
        self._keys: dict[KeyPath, int] = {}
        self._values: dict[KeyPath, int] = {}
        self._listed: dict[KeyPath, int] = {}
        self._wanted = set(wanted)
        self._ends_early = bool(self._wanted)
        with suppress(_AllFound):
            self._document()

    def value(self, path: "KeyPath") -> tuple[int, int]:
        """Return line and column of a value; of a table, those of its header."""
        return self._place(self._values, path)

    def key(self, path: "KeyPath") -> tuple[int, int]:
        """Return line and column of a key; of an entry of a list, those of the entry."""
        return self._place(self._keys, path)

    def holds(self, path: "KeyPath") -> bool:
        """Say whether the text itself has this key or entry."""
        return self._as_written(path) in self._values

    def _as_written(self, path: "KeyPath") -> "KeyPath":
        if not self._written:
            return path
        return tuple(self._written.get(path[: at + 1], step) for at, step in enumerate(path))

    def _place(self, places: dict["KeyPath", int], path: "KeyPath") -> tuple[int, int]:
        path = self._as_written(path)
        while path and path not in places:
            path = path[:-1]
        offset = places[path] if path else 0
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def _document(self) -> None:
        table: KeyPath = ()
        while self._skip(_BLANK) and self._at < len(self._text):
            if self._text.startswith("[", self._at):
                table = self._header()
                if not self._text.startswith("]", self._at):
                    return
                self._at += 2 if self._text.startswith("]]", self._at) else 1
            elif not self._pair(table):
                return

    def _header(self) -> "KeyPath":
        """Read `[a.b` or `[[a.b` and return the table's path, with the number of each list's last entry."""
        start = self._at
        listed = self._text.startswith("[[", start)
        self._at += 2 if listed else 1
        path: KeyPath = ()
        parts = self._key_parts()
        for place, (name, offset) in enumerate(parts):
            path = self._noted((*path, name), offset, start)
            if place == len(parts) - 1 and listed:
                self._listed[path] = self._listed.get(path, -1) + 1
            elif place == len(parts) - 1 and path in self._values:
                self._keys[path], self._values[path] = offset, start
            if path in self._listed:
                path = self._noted((*path, self._listed[path]), offset, start)
        return path

    def _pair(self, table: "KeyPath") -> bool:
        """Read `key = value`; say whether that worked."""
        path = table
        for name, offset in self._key_parts():
            path = self._noted((*path, name), offset, offset)
        if path == table or not self._skip(_EQUALS):
            return False
        if path in self._values:
            self._values[path] = self._at
        return self._value(path)

    def _noted(self, path: "KeyPath", key: int, value: int) -> "KeyPath":
        if len(path) > DEPTH_MAX:
            return path[:DEPTH_MAX]
        if self._ends_early:
            if not self._wanted:
                raise _AllFound
            self._wanted.discard(path)
        if len(self._keys) < _PLACES_MAX:
            self._keys.setdefault(path, key)
            self._values.setdefault(path, value)
        return path

    def _key_parts(self) -> list[tuple[str, int]]:
        parts: list[tuple[str, int]] = []
        self._skip(_SPACES)
        while found := _PART.match(self._text, self._at):
            parts.append((_key_name(found[0]), self._at))
            self._at = found.end()
            if not self._skip(_DOT):
                break
        self._skip(_SPACES)
        return parts

    def _value(self, path: "KeyPath") -> bool:
        opening = self._text[self._at : self._at + 1]
        if opening in "\"'":
            return self._skip(_STRING)
        if opening not in "[{":
            return self._skip(_SCALAR)
        if len(path) >= DEPTH_MAX:
            return self._over_brackets()
        return self._entries(path, opening == "{")

    def _entries(self, path: "KeyPath", named: bool) -> bool:
        """Read a list or an inline table after its opening bracket."""
        closing, number = "}" if named else "]", 0
        self._at += 1
        while self._skip(_BLANK) and not self._text.startswith(closing, self._at):
            if named:
                if not self._pair(path):
                    return False
            elif not self._value(self._noted((*path, number), self._at, self._at)):
                return False
            number += 1
            self._skip(_BLANK)
            if self._text.startswith(",", self._at):
                self._at += 1
            elif not self._text.startswith(closing, self._at):
                return False
        self._at += 1
        return True

    def _over_brackets(self) -> bool:
        """Step over a bracketed value without noting what is in it."""
        depth = 0
        while self._at < len(self._text):
            sign = self._text[self._at]
            if sign in "[{":
                depth += 1
            elif sign in "]}":
                depth -= 1
            elif not (self._skip(_NO_BRACKET) or self._skip(_STRING)):
                return False
            else:
                continue
            self._at += 1
            if not depth:
                return True
        return False

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        found = pattern.match(self._text, self._at)
        if found:
            self._at = found.end()
        return found is not None


def _key_name(written: str) -> str:
    if written[0] == "'" or (written[0] == '"' and "\\" not in written):
        return written[1:-1]
    if written[0] == '"':
        return str(tomli.loads(f"key = {written}")["key"])
    return written
