"""Writes a card in the form that was asked for; each form's code is loaded only when it is wanted."""

from typing import TYPE_CHECKING, Literal, assert_never

if TYPE_CHECKING:
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.records import Advice, Gate, Job
    from prepadvisor.records.card import Form as Form
    from prepadvisor.standards import House

Sheets = Literal["first", "all"]


def write_card(
    job: "Job",
    advice: "Advice",
    house: "House",
    to: "Form" = "text",
    paper: "PaperName" = "a4",
    sheets: Sheets = "first",
    gate: "Gate | None" = None,
) -> str | bytes:
    """Return the card of a job: text, a page or the advice as JSON in a str, a PDF in bytes.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        to: the form.
        paper: the paper of a page or PDF.
        sheets: "all" adds the sheet for training and the lead to a page or PDF.
        gate: where the log leaves its work; None leaves every box open and finds nothing.

    Raises:
        ModuleNotFoundError: for a PDF where the pdf extra is not installed.
    """
    if to == "json":
        from prepadvisor.wording import advice_json

        return advice_json(advice, gate) + "\n"
    from prepadvisor.cards.sheet.papers import Papers

    papers = Papers(job, advice, house, gate)
    match to:
        case "html":
            from prepadvisor.cards.page.html import html_card
            from prepadvisor.cards.page.set_card import set_card

            return html_card(set_card(papers, paper=paper, sheets=sheets))
        case "pdf":
            from prepadvisor.cards.page.pdf import write_pdf

            return write_pdf([papers], paper=paper, sheets=sheets)
        case "text":
            from prepadvisor.cards.page.text import write_text
            from prepadvisor.cards.sheet.build import card_sheet

            return write_text(card_sheet(papers))
        case _:
            assert_never(to)
