"""Whole advice of random jobs against the plain re-computation: a slice here, thousands in tests/long."""

import json
import random
from pathlib import Path
from typing import Any, Final

import tomli_w

from prepadvisor.files import load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records.fault import BadInputError
from prepadvisor.wording.json_form import advice_json
from tests.recompute.comparing import disagreements
from tests.recompute.house import read_house
from tests.recompute.houses import HOUSES
from tests.recompute.jobs import drawn

SLICE: Final = 60


def checked(seeds: range, folder: Path) -> tuple[int, list[str]]:
    """Return how many jobs of these seeds were advised on, and every disagreement."""
    found: list[str] = []
    advised = 0
    for number, (shop, rules) in enumerate(HOUSES):
        own = folder / f"house{number}" if shop or rules else None
        if own:
            own.mkdir()
            (own / "shop.toml").write_text(shop, encoding="utf-8")
            if rules:
                (own / "ours.toml").write_text(rules, encoding="utf-8")
        house, plain = load_house(own), read_house(own)
        for seed in seeds[number :: len(HOUSES)]:
            job = drawn(random.Random(seed))
            path = folder / "job.toml"
            path.write_text(tomli_w.dumps(job), encoding="utf-8")
            try:
                advice: dict[str, Any] = json.loads(advice_json(advise(load_job(path, house), house)))
            except BadInputError:
                continue
            advised += 1
            found += [f"seed {seed}: {each}" for each in disagreements(job, plain, advice)]
    return advised, found


def test_random_jobs_are_advised_as_recomputed(tmp_path: Path) -> None:
    """Spots, places, panels, film, beds and what to mix; most drawn jobs load."""
    advised, found = checked(range(SLICE), tmp_path)
    assert advised > SLICE / 2
    assert found == []
