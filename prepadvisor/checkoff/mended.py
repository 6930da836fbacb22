"""What ended a rub-through: a patch there that was worked since, new primer, or full colour to there."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from prepadvisor.checkoff.basis import parts_of
from prepadvisor.checkoff.spoken import WORK_STEPS
from prepadvisor.logbook import Entry
from prepadvisor.records.words import Zone

_TRIED: Final = 50
"""So many of the last rub-throughs at a place are held against mends; more stand."""


def mends(
    words: Sequence[Entry],
    basis: str,
    zones: tuple[Zone, ...],
    patches: Mapping[str, Sequence[Entry]],
    *,
    is_patch: bool,
) -> dict[int, Entry]:
    """Return for each rub-through at a place that has its mend the entry which that mend rests on.

    Args:
        words: entries at the place.
        basis: what the place rests on now.
        zones: its zones now.
        patches: entries at each patch that touches the place.
        is_patch: whether the place is a patch itself.
    """
    found: dict[int, Entry] = {}
    for each in [each for each in words if each.check.result == "cut-through"][-_TRIED:]:
        mend = _primed(each, words) if is_patch else _patched(each, basis, patches)
        mend = mend or _coloured(each, words, basis, zones)
        if mend is not None:
            found[each.number] = mend
    return found


def _primed(rub: Entry, words: Sequence[Entry]) -> Entry | None:
    return _last(each for each in words if each.check.step == "primed" and each.knew(rub))


def _patched(rub: Entry, basis: str, patches: Mapping[str, Sequence[Entry]]) -> Entry | None:
    """Return the last work on a patch that came after: a new or changed one, or one primed again since."""
    then, now = parts_of(rub.check.basis).get("patches"), parts_of(basis).get("patches")
    is_new = then is not None and then != now
    for entries in patches.values():
        primed = _primed(rub, entries)
        if primed is not None:
            return primed
        first_after = bool(entries) and all(each.number > rub.number for each in entries)
        if is_new or (then is None and first_after):
            work = _last(
                each
                for each in entries
                if each.check.step in WORK_STEPS and each.knew(rub) and not each.ahead
            )
            if work is not None:
                return work
    return None


def _coloured(rub: Entry, words: Sequence[Entry], basis: str, zones: tuple[Zone, ...]) -> Entry | None:
    """Return the last work after the place was re-planned as full colour all over; it was not so before."""
    then, now = parts_of(rub.check.basis).get("zones"), parts_of(basis).get("zones")
    if set(zones) != {"colour"} or then is None or then == now:
        return None
    return _last(
        each for each in words if each.check.step in WORK_STEPS and each.knew(rub) and not each.ahead
    )


def _last(entries: Iterable[Entry]) -> Entry | None:
    found: Entry | None = None
    for found in entries:  # noqa: B007 - the last one is kept
        pass
    return found
