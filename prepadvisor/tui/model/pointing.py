"""A path being drawn by pointing: the cross, and the points put so far."""

from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Point


class Pointing(NamedTuple):
    """Where the cross stands and the points put; without a cross nothing is being drawn."""

    cross: Point | None = None
    points: tuple[Point, ...] = ()

    @property
    def is_on(self) -> bool:
        """Whether a path is being drawn."""
        return self.cross is not None

    def nudged(self, across: float, down: float) -> "Pointing":
        """Return it with the cross moved by shares of the panel, kept on the panel."""
        if self.cross is None:
            return self
        return self.moved_to((self.cross[0] + across, self.cross[1] + down))

    def moved_to(self, at: Point) -> "Pointing":
        """Return it with the cross at a place, kept on the panel."""
        return self._replace(cross=(_share(at[0]), _share(at[1])))

    def pointed(self) -> "Pointing":
        """Return it with a point put at the cross; the same place twice running counts once."""
        if self.cross is None or self.points[-1:] == (self.cross,):
            return self
        return self._replace(points=(*self.points, self.cross))


def _share(value: float) -> float:
    return round(min(max(value, 0.0), 1.0), 4)
