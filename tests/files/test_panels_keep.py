"""Test panels are only ever added to: what stands in the table stays; a row that cannot be adds none."""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from prepadvisor.files import append_panels, panel_of, read_panels
from prepadvisor.records import BadInputError
from prepadvisor.records.panel_rows import COLUMNS

TODAY = dt.date(2026, 3, 3)
ROW = {"flake": "very-fine", "tool": "da-soft", "grade": "P1000", "shows": "no", "by": "A"}


def test_a_new_table_has_every_column_and_the_row(tmp_path: Path) -> None:
    """The first panel makes house and table."""
    path = tmp_path / "ours" / "panels.csv"
    rows = append_panels(path, [{**ROW, "light": "800 lux", "photo": "strip-07.jpg"}], TODAY)
    assert path.read_text().splitlines()[0].split(",") == list(COLUMNS)
    assert [(row.grade, row.light, row.lux, row.photo) for row in rows] == [
        ("P1000", "800", 800.0, "strip-07.jpg")
    ]
    assert read_panels(path, TODAY)[0]._replace(file="") == rows[0]._replace(file="")


@pytest.mark.parametrize(
    "before",
    [
        b"flake,tool,grade,shows\nfine,da,P600,yes\n",
        b"flake,tool,grade,shows\r\nfine,da,P600,yes",
        b'\xef\xbb\xbfflake;tool;grade;shows;note\r\nfine;da;P600;yes;"a; b"\r\n',
        b"# made in March, on old clear; by A\nflake\ttool\tgrade\tshows\nfine\tda\tP600\tyes\n",
    ],
    ids=["plain", "no last line end", "semicolons, mark and quotes", "comment and tabs"],
)
def test_what_stands_there_stays(tmp_path: Path, before: bytes) -> None:
    """Rows before are byte for byte what they were; the header may only grow at its end."""
    path = tmp_path / "panels.csv"
    path.write_bytes(before)
    rows = append_panels(path, [{**ROW, "film_um": "38", "note": "=1+1"}], TODAY)
    after = path.read_bytes()
    first, *rest = before.rstrip(b"\r\n").splitlines()
    assert all(line in after for line in rest[-1:])
    assert after.startswith(first)
    assert [(row.grade, row.film_um) for row in rows] == [("P600", None), ("P1000", 38.0)]
    assert rows[-1].note == "=1+1"
    assert b"'=1+1" in after  # no spreadsheet takes it for a formula
    assert (tmp_path / "panels.csv~").read_bytes() == before


def test_two_judges_at_once_are_two_rows(tmp_path: Path) -> None:
    """Twenty rows from four writers at the same time: none is lost, none is there twice."""
    path = tmp_path / "panels.csv"

    def write(number: int) -> None:
        append_panels(path, [{**ROW, "by": f"J{number}"}], TODAY)

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(write, range(20)))
    assert sorted(row.by for row in read_panels(path, TODAY)) == sorted(f"J{number}" for number in range(20))


def test_a_table_with_a_fault_is_left_alone(tmp_path: Path) -> None:
    """A row is not added to what cannot be read; the fault of the table is told by its line."""
    path = tmp_path / "panels.csv"
    path.write_text("flake,tool,grade,shows\nfine,da,P601,yes\n")
    with pytest.raises(BadInputError, match="P601"):
        append_panels(path, [ROW], TODAY)
    assert path.read_text().count("\n") == 2


def test_every_fault_of_a_typed_panel_is_told_at_once() -> None:
    """Each sentence begins with its column; light, film, distance, coats and photo have their ranges."""
    cells = {
        "flake": "glitter", "tool": "file", "grade": "600", "coats": "11", "distance_mm": "9",
        "light": "bright", "film_um": "3000", "shows": "perhaps", "blind": "maybe", "date": "2027-01-01",
        "photo": "C:\\my\\p.jpg", "zone": "clear", "log_sd": "0,47",
    }  # fmt: skip
    with pytest.raises(BadInputError) as raised:
        panel_of(cells, TODAY)
    told = {fault.says.partition(":")[0] for fault in raised.value.faults}
    assert told == set(cells)


def test_light_is_a_word_or_lux() -> None:
    """Words of the trade, or a number from a dim corner to the noon sun."""
    for text, light in (("Lamp", "lamp"), ("650", "650"), ("650 lux", "650"), ("1200lx", "1200"), ("", "")):
        assert panel_of({**ROW, "light": text}, TODAY).light == light
