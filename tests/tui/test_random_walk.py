"""A slice of the random walk: keys, touches and resizes on one job; `tests/long` walks much further."""

from tests.tui.random_walk import walk_all


def test_the_file_has_what_the_screens_show() -> None:
    """After thirty steps of no plan at all."""
    assert walk_all(("very-fine-door-and-wing",), 30, seed=7, each=30) == 1
