"""Whether the last look at a place counts: later than all work there and beside it, clear, of this job."""

from collections.abc import Sequence
from typing import NamedTuple

from prepadvisor.checkoff import mend
from prepadvisor.checkoff.basis import changed
from prepadvisor.checkoff.entries import WORK_STEPS, Entry, last_words
from prepadvisor.checkoff.mend import Bench
from prepadvisor.checkoff.verdict import GateHold, StepView


class Seen(NamedTuple):
    """What the looks at a place come to: the step, what it holds, and what must be told."""

    step: StepView
    holds: tuple[GateHold, ...] = ()
    told: tuple[str, ...] = ()


def look(
    bench: Bench, words: Sequence[Entry], beside: Sequence[Entry], basis: str, accepted: Entry | None
) -> Seen:
    """Judge the looks at a place.

    Args:
        bench: the place.
        words: its entries, in the order of entry.
        beside: hand work at places that touch it.
        basis: what the place rests on now.
        accepted: the lead's acceptance that counts there, if any.
    """
    looks = [entry for entry in words if entry.check.step == "inspected"]
    work = [entry for entry in words if entry.check.step in WORK_STEPS]
    if not looks:
        return _held(bench, None, "not looked at", mend.LOOK, state="open")
    last = looks[-1]
    rubbed = _rubbed_through(looks, work, basis, accepted)
    if rubbed is not None:
        return _held(bench, rubbed, f"rubbed through ({rubbed.what})", mend.rubbed_through(bench))
    if last.is_future:
        why = f"{last.what}: dated later than now"
        return _held(bench, last, why, "check the clock, look again and log it")
    result = last.check.result
    if result is None:
        return _held(bench, last, f"{last.what}: without a result", mend.LOOK)
    if result == "lines":
        mended = mend.lines_left(bench, _in_a_row(looks), _last_grade(work))
        return _held(bench, last, f"lines were seen ({last.what})", mended)
    if result == "gloss":
        return _held(bench, last, f"gloss was seen ({last.what})", mend.gloss_left(bench))
    return _clear(bench, last, [*work, *beside], basis, _told(looks, work))


def _clear(bench: Bench, last: Entry, before: Sequence[Entry], basis: str, told: tuple[str, ...]) -> Seen:
    later = [entry for entry in last_words(before) if not last.follows(entry)]
    if later:
        newest = max(later)
        why = (f"looked at before {newest.what}" if newest.number > last.number
               else f"{last.what} is dated before {newest.what}: the clock was set back")  # fmt: skip
        return _held(bench, last, why, mend.LOOK, state="reopened", told=told)
    moved = changed(last.check.basis, basis)
    if moved:
        why = f"{' and '.join(moved)} changed since it was looked at ({last.when})"
        return _held(bench, last, why, mend.LOOK, state="reopened", told=told)
    return Seen(StepView("inspected", "done", last.check), told=told)


def _rubbed_through(
    looks: Sequence[Entry], work: Sequence[Entry], basis: str, accepted: Entry | None
) -> Entry | None:
    """Return the rub-through that still stands.

    It is over once the place was re-planned, worked and seen clear, or accepted and seen clear.
    """
    rubs = [entry for entry in looks if entry.check.result == "cut-through"]
    if not rubs:
        return None
    rub, last = rubs[-1], looks[-1]
    if last.check.result != "clear":
        return rub
    if accepted is not None and accepted.number > rub.number:
        return None
    replanned = bool(changed(rub.check.basis, basis))
    worked = any(entry.number > rub.number for entry in work)
    return None if replanned and worked else rub


def _held(
    bench: Bench,
    entry: Entry | None,
    why: str,
    mended: str,
    *,
    state: str = "held",
    told: tuple[str, ...] = (),
) -> Seen:
    step = StepView("inspected", "open", None, why)
    if state != "open" and entry is not None:
        step = StepView("inspected", "reopened" if state == "reopened" else "held", entry.check, why)
    return Seen(step, (GateHold(bench.place.id, why, mended),), told)


def _told(looks: Sequence[Entry], work: Sequence[Entry]) -> tuple[str, ...]:
    if len(looks) < 2:
        return ()
    before, last = looks[-2], looks[-1]
    worked = any(before.number < entry.number < last.number for entry in work)
    if before.check.result in {None, "clear"} or worked:
        return ()
    place = f"{last.check.panel}/{last.check.feature}"
    first = f"seen with {before.check.result} {before.when}"
    return (f"{place}: {first}, then clear {last.when} with no work logged between",)


def _in_a_row(looks: Sequence[Entry]) -> int:
    times = 0
    for entry in reversed(looks):
        if entry.check.result != "lines":
            break
        times += 1
    return times


def _last_grade(work: Sequence[Entry]) -> str | None:
    grades = [entry.check.grade for entry in work if entry.check.grade]
    return grades[-1] if grades else None
