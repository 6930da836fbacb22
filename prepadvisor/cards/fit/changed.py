"""What fitted numbers change on the shop's own jobs: the sum of it, and each job that changes."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.planning import WAYS, JobDifference, Tally, advise, difference
from prepadvisor.records import Advice, Job, card_numbers

if TYPE_CHECKING:
    from prepadvisor.records import Grade, Place
    from prepadvisor.standards import House

SHOWN: Final = 12
"""So many changed jobs are told one by one."""

_MINUTES: Final = frozenset({"minutes more", "minutes less"})


class ReadJob(NamedTuple):
    """A job of the archive with its advice by the numbers in force."""

    file: str
    job: Job
    advice: Advice


class PlaceChanged(NamedTuple):
    """A place that changes: its number on the card, in which ways, and its finish before and after."""

    place: str
    number: str
    ways: tuple[str, ...]
    before: "Grade | None"
    after: "Grade | None"


class JobChanged(NamedTuple):
    """A job that changes: its file and number, how many places it has, minutes more, and which places."""

    file: str
    number: str
    places: int
    minutes: float
    changes: tuple[PlaceChanged, ...]

    @property
    def grave(self) -> int:
        """How many places change in more than minutes."""
        return sum(not _MINUTES.issuperset(each.ways) for each in self.changes)


class Replayed(NamedTuple):
    """All jobs under other numbers: the sum, and those that change, most changes but minutes first."""

    tally: Tally
    changed: tuple[JobChanged, ...]


def replayed(archive: Sequence[ReadJob], changed: "House", told: Callable[[int, int], None]) -> Replayed:
    """Return what changes where jobs are decided by another house.

    Args:
        archive: the jobs as they are decided now.
        changed: the house with the other numbers.
        told: is told how many jobs are decided anew, of how many.
    """
    tally, found = Tally(), []
    for done, read in enumerate(archive):
        told(done, len(archive))
        after = advise(read.job, changed, seek_offers=False)
        change = difference(read.advice, after)
        tally.add(read.file, change)
        if change.is_change:
            found.append(_job(read, after, change))
    return Replayed(
        tally, tuple(sorted(found, key=lambda each: (-each.grave, -len(each.changes), each.file)))
    )


def _job(read: ReadJob, after: Advice, change: JobDifference) -> JobChanged:
    panels = [panel.id for panel in after.panels]
    numbers = card_numbers(panels, read.advice.places) | card_numbers(panels, after.places)
    return JobChanged(
        file=read.file,
        number=read.job.job.number,
        places=change.places,
        minutes=change.minutes[1] - change.minutes[0],
        changes=tuple(
            PlaceChanged(
                each.place,
                numbers.get(each.place, each.place),
                each.ways,
                _grade(each.before),
                _grade(each.after),
            )
            for each in change.changes
        ),
    )


def _grade(place: "Place | None") -> "Grade | None":
    return None if place is None else place.finish


def changed_says(changed: Sequence[JobChanged]) -> Iterator[str]:
    """Return each job with places that change in a sentence, by numbers of the card; the rest counted."""
    some = [job for job in changed if job.changes]
    for job in some[:SHOWN]:
        name = " ".join(part for part in (job.number, f"({Path(job.file).name})") if part)
        groups: dict[str, list[str]] = {}
        for each in job.changes:
            groups.setdefault(_ways(each), []).append(each.number)
        told = "; ".join(f"{', '.join(numbers)}: {says}" for says, numbers in groups.items())
        count = f"{len(job.changes)} of {job.places} places, {job.minutes:+.1f} min"
        yield f"{name}: {count}. {told}"
    if len(some) > SHOWN:
        yield f"and {len(some) - SHOWN} more jobs"
    if only := len(changed) - len(some):
        yield f"and {only} job{'' if only == 1 else 's'} in minutes or discs alone"


def _ways(change: PlaceChanged) -> str:
    grades = ""
    if change.before and change.after and change.before != change.after:
        grades = f" ({change.before} before, now {change.after})"
    return ", ".join(WAYS[way] for way in change.ways) + grades
