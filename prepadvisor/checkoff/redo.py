"""What became of finished work: how often lines were seen weeks later, by what the place was prepared with.

Every rate stands with its 95 % Wilson interval, because few places are ever reported on and a bare share of a
few says next to nothing.
"""

from collections.abc import Iterable
from math import sqrt
from typing import Final, NamedTuple

from prepadvisor.records.advice import Advice, Place
from prepadvisor.records.job import Check, Job, Outcome

Z_95: Final = 1.959963984540054
"""The 97.5 % point of the standard normal distribution, so that 95 % lie between both signs of it."""

FACTORS: Final = ("flake", "tool", "grade", "coats", "reach")
"""What rates are told by: flake, last tool, last grade, coats of wet bed advised, hand-only or not."""


class Finished(NamedTuple):
    """A place that was reported on: what it was prepared with, whether lines were seen, what decided.

    `hand` is the scuff ahead of a machine, `tool` and `grade` the last touch; "not recorded" where the log
    has none. `reach` is "hand only" or "machine".
    """

    job: str
    place: str
    flake: str
    hand: str
    tool: str
    grade: str
    coats: str
    reach: str
    seen: bool
    note: str
    rules: tuple[str, ...]


class Rate(NamedTuple):
    """How often lines were seen: places, of those seen, the share, and its 95 % Wilson interval."""

    factor: str
    value: str
    places: int
    seen: int
    share: float
    low: float
    high: float


def wilson(seen: int, places: int) -> tuple[float, float]:
    """Return the 95 % Wilson score interval of a share.

    Without continuity correction. Source: Wilson 1927, J. Am. Stat. Assoc. 22(158) 209 (from memory; the test
    holds it against scipy).

    Args:
        seen: how many of them, 0 … places.
        places: how many there are, at least 1.

    Raises:
        ValueError: for counts that cannot be.
    """
    if not 0 <= seen <= places or places < 1:
        raise ValueError(f"{seen} of {places} is no share")
    share, square = seen / places, Z_95**2
    middle = (share + square / (2 * places)) / (1 + square / places)
    half = Z_95 / (1 + square / places) * sqrt(share * (1 - share) / places + square / (4 * places**2))
    low = 0.0 if seen == 0 else max(0.0, middle - half)
    high = 1.0 if seen == places else min(1.0, middle + half)
    return low, high


def finished(job: Job, advice: Advice) -> tuple[Finished, ...]:
    """Return every place of a job that was reported on, by the last word on each.

    A report for "all" speaks for every place of its panel, a later one for a single place over it.
    """
    work: dict[str, list[Check]] = {}
    for check in job.check:
        if check.step in {"scuffed", "sanded"}:
            work.setdefault(check.panel, []).append(check)
    rules = {spot.id: tuple(because.rule for because in spot.because) for spot in advice.spots}
    found = []
    for place in advice.places:
        report = _report(job, place)
        if report is not None:
            named = {place.feature, "all"}
            own = [check for check in work.get(place.panel, []) if check.feature in named]
            found.append(_finished(job, advice, place, own, report, rules))
    return tuple(found)


def rates(places: Iterable[Finished], factor: str) -> tuple[Rate, ...]:
    """Return the rates by one of `FACTORS`, the most often seen first."""
    groups: dict[str, list[bool]] = {}
    for place in places:
        groups.setdefault(str(getattr(place, factor)), []).append(place.seen)
    made = [rate(factor, value, seen) for value, seen in groups.items()]
    return tuple(sorted(made, key=lambda each: (-each.share, -each.places, each.value)))


def rate(factor: str, value: str, seen: Iterable[bool]) -> Rate:
    """Return one rate of one or more reports."""
    reports = list(seen)
    low, high = wilson(sum(reports), len(reports))
    return Rate(factor, value, len(reports), sum(reports), sum(reports) / len(reports), low, high)


def _report(job: Job, place: Place) -> Outcome | None:
    report = None
    for outcome in job.outcome:
        if outcome.panel == place.panel and outcome.feature in {place.feature, "all"}:
            report = outcome
    return report


def _finished(
    job: Job,
    advice: Advice,
    place: Place,
    own: list[Check],
    report: Outcome,
    rules: dict[str, tuple[str, ...]],
) -> Finished:
    by_hand = place.reach == "hand"
    last = _last(own, "scuffed" if by_hand else "sanded")
    ahead = None if by_hand or place.kind in {"face", "patch"} else _last(own, "scuffed")
    return Finished(
        job=job.job.number,
        place=place.id,
        flake=advice.job.flake,
        hand=f"{ahead.tool or 'not recorded'} {ahead.grade or ''}".strip() if ahead else "",
        tool=(last.tool if last else None) or "not recorded",
        grade=(last.grade if last else None) or "not recorded",
        coats=str(place.wet_bed.coats if place.wet_bed.need != "no" else 0),
        reach="hand only" if by_hand else "machine",
        seen=report.seen,
        note=report.note,
        rules=tuple(dict.fromkeys(rule for spot in place.spots for rule in rules.get(spot, ()))),
    )


def _last(own: list[Check], step: str) -> Check | None:
    return next((check for check in reversed(own) if check.step == step), None)
