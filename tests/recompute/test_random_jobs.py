"""Whole advice of random jobs against the plain re-computation: a slice here, thousands in tests/long."""

import json
import random
from pathlib import Path
from typing import Any, Final

import pytest
import tomli_w

from prepadvisor.files import load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records import BadInputError
from prepadvisor.wording import advice_json
from tests.recompute.comparing import disagreements
from tests.recompute.house import read_house
from tests.recompute.houses import HOUSES, Files
from tests.recompute.jobs import drawn, with_kinds

SLICE: Final = 60
FAILED_ONCE: Final = ((144565094, 4),)
"""Seeds of long runs, and the house of each: a reason of one zone was told of another."""


def checked(seeds: range, files: Files, folder: Path) -> tuple[int, list[str]]:
    """Return how many jobs of these seeds were advised on in a house, and every disagreement."""
    found: list[str] = []
    advised = 0
    own = folder / "house" if any(files) else None
    if own:
        own.mkdir()
        for name, text in zip(("shop", "ours", "colours", "panels"), files, strict=True):
            if text:
                (own / f"{name}.toml").write_text(text, encoding="utf-8")
    house, plain = load_house(own), read_house(own)
    for seed in seeds:
        job = drawn(random.Random(seed))
        if files.panels:
            job = with_kinds(job, list(plain.outlines), random.Random(seed))
        path = folder / "job.toml"
        path.write_text(tomli_w.dumps(job), encoding="utf-8")
        try:
            advice: dict[str, Any] = json.loads(advice_json(advise(load_job(path, house), house)))
        except BadInputError:
            continue
        advised += 1
        found += [f"seed {seed}: {each}" for each in disagreements(job, plain, advice)]
    return advised, found


@pytest.mark.parametrize("number", range(len(HOUSES)))
def test_random_jobs_are_advised_as_recomputed(number: int, tmp_path: Path) -> None:
    """Spots, places, panels, film, beds and what to mix; most drawn jobs load."""
    advised, found = checked(range(SLICE)[number :: len(HOUSES)], HOUSES[number], tmp_path)
    assert advised > SLICE / len(HOUSES) / 2
    assert found == []


@pytest.mark.parametrize(("seed", "number"), FAILED_ONCE)
def test_jobs_that_failed_once_are_advised_as_recomputed(seed: int, number: int, tmp_path: Path) -> None:
    """Each was advised on otherwise than worked out anew, once."""
    assert checked(range(seed, seed + 1), HOUSES[number], tmp_path) == (1, [])
