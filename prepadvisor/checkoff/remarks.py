"""What is only told of the log of a job as a whole: it holds nothing."""

import datetime as dt
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import lines_aside
from prepadvisor.checkoff.basis import ShopFloor, scope_of
from prepadvisor.checkoff.looks import TOLD_HOURS, age_hours
from prepadvisor.checkoff.replay import said
from prepadvisor.records import Advice, Job, NamedTuple
from prepadvisor.records import gate as g

if TYPE_CHECKING:
    from prepadvisor.checkoff.panel_verdict import JudgedPanel
    from prepadvisor.logbook import Entry


class Heard(NamedTuple):
    """What remarks on the log of a job as a whole are made of.

    Attributes:
        job: the job.
        advice: the advice for exactly this job.
        floor: the shop.
        verdicts: what each panel comes to.
        bases: looks that rest on nothing, with None, or lack parts, with the parts, in the order of the file.
        nowhere: entries that count nowhere, in the order of the file.
        now: the present time, in UTC.
    """

    job: Job
    advice: Advice
    floor: ShopFloor
    verdicts: Sequence["JudgedPanel"]
    bases: Sequence[tuple[int, tuple[g.BasisPart, ...] | None]]
    nowhere: Sequence["Entry"]
    now: dt.datetime


def remarks(heard: Heard) -> Iterator[g.CheckRemark]:
    """Give every remark on the log of a job as a whole."""
    ages = ((look.place, age_hours(look.since, heard.now)) for one in heard.verdicts for look in one.looked)
    aged = {place: age for place, age in ages if age >= TOLD_HOURS}
    if aged:
        yield g.LooksAged(tuple(aged), max(aged.values()))
    yield from _bases(heard)
    now = scope_of(heard.job)
    moved = tuple(
        look.number for one in heard.verdicts for look in one.looked if look.scope and look.scope != now
    )
    if moved:  # panels came or went since looks that count
        yield g.ScopeMoved(moved)
    for one in heard.verdicts:
        yield from one.faces
    yield from _lines(heard)
    for entry in heard.nowhere:
        yield g.CountsNowhere(said(entry))
    painted = all(stage.id == "paint" for stage in heard.advice.work.stages)
    for panel in heard.advice.panels:
        if panel.wet_bed.need != "no" and painted:  # a bed of the next stage is told then
            yield g.BedTold(panel.id, panel.wet_bed.coats)
    for spot in heard.advice.spots:
        if spot.finish and spot.finish.verdict == "borderline":
            yield g.BorderlineTold(spot.id)


def _bases(heard: Heard) -> Iterator[g.CheckRemark]:
    """Tell looks that rest on nothing, or on less than is written today."""
    bare = tuple(number for number, parts in heard.bases if parts is None)
    if bare:
        yield g.NoBasis(bare)
    by_parts: dict[tuple[g.BasisPart, ...], list[int]] = {}
    for number, parts in heard.bases:
        if parts is not None:
            by_parts.setdefault(parts, []).append(number)
    for lacked, numbers in by_parts.items():
        yield g.BasisLacks(tuple(numbers), lacked)


def _lines(heard: Heard) -> Iterator[g.CheckRemark]:
    """Tell where usual lines of an outline are not asked for, or a panel has none at all."""
    for panel in heard.job.panel:
        outline = heard.floor.outlines.get(panel.kind)
        if aside := lines_aside(panel, outline):
            yield g.UsualLinesAside(panel.id, aside)
        if not panel.feature and not (outline and outline.feature):
            yield g.NoLines(panel.id)
