"""Every value of a fact has its word: one left out is found here, not as a crash of a card."""

from typing import Any, get_args

import pytest

from prepadvisor.records import words
from prepadvisor.standards.engine import OUTPUTS
from prepadvisor.wording import names as trade

TABLES: dict[str, tuple[Any, Any]] = {
    "flake": (trade.FLAKE, words.Flake),
    "tone": (trade.TONE, words.Tone),
    "role": (trade.ROLE, words.Role),
    "surface": (trade.SURFACE, words.Surface),
    "next": (trade.NEXT, words.NextCoat),
    "zone": (trade.ZONE, words.Zone),
    "zone in short": (trade.ZONE_SHORT, words.Zone),
    "tool": (trade.TOOL, words.Tool),
    "place": (trade.KIND, words.FeatureKind),
    "panel": (trade.OUTLINE, words.OutlineKind),
}


@pytest.mark.parametrize("name", TABLES)
def test_every_value_has_its_word_and_no_word_is_idle(name: str) -> None:
    """The table and the fact hold the same values."""
    table, values = TABLES[name]
    assert set(table) == set(values if isinstance(values, tuple) else get_args(values))


def test_every_special_but_none_has_its_word() -> None:
    """A panel without a special is not spoken of."""
    assert set(trade.SPECIAL) == set(words.SPECIALS) - {"none"}


def test_every_output_of_a_rule_has_its_words() -> None:
    """The line model answers beside the rules."""
    assert set(trade.OUTPUT) == {*OUTPUTS, "line"}
