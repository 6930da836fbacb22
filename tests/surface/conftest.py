"""Runs a test once for each row of a published table: an argument `<table>_row` takes its rows."""

import csv
from pathlib import Path

import pytest

_TABLES = Path(__file__).parents[1] / "reference"
_UNREAD = {
    "memory": pytest.mark.memory,
    "memory/practice": pytest.mark.practice,
    "practice": pytest.mark.practice,
}


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Give every row its id, and the mark of what is known only from memory or practice."""
    for name in metafunc.fixturenames:
        if name.endswith("_row"):
            with (_TABLES / f"{name.removesuffix('_row')}.csv").open(encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            metafunc.parametrize(name, [_case(row) for row in rows])


def _case(row: dict[str, str]) -> object:
    marks = [_UNREAD[row["tag"]]] if row["tag"] in _UNREAD else []
    return pytest.param(row, marks=marks, id="-".join(list(row.values())[:2]).replace(" ", "_"))
