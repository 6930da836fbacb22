"""Makes the sheet of a card from a job, its advice and the house it was advised by."""

from prepadvisor.cards.sheet import booth, closing, top
from prepadvisor.cards.sheet.notes import notes_of
from prepadvisor.cards.sheet.panels import panel_sheet
from prepadvisor.cards.sheet.papers import Papers, Ticks
from prepadvisor.cards.sheet.record import CardSheet, JobLine
from prepadvisor.records.advice import Advice
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House
from prepadvisor.wording import trade as words


def card_sheet(job: Job, advice: Advice, house: House, ticks: Ticks | None = None) -> CardSheet:
    """Return every fact of a job's card in printing order, in words and in the job's units.

    Args:
        job: the job as loaded, with its outlines' lines filled in.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        ticks: steps that stand as done, by place id or panel id; None leaves every box open.
    """
    papers = Papers(job, advice, house, ticks)
    holds = top.hold_notes(papers)
    notes = notes_of(papers)
    choices = top.choices(papers)
    return CardSheet(
        head=_job_line(advice),
        headline=top.headline(holds, choices),
        holds=holds,
        choices=choices,
        taken=top.taken(papers),
        standing=closing.STANDING,
        before_sanding=booth.before_sanding(papers),
        panels=tuple(panel_sheet(papers, panel, notes.own) for panel in advice.panels),
        notes=notes.shared,
        drills=closing.drills(papers),
        before_paint=booth.before_paint(papers),
        booth=booth.booth_steps(papers),
        materials=booth.materials(papers),
        accepted=closing.accepted(papers),
        signatures=closing.SIGNATURES,
        why=closing.why(papers),
        deviations=papers.deviation_lines(),
        rests_on=closing.rests_on(papers),
        cautions=closing.SAFETY,
    )


def _job_line(advice: Advice) -> JobLine:
    head = advice.job
    paint = f"{words.FLAKE[head.flake]}, {words.TONE.get(head.tone, head.tone)}"
    stages = ", three-stage" if head.stages == 3 else ""
    return JobLine(head.number, head.colour, paint + stages, head.vehicle, head.date or "", head.by)
