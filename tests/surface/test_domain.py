"""Numbers without meaning are refused in words, single or in an array."""

from math import inf, nan

import numpy as np
import pytest

from prepadvisor.surface import require_not_negative, require_positive, require_share


@pytest.mark.parametrize("value", [0.0, -1.0, nan, inf, -inf])
def test_what_must_be_above_zero_refuses(value: float) -> None:
    """Zero, negative, nan and infinite."""
    with pytest.raises(ValueError, match="film must be a finite number above 0"):
        require_positive("film", value)


@pytest.mark.parametrize("value", [-1e-9, nan, inf])
def test_what_may_be_zero_refuses(value: float) -> None:
    """Negative, nan and infinite."""
    with pytest.raises(ValueError, match="0 or more"):
        require_not_negative("film", value)


@pytest.mark.parametrize("value", [-0.1, 1.1, nan])
def test_a_share_refuses(value: float) -> None:
    """Outside 0 to 1, and nan."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        require_share("solids", value)


def test_a_share_that_divides_refuses_zero() -> None:
    """Volume solids of 0 would need an endless wet film."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        require_share("solids", 0.0, zero=False)


def test_one_bad_element_spoils_an_array() -> None:
    """No element may be without meaning: any that is refused alone, first or last."""
    for bad in (0.0, -1.0, nan, inf):
        for array in ([1.0, bad], [bad, 1.0]):
            with pytest.raises(ValueError, match="above 0"):
                require_positive("film", np.array(array))
    for bad in (-1e-9, nan, inf):
        for array in ([1.0, bad], [bad, 0.0]):
            with pytest.raises(ValueError, match="0 or more"):
                require_not_negative("film", np.array(array))


def test_good_numbers_pass() -> None:
    """Single numbers, arrays and the bounds."""
    require_positive("film", np.array([1.0, 2.0]))
    require_not_negative("film", 0.0)
    require_not_negative("film", np.array([0.0, 2.0]))
    require_share("solids", 1.0)
    require_share("solids", 0.0)
    require_share("solids", 1.0, zero=False)
