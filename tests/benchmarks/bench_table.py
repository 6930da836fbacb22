"""Ten million spots joined to the table of decisions by the guide's SQL, beside the program deciding as many.

python tests/benchmarks/bench_table.py [ROWS]; needs duckdb (extra `test`), writes into a temporary folder.
"""

import csv
import os
import random
import re
import sys
import tempfile
import time
from pathlib import Path

import duckdb

sys.path.insert(0, str(Path(__file__).parents[2]))

from prepadvisor.cases import FACTS
from prepadvisor.files import load_house, rules_dir
from prepadvisor.planning import spot_facts
from prepadvisor.standards import Table, columns
from tests.standards.random_jobs import random_job

ROWS = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000_000
_SPREAD = """
COPY (SELECT * REPLACE (
  CASE WHEN film_um IS NULL THEN NULL ELSE 60 + random() * 300 END AS film_um,
  CASE WHEN length_mm IS NULL THEN NULL ELSE random() * 2000 END AS length_mm,
  0.05 + random() * 2 AS panel_m2) FROM 'seed.csv', range({times})) TO 'spots.parquet'
"""


def main() -> None:
    """Print rows, seconds of the join, and seconds of as many decisions."""
    rng, house = random.Random(1), load_house()
    cases = [
        case
        for _ in range(600)
        for _, case in spot_facts(random_job(rng), house)
        if house.engine.impossible(case) is None
    ]
    with Path("seed.csv").open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(("job", "spot", *FACTS))
        for number, case in enumerate(cases):
            rows.writerow((number, number, *(str(v).lower() if isinstance(v, bool) else v for v in case)))
    table = Table(house.engine)
    with Path("table.csv").open("w", encoding="utf-8", newline="") as file:
        decisions = csv.DictWriter(file, columns())
        decisions.writeheader()
        decisions.writerows(map(table.cells, table.rows()))
    base = duckdb.connect()
    base.execute(_SPREAD.format(times=ROWS // len(cases) + 1))
    guide = (rules_dir() / "README.md").read_text("utf-8")
    (sql,) = re.findall(r"```sql\n(.*?)```", guide, re.DOTALL)
    *macros, query = (
        part for part in sql.replace("'spots.csv'", "'spots.parquet'").split(";") if part.strip()
    )
    for macro in macros:
        base.execute(macro)
    start = time.process_time()
    (joined,) = base.execute(f"SELECT count(*) FROM ({query})").fetchone() or (0,)  # noqa: S608 - the guide's own
    join_s = time.process_time() - start
    start = time.process_time()
    decided = 0
    while decided < ROWS // 50:
        for case in cases:
            house.engine.decide(case)
        decided += len(cases)
    one_s = (time.process_time() - start) / decided
    (spots,) = base.execute("SELECT count(*) FROM 'spots.parquet'").fetchone() or (0,)
    print(f"{spots} spots, {joined} joined in {join_s:.1f} s of CPU; as many decisions {one_s * spots:.1f} s")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        main()
