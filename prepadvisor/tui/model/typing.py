"""What is being typed or pointed: a number digit by digit, a path point by point."""

from collections.abc import Container
from typing import TYPE_CHECKING, Final

from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import Point

# A path being drawn by pointing: the cross, and the points put so far.


class Pointing(NamedTuple):
    """Where the cross stands and the points put; without a cross nothing is being drawn."""

    cross: "Point | None" = None
    points: tuple["Point", ...] = ()

    @property
    def is_on(self) -> bool:
        """Whether a path is being drawn."""
        return self.cross is not None

    def nudged(self, across: float, down: float) -> "Pointing":
        """Return it with the cross moved by shares of the panel, kept on the panel."""
        if self.cross is None:
            return self
        return self.moved_to((self.cross[0] + across, self.cross[1] + down))

    def moved_to(self, at: "Point") -> "Pointing":
        """Return it with the cross at a place, kept on the panel."""
        return self._replace(cross=(_share(at[0]), _share(at[1])))

    def pointed(self) -> "Pointing":
        """Return it with a point put at the cross; the same place twice running counts once."""
        if self.cross is None or self.points[-1:] == (self.cross,):
            return self
        return self._replace(points=(*self.points, self.cross))


def _share(value: float) -> float:
    return round(min(max(value, 0.0), 1.0), 4)


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
