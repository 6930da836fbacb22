"""What numbers the model takes: the type of an argument, and the refusal of what has no meaning."""

from math import inf
from typing import Any, TypeVar

import numpy as np

Array = np.ndarray[tuple[Any, ...], np.dtype[np.float64]]
"""An array of any shape."""

Numbers = TypeVar("Numbers", float, Array)
"""A number or an array of any shape; what comes out has the shape that went in."""


def require_positive(name: str, value: float | Array) -> None:
    """Refuse a value that is not finite and above 0, in words.

    Args:
        name: what the value is, for the message.
        value: number or array.

    Raises:
        ValueError: where any element is nan, infinite, 0 or below.
    """
    plain = isinstance(value, (float, int))  # plain numbers are most of all calls: spare them numpy's detour
    if not (0 < value < inf if plain else np.all((value > 0) & (value < inf))):
        raise ValueError(f"{name} must be a finite number above 0, not {value}")


def require_not_negative(name: str, value: float | Array) -> None:
    """Refuse a value that is not finite and 0 or more; as `require_positive` otherwise."""
    plain = isinstance(value, (float, int))
    if not (0 <= value < inf if plain else np.all((value >= 0) & (value < inf))):
        raise ValueError(f"{name} must be a finite number of 0 or more, not {value}")


def require_share(name: str, value: float, *, zero: bool = True) -> None:
    """Refuse a number outside 0 to 1, and 0 itself unless `zero`; as `require_positive` otherwise."""
    if not (0 <= value <= 1 and (zero or value > 0)):
        raise ValueError(f"{name} must lie between 0 and 1, not {value}")
