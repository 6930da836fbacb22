"""Shares and their intervals, against scipy, statsmodels and simulated jobs whose places go together."""

from typing import Final

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.stats import binomtest, norm, t

from prepadvisor.checkoff import FEW_JOBS, share_by_job, student_975, variance_by_job, wilson

TRIALS: Final = 800
MISSED_AT_MOST: Final = 0.08
"""Of intervals that should miss 5 %: what 800 trials may add by chance (3 standard errors are 2.3 %) and a
little for few jobs."""


@pytest.mark.parametrize("places", [1, 2, 5, 12, 40, 263, 5000])
def test_the_interval_is_scipys_wilson_interval(places: int) -> None:
    """scipy.stats.binomtest(…).proportion_ci(0.95, "wilson"), for every count of a few and some of many."""
    for seen in sorted({0, 1, places // 7, places // 2, places - 1, places}):
        expected = binomtest(seen, places).proportion_ci(0.95, "wilson")
        assert wilson(seen / places, places) == pytest.approx((expected.low, expected.high), abs=1e-12)


@pytest.mark.memory
def test_a_published_interval_is_met() -> None:
    """Newcombe 1998, Statist. Med. 17 857, table I, method 3: 81 of 263 gives 0.2553 to 0.3662."""
    assert wilson(81 / 263, 263) == pytest.approx((0.2553, 0.3662), abs=5e-5)


@pytest.mark.parametrize(("share", "places"), [(0.5, 0), (1.5, 2), (-0.1, 3)])
def test_a_share_of_nothing_is_refused(share: float, places: int) -> None:
    """No places, no rate."""
    with pytest.raises(ValueError, match="is no share"):
        wilson(share, places)


def test_no_report_is_refused() -> None:
    """A rate of nothing."""
    with pytest.raises(ValueError, match="no reports"):
        share_by_job({})


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 21, 100, 1999])
def test_students_t_is_scipys(freedom: int) -> None:
    """scipy.stats.t.ppf(0.975, n)."""
    assert student_975(freedom) == pytest.approx(float(t.ppf(0.975, freedom)), rel=1e-9)


def test_beyond_two_thousand_students_t_is_the_normal_one() -> None:
    """Scipy's norm.ppf(0.975); its t.ppf differs by 6e-4 there, and at 2000 it is still taken."""
    assert student_975(2001) == pytest.approx(float(norm.ppf(0.975)), rel=1e-12)
    assert student_975(2001) == pytest.approx(float(t.ppf(0.975, 2001)), rel=7e-4)
    assert student_975(2000) == pytest.approx(float(t.ppf(0.975, 2000)), rel=1e-9)


def test_the_variance_between_jobs_is_that_of_statsmodels() -> None:
    """OLS of a constant with cluster-robust covariance, statsmodels 0.15, on 40 uneven jobs."""
    rng = np.random.default_rng(7)
    sizes = rng.integers(1, 15, 40)
    counts = rng.binomial(sizes, rng.beta(0.4, 2.0, 40))
    places = np.concatenate([np.arange(size) < count for size, count in zip(sizes, counts, strict=True)])
    groups = np.repeat(np.arange(40), sizes)
    fitted = sm.OLS(places.astype(float), np.ones(len(places))).fit(
        cov_type="cluster", cov_kwds={"groups": groups}
    )
    found = variance_by_job(sizes.tolist(), counts.tolist())
    assert found == pytest.approx(float(fitted.cov_params()[0, 0]), rel=1e-9)


def _drawn(rng: np.random.Generator, jobs: int, share: float, together: float) -> dict[str, list[bool]]:
    """Return jobs of 1 to 11 places; within one, places go together with this correlation (beta-binomial)."""
    if together == 0:
        own = np.full(jobs, share)
    else:
        rest = (1 - together) / together
        own = rng.beta(share * rest, (1 - share) * rest, jobs)
    sizes = rng.integers(1, 12, jobs)
    return {str(job): (rng.random(sizes[job]) < own[job]).tolist() for job in range(jobs)}


@pytest.mark.parametrize("together", [0.0, 0.1, 0.4, 0.9])
@pytest.mark.parametrize(("jobs", "share"), [(8, 0.1), (40, 0.05), (40, 0.3)])
def test_the_interval_covers_the_truth_however_places_go_together(
    jobs: int, share: float, together: float
) -> None:
    """A simulation; counting places as independent, 95 % intervals cover 47 to 56 % at 0.9."""
    rng = np.random.default_rng(round(1000 * together) + jobs)
    missed = 0
    for _ in range(TRIALS):
        found = share_by_job(_drawn(rng, jobs, share, together))
        missed += not found.low <= share <= found.high
    assert missed / TRIALS <= MISSED_AT_MOST


def test_independent_places_of_many_jobs_are_worth_nearly_their_number() -> None:
    """The interval does not throw away what places do carry."""
    rng = np.random.default_rng(3)
    reports = {str(job): (rng.random(6) < 0.3).tolist() for job in range(300)}
    assert share_by_job(reports).worth > 0.85 * 1800


def test_one_job_is_worth_one_report() -> None:
    """Eight clear places of one door: Wilson's interval of 0 of 1."""
    found = share_by_job({"1042": [False] * 8})
    assert (found.places, found.jobs, found.worth) == (8, 1, 1.0)
    assert found.high == pytest.approx(binomtest(0, 1).proportion_ci(0.95, "wilson").high, abs=1e-12)


def test_jobs_of_one_place_each_are_counted_as_they_are() -> None:
    """Nothing goes together with itself: plain Wilson."""
    found = share_by_job({str(job): [job < 2] for job in range(30)})
    expected = binomtest(2, 30).proportion_ci(0.95, "wilson")
    assert (found.low, found.high) == pytest.approx((expected.low, expected.high), abs=1e-12)


@pytest.mark.parametrize(("with_lines", "expected"), [(4, 60), (5, 240)])
def test_with_lines_in_few_jobs_all_places_of_one_go_together(with_lines: int, expected: int) -> None:
    """60 jobs of 4 places, one place seen in some: below five of them each job is worth one report.

    As many where nearly all are seen: what is sure of lines is as sure of none.
    """
    assert FEW_JOBS == 5
    reports = {str(job): [job < with_lines, False, False, False] for job in range(60)}
    factor = (1.959964 / float(t.ppf(0.975, 59))) ** 2
    for each in (reports, {job: [not seen for seen in places] for job, places in reports.items()}):
        assert share_by_job(each).worth == pytest.approx(expected * factor, rel=1e-6)


@pytest.mark.parametrize(
    ("jobs", "places", "worth"),
    [
        (1, [True, False], 1.0),
        (2, [True, False], 1.0),
        (3, [True, False], 1.0),
        (4, [True, False], 4 * (1.959964 / 3.182446) ** 2),
        (10, [True, False], 20 * (1.959964 / 2.262157) ** 2),
        (10, [True, True, False], 30 * (1.959964 / 2.262157) ** 2),
    ],
)
def test_jobs_that_are_all_alike_are_worth_their_places_cut_for_few_jobs(
    jobs: int, places: list[bool], worth: float
) -> None:
    """Between jobs nothing differs; t of 3 and 9 degrees at 97.5 % is 3.182 and 2.262 in any table."""
    assert share_by_job({str(job): places for job in range(jobs)}).worth == pytest.approx(worth, rel=1e-6)


def test_jobs_seen_whole_or_not_at_all_are_worth_one_report_each() -> None:
    """Twelve doors of five places, half of them all seen: nothing is known but twelve reports."""
    found = share_by_job({str(job): [job % 2 == 0] * 5 for job in range(12)})
    assert found.worth == pytest.approx(12 * (1.959964 / 2.200985) ** 2, rel=1e-6)
    assert (found.places, found.seen, found.jobs) == (60, 30, 12)


def test_one_place_is_a_report_and_none_is_not() -> None:
    """One place seen: a share of 1 that is hardly sure; nothing at all has no share."""
    one = share_by_job({"a": [True]})
    assert (one.places, one.share, one.worth) == (1, 1.0, 1.0)
    with pytest.raises(ValueError, match="no reports"):
        share_by_job({})
