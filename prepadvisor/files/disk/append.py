"""Adds one entry to a job file as text, so that everything that stands in it stays as it is, comments too.

The new text is only used if it parses again and holds exactly what was there plus the entry.
"""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Final, Literal

import tomli

if TYPE_CHECKING:
    from prepadvisor.records import Check, Outcome

LogTable = Literal["check", "outcome"]
Values = dict[str, Any]

_BOM: Final = b"\xef\xbb\xbf"
_TO_ESCAPE: Final = re.compile(r'["\\\x00-\x1f\x7f\u0085\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]')
_SHORT: Final = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}


class AppendRefusedError(ValueError):
    """The file cannot take the entry as text: it does not parse, or would not hold the entry afterwards."""


def values_of(entry: "Check | Outcome") -> Values:
    """Return an entry as it stands in a file: in the order of its keys, without what was not stated.

    A key that every entry must have stands there whatever it says.
    """
    needed = {name for name, field in type(entry).model_fields.items() if field.is_required()}
    return {
        key: value
        for key, value in entry.model_dump().items()
        if (value is not None and value != "") or key in needed
    }


def appended(
    raw: bytes, table: LogTable, entries: Iterable[Mapping[str, Any]], before: Values | None = None
) -> bytes:
    """Return the bytes of a job file with entries added at its end.

    Args:
        raw: the file as it is, UTF-8 with or without byte-order mark, any line ends.
        table: "check" or "outcome".
        entries: each entry's values: strings, true and false, and times with an offset.
        before: the data of `raw`, where they are known already.

    Raises:
        AppendRefusedError: nothing of the file would be lost by this, but the entry would not be in it.
    """
    added = [dict(entry) for entry in entries]
    if not added:
        return raw
    text = _text(raw)
    before = _parsed(text) if before is None else before
    if not isinstance(before.get(table, []), list):
        raise AppendRefusedError(f"{table} is not a list of entries in this file")
    new = _as_text(text, table, added)
    if not _holds(new, before, table, added):
        new = _as_list(text, table, added, before)
    if _holds(new, before, table, added):
        try:
            return (_BOM if raw.startswith(_BOM) else b"") + new.encode()
        except UnicodeEncodeError:  # half of a letter, as a broken paste may leave it
            raise AppendRefusedError("the entry holds a letter that cannot be saved") from None
    raise AppendRefusedError(f"an entry cannot be added: [[{table}]] would not hold it")


def parsed(raw: bytes) -> Values:
    """Return the data of a job file's bytes.

    Raises:
        AppendRefusedError: it is no UTF-8 text or no TOML.
    """
    return _parsed(_text(raw))


def _text(raw: bytes) -> str:
    try:
        return raw.removeprefix(_BOM).decode()
    except UnicodeDecodeError:
        raise AppendRefusedError("the file is not UTF-8 text") from None


def _parsed(text: str) -> Values:
    try:
        return tomli.loads(text)
    except (tomli.TOMLDecodeError, RecursionError) as error:
        raise AppendRefusedError(f"the file is not sound: {error}") from None


def _as_text(text: str, table: LogTable, entries: Iterable[Values]) -> str:
    newline = "\r\n" if "\r\n" in text else "\n"
    lines = [] if text.endswith("\n") or not text else [""]
    for entry in entries:
        lines += ["", f"[[{table}]]", *(f"{key} = {_written(value)}" for key, value in entry.items())]
    if not text:
        lines = lines[1:]
    return f"{text}{newline.join(lines)}{newline}"


def _as_list(text: str, table: LogTable, entries: Iterable[Values], before: Values) -> str:
    """Add to a list that somebody wrote in brackets, check = [{…}], which no [[check]] may follow."""
    if not isinstance(before.get(table), list):
        return text
    import tomlkit  # rarely needed, and slow to load
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(text)
        for entry in entries:
            inline = tomlkit.inline_table()
            inline.update(entry)
            document[table].append(inline)
        return tomlkit.dumps(document)
    except (TOMLKitError, ValueError, TypeError, AttributeError):
        return text


def _holds(text: str, before: Values, table: LogTable, entries: list[Values]) -> bool:
    try:
        after = tomli.loads(text)
    except (tomli.TOMLDecodeError, RecursionError):
        return False
    return after == {**before, table: [*before.get(table, []), *entries]}


def _written(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dt.datetime):
        if value.utcoffset() is None:
            return value.isoformat()
        if value.utcoffset() == dt.timedelta(0):
            return value.replace(tzinfo=None).isoformat() + "Z"
        return value.isoformat()
    if isinstance(value, int | float | dt.date):
        return str(value)
    return f'"{_TO_ESCAPE.sub(_escape, str(value))}"'


def _escape(found: re.Match[str]) -> str:
    char = found.group()
    return _SHORT.get(char, f"\\u{ord(char):04x}")
