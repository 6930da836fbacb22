"""Clear to mask, or each hold with its mend: the whole log of a job replayed against its advice."""

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import TypeVar

from prepadvisor.cases.usual_lines import with_lines
from prepadvisor.checkoff.basis import bases
from prepadvisor.checkoff.entries import entries, odd_entries
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.log_index import LogIndex
from prepadvisor.checkoff.mend import Bench, benches
from prepadvisor.checkoff.panel import panel_view
from prepadvisor.checkoff.replay import Replayed, replay
from prepadvisor.checkoff.verdict import Gate, GateHold, PanelView
from prepadvisor.planning.work.touching import touched_by
from prepadvisor.records.advice import Advice
from prepadvisor.records.job import Job, Panel
from prepadvisor.wording.holds import hold_mend, hold_why
from prepadvisor.wording.names import Words

_T = TypeVar("_T")


def gate(job: Job, advice: Advice, house: ShopFloor, now: dt.datetime) -> Gate:
    """Say whether a job is clear to mask.

    It is clear only if every place in every zone has its steps in order, within limits or accepted, and a
    clear look after its last work, every panel was cleaned first and wiped last, nothing in the advice holds,
    and the newest wipe is younger than the shop's `gate_hours`. `done` in the job counts for nothing.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job.
        house: the shop it is done in.
        now: the present time; with an offset, or taken as UTC.
    """
    log = entries(job, now)
    index = LogIndex(log)
    based = bases(job, advice)
    forbidden = _advice_holds(advice)
    at_work = benches(job, advice, house)
    by_panel: dict[str, list[Bench]] = {panel.id: [] for panel in job.panel}
    for place in advice.places:
        by_panel.setdefault(place.panel, []).append(at_work[place.id])
    named = {place.id for place in advice.places}
    views: list[PanelView] = []
    told = [*_beds(advice), *_borderline(advice), *odd_entries(log, advice.places)]
    holds = [hold for hold in _flat(forbidden.values()) if hold.place not in named]
    for stated in job.panel:
        panel = with_lines(stated, house.outlines)
        own = by_panel.pop(panel.id)
        near = touched_by(panel, [bench.place for bench in own], house.shop.edge_strip_mm)
        replayed = [
            replay(bench, index, based[bench.place.id], near, forbidden.get(bench.place.id, ()))
            for bench in own
        ]
        told.extend(_flat(each.told for each in replayed))
        missing = _unadvised(panel, replayed)
        hours = house.shop.gate_hours
        view = panel_view(panel.id, _name(advice, panel), replayed, index, missing, hours, now)
        views.append(view)
        at_last = [hold for hold in view.holds if hold.why == view.wiped.why]
        first = [hold for hold in view.holds if hold not in at_last]
        holds.extend((*first, *_flat(each.view.holds for each in replayed), *at_last))
    unique = tuple(dict.fromkeys(holds))
    return Gate(not unique and bool(views), unique, tuple(dict.fromkeys(told)), tuple(views))


def checklist(job: Job, advice: Advice, house: ShopFloor, now: dt.datetime) -> tuple[PanelView, ...]:
    """Return every panel's places with their steps, states and what is next, for a screen or a card."""
    return gate(job, advice, house, now).panels


def _flat(groups: Iterable[Iterable[_T]]) -> Iterable[_T]:
    return (each for group in groups for each in group)


def _advice_holds(advice: Advice) -> dict[str, tuple[GateHold, ...]]:
    """Return the advice's holds by place; a spot without a finish holds even where the advice is silent."""
    found: dict[str, list[GateHold]] = {}
    words = Words(advice)
    mended = "change the job, or ask the lead: there is nothing to sand to here"
    for hold in advice.holds:
        place = "/".join(hold.spot.split("/")[:2]) or "job"
        why, mend = hold_why(hold, words), hold_mend(hold, words)
        found.setdefault(place, []).append(GateHold(place, why, mend or mended))
    for spot in advice.spots:
        place = f"{spot.panel}/{spot.feature}"
        if spot.finish is None and place not in found:
            found[place] = [GateHold(place, f"no finish was found in its {spot.zone} zone", mended)]
    return {place: tuple(dict.fromkeys(holds)) for place, holds in found.items()}


def _unadvised(panel: Panel, replayed: Sequence[Replayed]) -> tuple[str, ...]:
    """Name features of the job that the advice has no place for, so that none can slip through the gate."""
    have = {each.view.feature for each in replayed}
    stated = [*(line.id for line in panel.feature), *(patch.id for patch in panel.patch)]
    covered = sum(patch.size_mm[0] * patch.size_mm[1] for patch in panel.patch)
    if covered < panel.length_mm * panel.height_mm:
        stated.insert(0, "face")
    return tuple(feature for feature in stated if feature not in have)


def _name(advice: Advice, panel: Panel) -> str:
    return next((each.name for each in advice.panels if each.id == panel.id and each.name), panel.id)


def _beds(advice: Advice) -> Iterable[str]:
    for panel in advice.panels:
        bed = panel.wet_bed
        if bed.need != "no":
            coats = f"{bed.coats} coat{'' if bed.coats == 1 else 's'}"
            yield f"{panel.id}: wet bed {bed.need}, {coats}, after masking; it holds nothing here"


def _borderline(advice: Advice) -> Iterable[str]:
    for spot in advice.spots:
        if spot.finish and spot.finish.verdict == "borderline":
            yield f"{spot.id}: borderline; spray a test panel or ask the lead"
