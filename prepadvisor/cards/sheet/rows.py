"""The rows of a panel: one for each place, or one for each zone of a place that is split."""

from typing import Final, Literal

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import PlaceRow
from prepadvisor.records.advice import Place
from prepadvisor.records.kinds import TooCoarse
from prepadvisor.records.words import AREA_KINDS, DA_TOOLS
from prepadvisor.records.work import Task
from prepadvisor.wording import trade
from prepadvisor.wording.scuffs import done_says, steps_words
from prepadvisor.wording.standards import laxer_says
from prepadvisor.wording.units import minutes

STOP: Final = "STOP"
"""Stands where a grade would, on a place with a hold."""
NOTHING: Final = "-"
"""Stands where there is no such work."""
CREST: Final = "!"
"""Marks a crest or outer edge, which rubs through first."""

_Need = Literal["hand-only", "hand-then-machine", "machine"]


def rows_of(papers: Papers, place: Place, boxed: set[str], notes: tuple[str, ...] = ()) -> list[PlaceRow]:
    """Return the rows of one place; a split place has one for each grade, the others one.

    Args:
        papers: job, advice and house.
        place: the place.
        boxed: tasks that have their box elsewhere, in a ladder.
        notes: what else is said at the place.
    """
    tasks = [task for task in papers.at.get(place.id, ()) if task.id not in boxed]
    said = (*_done_note(place), *_laxer_notes(papers, place), *notes)
    if not place.split or place.id in papers.held:
        return [_row(papers, place, papers.zones(place), tasks, said)]
    rows: list[PlaceRow] = []
    for zone, grade in place.split:
        mine = [
            task
            for task in tasks
            if (task.do == "sand" and task.grade == grade) or (task.do != "sand" and not rows)
        ]
        first = ("two grades on one place: change at the zone border, it is marked on the panel", *said)
        rows.append(_row(papers, place, trade.ZONE_SHORT[zone], mine, () if rows else first))
    return rows


def _row(papers: Papers, place: Place, zones: str, tasks: list[Task], notes: tuple[str, ...]) -> PlaceRow:
    stop = place.id in papers.held
    hand_only = papers.is_hand_only(place)
    line = place.kind not in AREA_KINDS
    scuffs = [task for task in tasks if task.do == "scuff"]
    cuts = [task for task in tasks if task.do == "sand"]
    by_hand = STOP if stop and line else _grade(scuffs)
    last = _grade(cuts)
    machine = STOP if stop and not hand_only else last
    if not line and place.tool is not None and place.tool not in DA_TOOLS and not stop:
        by_hand, machine = last, NOTHING
    need: _Need = "hand-only" if hand_only else "hand-then-machine" if line else "machine"
    return PlaceRow(
        number=papers.number(place),
        place=place.id,
        feature=place.feature,
        kind=place.kind,
        name=papers.name(place),
        zones=zones,
        need=need,
        hand=by_hand,
        hand_or_finer=bool(scuffs) and not hand_only and not stop,
        machine=machine,
        mark=CREST if place.interface_pad and line and not hand_only and not stop else "",
        scuffed=papers.box(scuffs),
        powder=papers.box([task for task in tasks if task.do == "powder"]),
        sanded=papers.box(cuts),
        look=papers.box([task for task in tasks if task.do == "look"]),
        notes=notes,
        stop=stop,
        tasks=tuple(task.id for task in tasks if task.owed),
    )


def _grade(tasks: list[Task]) -> str:
    return tasks[-1].grade or NOTHING if tasks else NOTHING


def _laxer_notes(papers: Papers, place: Place) -> tuple[str, ...]:
    laxer = (one for spot in papers.spots_of(place) for one in spot.laxer)
    return tuple(dict.fromkeys(laxer_says(one, papers.units) for one in laxer))


def _done_note(place: Place) -> tuple[str, ...]:
    done = place.done
    if done.verdict == "not-recorded":
        return (done_says(done),) if done.fact else ()
    if done.verdict == "within":
        return (f"scuffed {done.grade} already, within its limit: look, then tick",)
    return (done_words(place),)


def done_words(place: Place) -> str:
    """Return what a recorded scuff needs: "scuffed P600: RE-CUT P800, powder, P1000 (6 min)"."""
    done = place.done
    was = f"scuffed {done.grade or 'with a pad of unknown grade'}"
    if done.verdict == "too-fine":
        return f"{was}: TOO FINE to hold, scuff again. {done_says(done)}".strip()
    if not done.recut:
        return f"{was}: TOO COARSE. {done_says(done)}".strip()
    took = minutes(sum(step.minutes for step in done.recut))
    bed = "; no wet bed saves it" if isinstance(done.fact, TooCoarse) and done.fact.bed == "never" else ""
    return f"{was}: TOO COARSE, RE-CUT {steps_words(done.recut)} ({took}){bed}"
