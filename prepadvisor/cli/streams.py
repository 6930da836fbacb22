"""Standard output and error as they are met: closed, full, or in a code page that lacks our signs.

What happened is never unsaid by what could not be shown: a command notes what it has done, and where the
answer cannot be written that note goes to standard error instead.
"""

import codecs
import errno
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import Final, TextIO

_done: list[str] = []
_closed: set[str] = set()
_SHOWN_MAX: Final = 3
_STREAM_ERRORS: Final = frozenset({errno.ENOSPC, errno.EPIPE, errno.EBADF, errno.EIO, errno.EFBIG})

PLAIN: Final = {
    "→": "->", "←": "<-", "▲": "^", "▼": "v", "■": "#", "□": "[]", "●": "*", "○": "o", "√": "ok",
    "×": "x", "≥": ">=", "≤": "<=", "≠": "!=", "≈": "~", "−": "-", "–": "-", "—": "-", "…": "...",
    "·": ".", "•": "*", "µ": "u", "μ": "u", "σ": "s", "τ": "t", "φ": "phi", "Σ": "sum", "°": "deg",
    "²": "2", "³": "3", "′": "'", "″": '"', "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'",
    "½": "1/2", "¼": "1/4", "¾": "3/4", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "█": "#",
    "▄": "#", "▀": "#", "░": ".", "▒": ":", "▓": "#", "─": "-", "│": "|", "┌": "+", "┐": "+", "└": "+",
    "┘": "+", "├": "+", "┤": "+", "┬": "+", "┴": "+", "┼": "+", "═": "=", "║": "|", "ä": "ae",
    "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "ß": "ss", "æ": "ae", "Æ": "Ae",
    "œ": "oe", "Œ": "Oe", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D",
    "þ": "th", "Þ": "Th", "ı": "i",
}  # fmt: skip
"""What stands for a sign that a code page lacks; of others a letter keeps its base, or there is a "?"."""


def note_done(says: str) -> None:
    """Note what a command has done, to be said even where its answer cannot be shown."""
    _done.append(says)


def done() -> str:
    """Return what was done so far in this run, in one line; empty for nothing."""
    more = f"; and {len(_done) - _SHOWN_MAX} more" if len(_done) > _SHOWN_MAX else ""
    return "; ".join(_done[:_SHOWN_MAX]) + more


def prepare(words: Sequence[str]) -> None:
    """Make both streams take any text, whatever their code page, and stand in for those that are closed.

    Args:
        words: the command line; output for programs keeps every letter, as JSON escapes where need be.
    """
    _done.clear()
    codecs.register_error("prepadvisor-plain", _plain)
    codecs.register_error("prepadvisor-json", _escaped)
    for_program = "--json" in words or "json" in words or "--to=json" in words
    sys.stdout = _usable("stdout", "prepadvisor-json" if for_program else "prepadvisor-plain")
    sys.stderr = _usable("stderr", "prepadvisor-plain")


def is_of_a_stream(error: OSError) -> bool:
    """Say whether an error came from an output stream, not from a file, whose errors name it."""
    return error.filename is None and error.errno in _STREAM_ERRORS


def tell(says: str) -> None:
    """Say something on standard error, as far as that can be."""
    with suppress(OSError, ValueError):
        print(says, file=sys.stderr)
        sys.stderr.flush()


def give_up(stream: TextIO) -> None:
    """Let go of a stream that cannot be written, so that the end of the program does not fail on it."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


def was_closed(name: str) -> bool:
    """Say whether "stdout" or "stderr" was closed before the program began."""
    return name in _closed


def _usable(name: str, errors: str) -> TextIO:
    stream: TextIO | None = getattr(sys, name)
    if stream is None:
        _closed.add(name)
        return open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123 - stays open to the end
    with suppress(AttributeError, ValueError, OSError):
        stream.reconfigure(errors=errors)  # type: ignore[attr-defined]
    return stream


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    found = error.object[error.start : error.end]
    return "".join(PLAIN.get(sign) or _base(sign) for sign in found), error.end


def _base(sign: str) -> str:
    from unicodedata import normalize  # few code pages lack a letter

    return "".join(each for each in normalize("NFKD", sign) if each.isascii()) or "?"


def _escaped(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    found = error.object[error.start : error.end].encode("utf-16-be", "surrogatepass")
    codes = [found[at : at + 2].hex() for at in range(0, len(found), 2)]
    return "".join(f"\\u{code}" for code in codes), error.end
