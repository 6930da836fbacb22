"""The card as one HTML file that prints on its own: typeface and drawings inside, nothing from outside."""

import base64
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from prepadvisor.cards.page.leaf import largest_pt
from prepadvisor.cards.page.typeface import FONTS, PaperName
from prepadvisor.version import __version__

if TYPE_CHECKING:
    from prepadvisor.cards.page.pages import Pages
    from prepadvisor.records import Advice, Job
    from prepadvisor.records.gate import Gate
    from prepadvisor.standards import House

_TEMPLATES: Final = Path(__file__).parent / "templates"


def write_html(
    job: "Job",
    advice: "Advice",
    house: "House",
    *,
    paper: PaperName = "a4",
    sheets: str = "first",
    gate: "Gate | None" = None,
) -> str:
    """Return a job's card as one HTML file.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        paper: the paper it is set for.
        sheets: "all" adds the sheet that shows why.
        gate: where the log leaves the work; None leaves every box open.
    """
    from prepadvisor.cards.page.set_card import set_card

    return html_card(set_card(job, advice, house, paper=paper, sheets=sheets, gate=gate))


def html_card(pages: "Pages") -> str:
    """Return a card that is set on pages as one HTML file; every text in it is escaped."""
    template = _environment().get_template("card.html.j2")
    return template.render(
        pages=pages, version=__version__, regular=_font("page.woff"), bold=_font("page-Bold.woff")
    )


@lru_cache(maxsize=1)
def _environment() -> Environment:
    environment = Environment(loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined)
    environment.filters["mm"] = _number
    environment.filters["kind"] = _kind
    environment.filters["largest"] = largest_pt
    return environment


@lru_cache(maxsize=2)
def _font(name: str) -> str:
    return base64.b64encode((FONTS / name).read_bytes()).decode("ascii")


def _number(value: float) -> str:
    """Return a number with at most three decimals, as CSS and SVG write it."""
    return f"{value:.3f}".rstrip("0").rstrip(".") or "0"


def _kind(record: object) -> str:
    return type(record).__name__
