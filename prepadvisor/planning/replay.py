"""What other standards change in a job's advice, place by place, and the sum of it over many jobs."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import repeat
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from prepadvisor.records import (
    GUIDE_COAT,
    RANK,
    WET_BED,
    Advice,
    Deviation,
    Place,
    Rates,
    Reason,
    WetBedAdvice,
)

if TYPE_CHECKING:
    from prepadvisor.records import Grade

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


LOOSER: Final = frozenset({"coarser", "released", "hand coarser", "wet bed less", "guide coat less"})
"""The ways that ask less of a painter: told before the others, after what is held."""

HOLD_WAYS: Final = frozenset({"held", "released"})


class ChangedBy(NamedTuple):
    """A rule behind a change, with its place: it decides now (`new`), or it or what took it away does not."""

    rule: str
    file: str
    line: int
    how: Literal["new", "gone"]


class PlaceChange(NamedTuple):
    """One place that changes: in which ways, its answers before and after, and the rules behind it."""

    place: str
    ways: tuple[str, ...]
    before: Place | None
    after: Place | None
    causes: tuple[ChangedBy, ...]


class JobDifference(NamedTuple):
    """One job under two standards.

    `places` are those in all, `changes` the changed ones; minutes, ml of wet bed, discs and money of both.
    Money is None where the shop states no rates.
    """

    places: int
    changes: tuple[PlaceChange, ...]
    minutes: tuple[float, float]
    discs: tuple[Mapping["Grade", int], Mapping["Grade", int]]
    ml: tuple[int, int] = (0, 0)
    money: tuple[float, float] | None = None

    @property
    def changed(self) -> dict[str, tuple[str, ...]]:
        """Place to the ways in which it changes."""
        return {change.place: change.ways for change in self.changes}

    @property
    def is_held_otherwise(self) -> bool:
        """Whether some place is held under one of the two only: then the sums cannot be compared."""
        return any(not HOLD_WAYS.isdisjoint(change.ways) for change in self.changes)

    @property
    def is_change(self) -> bool:
        """Whether anything is different."""
        return bool(self.changes) or self.minutes[0] != self.minutes[1] or self.discs[0] != self.discs[1]


def difference(before: Advice, after: Advice, rates: Rates | None = None) -> JobDifference:
    """Return what changes from one advice of a job to another of the same job, money at the shop's rates."""
    sums = {
        "minutes": (before.minutes, after.minutes),
        "discs": (before.discs, after.discs),
        "ml": (before.mix_ml, after.mix_ml),
        "money": None if rates is None else (money(before, rates), money(after, rates)),
    }
    if before is after:
        return JobDifference(len(before.places), (), **sums)  # type: ignore[arg-type]
    old, new = ({place.id: place for place in advice.places} for advice in (before, after))
    reasons = tuple({spot.id: spot.because for spot in advice.spots} for advice in (before, after))
    changes = []
    for name in {**old, **new}:
        one, other = old.get(name), new.get(name)
        ways = ways_of(one, other)
        if ways:
            causes = _causes(one, other, reasons, after.standards.deviations)
            changes.append(PlaceChange(name, ways, one, other, causes))
    followed = tuple(map(_following, changes, repeat(changes)))
    return JobDifference(len({**old, **new}), followed, **sums)  # type: ignore[arg-type]


def _following(change: PlaceChange, changes: Sequence[PlaceChange]) -> PlaceChange:
    """Put a change that no rule of its own is behind down to those of its panel, whose grade it follows."""
    if change.causes:
        return change
    panel = change.place.partition("/")[0] + "/"
    of_panel = (cause for other in changes if other.place.startswith(panel) for cause in other.causes)
    return change._replace(causes=tuple(dict.fromkeys(of_panel)))


def money(advice: Advice, rates: Rates) -> float:
    """Return what a job's preparation costs at a shop's rates: time, wet bed and discs."""
    return (
        advice.minutes / 60 * rates.labour_per_hour
        + advice.mix_ml / 1000 * rates.wet_bed_per_litre
        + sum(advice.discs.values()) * rates.per_disc
    )


def _causes(
    old: Place | None,
    new: Place | None,
    reasons: Sequence[Mapping[str, Sequence[Reason]]],
    deviations: Sequence[Deviation],
) -> tuple[ChangedBy, ...]:
    """Return the rules that decide a place's spots under one of the standards only, new ones first."""
    spots = dict.fromkeys(spot for place in (old, new) if place is not None for spot in place.spots)
    causes: dict[ChangedBy, None] = {}
    gone: dict[ChangedBy, None] = {}
    went = {each.rule: each for each in deviations}
    for spot in spots:
        before, after = (_by_output(side.get(spot, ())) for side in reasons)
        for output in {**before, **after}:
            was, now = before.get(output, {}), after.get(output, {})
            if set(was.values()) == set(now.values()):
                continue
            for rule in now.keys() - was.keys():
                causes[ChangedBy(rule.rule, rule.file, rule.line, "new")] = None
            for rule in was.keys() - now.keys():
                by = went.get(rule.rule)
                if by is not None:
                    gone[ChangedBy(rule.rule, by.file, by.line, "gone")] = None
                elif not now:
                    gone[ChangedBy(rule.rule, rule.file, rule.line, "gone")] = None
    return (*sorted(causes), *sorted(gone))


class _Known(NamedTuple):
    rule: str
    file: str
    line: int


def _by_output(reasons: Iterable[Reason]) -> dict[str, dict[_Known, object]]:
    found: dict[str, dict[_Known, object]] = {}
    for reason in reasons:
        if reason.file:  # not the line model
            key = _Known(reason.rule, reason.file, reason.line)
            found.setdefault(reason.output, {})[key] = reason.value
    return found


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


def _grade_way(old: "Grade | None", new: "Grade | None", prefix: str, *, held: bool) -> str | None:
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
