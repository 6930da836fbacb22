"""Brings a file's data to the program's own words: the one place where "color" and "hood" become ours.

The file itself keeps the words it was written in; faults are still found at them.
"""

import re
from collections.abc import Mapping
from typing import Any, Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.fault import KeyPath, Problem
from prepadvisor.records.trade_words import ANY_WORDS, KEY_WORDS, VALUE_WORDS

_OTHER_WORDS: Final = frozenset(word.encode() for word in ANY_WORDS)
_APART: Final = bytes(
    code if chr(code) in "-_" or (chr(code).isalnum() and code < 128) else 32 for code in range(256)
)
"""Every byte that is in no word of ours to a blank."""
_WORD: Final = re.compile(r"[\w-]+")
_CONDITION: Final = re.compile(r"[<>]|\.\.")
_DEPTH_MAX: Final = 8
"""No word of the program stands deeper in a file."""


class FirstWords(NamedTuple):
    """Data in the program's words.

    `written` maps the path of each key that is spelled in another way to its spelling in the file; `twice`
    holds keys that stand there in both spellings, by their path as written.
    """

    data: dict[str, Any]
    written: Mapping[KeyPath, str]
    twice: tuple[Problem, ...]


def in_first_words(data: dict[str, Any], text: str) -> FirstWords:
    """Return a file's data with every other word replaced by the first one; `text` is what it was read from.

    Of a key that is there in both spellings the first is kept, and that is told.
    """
    if _OTHER_WORDS.isdisjoint(text.encode(errors="replace").translate(_APART).split()):  # as in most files
        return FirstWords(data, {}, ())
    written: dict[KeyPath, str] = {}
    twice: list[Problem] = []
    return FirstWords(
        _table(data, "", (), as_written=(), written=written, twice=twice), written, tuple(twice)
    )


def _table(
    table: Mapping[str, Any],
    name: str,
    path: KeyPath,
    as_written: KeyPath,
    written: dict[KeyPath, str],
    twice: list[Problem],
) -> dict[str, Any]:
    found: dict[str, Any] = {}
    spellings = KEY_WORDS.get(name, {})
    for key, value in table.items():
        first = spellings.get(key, key)
        if first != key and first in table:
            says = f'the key "{key}" says the same as "{first}", which is there too'
            twice.append(Problem((*as_written, key), says, "keep one of them"))
            continue
        if first in found:
            says = f'the key "{key}" says the same as "{written[*path, first]}", which is there too'
            twice.append(Problem((*as_written, key), says, "keep one of them"))
            continue
        inner = (*path, first)
        if first != key:
            written[inner] = key
        words = VALUE_WORDS.get((name, first))
        found[first] = (
            _value(value, first, inner, as_written=(*as_written, key), written=written, twice=twice)
            if words is None
            else _worded(value, words)
        )
    return found


def _value(
    value: Any,
    name: str,
    path: KeyPath,
    as_written: KeyPath,
    written: dict[KeyPath, str],
    twice: list[Problem],
) -> Any:
    if len(path) > _DEPTH_MAX:
        return value
    if isinstance(value, dict):
        return _table(value, name, path, as_written=as_written, written=written, twice=twice)
    if isinstance(value, list):
        return [
            _value(entry, name, (*path, place), as_written=(*as_written, place), written=written, twice=twice)
            if isinstance(entry, (dict, list))
            else entry
            for place, entry in enumerate(value)
        ]
    return value


def _worded(value: Any, words: Mapping[str, str]) -> Any:
    """Return a value, a list of values or a condition on them in first words."""
    if isinstance(value, str):
        if _CONDITION.search(value):
            return _WORD.sub(lambda word: words.get(word[0], word[0]), value)
        return words.get(value, value)
    if isinstance(value, list):
        return [_worded(entry, words) for entry in value]
    if isinstance(value, dict):
        return {key: _worded(entry, words) for key, entry in value.items()}
    return value
