"""The table of decisions, read as an outsider reads it: cell by cell, against the engine and spots."""

import csv
import io
import random
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import duckdb
import pytest

from prepadvisor.cases import CATEGORY, NUMBER, Facts
from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, load_house
from prepadvisor.records import FLAKES, Grade, OutputName
from prepadvisor.standards import House, Table, TooIntricateError, columns
from prepadvisor.standards.engine import OUTPUTS, Engine, Interval, Rule, Setting, box_of
from prepadvisor.standards.proof import answers as in_answers
from prepadvisor.standards.proof import table as in_table
from prepadvisor.standards.proof.answers import STEPS_MOST
from tests.standards.random_jobs import random_case

CASES = 3_000
GUIDE = Path(__file__).parents[3] / "rules" / "README.md"
SQL = re.search(r"```sql\n(.*?)```", GUIDE.read_text("utf-8"), re.DOTALL)

HOUSE = """
[[rule]]
id = "ours-thin"
says = "Thin or unmeasured bonnets: P1200."
when = { panel = "bonnet", film_um = ["no reading", "< 100"], zone = "fade", flake = ">= fine" }
set = { finish_coarsest = "P1200" }
source = "ours"

[[rule]]
id = "ours-long"
says = "Long seen lines of a large panel: guide coat at every change."
when = { length_mm = "> 800", panel_m2 = ">= 1.2", seen = true }
set = { guide_coat = "every-change" }
source = "ours"

[[rule]]
id = "ours-hand"
says = "Crests by hand only."
when = { feature = "body-line", zone = "colour", flake = "vapour" }
set = { machine = "never", hand_last_coarsest = "P1500" }
source = "ours"

[[withdraw]]
rule = "hand-vapour"
because = "See ours."
"""

Cells = Mapping[str, str | float | None]


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    """Return the shipped standards with a house over them that cuts numbers and keeps machines off."""
    folder = tmp_path_factory.mktemp("ours")
    (folder / "rules.toml").write_text(HOUSE, encoding="utf-8")
    return load_house(folder)


def holds(row: Cells, case: Facts) -> bool:
    """Say whether a row is about a case, by what its columns are said to mean."""
    stated = case._asdict()
    for fact in CATEGORY:
        value = stated[fact]
        word = str(value).lower() if isinstance(value, bool) else str(value)
        if row[fact] and word not in str(row[fact]).split("|"):
            return False
    for fact in NUMBER:
        number, low, below = stated[fact], row[f"{fact}_from"], row[f"{fact}_below"]
        if number is None:
            if row[f"{fact}_unknown"] == "no":
                return False
        elif (
            row[f"{fact}_unknown"] == "yes"
            or (low is not None and number < float(low))
            or (below is not None and number >= float(below))
        ):
            return False
    return True


class Rows:
    """The rows of a table, found by the facts that cut it most."""

    KEY = ("special", "surface", "next", "role", "zone", "reach")

    def __init__(self, rows: Iterator[Cells]) -> None:
        """Put every row under each of the keys it may be about."""
        self.by_key: dict[tuple[str, ...], list[Cells]] = {}
        self.any: list[Cells] = []
        for row in rows:
            keys: list[tuple[str, ...]] = [()]
            for fact in self.KEY:
                values = str(row[fact]).split("|") if row[fact] else ["*"]
                keys = [(*key, value) for key in keys for value in values]
            for key in keys:
                self.by_key.setdefault(key, []).append(row)

    def of(self, case: Facts) -> list[Cells]:
        """Return the rows that are about a case."""
        keys: list[tuple[str, ...]] = [()]
        for fact in self.KEY:
            keys = [(*key, value) for key in keys for value in (str(getattr(case, fact)), "*")]
        return [row for key in keys for row in self.by_key.get(key, ()) if holds(row, case)]


def check(rows: Rows, engine: Engine, case: Facts) -> bool:
    """Hold the rows of a case against its decision; say whether there is one."""
    found = rows.of(case)
    assert len(found) <= 1, f"{case} stands in {len(found)} rows"
    if not found:
        return False
    (row,) = found
    decision = engine.decide(case)
    if decision.holds:
        assert str(row["holds"]).split(" | ") == list(decision.holds)
        assert all(not row[output] for output in OUTPUTS if output != "holds")
        return True
    assert not row["holds"]
    for output in OUTPUTS:
        value = getattr(decision, output)
        rules = "|".join(sorted({each.rule for each in decision.because if each.output == output}))
        if row[f"{output}_rule"]:
            assert row[f"{output}_rule"] == rules
            told = row[output]
            assert told == (" | ".join(value) if isinstance(value, tuple) else value)
        elif row[output]:
            assert (row[output], rules) == (value, "")
    return True


def test_every_decision_in_the_table_is_the_engines(house: House) -> None:
    """Random cases: at most one row each, with the engine's answers and rules; held ones with the hold."""
    rng = random.Random(13)
    table = Table(house.engine)
    rows = Rows(map(table.cells, table.rows()))
    inside = sum(check(rows, house.engine, random_case(rng)) for _ in range(CASES))
    assert inside > CASES / 10


def test_every_spot_of_the_demo_jobs_stands_in_one_row_that_has_its_reasons(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The documented SQL, run by a database: each spot once, each filled cell the spot's because."""
    monkeypatch.chdir(tmp_path)
    assert main(["standards", "table", "--out", "table.csv"]) == 0
    assert main(["standards", "table", "--spots", str(demo_jobs_dir()), "--out", "spots.csv"]) == 0
    spots = list(csv.DictReader(io.StringIO(Path("spots.csv").read_text("utf-8"))))

    joined = joined_by_sql()

    assert sorted((row["job"], row["spot"]) for row in joined) == sorted((s["job"], s["spot"]) for s in spots)
    assert sum(agree(row) for row in joined) > len(joined)


def joined_by_sql() -> list[dict[str, object]]:
    """Run the guide's SQL over table.csv and spots.csv of the folder."""
    assert SQL is not None
    base = duckdb.connect()
    *macros, query = (part for part in SQL[1].split(";") if part.strip())
    for macro in macros:
        base.execute(macro)
    found = base.execute(query)
    names = [column[0] for column in found.description]
    return [dict(zip(names, row, strict=True)) for row in found.fetchall()]


def agree(row: Mapping[str, object]) -> int:
    """Hold a spot's filled rule cells against its because; return how many there were."""
    told = [output for output in OUTPUTS if row[f"{output}_rule"]]
    for output in told:
        assert row[f"{output}_rule"] == row[f"{output}_because"], (row["spot"], output)
    return len(told)


def test_one_line_makes_parquet_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As the guide has it."""
    monkeypatch.chdir(tmp_path)
    assert main(["standards", "table", "--out", "table.csv"]) == 0
    (line,) = re.findall(r'duckdb -c "(COPY .*?)"\n', GUIDE.read_text("utf-8"))
    base = duckdb.connect()
    base.execute(line)
    (rows,) = base.execute("SELECT count(*) FROM 'table.parquet'").fetchone() or (0,)
    assert rows == len(Path("table.csv").read_text("utf-8").splitlines()) - 1


def scattered(house: House, count: int) -> Engine:
    """Return standards with rules whose ranges of numbers are scattered over a few flakes and zones."""
    draw = random.Random(5)
    settings: list[dict[OutputName, Setting]] = [
        {"finish_coarsest": Grade("P1200")}, {"hand_coarsest": Grade("P1000")}, {"risk_limit": 0.1},
        {"machine": "never"}, {"wet_bed": "required"}, {"holds": ("Stop.",)}, {"notes": ("Look.",)},
    ]  # fmt: skip
    rules = []
    for number in range(count):
        low, long = draw.uniform(60, 300), draw.uniform(50, 2000)
        ranges = {"film_um": Interval(low, True, low + 60, False), "length_mm": Interval(long)}
        kept = {fact: ranges[fact] for fact in draw.sample(sorted(ranges), draw.randint(1, 2))}
        zones = draw.choice([("fade",), ("fade", "colour")])
        when = box_of({"flake": FLAKES[draw.randrange(6) :], "zone": zones}, kept)
        rules.append(Rule(f"own-{number}", "Own.", when, draw.choice(settings), "ours", "house"))
    return Engine([*house.engine.rules, *rules], house.engine.impossibles)


def test_of_scattered_rules_a_part_is_written_that_is_the_engines(house: House) -> None:
    """Fine flake in the fade of a roof: each case in one row at most, with holds and places kept for hand."""
    engine, rng = scattered(house, 25), random.Random(3)
    asked: dict[str, Any] = {
        "flake": ("fine",),
        "zone": ("fade",),
        "panel": ("roof",),
        "tone": ("light",),
        "seen": (True,),
    }
    table = Table(engine, box_of(asked))
    rows = Rows(map(table.cells, table.rows()))
    only: dict[str, Any] = {fact: value for fact, (value,) in asked.items()}
    cases = [random_case(rng)._replace(**only) for _ in range(300)]
    assert sum(check(rows, engine, case) for case in cases) > 10
    assert not any(rows.of(case._replace(zone="colour")) for case in cases)


def test_a_table_without_an_end_in_sight_is_refused_with_the_way_out(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before the first row, so nothing is written."""
    monkeypatch.setattr(in_table, "_NODES_MOST", 100)
    assert main(["standards", "table"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "--where flake=fine" in told.err


def test_a_table_too_long_or_too_slow_is_refused_before_its_first_row(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the rows there would be, counted before they are made, and by the steps on the way to them."""
    asked = box_of({"flake": ("fine",), "zone": ("fade",), "panel": ("roof",)})
    rows = sum(1 for _ in Table(house.engine, asked).rows())
    assert rows > 100
    monkeypatch.setattr(in_table, "_ROWS_MOST", rows)
    assert sum(1 for _ in Table(house.engine, asked).rows()) == rows
    for where, limit, most in (
        (in_table, "_ROWS_MOST", rows - 1),
        (in_table, "STEPS_MOST", 20),
        (in_answers, "STEPS_MOST", 20),
    ):
        with monkeypatch.context() as patched:
            patched.setattr(where, limit, most)
            with pytest.raises(TooIntricateError):
                Table(house.engine, asked)


def test_numbers_scattered_over_three_facts_are_refused_in_few_steps(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hundred rules that each cut film, length and size: nobody sees the end of their table."""
    for where in (in_answers, in_table):
        monkeypatch.setattr(where, "STEPS_MOST", STEPS_MOST // 10)
    rng, rules = random.Random(7), []
    for at in range(100):
        cuts = {
            "film_um": Interval(low=rng.randint(40, 300)),
            "length_mm": Interval(high=rng.randint(50, 3000)),
            "panel_m2": Interval(low=rng.randint(5, 300) / 100),
        }
        grade = rng.choice((Grade("P1000"), Grade("P1200")))
        rules.append(Rule(f"r{at}", "Finer.", box_of({}, cuts), {"hand_coarsest": grade}, "x", "ours"))
    with pytest.raises(TooIntricateError):
        Table(Engine([*house.engine.rules, *rules], house.engine.impossibles))


def test_where_leaves_only_those_cases(capsys: pytest.CaptureFixture[str]) -> None:
    """Each row is about the cases asked for, and about them alone."""
    words = [
        "--where",
        "flake=very-fine",
        "--where",
        "zone=fade",
        "--where",
        "seen=true",
        "--where",
        "film_um=85",
    ]
    assert main(["standards", "table", *words]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert rows
    assert tuple(rows[0]) == columns()
    assert {(row["flake"], row["zone"], row["seen"]) for row in rows} == {("very-fine", "fade", "true")}
    assert {(row["film_um_from"], row["film_um_unknown"]) for row in rows} == {("85", "no")}


@pytest.mark.parametrize(
    ("where", "says"),
    [
        ("flake", "flake=very-fine"),
        ("flake=finne", 'did you mean "fine"'),
        ("flak=fine", 'did you mean "flake"'),
    ],
)
def test_a_condition_that_means_nothing_is_refused(
    where: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 2 with a hint."""
    assert main(["standards", "table", "--where", where]) == 2
    assert says in capsys.readouterr().err
