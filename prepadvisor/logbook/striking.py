"""Which entries are taken back: a slip of the key is struck by a later entry, never deleted.

Work and clear looks are struck by who logged them; what a look found, by a lead. Where the shop names no lead
that is anyone who neither looked nor worked there; where it names exactly one he may strike his own.
"""

from collections.abc import Mapping, Sequence

from prepadvisor.logbook.entries import Entry
from prepadvisor.logbook.people import people
from prepadvisor.named import NamedTuple
from prepadvisor.records import log_remarks as remarks

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
