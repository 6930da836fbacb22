"""The normal distribution, held against scipy.special."""

import numpy as np
from scipy.special import ndtr

from prepadvisor.measured.numerics import below, below_about, density


def test_the_distribution_function_is_scipys_to_the_last_digits_of_the_tail() -> None:
    """scipy.special.ndtr, relative, from −37 to 37."""
    z = np.linspace(-37.0, 37.0, 40_001)
    np.testing.assert_allclose(below(z), ndtr(z), rtol=1e-11)


def test_ends_and_what_is_no_number() -> None:
    """Infinite values are the ends, nan stays nan."""
    found = below(np.array([-np.inf, 0.0, np.inf, np.nan]))
    assert found[0] < 1e-290
    assert found[1:3].tolist() == [0.5, 1.0]
    assert np.isnan(found[3])


def test_density_is_the_slope() -> None:
    """Central differences of the distribution function."""
    z = np.linspace(-6.0, 6.0, 241)
    np.testing.assert_allclose((below(z + 1e-5) - below(z - 1e-5)) / 2e-5, density(z), atol=1e-9)


def test_the_quick_one_is_right_to_ten_digits() -> None:
    """scipy.special.ndtr, absolute."""
    z = np.linspace(-12.0, 12.0, 40_001)
    np.testing.assert_allclose(below_about(z), ndtr(z), rtol=0, atol=1e-10)
