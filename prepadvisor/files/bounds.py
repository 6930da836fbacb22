"""Refuses what no job or rule file is, before time and memory are spent on it: too deep, too many, too long.

Every limit is far above anything a shop writes; it keeps reading linear in the size of the file and small.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from prepadvisor.records.fault import KeyPath, Problem

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
