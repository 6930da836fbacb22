"""Comparing 200 random pairs of small standards against brute force over every case. Run by hand."""

from types import SimpleNamespace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.standards.conftest import small  # noqa: F401 - the fixture
from tests.standards.proof import test_compare

PAIRS = 200


@settings(max_examples=PAIRS, deadline=None, derandomize=False, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_two_hundred_pairs(small: SimpleNamespace, data: st.DataObject) -> None:  # noqa: F811
    """Every cell that differs is told, no other, with rules that keep the machine off among them."""
    test_compare.test_the_changes_are_exactly_the_cells_that_differ.hypothesis.inner_test(small, data)  # type: ignore[attr-defined]


@settings(max_examples=PAIRS, deadline=None, derandomize=False, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_the_count_of_two_hundred_pairs(small: SimpleNamespace, data: st.DataObject) -> None:  # noqa: F811
    """The number of changed cases is that of the cells that differ."""
    test_compare.test_the_count_is_that_of_the_cells_that_differ_at_all.hypothesis.inner_test(small, data)  # type: ignore[attr-defined]
