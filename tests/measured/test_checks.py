"""Scores of predictions and the check against numbers in force, held against scipy."""

import pytest
from scipy.stats import binomtest

from prepadvisor.measured.checks import calibration, checked, exact_interval
from prepadvisor.records import Grade, PanelRow, RowFitted


@pytest.mark.parametrize(("hits", "of"), [(0, 5), (1, 5), (3, 10), (10, 10), (17, 40)])
def test_the_interval_is_clopper_and_pearsons(hits: int, of: int) -> None:
    """scipy.stats.binomtest, exact, 90 %."""
    theirs = binomtest(hits, of).proportion_ci(0.90, "exact")
    assert exact_interval(hits, of) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_brier_scores_of_known_cases() -> None:
    """Always right is 0, a coin's flip a quarter, always wrong 1."""
    for chance, score in ((1.0, 0.0), (0.5, 0.25), (0.0, 1.0)):
        found = calibration([chance] * 8, [1.0] * 8)
        assert found is not None
        assert found.brier == pytest.approx(score)


def test_bins_hold_every_row_once() -> None:
    """57 rows in bands of like size."""
    found = calibration([k / 57 for k in range(57)], [k % 2 for k in range(57)])
    assert found is not None
    assert sum(each.rows for each in found.bins) == 57


def _rows(chance: float, shows: int, of: int) -> list[RowFitted]:
    row = PanelRow(tool="da", grade=Grade("P800"), shows="no", flake="fine")
    return [
        RowFitted(
            row._replace(shows="yes" if at < shows else "no"), 0.0, 0.0, 0.1, chance, chance, chance, 0.5
        )
        for at in range(of)
    ]


def test_as_many_as_expected_agree() -> None:
    """Two of twenty at a chance of a tenth."""
    found = checked(_rows(0.1, 2, 20))
    assert found.agrees
    assert found.whole.expected == pytest.approx(2.0)


@pytest.mark.parametrize("shows", [8, 20])
def test_far_more_than_expected_disagree(shows: int) -> None:
    """The count's chance is the binomial's, two-sided (scipy)."""
    found = checked(_rows(0.1, shows, 20))
    assert not found.agrees
    expected = min(1.0, 2 * binomtest(shows, 20, 0.1, "greater").pvalue)
    assert found.whole.chance == pytest.approx(expected, rel=1e-6, abs=1e-12)


def test_no_rows_agree() -> None:
    """Nothing seen, nothing to disagree with."""
    assert checked([]).agrees
