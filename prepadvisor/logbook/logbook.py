"""The whole log of a job, read once: entries in the order of the file, what is struck, and what is odd."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Final

from prepadvisor.logbook.entries import Entry, in_order, number_sign, people, utc
from prepadvisor.records import Check, NamedTuple
from prepadvisor.records import log_remarks as remarks

# Which entries are taken back: a slip of the key is struck by a later entry, never deleted.
#
# Work and clear looks are struck by who logged them; what a look found, by a lead. Where the shop names no
# lead that is anyone who neither looked nor worked there; where it names exactly one he may strike his own.

PlaceAndWho = tuple[str, str, str]
"""Panel, feature, and who."""


class Strikes(NamedTuple):
    """Numbers of struck entries with those that strike them, and what is to be told of it."""

    struck: dict[int, int]
    told: tuple[remarks.Remark, ...]


def strikes(entries: Sequence[Entry], leads: Sequence[str]) -> Strikes:
    """Find what is struck.

    Args:
        entries: the log in the order of the file.
        leads: initials of those who may strike what a look found, as the shop file has them.
    """
    if not any(entry.check.step == "struck" for entry in entries):
        return Strikes({}, ())
    since, named = _worked_since(entries), people(leads)
    above: dict[str, Entry] = {}
    found: dict[int, int] = {}
    told: list[remarks.Remark] = []
    for entry in entries:
        if entry.check.step == "struck" and not entry.ahead:
            target = above.get(entry.check.of)
            why = _why_not(entry, target, since, named)
            if why is not None or target is None:
                may = tuple(leads) if why == "not-a-lead" else ()
                told.append(remarks.NotStruck(entry.number, entry.check.of, why or "no-such-entry", may))
            elif target.number not in found:
                found[target.number] = entry.number
                told.append(remarks.StruckEntry(target.number, entry.number, _is_own(entry, target)))
        above[entry.name] = entry
    return Strikes(found, tuple(told))


def _is_own(entry: Entry, target: Entry) -> bool:
    return target.is_adverse and entry.who == target.who


def _why_not(
    entry: Entry, target: Entry | None, since: Mapping[PlaceAndWho, int], leads: frozenset[str]
) -> remarks.WhyNotStruck | None:
    if target is None:
        return "no-such-entry"
    if entry.edited:
        return "edited"
    if not entry.knew(target):
        return "not-known"
    if target.check.step == "struck":
        return "struck-itself"
    if not entry.who:
        return "not-signed"
    if target.is_adverse:
        return None if _may_lift(entry, target, since, leads) else "not-a-lead"
    if target.check.step == "accepted" and entry.who in leads:
        return None
    return None if entry.who == target.who else "not-its-writer"


def _may_lift(entry: Entry, target: Entry, since: Mapping[PlaceAndWho, int], leads: frozenset[str]) -> bool:
    if len(leads) == 1:
        return entry.who in leads
    if leads and entry.who not in leads:
        return False
    here = target.check
    worked = min(
        since.get((here.panel, here.feature, entry.who), target.number),
        since.get((here.panel, "all", entry.who), target.number),
    )
    return entry.who != target.who and worked >= target.number


def _worked_since(entries: Sequence[Entry]) -> dict[PlaceAndWho, int]:
    """Return since which entry each person works at each place, those for all of a panel apart."""
    since: dict[PlaceAndWho, int] = {}
    for entry in entries:
        if entry.check.step in {"scuffed", "guide-coated", "sanded"}:
            since.setdefault((entry.check.panel, entry.check.feature, entry.who), entry.number)
    return since


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


# Which entries of a log are of this job: one that was copied to another number starts over.


def upto_other_job(entries: Sequence[Entry], number: str) -> int:
    """Return the last entry that was made in a job of another number, 0 for none: up to it nothing counts.

    Args:
        entries: the log.
        number: the number of the job that the log stands in.
    """
    here = number_sign(number)
    other = [entry.number for entry in entries if is_of_other_number(entry.check.basis, here)]
    return other[-1] if other else 0


def is_of_other_number(basis: str, here: str) -> bool:
    """Say whether an entry was made in a job of another number; one that does not say was not.

    Args:
        basis: what the entry rests on.
        here: the part of this job's number.
    """
    if not basis or basis.startswith(here):  # as nearly every entry is
        return False
    stated = [part for part in basis.split() if part.startswith("number:")]
    return bool(stated) and stated[0] != here


# Where primer was put on, by the entries that stand: all that the plan of work takes from a log.


class Primed(NamedTuple):
    """Primer on a patch or a panel.

    Attributes:
        panel: the panel.
        feature: the patch; "panel" where the whole panel was primed.
        number: place of the last such entry in the file, from 1.
        name: its id.
    """

    panel: str
    feature: str
    number: int
    name: str


def primed(checks: Sequence[Check], number: str = "") -> tuple[Primed, ...]:
    """Return every patch and panel that stands primed, the last entry of each, in the order of the file.

    A struck entry counts nowhere, nor does one that nobody signed or that stands in the log of another job.
    Time plays no part, so that a plan is the same whenever it is made.

    Args:
        checks: the log.
        number: the number of its job; empty where entries of other jobs need not be told apart.
    """
    if not any(check.step == "primed" for check in checks):
        return ()
    last: dict[tuple[str, str], Primed] = {}
    standing = Logbook.read(checks).standing
    upto = upto_other_job(standing, number) if number else 0
    for entry in standing:
        check = entry.check
        if entry.number > upto and check.step == "primed" and entry.who:
            feature = "panel" if check.feature in {"panel", "face", "all"} else check.feature
            last.pop((check.panel, feature), None)
            last[check.panel, feature] = Primed(check.panel, feature, entry.number, entry.name)
    return tuple(last.values())
