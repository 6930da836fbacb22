"""A share of places and how sure it is, when places of one job go together.

Places of one door are prepared by the same hands on the same day: if one shows, the next one likely does too.
So the interval counts places for what they are worth, between one for each place and one for each job.
"""

from collections.abc import Mapping, Sequence
from math import cos, inf, pi, sin, sqrt, tan
from typing import Final, NamedTuple

Z_95: Final = 1.959963984540054
"""The 97.5 % point of the standard normal distribution, so that 95 % lie between both signs of it."""

FEW_JOBS: Final = 5
"""With lines seen in fewer jobs than this, or missing in fewer, how places go together cannot be told: all of
a job then count as one. Chosen here by simulation, so that 95 % intervals hold at any correlation."""


class SeenShare(NamedTuple):
    """How often lines were seen: places, of those seen, jobs, the places' worth, the 95 % interval."""

    places: int
    seen: int
    jobs: int
    worth: float
    low: float
    high: float

    @property
    def share(self) -> float:
        """Places seen over places, 0 … 1."""
        return self.seen / self.places


def share_by_job(reports: Mapping[str, Sequence[bool]]) -> SeenShare:
    """Return the share of places where lines were seen, with an interval that allows for jobs going together.

    Wilson's interval at the number of independent places that carry as much: places over the design effect,
    cut by Student's t for few jobs (the way of Korn & Graubard 1998, Surv. Methodol. 24 193, from memory,
    there with another interval). The design effect is the variance of the share between jobs over that of
    independent places, at least 1 and at most that of jobs whose places all go together.

    Args:
        reports: for each job, whether lines were seen, place by place; no job is empty.

    Raises:
        ValueError: without any report.
    """
    sizes = [len(each) for each in reports.values()]
    counts = [sum(each) for each in reports.values()]
    places, seen, jobs = sum(sizes), sum(counts), len(sizes)
    if places < 1:
        raise ValueError("no reports, no share")
    together = sum(size**2 for size in sizes) / places
    with_lines = sum(count > 0 for count in counts)
    without = sum(count < size for count, size in zip(counts, sizes, strict=True))
    if min(with_lines, without) < FEW_JOBS:
        effect = together
    else:
        share = seen / places
        between = variance_by_job(sizes, counts) / (share * (1 - share) / places)
        effect = min(max(between, 1.0), together)
    sureness = (Z_95 / student_975(jobs - 1)) ** 2 if together > 1 else 1.0
    worth = max(places / effect * sureness, 1.0)
    low, high = wilson(seen / places, worth)
    return SeenShare(places=places, seen=seen, jobs=jobs, worth=worth, low=low, high=high)


def variance_by_job(sizes: Sequence[int], counts: Sequence[int]) -> float:
    """Return the variance of the share of all places, from how it differs between two or more jobs.

    The linearized variance of a ratio, which is also the cluster-robust one of a mean with its small-sample
    factor jobs/(jobs − 1).

    Args:
        sizes: places of each job.
        counts: of those, places with lines.
    """
    places, share = sum(sizes), sum(counts) / sum(sizes)
    squares = sum((count - share * size) ** 2 for size, count in zip(sizes, counts, strict=True))
    return len(sizes) / (len(sizes) - 1) * squares / places**2


def wilson(share: float, places: float) -> tuple[float, float]:
    """Return the 95 % Wilson score interval of a share, without continuity correction.

    Source: Wilson 1927, J. Am. Stat. Assoc. 22(158) 209 (from memory; the test holds it against scipy).

    Args:
        share: the share found, 0 … 1.
        places: how many independent places it was found in; need not be whole.

    Raises:
        ValueError: for a share or a number that cannot be.
    """
    if not 0 <= share <= 1 or not places > 0:
        raise ValueError(f"{share} of {places} is no share")
    square = Z_95**2
    middle = (share + square / (2 * places)) / (1 + square / places)
    half = Z_95 / (1 + square / places) * sqrt(share * (1 - share) / places + square / (4 * places**2))
    return 0.0 if share == 0 else middle - half, 1.0 if share == 1 else middle + half


def student_975(freedom: int) -> float:
    """Return the 97.5 % point of Student's t.

    By halving on the angle atan(t/√n), in which the distribution is a finite sum (Abramowitz & Stegun 26.7.3
    and 26.7.4, from memory; the test holds it against scipy).

    Args:
        freedom: degrees of freedom; of none nothing is known, and the point is infinite.
    """
    if freedom < 1:
        return inf
    if freedom > 2000:
        return Z_95
    low, high = 0.0, pi / 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, freedom) < 0.95 else (low, middle)
    return sqrt(freedom) * tan(low)


def _within(angle: float, freedom: int) -> float:
    """Return the probability that |t| is below √freedom · tan(angle)."""
    start = freedom % 2
    term = cos(angle) if start else 1.0
    total = term if freedom > 1 else 0.0
    for number in range(start + 2, freedom, 2):
        term *= cos(angle) ** 2 * (number - 1) / number
        total += term
    return 2 / pi * (angle + sin(angle) * total) if start else sin(angle) * total
