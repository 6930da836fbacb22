"""What other standards change in a job's advice, place by place, and the sum of it over many jobs."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from prepadvisor.records.advice import Advice, Place, WetBedAdvice
from prepadvisor.records.words import GUIDE_COAT, WET_BED
from prepadvisor.surface.grades import RANK

WAYS: Final[dict[str, str]] = {
    "finer": "finish finer",
    "coarser": "finish coarser",
    "held": "no finish any more: held",
    "released": "held before, now with a finish",
    "hand finer": "hand limit finer",
    "hand coarser": "hand limit coarser",
    "wet bed more": "wet bed needed more, or more coats",
    "wet bed less": "wet bed needed less, or fewer coats",
    "guide coat more": "guide coat at more steps",
    "guide coat less": "guide coat at fewer steps",
    "minutes more": "more minutes",
    "minutes less": "fewer minutes",
    "tool": "another tool, pad or grit steps",
}
"""The ways in which a place can change, with what they are."""

_MINUTES_TOLD: Final = 0.05
"""A difference in minutes below this is rounding."""


class Difference(NamedTuple):
    """One job under two standards: places in all, ways of each changed place, minutes and discs of both."""

    places: int
    changed: Mapping[str, tuple[str, ...]]
    minutes: tuple[float, float]
    discs: tuple[Mapping[str, int], Mapping[str, int]]

    @property
    def is_change(self) -> bool:
        """Whether anything is different."""
        return bool(self.changed) or self.minutes[0] != self.minutes[1] or self.discs[0] != self.discs[1]


def difference(before: Advice, after: Advice) -> Difference:
    """Return what changes from one advice of a job to another of the same job."""
    changed: dict[str, tuple[str, ...]] = {}
    if before is after:
        return Difference(len(before.places), changed, (before.minutes,) * 2, (before.discs,) * 2)
    old, new = ({place.id: place for place in advice.places} for advice in (before, after))
    for name in {**old, **new}:
        ways = ways_of(old.get(name), new.get(name))
        if ways:
            changed[name] = ways
    return Difference(
        places=len({**old, **new}),
        changed=changed,
        minutes=(before.minutes, after.minutes),
        discs=(before.discs, after.discs),
    )


def ways_of(old: Place | None, new: Place | None) -> tuple[str, ...]:
    """Return in which ways a place changes, in the order of `WAYS`; none if it does not."""
    if old is None or new is None:
        return ("released",) if new is not None and new.finish else ("held",)
    found = [
        _grade_way(old.finish, new.finish, "", held=True),
        _grade_way(old.hand_coarsest, new.hand_coarsest, "hand ", held=False),
        _more_or_less("wet bed", _bed(old.wet_bed), _bed(new.wet_bed)),
        _more_or_less("guide coat", GUIDE_COAT.index(old.guide_coat), GUIDE_COAT.index(new.guide_coat)),
        _more_or_less("minutes", *_told_minutes(old.minutes, new.minutes)),
        "tool" if _by_what(old) != _by_what(new) else None,
    ]
    return tuple(way for way in found if way)


def _grade_way(old: str | None, new: str | None, prefix: str, *, held: bool) -> str | None:
    if old == new:
        return None
    if old is None or new is None:
        if held:
            return "held" if new is None else "released"
        return f"{prefix}finer" if old is None else f"{prefix}coarser"
    return f"{prefix}finer" if RANK[new] > RANK[old] else f"{prefix}coarser"


def _more_or_less(what: str, old: object, new: object) -> str | None:
    if old == new:
        return None
    return f"{what} more" if new > old else f"{what} less"  # type: ignore[operator]


def _bed(bed: WetBedAdvice) -> tuple[int, int]:
    return WET_BED.index(bed.need), bed.coats


def _told_minutes(old: float, new: float) -> tuple[float, float]:
    return (old, new) if abs(new - old) >= _MINUTES_TOLD else (old, old)


def _by_what(place: Place) -> tuple[object, ...]:
    steps = None if place.ladder is None else tuple((step.tool, step.grade) for step in place.ladder)
    return place.tool, place.interface_pad, place.reach, place.split, steps


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
class Tally:
    """The sum of many differences. It does not grow with the number of jobs."""

    jobs: int = 0
    jobs_changed: int = 0
    places: int = 0
    places_changed: int = 0
    ways: Counter[str] = field(default_factory=Counter)
    minutes_before: float = 0.0
    minutes_after: float = 0.0
    discs_before: Counter[str] = field(default_factory=Counter)
    discs_after: Counter[str] = field(default_factory=Counter)
    largest: list[Largest] = field(default_factory=list)

    def add(self, name: str, change: Difference) -> None:
        """Count one job; `name` is what it is called among the largest."""
        self.jobs += 1
        self.places += change.places
        self.minutes_before += change.minutes[0]
        self.minutes_after += change.minutes[1]
        self.discs_before.update(change.discs[0])
        self.discs_after.update(change.discs[1])
        if not change.is_change:
            return
        self.jobs_changed += 1
        self.places_changed += len(change.changed)
        for ways in change.changed.values():
            self.ways.update(ways)
        self._keep([Largest(len(change.changed), change.minutes[1] - change.minutes[0], name)])

    def merge(self, other: "Tally") -> None:
        """Count what another tally has counted."""
        self.jobs += other.jobs
        self.jobs_changed += other.jobs_changed
        self.places += other.places
        self.places_changed += other.places_changed
        self.ways.update(other.ways)
        self.minutes_before += other.minutes_before
        self.minutes_after += other.minutes_after
        self.discs_before.update(other.discs_before)
        self.discs_after.update(other.discs_after)
        self._keep(other.largest)

    def _keep(self, more: list[Largest]) -> None:
        self.largest = sorted([*self.largest, *more], key=lambda each: each.size)[:LARGEST_MOST]
