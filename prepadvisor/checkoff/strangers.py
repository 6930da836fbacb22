"""Entries for what is not in the job: a place deleted, renamed or mistyped holds until it is named."""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches

from prepadvisor.checkoff.accepting import may_accept, worked_since
from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import PANEL_STEPS, SpokenPlace
from prepadvisor.logbook import Entry
from prepadvisor.logbook.people import is_reason
from prepadvisor.records import gate as g


def strangers(
    strange: Mapping[str, Sequence[Entry]], places: Mapping[str, SpokenPlace], leads: Sequence[str]
) -> tuple[list[g.GateHold], list[g.CheckRemark]]:
    """Return what holds because it left the job or never was in it, and what is told.

    Args:
        strange: entries by the place that they name and that there is not.
        places: the places that there are.
        leads: leads of the shop.
    """
    holds: list[g.GateHold] = []
    told: list[g.CheckRemark] = []
    panels = {place.panel for place in places.values()}
    for where, entries in strange.items():
        panel, _, feature = where.partition("/")
        if feature.endswith("-ring") and f"{panel}/{feature.removesuffix('-ring')}" in places:
            continue  # the ring of a patch that is primed since
        others = [entry for entry in entries if entry.check.step != "accepted"]
        rubbed = any(entry.check.result == "cut-through" for entry in others)
        named, since = False, worked_since(others)
        for entry in entries:
            if entry.check.step != "accepted":
                continue
            why = _why_not(entry, leads, rubbed=rubbed, worked=entry.who in since)
            if why is not None:
                told.append(
                    g.NotAccepted(where, said(entry), why, tuple(leads) if why == "not-a-lead" else ())
                )
                continue
            named = all(entry.knew(each) for each in others)
            what = said(others[-1]) if others else None
            told.append(g.Accepted(where, said(entry), what, entry.who in since))
        if named:
            continue
        near = _near(where, places)
        if panel in panels and others and all(each.check.step in PANEL_STEPS for each in others):
            near = panel
        fact = g.LeftTheJob(tuple(entry.number for entry in others), near, rubbed)
        holds.append(g.GateHold(where, fact, g.NameIt(near, rubbed)))
    return holds, told


def _why_not(entry: Entry, leads: Sequence[str], *, rubbed: bool, worked: bool) -> g.WhyNotAccepted | None:
    if entry.edited:
        return "edited"
    if entry.ahead:
        return "ahead"
    who = may_accept(entry, leads, worked=worked)
    if who is not None:
        return who
    if not is_reason(entry.check.note):
        return "no-reason"
    return "rubbed-through" if rubbed else None


def _near(where: str, places: Mapping[str, SpokenPlace]) -> str:
    by_plain = {name.casefold(): name for name in places}
    near = get_close_matches(where.casefold(), by_plain, n=1, cutoff=0.8)
    return by_plain[near[0]] if near else ""
