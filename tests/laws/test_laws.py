"""Laws of the advice on jobs drawn with fixed seeds, bent to corners; fresh seeds are drawn in tests/long."""

from typing import Final

import pytest

from prepadvisor.standards import House
from tests.laws.checking import KEPT, LAWS, Law, broken

SEEDS: Final = 25


@pytest.mark.parametrize("law", LAWS, ids=[law.__name__ for law in LAWS])
def test_a_law_holds(law: Law, shipped_house: House) -> None:
    """Each law says itself what it holds; most drawn jobs load."""
    tried, found = broken(law, [*range(SEEDS), *KEPT[law.__name__]], shipped_house)
    assert tried > SEEDS / 2
    assert found == []
