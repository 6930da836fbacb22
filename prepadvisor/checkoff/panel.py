"""What is owed to a whole panel: cleaned before any work, wiped after everything, and not too long ago."""

import datetime as dt
from collections.abc import Sequence

from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import WORK_STEPS
from prepadvisor.logbook import Entry
from prepadvisor.records import gate as g

_BEFORE_THE_WIPE = WORK_STEPS | {"inspected", "primed"}


def cleaned(entries: Sequence[Entry]) -> tuple[Entry | None, g.HoldFact | None]:
    """Return the entry that cleaned the panel first, and why it does not count; work is held against it.

    Args:
        entries: its cleanings, in the order of the file.
    """
    counted = [entry for entry in entries if not entry.ahead]
    if counted:
        return counted[0], None
    if entries:
        return None, g.DatedAhead(said(entries[-1]))
    return None, g.NotDone("clean", None, None)


def wiped(
    entries: Sequence[Entry], on_panel: Sequence[Entry], hours: float, now: dt.datetime
) -> tuple[Entry | None, g.HoldFact | None]:
    """Return the last wipe, and why it does not count.

    Args:
        entries: the wipes of the panel, in the order of the file.
        on_panel: all entries of the panel.
        hours: how long a wipe counts.
        now: the present time, in UTC.
    """
    if not entries:
        return None, g.NotDone("wipe", None, None)
    facts = [(entry, _fault(entry, on_panel, hours, now)) for entry in reversed(entries)]
    good = next((entry for entry, fact in facts if fact is None), None)
    return (good, None) if good is not None else facts[0]


def _fault(wipe: Entry, on_panel: Sequence[Entry], hours: float, now: dt.datetime) -> g.HoldFact | None:
    if wipe.ahead:
        return g.DatedAhead(said(wipe))
    later = [
        entry
        for entry in on_panel
        if entry.check.step in _BEFORE_THE_WIPE and not _renews(entry) and not wipe.knew(entry)
    ]
    if later:
        return g.WipedBefore(said(wipe), said(later[-1]))
    if wipe.edited:
        return g.ByHand(said(wipe))
    age = (now - wipe.at).total_seconds() / 3600
    return g.WipeOld(said(wipe), age, hours) if age > hours else None


def _renews(entry: Entry) -> bool:
    """Say whether an entry is a look over the whole panel, which touches nothing."""
    return entry.check.step == "inspected" and entry.check.feature == "all" and not entry.is_adverse
