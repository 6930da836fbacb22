"""The whole log of a job, read once: entries in the order of the file, what is struck, and what is odd."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

from prepadvisor.logbook.entries import Entry, in_order
from prepadvisor.logbook.identity import utc
from prepadvisor.logbook.striking import strikes
from prepadvisor.named import NamedTuple
from prepadvisor.records import log_remarks as remarks
from prepadvisor.records.job import Check

AHEAD_ALLOWED: Final = dt.timedelta(minutes=10)
"""Two clocks in a shop differ by less; what is dated further ahead does not count until then."""


class Logbook(NamedTuple):
    """A log as it is read.

    Attributes:
        entries: all entries in the order of the file, struck ones too; one that stands twice stands once.
        remarks: what is odd about them.
    """

    entries: tuple[Entry, ...]
    remarks: tuple[remarks.Remark, ...]

    @classmethod
    def read(
        cls, checks: Sequence[Check], now: dt.datetime | None = None, leads: Sequence[str] = ()
    ) -> "Logbook":
        """Read a log.

        Args:
            checks: the entries as the file has them.
            now: the reader's clock; without one no entry lies ahead.
            leads: initials of the shop's leads.
        """
        some, odd = in_order(checks)
        if now is not None:
            latest = utc(now) + AHEAD_ALLOWED
            some = [entry._replace(ahead=True) if entry.at > latest else entry for entry in some]
            odd += [remarks.Ahead(entry.number, entry.at) for entry in some if entry.ahead]
        unsigned = tuple(entry.number for entry in some if not entry.who)
        if unsigned:
            odd.append(remarks.Unsigned(unsigned))
        odd += _backwards(some)
        taken_back = strikes(some, leads)
        if taken_back.struck:
            some = [
                entry._replace(struck=taken_back.struck[entry.number])
                if entry.number in taken_back.struck
                else entry
                for entry in some
            ]
        return cls(tuple(some), (*odd, *taken_back.told))

    @property
    def standing(self) -> tuple[Entry, ...]:
        """The entries that are not struck and strike nothing."""
        return tuple(entry for entry in self.entries if not entry.struck and entry.check.step != "struck")


def _backwards(entries: Sequence[Entry]) -> list[remarks.Remark]:
    """Tell where an entry is dated before one that it knew, once for each that it is dated before."""
    latest: list[Entry | None] = []
    newest: Entry | None = None
    by_number: dict[int, int] = {}
    told: dict[int, remarks.TimeBack] = {}
    for index, entry in enumerate(entries):
        by_number[entry.number] = index
        if not entry.ahead and (newest is None or entry.at > newest.at):
            newest = entry
        latest.append(newest)
        known = by_number.get(entry.upto)
        before = latest[known] if known is not None else None
        if before is not None and entry.at < before.at:
            told.setdefault(before.number, remarks.TimeBack(entry.number, before.number))
    return list(told.values())
