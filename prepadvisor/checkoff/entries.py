"""The log as it is trusted: every entry with its place in the order of entry, and what is odd about it.

Nothing is rewritten and nothing is dropped. An entry dated later than now counts for nothing until then. One
thing follows another only if it does so both in the order of entry and by its time, so that a clock that was
set back never turns an old look into a new one.
"""

import datetime as dt
from collections.abc import Iterable
from typing import Final, NamedTuple

from prepadvisor.records.advice import Place
from prepadvisor.records.job import Check, Job
from prepadvisor.records.words import Step

WORK_STEPS: Final[tuple[Step, ...]] = ("scuffed", "guide-coated", "sanded")
"""Steps that change the surface: a look before one of them does not count."""

PANEL_STEPS: Final[tuple[Step, ...]] = ("cleaned", "wiped")
"""Steps that are done to a whole panel."""

_FAR_FUTURE: Final = dt.datetime.max.replace(tzinfo=dt.UTC)


class Entry(NamedTuple):
    """A log entry: its number in the order of entry from 1, its time in UTC, whether it lies ahead of now."""

    number: int
    at: dt.datetime
    is_future: bool
    check: Check

    def follows(self, other: "Entry") -> bool:
        """Say whether this was entered after the other and is not dated before it."""
        return self.number > other.number and self.at >= other.at

    @property
    def when(self) -> str:
        """Its time as people read it."""
        return f"{self.check.at:%Y-%m-%d %H:%M}"

    @property
    def what(self) -> str:
        """The entry in a few words: number, step, place, by whom and when."""
        result = f" {self.check.result}" if self.check.result else ""
        by = f" by {self.check.by}" if self.check.by else ""
        return f"entry {self.number}, {self.check.feature} {self.check.step}{result}{by} {self.when}"


def entries(job: Job, now: dt.datetime) -> tuple[Entry, ...]:
    """Return the whole log in the order of entry.

    Args:
        job: the job with its checks.
        now: the time that entries are held against; with an offset, or taken as UTC.
    """
    present = _utc(now)
    return tuple(
        Entry(number, at, at > present, check)
        for number, check in enumerate(job.check, 1)
        for at in (_utc(check.at),)
    )


def _utc(at: dt.datetime) -> dt.datetime:
    if at.tzinfo is None:
        return at.replace(tzinfo=dt.UTC)
    try:
        return at.astimezone(dt.UTC)
    except OverflowError:  # the last day of year 9999, west of Greenwich
        return _FAR_FUTURE


def covers(entry: Entry, place: Place) -> bool:
    """Say whether an entry speaks for a place.

    An entry for "all" speaks for every place of its panel that the step is due at: scuffing for the lines,
    guide coat and sanding for what a machine reaches. It never speaks as a look or as an acceptance.
    """
    check = entry.check
    if check.panel != place.panel:
        return False
    if check.feature == place.feature:
        return check.step not in PANEL_STEPS
    if check.feature != "all":
        return False
    if check.step == "scuffed":
        return place.kind not in {"face", "patch"}
    return check.step in {"guide-coated", "sanded"} and place.reach == "machine"


def last_words(some: Iterable[Entry]) -> list[Entry]:
    """Return the last word on each step at each feature, without what is dated later than now."""
    words = {(e.check.panel, e.check.feature, e.check.step): e for e in sorted(some) if not e.is_future}
    return list(words.values())


def odd_entries(log: Iterable[Entry], places: Iterable[Place]) -> tuple[str, ...]:
    """Tell every entry that is not trusted as it stands, and why."""
    features: dict[str, set[str]] = {}
    for place in places:
        features.setdefault(place.panel, set()).add(place.feature)
    told: list[str] = []
    latest: Entry | None = None
    for entry in log:
        told.extend(f"{entry.what}: {why}" for why in _odd(entry, features))
        if entry.is_future:
            continue
        if latest is not None and entry.at < latest.at:
            told.append(
                f"{entry.what}: dated before entry {latest.number} ({latest.when}), entered earlier; "
                "it counts as later only where its time says so too; check the clock"
            )
        else:
            latest = entry
    return tuple(told)


def _odd(entry: Entry, features: dict[str, set[str]]) -> Iterable[str]:
    check = entry.check
    if entry.is_future:
        yield "dated later than now; it counts for nothing until then; check the clock"
    if check.at.tzinfo is None:
        yield "its time has no offset, so it is read as UTC"
    if check.panel not in features:
        yield f'there is no panel "{check.panel}" in this job, so it counts nowhere'
    elif check.step in PANEL_STEPS:
        if check.feature not in {"panel", "all"}:
            yield f'"{check.step}" is for a whole panel, so it counts nowhere; log it at {check.panel}/panel'
    elif check.feature == "all":
        if check.step in {"inspected", "accepted"}:
            yield "every place needs its own look, so one for all counts nowhere"
    elif check.feature not in features[check.panel]:
        yield f'{check.panel} has no place "{check.feature}", so it counts nowhere'
