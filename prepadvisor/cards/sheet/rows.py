"""The rows of a panel: one for each place, or one for each zone of a place that is split."""

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Box, Row
from prepadvisor.records.advice import DoneAdvice, Place
from prepadvisor.records.words import DA_TOOLS
from prepadvisor.wording import trade as words
from prepadvisor.wording.scuffs import done_says, steps_words
from prepadvisor.wording.units import minutes

STOP = "STOP"
"""Stands where a grade would, on a place with a hold."""
NOTHING = "-"
"""Stands where there is no such work."""
CREST = "!"
"""Marks a crest or outer edge, which rubs through first."""


def rows_of(papers: Papers, place: Place) -> list[Row]:
    """Return the rows of one place; a split place has one for each grade, the others one."""
    if not place.split:
        return [_row(papers, place, papers.zones(place), place.finish)]
    return [_row(papers, place, words.ZONE_SHORT[zone], grade) for zone, grade in place.split]


def _row(papers: Papers, place: Place, zones: str, finish: str | None) -> Row:
    stop = place.id in papers.held
    hand_only = papers.is_hand_only(place)
    line = place.kind not in {"face", "patch"}
    grade = STOP if stop else finish or NOTHING
    by_machine = not hand_only and (line or place.tool is None or place.tool in DA_TOOLS)
    ahead = (STOP if stop else place.hand_coarsest or NOTHING) if line and not hand_only else None
    powder = place.guide_coat != "no"
    return Row(
        number=papers.number(place),
        place=place.id,
        feature=place.feature,
        kind=place.kind,
        name=papers.name(place),
        zones=zones,
        need="hand-only" if hand_only else "hand-then-machine" if line else "machine",
        hand=ahead if ahead is not None else NOTHING if by_machine else grade,
        hand_or_finer=bool(ahead and ahead not in {STOP, NOTHING}),
        machine=grade if by_machine else NOTHING,
        mark=CREST if place.interface_pad and line and not hand_only and not stop else "",
        scuffed=_owed(papers, place, "scuffed", owed=line and not stop),
        powder=_owed(papers, place, "guide-coated", owed=powder and not stop),
        sanded=_owed(papers, place, "sanded", owed=not hand_only and not stop),
        look=_owed(papers, place, "inspected", owed=not stop),
        notes=(*_done_note(place.done), *(_split_note(place, zones))),
        stop=stop,
    )


def _owed(papers: Papers, place: Place, step: str, *, owed: bool) -> Box:
    return papers.box(place.id, step) if owed else "none"


def _split_note(place: Place, zones: str) -> tuple[str, ...]:
    if not place.split or zones != words.ZONE_SHORT[place.split[0][0]]:
        return ()
    return ("two grades on one line: change at the zone border, it is marked on the panel",)


def _done_note(done: DoneAdvice) -> tuple[str, ...]:
    if done.verdict == "not-recorded":
        return (done_says(done),) if done.fact else ()
    if done.verdict == "within":
        return (f"scuffed {done.grade} already, within its limit: look, then tick",)
    return (done_words(done),)


def done_words(done: DoneAdvice) -> str:
    """Return what a recorded scuff needs: "scuffed P600: RE-CUT P800, powder, P1000 (6 min)"."""
    was = f"scuffed {done.grade or 'with a pad of unknown grade'}"
    if done.verdict == "too-fine":
        return f"{was}: TOO FINE to hold, scuff again. {done_says(done)}".strip()
    if not done.recut:
        return f"{was}: TOO COARSE. {done_says(done)}".strip()
    took = minutes(sum(step.minutes for step in done.recut))
    return f"{was}: TOO COARSE, RE-CUT {steps_words(done.recut)} ({took})"
