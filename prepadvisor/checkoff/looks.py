"""Whether a look at a place counts: later than all work there and beside it, clear, of this job, not old.

What a look found stays until work there and a later look that knew of it, or until the lead accepts it; a
rub-through only until its mend. Of looks that did not know of each other the adverse one stands.
"""

import datetime as dt
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import TYPE_CHECKING, Final

from prepadvisor.checkoff.basis import changed, mends
from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import COATS, WORK_STEPS
from prepadvisor.records import NamedTuple
from prepadvisor.records.gate import (
    BasisMoved,
    ByHand,
    CheckRemark,
    ClearWithoutWork,
    DatedAhead,
    HoldFact,
    LookedBefore,
    LookOld,
    NoResult,
    NotLooked,
    RubbedThrough,
    SawSomething,
)

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Zone

_MANY: Final = 200_000
"""With more triples of finding, work and look at one place none is looked for one by one: findings stand."""
_TRIED: Final = 20
"""So many of the last looks are tried for one that counts."""
TOLD_HOURS: Final = 24.0
"""From this age on a look is told."""


class Scene(NamedTuple):
    """What the looks at a place are held against.

    Attributes:
        place: its id.
        words: its entries that stand, those for all places of the panel among them.
        beside: work at other places that its look must follow.
        basis: what it rests on now.
        accepted: entries that the lead accepted, by number.
        mended: numbers of rub-throughs that have their mend, with the entry that is the mend's.
        zones: its zones.
        hours: how long a look counts.
        now: the present time, in UTC.
        edited: an entry there whose place in the file was changed by hand and that speaks for its work.
        edited_panel: such entries of the whole panel, which a look has to know.
    """

    place: str
    words: Sequence["Entry"]
    beside: Sequence["Entry"]
    basis: str
    accepted: Mapping[int, "Entry"]
    mended: Mapping[int, "Entry"]
    zones: tuple["Zone", ...]
    hours: float
    now: dt.datetime
    edited: "Entry | None" = None
    edited_panel: Sequence["Entry"] = ()


class Seen(NamedTuple):
    """What looks come to: the entry that speaks, why it does not count, what was found, when it was made."""

    entry: "Entry | None"
    fact: HoldFact | None
    found: tuple[HoldFact, ...] = ()
    told: tuple[CheckRemark, ...] = ()
    since: dt.datetime | None = None


def look(scene: Scene) -> Seen:
    """Judge the looks at a place."""
    own = [each for each in scene.words if each.check.step == "inspected"]
    looks = [each for each in own if each.check.feature != "all"]
    for_all = [each for each in own if each.check.feature == "all"]
    said_so = [each for each in scene.words if each.check.step == "inspected" or _is_found_at_work(each)]
    found = tuple(_standing(scene, said_so))
    told = tuple(_told(scene, looks))
    if not looks:
        return Seen(None, NotLooked(said(for_all[-1]) if for_all else None), found, told)
    if found:
        newest = [each for each in own if each.number == found[0].said.number]
        return Seen(newest[0] if newest else looks[-1], found[0], found, told)
    tries = [(each, _fault(scene, each, for_all)) for each in reversed(looks[-_TRIED:])]
    good = next((each for each, fact in tries if fact is None), None)
    if good is None:
        return Seen(tries[0][0], tries[0][1], (), told)
    return Seen(good, None, (), told, _since(scene, good, for_all))


def _is_found_at_work(entry: "Entry") -> bool:
    return entry.is_adverse and entry.check.step != "seen-wet"


def wet_looks(scene: Scene) -> tuple[HoldFact, ...]:
    """Return what was seen wet in the booth and still stands: lines and rub-throughs; all else is no hold."""
    wet = [each for each in scene.words if each.check.step == "seen-wet"]
    return tuple(_standing(scene, wet))


def wet_on_panel(
    panel: str,
    wet: Sequence["Entry"],
    on_panel: Sequence["Entry"],
    patches: Mapping[str, Sequence["Entry"]],
    now: dt.datetime,
) -> tuple[HoldFact, ...]:
    """Return what was seen wet on a panel as a whole and still stands.

    Args:
        panel: its id.
        wet: what was seen wet there.
        on_panel: all entries of the panel: work anywhere on it, or a coat laid again, is work.
        patches: entries at each of its patches.
        now: the present time, in UTC.
    """
    mended = mends(wet, "", (), patches, is_patch=False)
    scene = Scene(
        place=panel,
        words=on_panel,
        beside=(),
        basis="",
        accepted={},
        mended=mended,
        zones=(),
        hours=0.0,
        now=now,
    )
    return tuple(_standing(scene, wet))


def _standing(scene: Scene, looks: Sequence["Entry"]) -> list[SawSomething | RubbedThrough]:
    """Return what was found and is not mended, rub-throughs first, else the newest first."""
    rubbed: list[SawSomething | RubbedThrough] = []
    others: list[SawSomething | RubbedThrough] = []
    over = _Over(scene)
    times = _in_a_row(looks)
    for each in reversed(looks):
        if not each.is_adverse or each.number in scene.accepted:
            continue
        if each.check.step == "seen-wet" and each.check.result not in {"lines", "cut-through"}:
            continue
        if each.check.result == "cut-through":
            mend = scene.mended.get(each.number)
            if mend is None or not over.looked_after(each, mend):
                rubbed.append(RubbedThrough(said(each), scene.zones))
        elif each.check.result and not over.is_over(each):
            others.append(SawSomething(said(each), each.check.result, times[each.number]))
    return [*rubbed, *others]


class _Over:
    """Whether findings of a place are over: work there and a clear look after it, both by who knew of them.

    Reckoned once for all findings: with each look goes the farthest that any work it knew had read, so that a
    finding up to there is over. Only what a writer knew by being its own writer is looked for one by one.
    """

    def __init__(self, scene: Scene) -> None:
        self.work = [each for each in scene.words if _is_work(each) and not each.ahead]
        self.clear = [each for each in scene.words if _is_clear(each)]
        numbers = [each.number for each in self.work]
        farthest = list(accumulate((each.upto for each in self.work), max))
        self.upto = 0
        for each in self.clear:
            known = bisect_right(numbers, each.upto)
            if known:
                self.upto = max(self.upto, min(each.upto, farthest[known - 1]))
        adverse = sum(each.is_adverse for each in scene.words)
        self.many = adverse * len(self.work) * len(self.clear) > _MANY

    def is_over(self, adverse: "Entry") -> bool:
        if adverse.number <= self.upto:
            return True
        if self.many:
            return False
        return any(each.knew(adverse) and self.looked_after(adverse, each) for each in self.work)

    def looked_after(self, adverse: "Entry", work: "Entry") -> bool:
        return any(each.knew(adverse) and each.knew(work) for each in self.clear)


def _is_work(entry: "Entry") -> bool:
    return entry.check.step in WORK_STEPS or entry.check.step in {"primed", *COATS}


def _is_clear(entry: "Entry") -> bool:
    check = entry.check
    is_look = check.step in {"inspected", "seen-wet"} and check.feature != "all"
    return is_look and check.result == "clear" and not entry.ahead


def _undoes_a_look(entry: "Entry") -> bool:
    return entry.check.step in WORK_STEPS or entry.check.step == "primed"


def _fault(scene: Scene, look: "Entry", for_all: Sequence["Entry"]) -> HoldFact | None:
    if look.ahead:
        return DatedAhead(said(look))
    if look.check.result is None:
        return NoResult(said(look))
    if look.is_adverse and look.number not in scene.accepted:
        return SawSomething(said(look), look.check.result)
    work = [each for each in scene.words if _undoes_a_look(each)]
    later = [each for each in (*work, *scene.beside) if not look.knew(each)]
    if later:
        return LookedBefore(said(look), said(max(later, key=lambda each: each.number)))
    if look.edited and look.number not in scene.accepted:
        return ByHand(said(look))
    if scene.edited is not None and scene.edited.number not in scene.accepted:
        return ByHand(said(scene.edited))
    unknown = [each for each in scene.edited_panel if not look.knew(each)]
    if unknown:
        return ByHand(said(unknown[0]))
    moved = changed(look.check.basis, scene.basis)
    if moved:
        return BasisMoved(said(look), moved)
    hours = age_hours(_since(scene, look, for_all), scene.now)
    return LookOld(said(look), hours, scene.hours) if hours > scene.hours else None


def age_hours(since: dt.datetime, now: dt.datetime) -> float:
    """Return how old a look is in hours; one that is dated a little ahead is new."""
    return max(0.0, (now - since).total_seconds() / 3600)


def _since(scene: Scene, look: "Entry", for_all: Sequence["Entry"]) -> dt.datetime:
    """Return when a look was made, or when one entry for all renewed it with nothing done between."""
    newest = look.at
    work = [each for each in scene.words if _undoes_a_look(each)]
    for each in for_all:
        counts = each.check.result == "clear" and not each.ahead and not each.edited
        if counts and all(each.knew(one) for one in (look, *work, *scene.beside)):
            newest = max(newest, each.at)
    return newest


def _told(scene: Scene, looks: Sequence["Entry"]) -> list[CheckRemark]:
    if len(looks) < 2:
        return []
    before, last = looks[-2], looks[-1]
    worked = any(
        before.number < each.number < last.number and each.check.step in WORK_STEPS for each in scene.words
    )
    if not before.is_adverse or last.is_adverse or worked:
        return []
    return [ClearWithoutWork(scene.place, said(before), said(last))]


def _in_a_row(looks: Sequence["Entry"]) -> dict[int, int]:
    """Return how many looks in a row, up to each, found the same."""
    times: dict[int, int] = {}
    before, count = None, 0
    for each in looks:
        count = count + 1 if each.check.result == before else 1
        before, times[each.number] = each.check.result, count
    return times
