"""Whether the work that a place owes is logged, in its order and within its limits."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from prepadvisor.checkoff import mend
from prepadvisor.checkoff.entries import Entry, last_words
from prepadvisor.checkoff.limits import (
    Limits,
    cuts_deeper,
    hand_limits,
    last_touch_limits,
    wrong_sanding,
    wrong_scuff,
)
from prepadvisor.checkoff.mend import Bench
from prepadvisor.checkoff.tool_risk import would_show
from prepadvisor.checkoff.verdict import GateHold, StepView
from prepadvisor.records.advice import Place
from prepadvisor.records.words import Step

_ANY: Final = Limits(None, None)


class Worked(NamedTuple):
    """What the work at a place comes to: its steps, holds, and what must be told."""

    steps: tuple[StepView, ...]
    holds: tuple[GateHold, ...]
    told: tuple[str, ...]
    last: tuple[Entry, ...]
    """The entries that speak for the scuffing and the sanding."""


def owed(place: Place) -> tuple[Step, ...]:
    """Return the steps a place owes, in order; a look always comes last.

    A face or patch owes sanding. A line owes scuffing, guide coat where it is asked, and sanding where a
    machine reaches; the zone makes no difference.
    """
    if place.kind in {"face", "patch"}:
        return ("sanded", "inspected")
    if place.reach == "hand":
        return ("scuffed", "inspected")
    powder: tuple[Step, ...] = ("guide-coated",) if place.guide_coat != "no" else ()
    return ("scuffed", *powder, "sanded", "inspected")


def work(bench: Bench, words: Sequence[Entry], accepted: Entry | None) -> Worked:
    """Judge the work at a place.

    Args:
        bench: the place.
        words: its entries, in the order of entry.
        accepted: the lead's acceptance that counts there, if any.
    """
    by_step: dict[str, list[Entry]] = {}
    for entry in words:
        by_step.setdefault(entry.check.step, []).append(entry)
    steps: list[StepView] = []
    holds: list[GateHold] = []
    told: list[str] = []
    last: list[Entry] = []
    for step in owed(bench.place)[:-1]:
        own = by_step.get(step, [])
        prior = _must_follow(bench.place, step)
        before = last_words(entry for each in prior for entry in by_step.get(each, []))
        speaking = _speaking(own, _limits(bench, step))
        view, hold = _step(bench, step, speaking, before, accepted)
        steps.append(view)
        holds.extend([hold] if hold else [])
        last.extend(entry for entry, _ in speaking if step != "guide-coated")
        told.extend(_tell(bench, entry) for entry, _ in speaking if step != "guide-coated")
    return Worked(tuple(steps), tuple(holds), tuple(says for says in told if says), tuple(last))


def _must_follow(place: Place, step: Step) -> tuple[Step, ...]:
    """Name the steps whose last word a step must come after: powder and hand scratches are sanded out."""
    if step == "sanded":
        return ("scuffed", "guide-coated")
    if step == "guide-coated":
        return ("scuffed",)
    return ("sanded", "guide-coated") if place.reach == "hand" else ()


def _limits(bench: Bench, step: Step) -> tuple[Limits, ...]:
    if step == "guide-coated":
        return (_ANY,)
    if step == "scuffed" and bench.place.reach == "machine":
        limits = hand_limits(bench.place, bench.spots)
        return (limits or _ANY,)
    return last_touch_limits(bench.place, bench.spots) or (_ANY,)


def _speaking(own: Sequence[Entry], limits: Sequence[Limits]) -> list[tuple[Entry, Limits]]:
    """Find the entry that has the last word under each limit.

    A place that is split has a limit a zone: a grade that fits one zone speaks for it, and one that fits none
    speaks for all.
    """
    found: list[tuple[Entry, Limits]] = []
    for each in limits:
        fitting = [
            entry
            for entry in own
            if len(limits) == 1
            or each.admits(entry.check.grade)
            or not any(other.admits(entry.check.grade) for other in limits)
        ]
        if fitting:
            found.append((fitting[-1], each))
    return found if len(found) == len(limits) else []


def _step(
    bench: Bench,
    step: Step,
    speaking: Sequence[tuple[Entry, Limits]],
    before: Sequence[Entry],
    accepted: Entry | None,
) -> tuple[StepView, GateHold | None]:
    place = bench.place
    if not speaking:
        why = _MISSING[step]
        return StepView(step, "open", None, why), GateHold(place.id, why, _todo(bench, step))
    newest = max(entry for entry, _ in speaking)
    for entry, _ in speaking:
        if entry.is_future:
            why = f"{entry.what}: dated later than now"
            return _held(place, StepView(step, "held", entry.check, why), "check the clock, and log it again")
        for prior in before:
            if not entry.follows(prior):
                why = (f"{step} before {prior.what}" if prior.number > entry.number
                       else f"{entry.what} is dated before {prior.what}: the clock was set back")  # fmt: skip
                return _held(place, StepView(step, "reopened", entry.check, why), _todo(bench, step))
    for entry, limits in speaking:
        wrong = _wrong(bench, step, entry, limits)
        if wrong and not (accepted is not None and accepted.follows(entry)):
            why = f"{wrong} ({entry.what})"
            too_fine = bool(entry.check.grade) and limits.too_fine(entry.check.grade or "")
            mended = mend.recut(bench, entry.check, by_hand=step == "scuffed", too_fine=too_fine)
            return _held(place, StepView(step, "held", entry.check, why), mended)
    return StepView(step, "done", newest.check), None


_MISSING: Final[dict[str, str]] = {
    "scuffed": "not scuffed",
    "guide-coated": "no guide coat",
    "sanded": "not sanded",
}


def _held(place: Place, view: StepView, mended: str) -> tuple[StepView, GateHold]:
    return view, GateHold(place.id, view.why, mended)


def _wrong(bench: Bench, step: Step, entry: Entry, limits: Limits) -> str:
    if step == "scuffed":
        return wrong_scuff(entry.check, limits)
    if step != "sanded":
        return ""
    return wrong_sanding(entry.check, limits, bench.place, bench.floor) or would_show(
        entry.check, bench.place, bench.spots, bench.grain, bench.floor
    )


def _todo(bench: Bench, step: Step) -> str:
    if step == "scuffed":
        return mend.scuff(bench)
    return mend.guide_coat(bench) if step == "guide-coated" else mend.sand(bench)


def _tell(bench: Bench, entry: Entry) -> str:
    """Tell what is allowed but not what the card says: another grade of the range, a deeper tool."""
    place, check = bench.place, entry.check
    hand = check.step == "scuffed"
    is_last_touch = not hand or place.reach == "hand"
    asked = place.tool if is_last_touch else None
    asked = asked or (bench.floor.shop.hand_tool if hand else bench.floor.shop.finishing_tool)
    says = []
    if check.tool and check.tool != asked and cuts_deeper(check.tool, asked, bench.floor):
        says.append(f"{check.tool} scratches deeper than the {asked} the card reckons with")
    if not hand and not place.split and place.finish and check.grade and check.grade != place.finish:
        says.append(f"{check.grade} where the card says {place.finish}")
    return f"{place.id}: {', '.join(says)} (entry {entry.number})" if says else ""
