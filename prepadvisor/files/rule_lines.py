"""On which line each entry of a rule file stands, without a full scan where that can be spared."""

import re
from collections.abc import Callable
from functools import cache
from typing import Final

from prepadvisor.files.toml_in import TomlText
from prepadvisor.records.fault import KeyPath

_HEADER: Final = re.compile(r"^[ \t]*\[\[[ \t]*([\w-]+)[ \t]*\]\]", re.MULTILINE)


def rule_lines(text: TomlText) -> Callable[[KeyPath], int]:
    """Return a function from a key path to the line it stands on.

    Entries such as ("rule", 3) are found by counting headers. Where the headers do not add up to the parsed
    entries (a header inside a text, a list written in another way) the exact locator answers.
    """

    @cache
    def headers() -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        line, counted = 1, 0
        for header in _HEADER.finditer(text.text):
            line += text.text.count("\n", counted, header.start())
            counted = header.start()
            found.setdefault(header[1], []).append(line)
        return found

    def line_of(path: KeyPath) -> int:
        if len(path) == 2 and isinstance(path[0], str) and isinstance(path[1], int):
            entries, lines = text.data.get(path[0]), headers().get(path[0], [])
            if isinstance(entries, list) and len(entries) == len(lines) and path[1] < len(lines):
                return lines[path[1]]
        return text.locator.value(path)[0]

    return line_of
