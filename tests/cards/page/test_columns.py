"""Text in columns: widths by Unicode Standard Annex 11, and wrapping that loses nothing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cards.page.columns import flow, pad, side_by_side, width, wrap

_TEXT = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zs", "Zl", "Zp", "Cf")), max_size=120)
_WORDS = st.lists(_TEXT, max_size=8).map(" ".join)


@pytest.mark.parametrize(
    ("text", "columns"),
    [("door", 4), ("日本", 4), ("é", 1), ("ｄ", 2), ("🚗", 2), ("שלום", 4), ("", 0)],
    ids=["ascii", "wide", "combining", "fullwidth", "emoji", "hebrew", "empty"],
)
def test_width_counts_columns_not_letters(text: str, columns: int) -> None:
    """East Asian Wide and Fullwidth take two columns (UAX #11), combining marks none."""
    assert width(text) == columns


def test_padding_fills_by_columns() -> None:
    """A wide letter is filled with one blank less."""
    assert width(pad("日", 5)) == 5


@settings(max_examples=80, deadline=None)
@given(text=_WORDS, columns=st.integers(6, 90))
def test_wrapping_never_exceeds_the_width_and_loses_no_letter(text: str, columns: int) -> None:
    """Every letter comes out, in order, in lines that fit."""
    lines = wrap(text, columns, first="> ", rest="  ")
    assert max(map(width, lines)) <= columns
    kept = lines[0][2:] + "".join(line[2:] for line in lines[1:])
    assert "".join(kept.split()) == "".join(text.split())


def test_a_word_longer_than_the_line_is_broken_not_lost() -> None:
    """300 letters without a blank still fit."""
    lines = wrap("x" * 300, 40)
    assert max(map(len, lines)) == 40
    assert "".join(lines) == "x" * 300


@settings(max_examples=60, deadline=None)
@given(items=st.lists(_WORDS.filter(str.strip), min_size=1, max_size=6), columns=st.integers(12, 90))
def test_flowing_keeps_every_item_within_the_width(items: list[str], columns: int) -> None:
    """Items side by side, each whole where it fits."""
    lines = flow(items, columns, first="  ", rest="  ")
    assert max(map(width, lines)) <= columns
    assert "".join("".join(lines).split()) == "".join("".join(items).split())


def test_blocks_stand_side_by_side_to_the_height_of_the_tallest() -> None:
    """A short block is filled with blanks."""
    assert side_by_side([["a"], ["b", "c"]], 4) == ["a   b", "    c"]
