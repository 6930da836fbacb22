"""Cases in shop words: each way of telling values, written out as a lead would say it."""

from collections.abc import Sequence

import pytest

from prepadvisor.cases import Value
from prepadvisor.standards.language.as_words import in_words
from prepadvisor.standards.proof.space import Among

SAID: list[tuple[dict[str, Sequence[Value]], str]] = [
    ({}, "every case"),
    # one value, and values beside one another that reach no end of the order
    ({"flake": ["fine"]}, "fine flake"),
    ({"flake": ["vapour"]}, "vapour flake"),
    ({"flake": ["solid"]}, "solid flake"),
    ({"flake": ["coarse", "medium"]}, "coarse or medium flake"),
    ({"flake": ["solid", "medium"]}, "solid or medium flake"),
    # a run to an end of the order is told by where it begins
    ({"flake": ["very-fine", "vapour"]}, "very-fine or finer flake"),
    ({"flake": ["coarse", "medium", "fine", "very-fine", "vapour"]}, "coarse or finer flake"),
    ({"flake": ["solid", "coarse"]}, "coarse or coarser flake"),
    ({"flake": ["solid", "coarse", "medium", "fine"]}, "fine or coarser flake"),
    # many of many: by what is missing; as many as that: in full
    ({"flake": ["solid", "coarse", "fine", "very-fine", "vapour"]}, "any but medium flake"),
    ({"flake": ["solid", "coarse", "fine", "vapour"]}, "solid or coarse or fine or vapour flake"),
    ({"next": ["sealer", "base", "clear"]}, "any but primer next"),
    ({"next": ["sealer", "clear"]}, "sealer or clear next"),
    # of three values two are told, whether they reach an end or not; no words speak of finer zones
    ({"zone": ["clear", "fade"]}, "clear or fade zone"),
    ({"role": ["repair", "clear-only"]}, "repair or clear-only panel"),
    # words of their own stand alone, unless one of the values has none
    ({"reach": ["hand"]}, "by hand only"),
    ({"reach": ["machine"]}, "where a machine reaches"),
    ({"seen": [False]}, "not seen"),
    ({"special": ["none"]}, "nothing special"),
    ({"special": ["none", "radar"]}, "special: none or radar"),
    # colours of a book: what a rule names, and all but those
    ({"book": Among(["hm-3"], ["other", "hm-3"])}, "colour hm-3 of the book"),
    ({"book": Among(["other"], ["other", "a", "b"])}, "any colour but a or b, in the book or not"),
    # kinds of panel: of those that the standards tell apart
    ({"panel": Among(["roof", "sill"], ["roof", "sill", "bonnet"])}, "roof or sill"),
    # numbers with their unit, which no reading has none of
    ({"film_um": ["unknown"]}, "film unknown"),
    ({"film_um": ["known"]}, "film known"),
    ({"film_um": ["< 90"]}, "film < 90 µm"),
    ({"film_um": ["unknown", "90 .. 120"]}, "film unknown or 90 .. 120 µm"),
    ({"length_mm": [">= 300"]}, "line length >= 300 mm"),
    # a face or patch is no line; it is told once, and not of places that all are lines
    ({"length_mm": ["unknown"]}, "a face or patch"),
    ({"length_mm": ["unknown", "> 900"]}, "line length > 900 mm, or a face or patch"),
    ({"feature": ["patch"], "length_mm": ["unknown"]}, "patch"),
    ({"feature": ["edge"], "length_mm": ["unknown", "> 900"]}, "edge; line length > 900 mm"),
    ({"feature": ["face", "edge"], "length_mm": ["> 900"]}, "face or edge; line length > 900 mm"),
    ({"panel_m2": ["> 1.5"]}, "panel size > 1.5 m²"),
    # several facts, one after the other as they are given
    (
        {"flake": ["very-fine", "vapour"], "zone": ["fade"], "feature": ["edge", "flange"], "seen": [False]},
        "very-fine or finer flake; fade zone; edge or flange; not seen",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("limits", "says"), SAID, ids=[says for _, says in SAID])
def test_a_case_is_told_in_shop_words(limits: dict[str, Sequence[Value]], says: str) -> None:
    """As a person would write it by the table of facts."""
    assert in_words(limits) == says
