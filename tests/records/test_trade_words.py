"""Words of the trade's other half on the command line."""

import pytest

from prepadvisor.records import first_word, first_words_of_place, other_keys


@pytest.mark.parametrize(
    ("kind", "word", "first"),
    [
        ("zone", "color", "colour"),
        ("flake", "vapor", "vapour"),
        ("panel", "hood", "bonnet"),
        ("panel", "fender", "front-wing"),
        ("result", "burn-through", "cut-through"),
        ("panel", "moon", "moon"),
    ],
)
def test_an_other_word_becomes_the_first(kind: str, word: str, first: str) -> None:
    """UK and US words, by the glossary; what is no word stays as it is."""
    assert first_word(kind, word) == first


@pytest.mark.parametrize(
    ("place", "first"),
    [
        ("A4", "A4"),
        ("hood", "bonnet"),
        ("hood/E1", "bonnet/E1"),
        ("door/arch/color", "door/arch/colour"),
        ("door/face/fade", "door/face/fade"),
    ],
)
def test_a_place_is_asked_for_in_either_word(place: str, first: str) -> None:
    """Panel and zone are words; a line's id is a name."""
    assert first_words_of_place(place) == first


def test_other_spellings_of_a_key_are_by_table() -> None:
    """The colour's table is at the top of a file, the reach of full colour in a panel."""
    assert other_keys("", "colour") == ("color",)
    assert other_keys("panel", "colour_mm") == ("color_mm",)
    assert other_keys("patch", "colour_mm") == ()
