"""Long proofs of the table: 100,000 random cases and the spots of 10,000 random jobs. Run by hand."""

import csv
import random
from pathlib import Path

import pytest

from prepadvisor.cli.lead.spot_rows import COLUMNS
from prepadvisor.files import load_house
from prepadvisor.planning import spot_plans
from prepadvisor.standards import Table, columns
from prepadvisor.standards.engine import OUTPUTS
from tests.standards.proof import test_table
from tests.standards.random_jobs import random_case, random_job

CASES = 100_000
JOBS = 10_000


def test_a_hundred_thousand_cases() -> None:
    """Each in at most one row, with the engine's answers and rules."""
    rng, engine = random.Random(1), load_house().engine
    table = Table(engine)
    rows = test_table.Rows(map(table.cells, table.rows()))
    assert sum(test_table.check(rows, engine, random_case(rng)) for _ in range(CASES)) > CASES / 10


def test_ten_thousand_jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every spot of random jobs is joined to one row by the documented SQL, with its reasons."""
    monkeypatch.chdir(tmp_path)
    rng, house = random.Random(2), load_house()
    spots = 0
    with Path("spots.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        for number in range(JOBS):
            for plan in spot_plans(random_job(rng), house):
                row: dict[str, object] = {"job": number, "spot": plan.spot.id}
                for fact, value in plan.case._asdict().items():
                    row[fact] = str(value).lower() if isinstance(value, bool) else value
                for output in OUTPUTS:
                    rules = {reason.rule for reason in plan.spot.because if reason.output == output}
                    row[f"{output}_because"] = "|".join(sorted(rules - {"line-model"}))
                if house.engine.impossible(plan.case) is None:
                    writer.writerow(row)
                    spots += 1
    table = Table(house.engine)
    with Path("table.csv").open("w", encoding="utf-8", newline="") as file:
        rows = csv.DictWriter(file, columns())
        rows.writeheader()
        rows.writerows(map(table.cells, table.rows()))

    joined = test_table.joined_by_sql()

    assert len(joined) == spots
    assert sum(map(test_table.agree, joined)) > spots
