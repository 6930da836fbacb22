"""P grades against the published grain sizes (FEPA 43 / ISO 6344) and against what a person may write."""

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from prepadvisor.records import (
    DS50_UM,
    FROM_MEMORY,
    GRADES,
    Grade,
    NotAGradeError,
    coarsest,
    ds50_um,
    finest,
    grade,
    is_finer,
)


def test_the_grain_size_is_the_published_mean(grades_p_row: dict[str, str]) -> None:
    """FEPA 43 / ISO 6344-2, -3: ds50; P3000 from memory."""
    assert ds50_um(grade(grades_p_row["grade"])) == float(grades_p_row["ds50_um"])


def test_no_grade_is_missing_between_p12_and_p4000() -> None:
    """The 29 grades of FEPA 43 / ISO 6344 in tests/reference/grades_p.csv, and one known from memory."""
    with (Path(__file__).parents[1] / "reference/grades_p.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [row["grade"] for row in rows] == list(DS50_UM)
    assert {row["grade"] for row in rows if row["source"] == "none"} == FROM_MEMORY


def test_every_grade_is_finer_than_the_one_before() -> None:
    """Coarse to fine in the order of the series."""
    assert all(DS50_UM[one] > DS50_UM[next_] for one, next_ in pairwise(GRADES))


@pytest.mark.parametrize("written", ["P1000", "p1000", " P1000 ", "P 1000"])
def test_a_grade_is_read_in_any_case_and_with_blanks(written: str) -> None:
    """What stands on the back of a sheet, as a person types it."""
    assert grade(written) == "P1000"


def test_a_bare_number_is_refused_with_the_two_grain_sizes_it_may_mean() -> None:
    """FEPA 43: P600 is 25.8 µm; ANSI B74.18: 600 is 16.0 µm."""
    with pytest.raises(NotAGradeError, match=r"P600 is 25\.8 µm, another common series' 600 is 16 µm"):
        grade("600")


def test_numbers_of_other_series_mean_other_grain(grades_other_row: dict[str, str]) -> None:
    """ANSI B74.18 and JIS R 6001: so a number without its P is refused, whatever series it came from."""
    number = grades_other_row["number"]
    with pytest.raises(NotAGradeError, match="has no P"):
        grade(number)
    if int(number) >= 280 and f"P{number}" in DS50_UM:
        assert float(grades_other_row["ds50_um"]) < DS50_UM[grade(f"P{number}")]


def test_a_bare_number_that_is_no_p_grade_is_refused_without_a_guess() -> None:
    """No P grade is called 700."""
    with pytest.raises(NotAGradeError, match="read the back of the sheet"):
        grade("700")


@pytest.mark.parametrize("written", ["", "grey", "P", "P1001", "A35", "Pnan", "P１２００"])
def test_what_is_no_p_grade_is_refused(written: str) -> None:
    """Pads by colour, micron discs, typing errors, digits of another script."""
    with pytest.raises(NotAGradeError):
        grade(written)


def test_the_finest_and_coarsest_of_several_are_by_grain_not_by_number() -> None:
    """P1000 has smaller grain than P800."""
    several = [grade(name) for name in ("P800", "P1000", "P80")]
    assert (finest(*several), coarsest(*several)) == ("P1000", "P80")


def test_a_grade_is_not_finer_than_itself() -> None:
    """Strictly finer."""
    assert not is_finer(Grade("P800"), Grade("P800"))


@pytest.mark.parametrize(
    ("written", "beside"),
    [
        ("P1100", '"P1000" or "P1200"'),
        ("P700", '"P600" or "P800"'),
        ("P5", '"P12"'),
        ("P9000", '"P4000"'),
        ("P999999", '"P4000"'),
        ("P260", '"P240" or "P280"'),
    ],
)
def test_a_number_between_two_grades_is_answered_with_both(written: str, beside: str) -> None:
    """FEPA 43 has no such grade: the nearest real ones are those beside it, not those that look alike."""
    with pytest.raises(NotAGradeError, match=f"did you mean {beside}"):
        grade(written)
