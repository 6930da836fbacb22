"""The wall table."""

import io
import re
from html.parser import HTMLParser

import pytest
from pypdf import PdfReader

from prepadvisor.cards.wall import Wall, wall, write_wall
from prepadvisor.records import FLAKES, RANK
from prepadvisor.standards import House


@pytest.fixture(scope="module")
def table(shipped_house: House) -> Wall:
    """The table of the shipped standards."""
    return wall(shipped_house)


def test_there_is_a_row_for_each_flake(table: Wall) -> None:
    """Coarse to fine."""
    assert tuple(row.flake for row in table.rows) == FLAKES


@pytest.mark.practice
@pytest.mark.parametrize(
    ("flake", "face", "hand", "hand_last"),
    [
        ("solid", "P800", "P500", "P800"), ("coarse", "P800", "P600", "P800"),
        ("medium", "P800", "P600", "P1000"), ("fine", "P1000", "P800", "P1500"),
        ("very-fine", "P1000", "P1000", "P1500"), ("vapour", "P1500", "P1200", "P1500"),
    ],
)  # fmt: skip
def test_the_fade_is_what_practice_asks(
    table: Wall, flake: str, face: str, hand: str, hand_last: str
) -> None:
    """Practice for blends over clear; hand as last touch under fine flake is finer by the line model."""
    row = next(row for row in table.rows if row.flake == flake)
    assert (row.face, row.hand, row.hand_last) == (face, hand, hand_last)


def test_a_finer_flake_is_never_given_a_coarser_grade(table: Wall) -> None:
    """Down each column of single grades."""
    for field in ("face", "hand", "hand_last", "colour_face", "colour_hand"):
        ranks = [RANK[getattr(row, field)] for row in table.rows]
        assert ranks == sorted(ranks), field


def test_all_forms_hold_the_same_values(table: Wall) -> None:
    """Text, page and PDF; the PDF is one page."""
    text, page = str(write_wall(table)), str(write_wall(table, "html"))
    pdf = PdfReader(io.BytesIO(bytes(write_wall(table, "pdf"))))  # type: ignore[arg-type]
    assert len(pdf.pages) == 1
    printed = " ".join(pdf.pages[0].extract_text().split())
    for row in table.rows:
        for value in row[1:]:
            assert value.lower() in text.lower()
            assert value.replace(">", "&gt;") in page
            assert value in printed


def test_the_text_fits_80_columns(table: Wall) -> None:
    """As every printer has them."""
    assert max(map(len, str(write_wall(table)).splitlines())) <= 80


def test_the_page_asks_nothing_from_outside(table: Wall) -> None:
    """No address in it, and every picture says what it is."""
    page = str(write_wall(table, "html", "a3"))
    assert "http" not in page
    assert len(re.findall("<svg", page)) == len(re.findall("aria-label", page)) > 0
    HTMLParser().feed(page)


@pytest.mark.parametrize(("paper", "mm"), [("a4", (297, 210)), ("a3", (420, 297)), ("letter", (279, 216))])
def test_the_paper_lies_across(table: Wall, paper: str, mm: tuple[int, int]) -> None:
    """Sizes of ISO 216 (from memory) and letter, 11 by 8.5 inches."""
    box = PdfReader(io.BytesIO(bytes(write_wall(table, "pdf", paper)))).pages[0].mediabox  # type: ignore[arg-type]
    assert (round(float(box.width) / 72 * 25.4), round(float(box.height) / 72 * 25.4)) == mm
