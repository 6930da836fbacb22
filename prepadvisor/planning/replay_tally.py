"""The sum of what other standards change in many jobs: by way, by rule, in minutes, material and money."""

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from prepadvisor.planning.replay import HOLD_WAYS, LOOSER, ChangedBy, JobDifference, PlaceChange

if TYPE_CHECKING:
    from prepadvisor.records import Grade


class Largest(NamedTuple):
    """A job with many changed places: how many, how many more minutes, and its name. Sorts largest last."""

    places: int
    minutes: float
    name: str

    @property
    def size(self) -> tuple[int, float, str]:
        """By what jobs are put in order; equals by name, so that the order of reading does not matter."""
        return -self.places, -abs(self.minutes), self.name


LARGEST_MOST: Final = 10


@dataclass
class Sums:
    """Minutes, ml, discs and money under both standards, summed over jobs."""

    minutes: tuple[float, float] = (0.0, 0.0)
    ml: tuple[int, int] = (0, 0)
    money: tuple[float, float] = (0.0, 0.0)
    discs_before: Counter["Grade"] = field(default_factory=Counter)
    discs_after: Counter["Grade"] = field(default_factory=Counter)

    def add(self, change: JobDifference) -> None:
        """Count one job."""
        self.minutes = _added(self.minutes, change.minutes)
        self.ml = _added(self.ml, change.ml)
        self.money = _added(self.money, change.money or (0.0, 0.0))
        self.discs_before.update(change.discs[0])
        self.discs_after.update(change.discs[1])

    def merge(self, other: "Sums") -> None:
        """Count what others have counted."""
        self.minutes = _added(self.minutes, other.minutes)
        self.ml = _added(self.ml, other.ml)
        self.money = _added(self.money, other.money)
        self.discs_before.update(other.discs_before)
        self.discs_after.update(other.discs_after)


_Pair = TypeVar("_Pair", tuple[float, float], tuple[int, int])


def _added(one: _Pair, other: _Pair) -> _Pair:
    return one[0] + other[0], one[1] + other[1]


@dataclass
class ByCause:
    """What one rule does in many jobs: places and jobs, ways, minutes, and some places by name."""

    places: int = 0
    jobs: int = 0
    minutes: float = 0.0
    ways: Counter[str] = field(default_factory=Counter)
    first: list[tuple[str, str]] = field(default_factory=list)

    def merge(self, other: "ByCause") -> None:
        """Count what another has counted."""
        self.places += other.places
        self.jobs += other.jobs
        self.minutes += other.minutes
        self.ways.update(other.ways)
        self.first = sorted([*self.first, *other.first])[:LARGEST_MOST]

    @property
    def gravity(self) -> tuple[bool, bool, int]:
        """By what causes are put in order: what holds or releases first, then what loosens, then the many."""
        return HOLD_WAYS.isdisjoint(self.ways), LOOSER.isdisjoint(self.ways), -self.places


@dataclass
class Tally:
    """The sum of many differences. It does not grow with the number of jobs.

    `sums` leaves out jobs in which a place is held under one of the standards only, whose sums stand in
    `held`: work that is not planned is no work saved.
    """

    jobs: int = 0
    jobs_changed: int = 0
    jobs_held: int = 0
    places: int = 0
    places_changed: int = 0
    ways: Counter[str] = field(default_factory=Counter)
    sums: Sums = field(default_factory=Sums)
    held: Sums = field(default_factory=Sums)
    causes: dict[ChangedBy, ByCause] = field(default_factory=dict)
    largest: list[Largest] = field(default_factory=list)

    def add(self, name: str, change: JobDifference) -> None:
        """Count one job; `name` is what it is called among the largest."""
        self.jobs += 1
        self.places += change.places
        self.jobs_held += change.is_held_otherwise
        (self.held if change.is_held_otherwise else self.sums).add(change)
        if not change.is_change:
            return
        self.jobs_changed += 1
        self.places_changed += len(change.changes)
        here: set[ChangedBy] = set()
        for each in change.changes:
            self.ways.update(each.ways)
            for cause in each.causes or (SHOP,):
                self._count(cause, name, each, is_first=cause not in here)
                here.add(cause)
        self._keep([Largest(len(change.changes), change.minutes[1] - change.minutes[0], name)])

    def _count(self, cause: ChangedBy, name: str, change: PlaceChange, *, is_first: bool) -> None:
        one = self.causes.setdefault(cause, ByCause())
        held = not HOLD_WAYS.isdisjoint(change.ways)
        minutes = 0.0
        if change.before and change.after and not held:
            minutes = change.after.minutes - change.before.minutes
        one.merge(ByCause(1, int(is_first), minutes, Counter(change.ways), [(name, change.place)]))

    def merge(self, other: "Tally") -> None:
        """Count what another tally has counted."""
        self.jobs += other.jobs
        self.jobs_changed += other.jobs_changed
        self.jobs_held += other.jobs_held
        self.places += other.places
        self.places_changed += other.places_changed
        self.ways.update(other.ways)
        self.sums.merge(other.sums)
        self.held.merge(other.held)
        for cause, more in other.causes.items():
            self.causes.setdefault(cause, ByCause()).merge(more)
        self._keep(other.largest)

    def _keep(self, more: list[Largest]) -> None:
        self.largest = sorted([*self.largest, *more], key=lambda each: each.size)[:LARGEST_MOST]


SHOP: Final = ChangedBy("", "", 0, "new")
"""The cause of what no rule decides otherwise: another shop file, other constants or outlines."""
