"""What became of finished work: how often lines came back beside what was predicted, as text."""

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.checkoff import (
    FACTORS,
    Finished,
    Rate,
    ever_clear,
    finished,
    in_sight,
    rate,
    rates,
    with_risks,
)
from prepadvisor.files import job_files, load_job
from prepadvisor.planning import advise
from prepadvisor.records import BadInputError
from prepadvisor.wording import counted, factor_says, panel_name

if TYPE_CHECKING:
    from prepadvisor.standards import House

# Reads finished jobs and tells how often lines came back, beside what was predicted.


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
    names: Iterable[str], house: "House", told: Callable[[int, int], None] = lambda _done, _all: None
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


_TITLES: Final = {
    "flake": "BY FLAKE",
    "colour": "BY COLOUR",
    "zone": "BY STRICTEST ZONE",
    "tool": "BY LAST TOOL",
    "grade": "BY LAST GRADE",
    "coats": "BY COATS OF WET BED SPRAYED",
    "reach": "BY REACH",
}


def outcomes_lines(found: Gathered) -> list[str]:
    """Return the lines of the whole text."""
    reported = (found.rates[0].places if found.rates else 0) + len(found.hidden)
    lines = [f"{counted(found.files, 'job file')}, {counted(reported, 'place')} reported on"]
    last = ""
    for each in found.rates:
        if each.factor != last:
            heads = "seen of places  jobs   share   95 % interval  predicted"
            lines += ["", f"{_TITLES.get(each.factor, 'LINES SEEN'):<30} {heads}"]
            last = each.factor
        name = factor_says(each.factor, each.value)
        lines.append(
            f"  {name:<28} {each.seen:>4} of {each.places:<6} {each.jobs:>5}  {each.share:>6.0%}   "
            f"{each.low:>4.0%} to {each.high:>4.0%}  {_predicted(each)}"
        )
    for title, texts in _told(found):
        lines += ["", title, *(f"  {text}" for text in texts)]
    return lines


def outcomes_blocks(found: Gathered) -> list[tuple[str, list[str]]]:
    """Return the rates as titles with a sentence each, for a page of any width, and all else that is told."""
    blocks: list[tuple[str, list[str]]] = []
    for each in found.rates:
        title = _TITLES.get(each.factor, "LINES SEEN")
        if not blocks or blocks[-1][0] != title:
            blocks.append((title, []))
        blocks[-1][1].append(rate_says(each))
    return [*blocks, *_told(found)]


def rate_says(each: Rate) -> str:
    """Return one rate in a sentence."""
    jobs = counted(each.jobs, "job")
    predicted = "" if each.predicted is None else f"; predicted {each.predicted:.0%}"
    share = f"{each.share:.0%}, 95 % interval {each.low:.0%} to {each.high:.0%}"
    name = factor_says(each.factor, each.value)
    return f"{name}: {each.seen} of {each.places} places in {jobs} ({share}){predicted}"


def _told(found: Gathered) -> Iterator[tuple[str, list[str]]]:
    """Yield what is told beside the rates: what is not known, marked, hidden, seen, and not read."""
    if found.silent:
        many = counted(found.silent, "job")
        title = f"NOT KNOWN: no report of {many}: nobody came back, or nobody wrote it down."
        yield title, ["They count nowhere above; a customer who says nothing is not a place without lines."]
    if found.never:
        seen = sum(place.seen for place in found.never)
        many = f"MARKED: {len(found.never)} of these places are of jobs"
        title = f"{many} that by their log never were clear to mask,"
        yield title, [f"lines seen at {seen} of them"]
    if found.hidden:
        seen, many = sum(place.seen for place in found.hidden), counted(len(found.hidden), "place")
        yield (
            f"OUT OF SIGHT, NOT COUNTED ABOVE: lines seen at {seen} of {many}",
            [],
        )
    if found.failed:
        texts = [text for place in found.failed for text in _failed(place)]
        yield "WHERE LINES WERE SEEN, AND WHAT HAD BEEN DECIDED", texts
    if found.unreadable:
        yield f"NOT READ: {counted(len(found.unreadable), 'file')}", [why for _, why in found.unreadable]


def _failed(place: Finished) -> tuple[str, str]:
    flake, reach, tool, coats = (
        factor_says(factor, getattr(place, factor)) for factor in ("flake", "reach", "tool", "coats")
    )
    ahead = f"by hand {place.hand}, " if place.hand else ""
    last = f"last {tool} {place.grade}" if place.tool != place.grade else f"last touch {tool}"
    how = f"{flake}, {reach}; {ahead}{last}; wet bed {coats}"
    panel, _, line = place.place.partition("/")
    where = f"{place.job} {panel_name(panel)} {line}"
    said = f"{where}: {how}{f'; {place.note}' if place.note else ''}"
    return said, f"  decided by {', '.join(place.rules) or 'no rule'}"


def _predicted(each: Rate) -> str:
    """Return the mean risk the line model has for the places it has something to say of."""
    if each.predicted is None:
        return "        -"
    of = "" if each.judged == each.places else f" of {each.judged}"
    return f"{each.predicted:>9.0%}{of}"
