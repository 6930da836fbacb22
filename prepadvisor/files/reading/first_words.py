"""Data before records are made of them: bounded in size and depth, "color" and "hood" made our words.

The file itself keeps the words it was written in; faults are still found at them.
"""

import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from prepadvisor.records import ANY_WORDS, KEY_WORDS, VALUE_WORDS, KeyPath, NamedTuple, Problem

# Refuses what no job or rule file is, before time and memory are spent on it: too deep, too many, too long.
#
# Every limit is far above anything a shop writes; it keeps reading linear in the size of the file and
# small.

DEPTH_MAX: Final = 16
"""Tables and lists in one another; a job has five."""
VALUES_MAX: Final = 500_000
"""Keys and entries of lists in one file; 20,000 log entries have 240,000."""
LINES_MAX: Final = 350_000
"""Lines of one file; 20,000 log entries have 260,000."""
KEYS_MAX: Final = 2_000
"""Keys of one table."""
LIST_MAX: Final = 100_000
"""Entries of one list."""
NAME_MAX: Final = 200
"""Letters of a key."""
TEXT_MAX: Final = 20_000
"""Letters of one text; records allow far fewer, this keeps a message about it short."""
NUMBER_MAX: Final = 1 << 63
_TOLD_MAX: Final = 20


def beyond_bounds(data: Mapping[str, Any]) -> list[Problem]:
    """Return what in a parsed file goes beyond what is read, at most twenty problems.

    Args:
        data: the file as parsed; it may be of any depth.
    """
    return list(_first(_beyond(data)))


def _first(problems: Iterator[Problem]) -> Iterator[Problem]:
    for number, problem in enumerate(problems):
        if number == _TOLD_MAX:
            return
        yield problem


def _beyond(data: Mapping[str, Any]) -> Iterator[Problem]:
    """Walk without recursion: a file may be nested deeper than Python's own stack."""
    right = "check that it is the right file"
    rest: list[tuple[KeyPath, Any]] = [((), data)]
    values = 0
    while rest:
        path, value = rest.pop()
        if isinstance(value, dict):
            inner: list[tuple[str | int, Any]] = list(value.items())
            what, most = "keys", KEYS_MAX
        else:
            inner = list(enumerate(value))
            what, most = "entries", LIST_MAX
        if len(inner) > most:
            says = f"{len(inner):,} {what} in one place are more than the {most:,} that are read"
            yield Problem(path, says, right)
            continue
        values += len(inner)
        if values > VALUES_MAX:
            yield Problem((), f"the file has more than {VALUES_MAX:,} values", right)
            return
        for name, each in inner:
            if isinstance(name, str) and len(name) > NAME_MAX:
                says = f"the name of a key has {len(name):,} letters, more than the {NAME_MAX} that are read"
                yield Problem((*path, name), says, "shorten it")
            elif isinstance(each, str):  # first: most values are texts
                if len(each) > TEXT_MAX:
                    says = f"a text has {len(each):,} letters, more than the {TEXT_MAX:,} that are read"
                    yield Problem((*path, name), says, "shorten it")
            elif isinstance(each, (dict, list)):
                if len(path) + 1 >= DEPTH_MAX:
                    says = "brackets or dotted keys are nested too deeply to be a job or rule file"
                    yield Problem(path, says, "rebuild it from a demo job")
                elif each:
                    rest.append(((*path, name), each))
            elif isinstance(each, int) and abs(each) >= NUMBER_MAX:
                says = f"a number has {each.bit_length() * 0.30103:,.0f} digits, which is no size"
                yield Problem((*path, name), says, "check the number")


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
