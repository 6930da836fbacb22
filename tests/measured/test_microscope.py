"""Flake sizes from measured diameters, held against scipy and a published sieve table.

Sources: `tests/reference/flake_sieve.csv` (ASTM D962, limits as read in an excerpt; the sizes are derived).
"""

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import lognorm

from prepadvisor.measured.microscope import class_of, class_sizes, flake_sizes, share_above
from prepadvisor.records import Constants

_TABLE = Path(__file__).parents[1] / "reference" / "flake_sieve.csv"
_ROWS = list(csv.DictReader(_TABLE.read_text("utf-8").splitlines()))


def _sample(d50_by_area: float, log_sd: float, count: int, seed: int) -> list[float]:
    """Diameters by count: the count's median is exp(−2s²) of the area's (Hatch-Choate)."""
    scale = d50_by_area * math.exp(-2.0 * log_sd**2)
    return lognorm.rvs(log_sd, scale=scale, size=count, random_state=seed).tolist()


@pytest.mark.parametrize("row", _ROWS, ids=[row["class"] for row in _ROWS])
def test_the_sieve_table_is_met(row: dict[str, str]) -> None:
    """The largest D50 at log-sd 0.5 leaves just the limit's residue on 45 µm."""
    limit = float(row["max_residue_on_45um_percent"]) / 100
    assert share_above(float(row["largest_D50_um_logsd_0.5"]), 0.5, 45.0) == pytest.approx(limit, rel=0.03)


def test_the_sieve_share_is_scipys() -> None:
    """scipy.stats.lognorm.sf."""
    for d50, sd in ((8.0, 0.47), (28.0, 0.3)):
        assert share_above(d50, sd, 45.0) == pytest.approx(lognorm.sf(45.0, sd, scale=d50), rel=1e-9)


def test_a_large_sample_gives_its_median_by_area_back(constants: Constants) -> None:
    """5,000 flakes of scipy's log-normal: within 3 % of the median by area, 0.03 of the spread."""
    found = flake_sizes(_sample(12.0, 0.40, 5_000, 1), constants)
    assert found.d50_um == pytest.approx(12.0, rel=0.03)
    assert found.log_sd == pytest.approx(0.40, abs=0.03)


def test_flakes_of_one_size_have_that_size(constants: Constants) -> None:
    """No spread, no interval."""
    found = flake_sizes([9.0] * 50, constants)
    assert (found.d50_um, found.d50_low_um, found.d50_high_um) == pytest.approx((9.0, 9.0, 9.0))
    assert found.log_sd == pytest.approx(0.0, abs=1e-6)


def test_intervals_cover_the_truth(constants: Constants) -> None:
    """60 slides of 200 flakes: 90 % intervals of the median cover it in 80 % to 98 % of them."""
    hits = 0
    for seed in range(60):
        found = flake_sizes(_sample(8.0, 0.40, 200, seed), constants)
        hits += found.d50_low_um <= 8.0 <= found.d50_high_um
    assert 48 <= hits <= 59


@pytest.mark.parametrize(
    ("um", "flake"),
    [(4.0, "very-fine"), (9.0, "very-fine"), (11.0, "fine"), (17.0, "medium"), (35.0, "coarse")],
)
@pytest.mark.practice
def test_the_class_is_that_of_the_nearest_size(constants: Constants, um: float, flake: str) -> None:
    """Ranges by class are practice (flakes.csv); vapour is never told by size."""
    assert class_of(um, class_sizes(constants)) == flake


def test_a_wide_interval_names_the_finer_class(constants: Constants) -> None:
    """Twelve flakes about the border of fine and very fine: the finer one is named too."""
    found = flake_sizes(np.linspace(5.0, 14.0, 12).tolist(), constants)
    assert (found.flake, found.finest) == ("fine", "very-fine")


@pytest.mark.parametrize("sizes", [[], [8.0] * 9, [8.0] * 9 + [-1.0]])
def test_too_few_or_impossible_flakes_are_refused(constants: Constants, sizes: list[float]) -> None:
    """Ten at least, each above 0."""
    with pytest.raises(ValueError, match="ten or more"):
        flake_sizes(sizes, constants)
