"""Many random layers: what each replacement and withdrawal does, looked for and compared as a whole."""

import pytest

from tests.standards.proof.test_exchanged import told_otherwise


@pytest.mark.parametrize("seed", range(200))
def test_one_case_of_each_kind_says_what_a_whole_comparison_does(seed: int) -> None:
    """Two hundred layers over a layer, five entries each."""
    assert told_otherwise(seed) == []
