"""The card as one HTML file that prints on its own: typeface and drawings inside, nothing from outside."""

import base64
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from prepadvisor.cards.page.leaf import largest_pt
from prepadvisor.cards.page.typeface import FONTS
from prepadvisor.version import __version__

if TYPE_CHECKING:
    from prepadvisor.cards.page.pages import Pages

_TEMPLATES: Final = Path(__file__).parent / "templates"


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
