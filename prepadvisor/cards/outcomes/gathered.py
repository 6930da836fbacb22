"""Reads finished jobs and tells how often lines came back, beside what was predicted."""

from collections.abc import Callable, Iterable
from pathlib import Path

from prepadvisor.checkoff.ever import ever_clear
from prepadvisor.checkoff.redo import FACTORS, Finished, Rate, finished, in_sight, rate, rates, with_risks
from prepadvisor.files import load_job
from prepadvisor.files.job_files import job_files
from prepadvisor.named import NamedTuple
from prepadvisor.planning import advise
from prepadvisor.records.fault import BadInputError
from prepadvisor.standards.house import House


class Gathered(NamedTuple):
    """What became of some jobs.

    Attributes:
        files: how many job files there are.
        silent: how many of them have no report.
        rates: of all places in sight, then by each factor.
        hidden: places out of sight that were reported on.
        never: places of jobs that by their log never were clear to mask.
        failed: places at which lines were seen.
        unreadable: files that could not be read, with why.
    """

    files: int
    silent: int
    rates: tuple[Rate, ...]
    hidden: tuple[Finished, ...]
    never: tuple[Finished, ...]
    failed: tuple[Finished, ...]
    unreadable: tuple[tuple[str, str], ...]


def gathered(
    names: Iterable[str], house: House, told: Callable[[int, int], None] = lambda _done, _all: None
) -> Gathered:
    """Read jobs, or folders of them, and tell what became of them.

    Args:
        names: job files and folders.
        house: the standards and numbers in force.
        told: is told how many files are read, of how many.
    """
    places: list[Finished] = []
    silent = 0
    unreadable: list[tuple[str, str]] = []
    files = [file for name in names for file in _files(name)]
    for number, file in enumerate(files, 1):
        try:
            job = load_job(file, house)
        except BadInputError as error:
            unreadable.append((file, str(error.faults[0])))
            continue
        if job.outcome:
            advice = advise(job, house)
            done = finished(job, advice, cleared=ever_clear(job, advice, house))
            places.extend(with_risks(done, house.on(job).judged(job.colour), house.on(job)))
        else:
            silent += 1
        told(number, len(files))
    visible = in_sight(places)
    whole = [rate("all", "all places in sight", visible)] if visible else []
    return Gathered(
        files=len(files),
        silent=silent,
        rates=(*whole, *(each for factor in FACTORS for each in rates(visible, factor))),
        hidden=tuple(place for place in places if not place.in_sight),
        never=tuple(place for place in places if not place.cleared),
        failed=tuple(place for place in places if place.seen),
        unreadable=tuple(unreadable),
    )


def _files(name: str) -> list[str]:
    if not Path(name).is_dir():
        return [name]
    try:
        return job_files([name])
    except BadInputError:  # a folder without a job is no fault here
        return []
