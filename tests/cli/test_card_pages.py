"""The page card as a real browser prints it: its pages, every row on them, each where the PDF has it."""

import io
import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pypdf
import pytest

from prepadvisor.cards.page.html import html_card
from prepadvisor.cards.page.pages import Pages
from prepadvisor.cards.page.pdf import pdf_card
from prepadvisor.cards.page.set_card import set_card
from prepadvisor.cards.page.typeface import PaperName
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.planning import advise
from prepadvisor.records import Job
from prepadvisor.standards import House

CHROMIUM = next(
    (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), ""
)
CASES: list[tuple[int, PaperName, str]] = [
    (12, "a4", "all"),
    (12, "letter", "first"),
    (60, "letter", "first"),
]
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(not CHROMIUM, reason="no Chromium on this machine"),
]


class Word(NamedTuple):
    """A piece of printed text with its page and its place from the left bottom, in mm."""

    page: int
    text: str
    x_mm: float
    y_mm: float


def job_of(rows: int) -> Job:
    """Make a job with so many places on one door."""
    lines = [
        {
            "id": f"E{n}", "kind": ("edge", "body-line", "recess", "flange")[n % 4], "name": f"line {n}",
            "path": [[0.01 + n / rows * 0.9, 0.1], [0.01 + n / rows * 0.9, 0.9]],
            "reach": "machine" if n % 4 < 2 else "hand",
        }
        for n in range(1, rows)
    ]  # fmt: skip
    panel = {
        "id": "left-front-door", "kind": "front-door", "role": "blend", "surface": "aged-clear",
        "length_mm": 1050, "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400,
        "feature": lines,
    }  # fmt: skip
    colour = {"name": "Harbour mist", "flake": "very-fine"}
    return Job.model_validate({"job": {"number": "1042"}, "colour": colour, "panel": [panel]})


def print_page(page: str, folder: Path) -> bytes:
    """Print a HTML page to PDF with an empty profile and no network of the browser's own."""
    source, target = folder / "card.html", folder / "card.pdf"
    source.write_text(page, encoding="utf-8")
    subprocess.run(
        [
            CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-extensions",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            "--no-default-browser-check", "--host-resolver-rules=MAP * ~NOTFOUND",
            f"--user-data-dir={folder / 'profile'}", "--no-pdf-header-footer", f"--print-to-pdf={target}",
            source.as_uri(),
        ],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    return target.read_bytes()


@cache
def read(pdf: bytes) -> tuple[str, list[Word]]:
    """Read a PDF: all its text, a blank for any white space, and every piece of it with its place."""
    found: list[Word] = []
    texts = []
    for number, page in enumerate(pypdf.PdfReader(io.BytesIO(pdf)).pages):

        def note(text: str, cm: Any, tm: Any, _font: Any, _size: Any, number: int = number) -> None:
            x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            if text.strip():
                found.append(Word(number, text.strip(), x * 25.4 / 72, y * 25.4 / 72))

        texts += page.extract_text(visitor_text=note).split()
    return " ".join(texts), found


@pytest.fixture(scope="module", params=CASES, ids=lambda case: "-".join(map(str, case)))
def printed(
    request: pytest.FixtureRequest, shipped_house: House, tmp_path_factory: pytest.TempPathFactory
) -> tuple[int, Pages, bytes]:
    """A card of so many rows, set on pages and printed by the browser."""
    rows, paper, sheets = request.param
    job = job_of(rows)
    card = set_card(Papers(job, advise(job, shipped_house), shipped_house), paper=paper, sheets=sheets)
    return rows, card, print_page(html_card(card), tmp_path_factory.mktemp("card"))


def test_a_browser_prints_as_many_pages_as_the_card_says(printed: tuple[int, Pages, bytes]) -> None:
    """Of the paper it was set for, to half a millimetre; ISO 216 and 8.5 × 11 inch."""
    _, card, pdf = printed
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == len(card.pages)
    box = pages[0].mediabox
    size = (float(box.width) * 25.4 / 72, float(box.height) * 25.4 / 72)
    assert size == pytest.approx((card.paper.width_mm, card.paper.height_mm), abs=0.5)


def test_every_row_is_in_the_browsers_print(printed: tuple[int, Pages, bytes]) -> None:
    """The name of each line, and every page's own label."""
    rows, card, pdf = printed
    text, _ = read(pdf)
    assert [n for n in range(1, rows) if f"line {n} " not in text] == []
    assert [page.label for page in card.pages if page.label not in text] == []


def test_the_browser_prints_each_row_where_the_pdf_has_it(printed: tuple[int, Pages, bytes]) -> None:
    """Closely: the heights the layout computed are those the browser takes."""
    _, card, pdf = printed
    ours = {word.text: word for word in read(pdf_card([card]))[1] if word.text.startswith("line ")}
    theirs = {word.text: word for word in read(pdf)[1] if word.text.startswith("line ")}
    shared = sorted(set(ours) & set(theirs))
    assert len(shared) >= len(ours) * 0.9 >= 9
    for text in shared:
        assert theirs[text].page == ours[text].page
        assert (theirs[text].x_mm, theirs[text].y_mm) == pytest.approx(
            (ours[text].x_mm, ours[text].y_mm), abs=1.0
        )
