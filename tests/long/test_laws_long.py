"""A thousand fresh seeds of each law, and two thousand random jobs worked out anew: by hand, some minutes.

`pytest tests/long/test_laws_long.py -n 2 -s` prints where it began; `LAW_SEED=N` begins there again. A seed
that fails is kept in `tests/laws/checking.py`.
"""

import os
import random
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.standards import House
from tests.laws.checking import LAWS, Law, broken
from tests.recompute.houses import HOUSES
from tests.recompute.test_random_jobs import checked

FIRST: Final = int(os.environ.get("LAW_SEED") or random.SystemRandom().randrange(10**6, 10**9))
EACH: Final = 1000
JOBS: Final = 2000


@pytest.mark.parametrize("law", LAWS, ids=[law.__name__ for law in LAWS])
def test_a_law_holds_on_fresh_seeds(law: Law, shipped_house: House) -> None:
    """Whatever is drawn."""
    print(f"LAW_SEED={FIRST}")
    tried, found = broken(law, range(FIRST, FIRST + EACH), shipped_house)
    assert tried > EACH / 2
    assert found == []


@pytest.mark.parametrize("number", range(len(HOUSES)))
def test_fresh_random_jobs_are_advised_as_recomputed(number: int, tmp_path: Path) -> None:
    """Spots, places, panels, film, beds, what to mix, and all the work."""
    print(f"LAW_SEED={FIRST}")
    advised, found = checked(range(FIRST, FIRST + JOBS)[number :: len(HOUSES)], HOUSES[number], tmp_path)
    assert advised > JOBS / len(HOUSES) / 2
    assert found == []
