"""Digits typed one after the other make the number of a line."""

from prepadvisor.tui.model import TypedNumber


def test_digits_soon_after_one_another_belong_together() -> None:
    """1 then 2 is 12; late, or where there is no such line, the last digit stands alone."""
    known = {"1", "2", "3", "12"}
    one = TypedNumber().typed("1", 10.0, known)
    assert one.digits == "1"
    assert one.typed("2", 10.4, known).digits == "12"
    assert one.typed("2", 14.0, known).digits == "2"
    assert one.typed("3", 10.4, known).digits == "3"
