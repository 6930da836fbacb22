"""Widths of the card's typeface and line breaks: measured as the PDF writer measures, nothing lost."""

import pytest
from fpdf import FPDF
from hypothesis import given
from hypothesis import strategies as st

from prepadvisor.cards.page.typeface import FONTS, STAND_IN, printable, typeface, width_mm, wrap

SENTENCES = ("P1000 or finer", "front edge, 150–700 mm", "Straße Ørsted Łódź Καλημέρα Привет", "½ µm × 3 ≥ ✓")


@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize("text", SENTENCES)
def test_a_width_is_the_one_that_fpdf2_reads_from_the_same_font(text: str, bold: bool) -> None:
    """Two readers of the OpenType tables hmtx and cmap (ISO/IEC 14496-22) agree closely."""
    pdf = FPDF(unit="mm")
    style = "B" if bold else ""
    pdf.add_font("Card", style, FONTS / f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf")
    pdf.set_font("Card", style, 10)
    theirs = pdf.get_string_width(text)
    for font in pdf.fonts.values():
        font.close()  # type: ignore[union-attr]
    assert width_mm(text, 10, bold) == pytest.approx(theirs, abs=0.005 * len(text))


def test_a_width_goes_with_the_type_size() -> None:
    """Twice the size is twice the width."""
    assert width_mm("P1500", 30) == pytest.approx(2 * width_mm("P1500", 15))


@given(
    st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=120),
    st.floats(min_value=8, max_value=200),
    st.sampled_from([8.0, 15.0]),
)
def test_no_line_is_too_wide_and_no_letter_is_lost(text: str, room: float, size: float) -> None:
    """A single letter may be wider than a very narrow column; anything longer never is."""
    lines = wrap(text, room, size)
    assert "".join(lines).replace(" ", "") == "".join(text.split())
    assert [line for line in lines if len(line) > 1 and width_mm(line, size) > room + 1e-9] == []


def test_an_id_without_blanks_is_never_broken_where_it_fits_a_line() -> None:
    """The id goes to the next line whole."""
    assert wrap("see left-front-door/E1", width_mm("left-front-door/E1", 9) + 1, 9) == (
        "see",
        "left-front-door/E1",
    )


def test_a_character_the_typeface_lacks_is_stood_in_for_and_never_dropped() -> None:
    """Chinese, a car sign, and a selector that only changes the sign before it."""
    assert printable("A中🚗\ufe0fZ") == f"A{STAND_IN}{STAND_IN}Z"


def test_a_character_the_typeface_lacks_is_given_room() -> None:
    """A full-width character is one size wide, and more is kept free for it."""
    assert width_mm("中", 10) >= 10 * 25.4 / 72


def test_the_typeface_has_the_letters_of_european_names() -> None:
    """Latin with its accents, Greek, Cyrillic."""
    letters = [chr(code) for code in (*range(0x20, 0x7F), *range(0xA1, 0x180), *range(0x391, 0x3A2))]
    assert [letter for letter in letters if not typeface().has(letter)] == []
