"""One answer to each question on thousands of random jobs, under every house of the re-computation."""

from pathlib import Path
from typing import Final

import pytest

from prepadvisor.files import load_house
from tests.cards.test_one_answer import disagreements
from tests.recompute.houses import HOUSES

SEEDS: Final = 400


@pytest.mark.parametrize("number", range(len(HOUSES)))
def test_every_surface_gives_the_same_answer_in_any_house(number: int, tmp_path: Path) -> None:
    """The shipped standards and houses with own shelves, rules and colour books."""
    own = tmp_path / "house"
    own.mkdir()
    for name, text in zip(("shop", "ours", "colours", "panels"), HOUSES[number], strict=True):
        if text:
            (own / f"{name}.toml").write_text(text, encoding="utf-8")
    house = load_house(own if any(HOUSES[number]) else None)
    assert list(disagreements(range(number, SEEDS, len(HOUSES)), house, tmp_path)) == []
