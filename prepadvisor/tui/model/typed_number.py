"""A number typed digit by digit: "1" is line 1, and "1" then "2" soon after is line 12 where there is one."""

from collections.abc import Container
from typing import Final

from prepadvisor.named import NamedTuple

TOGETHER_SECONDS: Final = 1.5
"""Digits typed sooner than this after one another belong together."""


class TypedNumber(NamedTuple):
    """The digits typed so far, and when the last one was, in seconds of any clock."""

    digits: str = ""
    at: float = -TOGETHER_SECONDS

    def typed(self, digit: str, now: float, known: Container[str]) -> "TypedNumber":
        """Return it with one more digit; digits that make no known number begin anew with the last one."""
        together = self.digits + digit if now - self.at < TOGETHER_SECONDS else digit
        return TypedNumber(together if together in known else digit, now)
