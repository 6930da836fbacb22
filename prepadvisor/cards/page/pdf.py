"""The card as a PDF: the same pages as in HTML, with the typeface embedded so that any name prints.

Needs fpdf2, which comes with the extra `prepadvisor[pdf]`. A right-to-left name is turned into reading order,
its letters are not joined; a sign that the typeface lacks stands as an empty box.
"""

import datetime as dt
import logging
from collections.abc import Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from fpdf import FPDF
from fpdf.fonts import TTFFont

from prepadvisor import __version__
from prepadvisor.cards.page.ink import FAMILY
from prepadvisor.cards.page.pages import Pages, PrintedPage
from prepadvisor.cards.page.pdf_leaf import print_leaf
from prepadvisor.cards.page.sizes import PaperName
from prepadvisor.cards.page.typeface import FONTS, printable
from prepadvisor.records.advice import Advice
from prepadvisor.records.gate import Gate
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House

if TYPE_CHECKING:
    from collections.abc import Iterator

_TITLES_MAX: Final = 3
_UNDATED: Final = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)


def write_pdf(
    jobs: Sequence[tuple[Job, Advice]],
    house: House,
    *,
    paper: PaperName = "a4",
    sheets: str = "first",
    gates: Sequence[Gate | None] | None = None,
    made_at: dt.datetime | None = None,
) -> bytes:
    """Return the cards of one or more jobs as one PDF, with a bookmark for each job where there are several.

    Args:
        jobs: jobs as loaded, each with what was advised for exactly it.
        house: what they were advised by.
        paper: the paper.
        sheets: "all" adds the sheet that shows why.
        gates: for each job where the log leaves it; None leaves every box open.
        made_at: the time written into the file; without it the first job's date, so that the same card is the
            same bytes.
    """
    from prepadvisor.cards.page.set_card import set_card

    each = gates or [None] * len(jobs)
    cards = [
        set_card(job, advice, house, paper=paper, sheets=sheets, gate=done)
        for (job, advice), done in zip(jobs, each, strict=True)
    ]
    day = next((job.job.date for job, _ in jobs if job.job.date), None)
    dated = dt.datetime(day.year, day.month, day.day, tzinfo=dt.UTC) if day else _UNDATED
    return pdf_card(cards, made_at or dated)


def pdf_card(cards: Sequence[Pages], made_at: dt.datetime = _UNDATED) -> bytes:
    """Return cards that are set on pages as one PDF."""
    pdf = _Document(unit="mm")
    pdf.set_auto_page_break(auto=False)
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.add_font(FAMILY, "", FONTS / "DejaVuSansCondensed.ttf")
    pdf.add_font(FAMILY, "B", FONTS / "DejaVuSansCondensed-Bold.ttf")
    pdf.set_lang("en")
    pdf.set_title(printable(_title(cards)))
    pdf.set_subject("How to prepare the panels of a paint job")
    pdf.set_creator(f"prepadvisor {__version__}")
    pdf.set_creation_date(made_at)
    with _quiet():
        for card in cards:
            for number, page in enumerate(card.pages):
                pdf.add_page(format=(card.paper.width_mm, card.paper.height_mm))
                pdf.end_lines_flat()
                if number == 0 and len(cards) > 1:
                    pdf.start_section(printable(card.title))
                _page(pdf, page)
        whole = bytes(pdf.output())
    pdf.close_fonts()
    return whole


def _title(cards: Sequence[Pages]) -> str:
    """Return the title of a file: its jobs, or how many where a window's title would not hold them."""
    if len(cards) > _TITLES_MAX:
        return f"Prep cards of {len(cards)} jobs"
    return " / ".join(card.title for card in cards)


class _Document(FPDF):
    """A PDF whose lines end where they end; fpdf2 lets them reach half a width on."""

    def end_lines_flat(self) -> None:
        """Set butt line ends and mitred corners for the page that was just begun (ISO 32000-1, 8.4.3)."""
        self._out("0 J 0 j")

    def close_fonts(self) -> None:
        """Close the font files, which fpdf2 leaves open."""
        for font in self.fonts.values():
            if isinstance(font, TTFFont):
                font.close()


def _page(pdf: FPDF, page: PrintedPage) -> None:
    for leaf in page.leaves:
        print_leaf(pdf, leaf)


@contextmanager
def _quiet() -> "Iterator[None]":
    """Keep the font tools' notes on what they leave out of a font off the screen."""
    logger = logging.getLogger("fontTools")
    level = logger.level
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        logger.setLevel(level)
