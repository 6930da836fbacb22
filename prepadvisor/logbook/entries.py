"""The entries of a log, each with what its writer knew, who signed it, and how a new one is stamped.

An entry knew everything at or above the one that its `knew` names, and its own writer's earlier entries;
those between are concurrent to it. Without `knew`, as older versions and people write it, it knew all above
it. `knew` that names one below, or none, was edited by hand: such an entry is read as if it knew all above
it, but it is `edited`, and no look rests on it.
"""

import datetime as dt
import hashlib
import os
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from prepadvisor.records import Check, Look, NamedTuple, Step
from prepadvisor.records import log_remarks as remarks

# What a log entry is called: its writer's token and counter; where it has no id, a sign of its content.

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


# Who signed an entry, and whether a reason is one: initials are compared as people read them.

_LETTERS_MIN: Final = 5
_KINDS_MIN: Final = 3
_WORTH_OF_A_SIGN: Final = 3
"""A sign of a script that writes words, not sounds, says as much as three letters."""


def person(by: str) -> str:
    """Return initials as they are compared: "K. M." is "km"; empty where nothing can be read in them."""
    plain = unicodedata.normalize("NFKC", by).casefold()
    return "".join(char for char in plain if char.isalnum())


def people(some: Iterable[str]) -> frozenset[str]:
    """Return all whose initials can be read."""
    return frozenset(filter(None, map(person, some)))


def is_reason(note: str) -> bool:
    """Say whether a note gives a reason in words: not "x", not "ok", not "…"."""
    letters = [char for char in unicodedata.normalize("NFKC", note).casefold() if char.isalpha()]
    worth = sum(_WORTH_OF_A_SIGN if unicodedata.category(char) == "Lo" else 1 for char in letters)
    kinds = sum(_WORTH_OF_A_SIGN if unicodedata.category(char) == "Lo" else 1 for char in set(letters))
    return worth >= _LETTERS_MIN and kinds >= _KINDS_MIN


ADVERSE: Final[frozenset[Look]] = frozenset({"lines", "gloss", "cut-through", "low", "pinhole"})
"""What a look may find that keeps a place from the next coat."""

_COATS: Final[frozenset[Step]] = frozenset({"sealed", "bedded", "coloured", "cleared"})


class Entry(NamedTuple):
    """A log entry.

    Attributes:
        number: its place in the file, from 1.
        check: what it says.
        at: its time in UTC.
        name: what `knew` and `of` call it.
        who: its initials as they are compared, empty for none.
        id: its writer and count; the writer is empty where it has no id.
        upto: the last entry that it knew by `knew`.
        edited: whether its place in the file was changed by hand.
        ahead: whether it is dated ahead of the reader's clock: it counts for nothing yet, but undoes.
        struck: number of the entry that takes it back, 0 for none.
    """

    number: int
    check: Check
    at: dt.datetime
    name: str
    who: str
    id: Id
    upto: int
    edited: bool = False
    ahead: bool = False
    struck: int = 0

    def knew(self, other: "Entry") -> bool:
        """Say whether the writer of this knew the other entry when he wrote."""
        if other.number <= self.upto:
            return other.number != self.number
        mine, its = self.id.counter, other.id.counter
        return mine is not None and its is not None and self.id.writer == other.id.writer and its < mine

    @property
    def is_adverse(self) -> bool:
        """Whether something was found: by a look, or by who worked there and says so; coats aside."""
        return self.check.result in ADVERSE and self.check.step not in _COATS


def in_order(checks: Sequence[Check]) -> tuple[list[Entry], list[remarks.Remark]]:
    """Return the entries of a log, and what is odd about their order. Takes time linear in their number."""
    names = _names(checks)
    anywhere = {name: number for number, name in enumerate(names, 1)}
    above: dict[str, int] = {}
    newest: dict[str, tuple[int, int]] = {}
    found: list[Entry] = []
    odd: list[remarks.Remark] = []
    unknown: list[int] = []
    newer: dict[int, tuple[str, ...]] = {}
    for number, (check, name) in enumerate(zip(checks, names, strict=True), 1):
        edited = False
        own = id_of(check.id) if check.id else Id("", None)
        if check.id and name in above:
            is_same = check == checks[above[name] - 1]
            odd.append(remarks.TwiceThere(number, above[name], is_same))
            if is_same:
                continue
            edited = True
        elif own.counter is not None:
            counter, at = newest.get(own.writer, (-1, 0))
            if own.counter < counter:
                odd.append(remarks.OutOfTurn(number, at))
                edited = True
            else:
                newest[own.writer] = (own.counter, number)
        upto, remark = _upto(number, check, above, anywhere)
        if remark is not None:
            odd.append(remark)
            edited = True
        if not check.knew and number > 1:
            unknown.append(number)
        if check.newer:
            newer[number] = check.newer
        above[name] = number
        found.append(
            Entry(
                number=number,
                check=check,
                at=utc(check.at),
                name=name,
                who=person(check.by),
                id=own,
                upto=upto,
                edited=edited,
            )
        )
    if newer:
        keys = dict.fromkeys(key for each in newer.values() for key in each)
        odd.insert(0, remarks.NewerKeys(tuple(newer), tuple(keys)))
    if unknown:
        odd.insert(0, remarks.NoKnew(tuple(unknown)))
    return found, odd


def _names(checks: Iterable[Check]) -> list[str]:
    """Name every entry; those without id only where some `knew` or `of` can mean them."""
    some = list(checks)
    if any(is_content_sign(check.knew) or is_content_sign(check.of) for check in some):
        return [name_of(check) for check in some]
    return [check.id or f"#{number}" for number, check in enumerate(some, 1)]


def _upto(
    number: int, check: Check, above: Mapping[str, int], anywhere: Mapping[str, int]
) -> tuple[int, remarks.Remark | None]:
    if not check.knew:
        return number - 1, None
    if check.knew == NOTHING_YET:
        return 0, None
    if check.knew in above:
        return above[check.knew], None
    if check.knew in anywhere:
        return number - 1, remarks.KnewBelow(number, anywhere[check.knew])
    return number - 1, remarks.KnewNone(number, check.knew)


# Stamps new entries: who wrote them, as which of his entries, and what he knew of the log when he did.


class Writer:
    """One run of a command, or one open screen: a token of its own, and a count of its entries.

    Args:
        token: a token without dash; a new random one where none is given.
        counter: the number of its last entry.
    """

    def __init__(self, token: str = "", counter: int = 0) -> None:
        """Begin with a token that no other writer has."""
        self.token = token or os.urandom(6).hex()
        self.counter = counter

    def stamp(self, check: Check, on_disk: Sequence[Check]) -> Check:
        """Return an entry with the next id of this writer and with what he knew.

        Args:
            check: the entry; one that has an id already is returned as it is.
            on_disk: the log as this writer last read it from the disk, without his own unsaved entries.
        """
        if check.id:
            return check
        self.counter += 1
        return check.model_copy(update={"id": f"{self.token}-{self.counter}", "knew": knew(on_disk)})


def knew(on_disk: Sequence[Check]) -> str:
    """Return what a writer says he knew who last read this log: the name of its last entry."""
    return name_of(on_disk[-1]) if on_disk else NOTHING_YET
