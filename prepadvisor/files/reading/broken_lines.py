"""Sets lines aside that are no TOML, one by one, so that one broken line does not hide what else is wrong."""

import re
from collections.abc import Callable
from typing import Any, Final

import tomli

from prepadvisor.files.reading.words_for_faults import syntax_words

_FAULTS_MAX: Final = 20
_KEY_LINE: Final = r"""\s*+(?:[\w.\- ]|"[^"\n]*+"|'[^'\n]*+')++="""
_HEAD_LINE: Final = re.compile(r"\s*+(\[{1,2})\s*+([\w.\-]++)\s*+(\]{0,2})")

BrokenLine = tuple[int, int, str, str]
"""Line, column, what is wrong there, and its mend."""


def without_broken_lines(
    text: str, load: Callable[[str], dict[str, Any]], error: tomli.TOMLDecodeError
) -> tuple[list[BrokenLine], dict[str, Any] | None]:
    """Return the lines that do not parse, and the data of the rest; None where the fault is a larger one.

    A line with a key is left blank. The head of a table gets the brackets that it lacks; a table that stands
    there twice is left out whole.

    Args:
        text: of the file.
        load: parses a text.
        error: the first fault.
    """
    lines = text.split("\n")
    broken: list[BrokenLine] = []
    last = 0
    while True:
        at = error.lineno
        if at == last:  # the head of a table, mended, is still none
            return broken, None
        line = lines[at - 1] if at <= len(lines) else ""
        broken.append((at, error.colno, *syntax_words(error.msg, line)))
        if at < last or at > len(lines) or len(broken) >= _FAULTS_MAX or not _set_aside(lines, at - 1):
            return broken, None
        last = at
        try:
            return broken, load("\n".join(lines))
        except tomli.TOMLDecodeError as following:
            error = following
        except RecursionError:
            return broken, None


def _set_aside(lines: list[str], at: int) -> bool:
    """Leave a line out, or mend it; say whether it is one that the lines after it do not hang on."""
    if re.match(_KEY_LINE, lines[at]):
        lines[at] = ""
        return True
    head = _HEAD_LINE.match(lines[at])
    if head is None:
        return False
    deep = max(len(head[1]), len(head[3]))
    mended = f"{'[' * deep}{head[2]}{']' * deep}"
    if lines[at].partition("#")[0].strip() != mended:
        lines[at] = mended
        return True
    lines[at] = ""
    for below in range(at + 1, len(lines)):
        if _HEAD_LINE.match(lines[below]):
            break
        lines[below] = ""
    return True
