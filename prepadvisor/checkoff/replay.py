"""Replays the log at one place: its steps, its look, what holds there and what to do next."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from prepadvisor.checkoff.basis import changed
from prepadvisor.checkoff.entries import Entry
from prepadvisor.checkoff.log_index import LogIndex
from prepadvisor.checkoff.look import look
from prepadvisor.checkoff.mend import Bench
from prepadvisor.checkoff.verdict import GateHold, PlaceView
from prepadvisor.checkoff.work import work


class Replayed(NamedTuple):
    """A place as the log has it: its view, what is told, and the entries that speak for its work and look."""

    view: PlaceView
    told: tuple[str, ...]
    worked: tuple[Entry, ...]
    looked: Entry | None


def replay(
    bench: Bench,
    log: LogIndex,
    basis: str,
    touched_by: Mapping[str, frozenset[str]],
    forbidden: Sequence[GateHold],
) -> Replayed:
    """Replay the log at one place.

    Args:
        bench: the place with its spots and shop.
        log: the whole log.
        basis: what the place rests on now.
        touched_by: hand-only features that touch it, by feature.
        forbidden: holds that the advice itself puts on the place.
    """
    place = bench.place
    words = log.at(place)
    accepted, told = _accepted(words, basis)
    worked = work(bench, words, accepted)
    seen = look(bench, words, _beside(bench, log, touched_by), basis, accepted)
    holds = (*forbidden, *worked.holds, *seen.holds)
    looks = [entry for entry in words if entry.check.step == "inspected"]
    view = PlaceView(
        id=place.id,
        panel=place.panel,
        feature=place.feature,
        kind=place.kind,
        name=place.name,
        number=place.number,
        reach=place.reach,
        steps=(*worked.steps, seen.step),
        look=looks[-1].check.result if looks else None,
        accepted=accepted.check if accepted else None,
        next=holds[0].mend if holds else "",
        holds=holds,
    )
    return Replayed(view, (*told, *worked.told, *seen.told), worked.last, looks[-1] if looks else None)


def _beside(bench: Bench, log: LogIndex, touched_by: Mapping[str, frozenset[str]]) -> list[Entry]:
    place = bench.place
    if place.kind == "face":
        return [entry for entry in log.hand_work(place.panel, None) if entry.check.feature != place.feature]
    features = touched_by.get(place.feature)
    return log.hand_work(place.panel, features) if features else []


def _accepted(words: Sequence[Entry], basis: str) -> tuple[Entry | None, tuple[str, ...]]:
    """Return the lead's acceptance that counts, and why the last one does not if so."""
    asked = [entry for entry in words if entry.check.step == "accepted"]
    if not asked:
        return None, ()
    last = asked[-1]
    stated = {"initials": last.check.by, "a reason": last.check.note}
    lacks = [word for word, text in stated.items() if not text.strip()]
    if lacks:
        return None, (f"{last.what}: an acceptance without {' and '.join(lacks)} does not count",)
    if last.is_future:
        return None, ()
    moved = changed(last.check.basis, basis)
    if moved:
        return None, (f"{last.what}: {' and '.join(moved)} changed since, so the lead must accept it again",)
    return last, (f"{last.check.panel}/{last.check.feature}: accepted by {last.check.by}: {last.check.note}",)
