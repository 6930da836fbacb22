"""The entries of a log in the order of the file, each with what its writer knew.

An entry knew everything at or above the one that its `knew` names, and its own writer's earlier entries;
those between are concurrent to it. Without `knew`, as older versions and people write it, it knew all above
it. `knew` that names one below, or none, was edited by hand: such an entry is read as if it knew all above
it, but it is `edited`, and no look rests on it.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from prepadvisor.logbook.identity import NOTHING_YET, Id, id_of, is_content_sign, name_of, utc
from prepadvisor.logbook.people import person
from prepadvisor.named import NamedTuple
from prepadvisor.records import log_remarks as remarks
from prepadvisor.records.job import Check
from prepadvisor.records.words import Look, Step

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
