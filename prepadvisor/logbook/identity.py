"""What a log entry is called: its writer's token and counter; where it has no id, a sign of its content."""

import datetime as dt
import hashlib
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Check

NOTHING_YET: Final = "start"
"""What `knew` says where no entry stood on disk yet."""

_CONTENT: Final = "~"
"""Begins the sign of an entry without id; no writer's token has it."""
_SIGNS: Final = 16
_PART_SIGNS: Final = 8


class Id(NamedTuple):
    """An id taken apart: the writer's token, and which of his entries it is; None where it does not say."""

    writer: str
    counter: int | None


def id_of(text: str) -> Id:
    """Take an id such as "3f9c-12" apart; one of another form is a writer's only entry."""
    writer, dash, counter = text.rpartition("-")
    if dash and writer and counter.isascii() and counter.isdecimal() and len(counter) <= 12:
        return Id(writer, int(counter))
    return Id(text, None)


def name_of(check: Check) -> str:
    """Return what `knew` calls an entry: its id, else a sign of what it says, such as "~5be1…"."""
    if check.id:
        return check.id
    said = (
        utc(check.at).isoformat(), check.by, check.panel, check.feature, check.step, check.tool, check.grade,
        check.result, check.note, check.of,
    )  # fmt: skip
    return _CONTENT + hashlib.sha256(repr(said).encode()).hexdigest()[:_SIGNS]


def is_content_sign(name: str) -> bool:
    """Say whether `knew` names an entry that has no id."""
    return name.startswith(_CONTENT)


def number_sign(number: str) -> str:
    """Return the part of a basis that ties an entry to the number of its job, such as "number:4f2c6944"."""
    return f"number:{sign(number.casefold())}"


def sign(*values: object) -> str:
    """Return a short hash of some values."""
    return hashlib.sha256(repr(values).encode()).hexdigest()[:_PART_SIGNS]


_FAR_FUTURE: Final = dt.datetime.max.replace(tzinfo=dt.UTC)


def utc(at: dt.datetime) -> dt.datetime:
    """Return a time in UTC; one without zone is taken as UTC."""
    if at.tzinfo is None:
        return at.replace(tzinfo=dt.UTC)
    try:
        return at.astimezone(dt.UTC)
    except OverflowError:  # the last day of year 9999, west of Greenwich
        return _FAR_FUTURE
