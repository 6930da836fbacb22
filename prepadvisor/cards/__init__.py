"""Cards to work from: one sheet of facts, printed as text, page, PDF or JSON."""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.cards.day import Day as Day
    from prepadvisor.cards.day import DayForm as DayForm
    from prepadvisor.cards.day import DayJob as DayJob
    from prepadvisor.cards.day import Load as Load
    from prepadvisor.cards.day import age as age
    from prepadvisor.cards.day import day_of as day_of
    from prepadvisor.cards.day import day_of_lines as day_of_lines
    from prepadvisor.cards.day import job_line as job_line
    from prepadvisor.cards.day import state as state
    from prepadvisor.cards.day import sums_parts as sums_parts
    from prepadvisor.cards.day import sums_says as sums_says
    from prepadvisor.cards.day import write_day as write_day
    from prepadvisor.cards.figures.drawing import bed_span_mm as bed_span_mm
    from prepadvisor.cards.figures.drawing import ends_of as ends_of
    from prepadvisor.cards.figures.drawing import is_mirrored as is_mirrored
    from prepadvisor.cards.fit.page import fit_facts as fit_facts
    from prepadvisor.cards.fit.page import fit_pages as fit_pages
    from prepadvisor.cards.fit.page import plan_pages as plan_pages
    from prepadvisor.cards.fit.report import FitReport as FitReport
    from prepadvisor.cards.fit.report import FitStage as FitStage
    from prepadvisor.cards.fit.report import FitTold as FitTold
    from prepadvisor.cards.fit.report import colour_records as colour_records
    from prepadvisor.cards.fit.report import fitted_report as fitted_report
    from prepadvisor.cards.fit.text import fit_text as fit_text
    from prepadvisor.cards.fit.text import said_blocks as said_blocks
    from prepadvisor.cards.lead.doing import doing_says as doing_says
    from prepadvisor.cards.lead.doing import told_difference as told_difference
    from prepadvisor.cards.lead.doing import why_nothing as why_nothing
    from prepadvisor.cards.outcomes import Gathered as Gathered
    from prepadvisor.cards.outcomes import gathered as gathered
    from prepadvisor.cards.outcomes import outcomes_blocks as outcomes_blocks
    from prepadvisor.cards.outcomes import outcomes_lines as outcomes_lines
    from prepadvisor.cards.page.columns import wrap as wrap
    from prepadvisor.cards.page.html import html_card as html_card
    from prepadvisor.cards.page.pdf import pdf_card as pdf_card
    from prepadvisor.cards.page.pdf import write_pdf as write_pdf
    from prepadvisor.cards.sheet.papers import Papers as Papers
    from prepadvisor.cards.write import write_card as write_card

_PARTS = {
    "day": "Day DayForm DayJob Load age day_of day_of_lines job_line state sums_parts sums_says write_day",
    "figures.drawing": "bed_span_mm ends_of is_mirrored",
    "fit.page": "fit_facts fit_pages plan_pages",
    "fit.report": "FitReport FitStage FitTold colour_records fitted_report",
    "fit.text": "fit_text said_blocks",
    "lead.doing": "doing_says told_difference why_nothing",
    "outcomes": "Gathered gathered outcomes_blocks outcomes_lines",
    "page.columns": "wrap",
    "page.html": "html_card",
    "page.pdf": "pdf_card write_pdf",
    "sheet.papers": "Papers",
    "write": "write_card",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
