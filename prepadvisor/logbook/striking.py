"""Which entries are taken back: a slip of the key is struck by a later entry, never deleted.

Work and clear looks are struck by who logged them; what a look found, by a lead. Where the shop names no lead
that is anyone who neither looked nor worked there; where it names exactly one he may strike his own.
"""

from collections.abc import Sequence
from typing import NamedTuple

from prepadvisor.logbook.entries import Entry
from prepadvisor.logbook.people import people
from prepadvisor.records import log_remarks as remarks


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
    above: dict[str, Entry] = {}
    found: dict[int, int] = {}
    told: list[remarks.Remark] = []
    for entry in entries:
        if entry.check.step == "struck" and not entry.ahead:
            target = above.get(entry.check.of)
            why = _why_not(entry, target, entries, leads)
            if why is not None or target is None:
                named = tuple(leads) if why == "not-a-lead" else ()
                told.append(remarks.NotStruck(entry.number, entry.check.of, why or "no-such-entry", named))
            elif target.number not in found:
                found[target.number] = entry.number
                told.append(remarks.StruckEntry(target.number, entry.number, _is_own(entry, target)))
        above[entry.name] = entry
    return Strikes(found, tuple(told))


def _is_own(entry: Entry, target: Entry) -> bool:
    return target.is_adverse and entry.who == target.who


def _why_not(
    entry: Entry, target: Entry | None, entries: Sequence[Entry], leads: Sequence[str]
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
        return None if _may_lift(entry, target, entries, people(leads)) else "not-a-lead"
    if target.check.step == "accepted" and entry.who in people(leads):
        return None
    return None if entry.who == target.who else "not-its-writer"


def _may_lift(entry: Entry, target: Entry, entries: Sequence[Entry], leads: frozenset[str]) -> bool:
    if len(leads) == 1:
        return entry.who in leads
    if leads and entry.who not in leads:
        return False
    return entry.who != target.who and entry.who not in workers(target, entries)


def workers(look: Entry, entries: Sequence[Entry]) -> frozenset[str]:
    """Return who worked at the place of an entry before it, by any entry there or for all of its panel."""
    here = {look.check.feature, "all"}
    return frozenset(
        entry.who
        for entry in entries
        if entry.number < look.number
        and entry.check.panel == look.check.panel
        and entry.check.feature in here
        and entry.check.step in {"scuffed", "guide-coated", "sanded"}
    )
