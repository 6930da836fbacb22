"""Planned minutes against those a log shows, by kind of work, and the rates that would have been right.

What a person logs within three quarters of a minute is one bout of work; it took the time since that
person's bout before, unless that is so long that something else was done between. A bout's time is shared out
over what is in it as it was planned. The first bout of each person has no beginning and counts for nothing.
"""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.logbook import Entry, Logbook
from prepadvisor.records import DO_OF, STEP_OF

if TYPE_CHECKING:
    from prepadvisor.records import Advice, Do, Job, Shop, Task

TOGETHER_S: Final = 45.0
"""Entries of one person no farther apart than this, in seconds, are one bout."""

LONGEST_MIN: Final = 90.0
"""A bout of more minutes than this had something else in it."""

LEAST_BOUTS: Final = 5
"""Fewer bouts say too little to change a rate."""


class WorkKind(NamedTuple):
    """What work is timed as: what is done, and on what: the kind of line scuffed, the surface sanded."""

    do: "Do"
    on: str = ""


class Bout(NamedTuple):
    """What one person did in one go: planned minutes by kind, and the minutes it took."""

    planned: dict[WorkKind, float]
    took: float


class Pace(NamedTuple):
    """How one kind of work went: its bouts, planned and real minutes, and the middle half of their ratios."""

    kind: WorkKind
    bouts: int
    planned: float
    real: float
    low: float
    high: float

    @property
    def ratio(self) -> float:
        """Real minutes for each planned one."""
        return self.real / self.planned


class NewRate(NamedTuple):
    """A number of the shop file that would have planned a kind of work right; `name` as in the file."""

    name: str
    kind: WorkKind
    before: float
    after: float
    bouts: int


def bouts(job: "Job", advice: "Advice") -> tuple[Bout, ...]:
    """Return the bouts of work in a job's log whose time is known and which the plan has, all of it.

    Args:
        job: the job with its log.
        advice: the advice for exactly this job.
    """
    planned = _Planned(advice)
    found: list[Bout] = []
    ends: dict[str, float] = {}
    for group in _groups(Logbook.read(job.check).entries):
        who, end = group[0].who, group[-1].at.timestamp()
        minutes = [planned.take(entry) for entry in group]
        took = (end - ends.get(who, end)) / 60
        ends[who] = end
        shares: dict[WorkKind, float] = {}
        for each in minutes:
            if each is not None:
                shares[each[0]] = shares.get(each[0], 0.0) + each[1]
        if 0 < took <= LONGEST_MIN and None not in minutes and sum(shares.values()) > 0:
            found.append(Bout(shares, took))
    return tuple(found)


def paces(all_bouts: Iterable[Bout]) -> tuple[Pace, ...]:
    """Return how each kind of work went, in the order of work."""
    ratios: dict[WorkKind, list[tuple[float, float]]] = {}
    for bout in all_bouts:
        ratio = bout.took / sum(bout.planned.values())
        for kind, minutes in bout.planned.items():
            if minutes > 0:
                ratios.setdefault(kind, []).append((minutes, ratio))
    order = list(STEP_OF)
    found = []
    for kind in sorted(ratios, key=lambda kind: (order.index(kind.do), kind.on)):
        own = ratios[kind]
        each = sorted(ratio for _, ratio in own)
        planned, real = sum(minutes for minutes, _ in own), sum(minutes * ratio for minutes, ratio in own)
        found.append(
            Pace(
                kind=kind,
                bouts=len(own),
                planned=planned,
                real=real,
                low=_quantile(each, 0.25),
                high=_quantile(each, 0.75),
            )
        )
    return tuple(found)


def new_rates(found: Iterable[Pace], shop: "Shop") -> tuple[NewRate, ...]:
    """Return the shop's rates as the bouts have them, for kinds of work with bouts enough.

    Minutes grow with the ratio; how fast a surface is gone over or cut falls with it.

    Args:
        found: how each kind of work went.
        shop: the rates it was planned with.
    """
    rates = []
    for pace in found:
        if pace.bouts < LEAST_BOUTS:
            continue
        for name, before in _names(pace.kind, shop):
            faster = pace.kind.do == "sand"
            after = before / pace.ratio if faster else before * pace.ratio
            rates.append(NewRate(name, pace.kind, before, float(f"{after:.3g}"), pace.bouts))
    return tuple(rates)


def _names(kind: WorkKind, shop: "Shop") -> list[tuple[str, float]]:
    match kind.do:
        case "clean":
            whole = [("clean_minutes", shop.clean_minutes)]
            return [*whole, ("clean_minutes_per_m2", shop.clean_minutes_per_m2)]
        case "powder":
            return [("guide_coat_minutes", shop.guide_coat_minutes)]
        case "look":
            return [("look_minutes", shop.look_minutes)]
        case "wipe":
            return [("wipe_minutes", shop.wipe_minutes)]
        case "scuff":
            by_kind = dict(shop.hand_minutes_per_metre.items())
            return [(f"hand_minutes_per_metre.{kind.on}", by_kind[kind.on])] if kind.on in by_kind else []
        case "sand":
            faster: dict[str, float] = dict(shop.cut_faster.items())
            if kind.on in faster:
                return [(f"cut_faster.{kind.on}", faster[kind.on])]
            return [("pass_m2_per_minute", shop.pass_m2_per_minute)]
        case "mask":
            return []


class _Planned:
    """Hands out the planned minutes of entries: the first of a kind at a place takes the first such task."""

    def __init__(self, advice: "Advice") -> None:
        self._kinds = {place.id: (place.kind, place.surface) for place in advice.places}
        self._tasks: dict[tuple[str, Do], list[Task]] = {}
        for task in advice.work.tasks:
            self._tasks.setdefault((task.place, task.do), []).append(task)
        self._panels: dict[str, list[str]] = {}
        for place in advice.places:
            self._panels.setdefault(place.panel, []).append(place.id)

    def take(self, entry: Entry) -> tuple[WorkKind, float] | None:
        """Return the kind and the planned minutes of an entry, None for what the plan has not."""
        check = entry.check
        do = DO_OF.get(check.step)
        if do is None or entry.struck or check.feature in {"all", "lines"}:
            return None
        place = check.panel if do in {"clean", "wipe"} else f"{check.panel}/{check.feature}"
        tasks = self._tasks.get((place, do))
        if not tasks:
            return None
        kind, surface = self._kinds.get(place, ("", ""))
        on = kind if do == "scuff" else _sanded_as(surface) if do == "sand" else ""
        return WorkKind(do, on), tasks.pop(0).minutes


def _sanded_as(surface: str) -> str:
    return "clear" if surface in {"aged-clear", "cured-clear"} else surface


def _groups(entries: Sequence[Entry]) -> list[list[Entry]]:
    """Part a log into what one person logged in one go, by the times that he wrote."""
    by_person: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.who and not entry.struck:
            by_person.setdefault(entry.who, []).append(entry)
    groups: list[list[Entry]] = []
    for own in by_person.values():
        last: Entry | None = None
        for entry in sorted(own, key=lambda entry: entry.at):
            if last is not None and (entry.at - last.at).total_seconds() <= TOGETHER_S:
                groups[-1].append(entry)
            else:
                groups.append([entry])
            last = entry
    return groups


def _quantile(ordered: Sequence[float], share: float) -> float:
    """Return a quantile of sorted numbers, linear between them."""
    at = share * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])
