"""What the lead accepted, and entries for what is not in the job, which hold until one is accepted.

Where the shop names no lead, anyone may accept but who did the work; where it names exactly one, he may
accept his own; where it names more, one of them, never his own. A reason in words is always needed. From
fine flake on nothing coarser than P800 is ever accepted; a rub-through, gloss and a cut too fine never
are.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import may_stay
from prepadvisor.checkoff.basis import changed
from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import WORK_STEPS, SpokenPlace
from prepadvisor.logbook import Entry, is_reason, people
from prepadvisor.records import Flake, NamedTuple, nearest
from prepadvisor.records import gate as g
from prepadvisor.records.gate import Accepted, CutTooFine, HoldFact, NotAccepted, WhyNotAccepted

if TYPE_CHECKING:
    from prepadvisor.records import Grade


class Acceptances(NamedTuple):
    """Numbers of the entries that are accepted, with the acceptance, and what is to be told."""

    of: Mapping[int, Entry]
    told: tuple[Accepted | NotAccepted, ...]


class Rules(NamedTuple):
    """Who may accept and what never is: leads of the shop, the flake as judged, the place's basis now."""

    leads: tuple[str, ...]
    flake: Flake
    basis: str


def acceptances(
    place: str, words: Sequence[Entry], outside: Mapping[int, HoldFact], spent: Sequence[int], rules: Rules
) -> Acceptances:
    """Find what is accepted at a place.

    Args:
        place: its id.
        words: its entries that stand, in the order of the file.
        outside: what is wrong with the tool or grade of its cuts, by the number of the entry.
        spent: numbers of passes that took more film than may come off.
        rules: who may accept what.
    """
    if not any(entry.check.step == "accepted" for entry in words):
        return Acceptances({}, ())
    by_name = {entry.name: entry for entry in words}
    found: dict[int, Entry] = {}
    told: list[Accepted | NotAccepted] = []
    can = {*outside, *spent}
    since = worked_since(words)
    newest: Entry | None = None
    cut: Entry | None = None
    for entry in words:
        if entry.check.step == "accepted":
            target = by_name.get(entry.check.of) if entry.check.of else newest
            why = _why_not(entry, target, cut, since=since, outside=outside, rules=rules)
            if why is not None or target is None:
                leads = rules.leads if why == "not-a-lead" else ()
                parts = changed(entry.check.basis, rules.basis) if why == "moved" else ()
                told.append(NotAccepted(place, said(entry), why or "nothing-to-accept", leads, parts))
            else:
                found[target.number] = entry
                told.append(Accepted(place, said(entry), said(target), _worked(entry, since)))
        elif entry.is_adverse or entry.edited or entry.number in can:
            newest = entry
        if entry.check.step in {"scuffed", "sanded"}:
            cut = entry
    return Acceptances(found, tuple(told))


def worked_since(words: Sequence[Entry]) -> dict[str, int]:
    """Return since which entry each person works at a place."""
    since: dict[str, int] = {}
    for entry in words:
        if entry.check.step in WORK_STEPS:
            since.setdefault(entry.who, entry.number)
    return since


def _worked(entry: Entry, since: Mapping[str, int]) -> bool:
    return since.get(entry.who, entry.number) < entry.number


def lead_word(
    place: str, words: Sequence[Entry], rules: Rules, grade: "Grade | None"
) -> tuple[Entry | None, tuple[Accepted | NotAccepted, ...]]:
    """Find the acceptance that lifts a hold of the plan which the lead decides, and what is to be told.

    Args:
        place: its id.
        words: its entries that stand.
        rules: who may accept what.
        grade: the recorded scuff that cannot be cut out, None where it is not about one.
    """
    told: list[Accepted | NotAccepted] = []
    lifted: Entry | None = None
    since = worked_since(words)
    for entry in words:
        if entry.check.step != "accepted" or entry.check.of:
            continue
        why = _why_no_word(entry, since, rules, grade)
        if why is None:
            lifted = entry
            told.append(Accepted(place, said(entry), None, _worked(entry, since)))
        else:
            leads = rules.leads if why == "not-a-lead" else ()
            told.append(NotAccepted(place, said(entry), why, leads))
    return lifted, tuple(told)


def _why_no_word(
    entry: Entry, since: Mapping[str, int], rules: Rules, grade: "Grade | None"
) -> WhyNotAccepted | None:
    if entry.edited:
        return "edited"
    if entry.ahead:
        return "ahead"
    who = may_accept(entry, rules.leads, worked=_worked(entry, since))
    if who is not None:
        return who
    if not is_reason(entry.check.note):
        return "no-reason"
    if changed(entry.check.basis, rules.basis):
        return "moved"
    return None if grade is None or may_stay(rules.flake, grade) else "too-coarse"


def may_accept(entry: Entry, leads: Sequence[str], *, worked: bool) -> WhyNotAccepted | None:
    """Return why somebody may not accept, None where he may."""
    if not entry.who:
        return "no-initials"
    named = people(leads)
    if len(named) == 1:
        return None if entry.who in named else "not-a-lead"
    if named and entry.who not in named:
        return "not-a-lead"
    return "own-work" if worked else None


def _why_not(
    entry: Entry,
    target: Entry | None,
    cut: Entry | None,
    since: Mapping[str, int],
    outside: Mapping[int, HoldFact],
    rules: Rules,
) -> WhyNotAccepted | None:
    if target is None:
        return "no-such-entry" if entry.check.of else "nothing-to-accept"
    if entry.edited:
        return "edited"
    if entry.ahead:
        return "ahead"
    if not entry.knew(target):
        return "not-known"
    who = may_accept(entry, rules.leads, worked=_worked(entry, since))
    if who is not None:
        return who
    if not is_reason(entry.check.note):
        return "no-reason"
    if target.check.result == "cut-through":
        return "rubbed-through"
    if target.check.result == "gloss":
        return "gloss"
    if isinstance(outside.get(target.number), CutTooFine):
        return "too-fine"
    if changed(entry.check.basis, rules.basis):
        return "moved"
    own = target if target.check.step in {"scuffed", "sanded"} else cut
    return None if may_stay(rules.flake, own.check.grade if own else None) else "too-coarse"


# Entries for what is not in the job: a place deleted, renamed or mistyped holds until it is named.


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
            why = _why_not_here(entry, leads, rubbed=rubbed, worked=entry.who in since)
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
        fact = g.LeftTheJob(tuple(entry.number for entry in others), near, rubbed)
        holds.append(g.GateHold(where, fact, g.NameIt(near, rubbed)))
    return holds, told


def _why_not_here(
    entry: Entry, leads: Sequence[str], *, rubbed: bool, worked: bool
) -> g.WhyNotAccepted | None:
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
    return nearest(where, places, alike=0.8) or ""
