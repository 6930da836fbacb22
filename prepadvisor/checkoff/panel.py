"""A panel around its places: cleaned before any work, wiped after everything, and not too long ago."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

from prepadvisor.checkoff.entries import Entry
from prepadvisor.checkoff.log_index import LogIndex
from prepadvisor.checkoff.replay import Replayed
from prepadvisor.checkoff.verdict import GateHold, PanelView, PlaceView, StepView
from prepadvisor.records.words import Step

CLEAN = "clean and degrease the whole panel before any abrasive touches it"
_TURNS: Final[tuple[Step, ...]] = ("scuffed", "guide-coated", "sanded", "inspected")
WIPE = "blow it off and wipe it until a white cloth stays clean"


def panel_view(
    panel: str,
    name: str,
    places: Sequence[Replayed],
    log: LogIndex,
    unadvised: Sequence[str],
    gate_hours: float,
    now: dt.datetime,
) -> PanelView:
    """Judge what is owed to a whole panel.

    Args:
        panel: its id.
        name: its name for people.
        places: its places, replayed.
        log: the whole log.
        unadvised: features of the job for which the advice has no place.
        gate_hours: hours after which a wipe no longer counts.
        now: the present time.
    """
    cleaned, late = _cleaned(panel, log.on_panel(panel, "cleaned"), places)
    wiped, old = _wiped(panel, log.on_panel(panel, "wiped"), places, gate_hours, now)
    lost = [
        GateHold(f"{panel}/{feature}", "the advice has no word on this place", "make the card again for it")
        for feature in unadvised
    ]
    holds = (*late, *lost, *old)
    todo = [
        *(hold.mend for hold in late),
        *(
            f"{view.feature}: {view.next}"
            for view in sorted((each.view for each in places), key=_turn)
            if view.next
        ),
        *(hold.mend for hold in old),
    ]
    return PanelView(
        panel, name, cleaned, tuple(each.view for each in places), wiped, todo[0] if todo else "", holds
    )


def _turn(view: PlaceView) -> int:
    """Return when a place's turn is: all scuffing first, then guide coat, sanding, looks."""
    undone = [step.step for step in view.steps if step.state != "done"]
    return _TURNS.index(undone[0]) if undone else -1


def _cleaned(
    panel: str, words: Sequence[Entry], places: Sequence[Replayed]
) -> tuple[StepView, tuple[GateHold, ...]]:
    counted = [entry for entry in words if not entry.is_future]
    if not counted:
        why = f"{words[-1].what}: dated later than now" if words else "not cleaned"
        return _held(panel, "cleaned", words, why, CLEAN)
    first = counted[0]
    early = [each.view.feature for each in places if any(not entry.follows(first) for entry in each.worked)]
    if early:
        why = f"cleaned only after work had begun ({', '.join(early)})"
        mended = f"what was sanded dirty is done again after the cleaning: {', '.join(early)}"
        return StepView("cleaned", "held", first.check, why), (GateHold(panel, why, mended),)
    return StepView("cleaned", "done", first.check), ()


def _wiped(
    panel: str, words: Sequence[Entry], places: Sequence[Replayed], gate_hours: float, now: dt.datetime
) -> tuple[StepView, tuple[GateHold, ...]]:
    if not words:
        return _held(panel, "wiped", words, "not wiped", WIPE)
    last = words[-1]
    if last.is_future:
        why = f"{last.what}: dated later than now"
        return _held(panel, "wiped", words, why, "check the clock, and log it again")
    before = [entry for each in places for entry in (*each.worked, *([each.looked] if each.looked else []))]
    later = [entry for entry in before if not last.follows(entry)]
    if later:
        newest = max(later)
        why = (f"wiped before {newest.what}" if newest.number > last.number
               else f"{last.what} is dated before {newest.what}: the clock was set back")  # fmt: skip
        return StepView("wiped", "reopened", last.check, why), (GateHold(panel, why, WIPE),)
    hours = ((now if now.tzinfo else now.replace(tzinfo=dt.UTC)) - last.at).total_seconds() / 3600
    if hours > gate_hours:
        why = f"wiped {hours:.0f} hours ago; clear holds {gate_hours:g} hours"
        hold = GateHold(panel, why, f"look it over, then {WIPE}")
        return StepView("wiped", "reopened", last.check, why), (hold,)
    return StepView("wiped", "done", last.check), ()


def _held(
    panel: str, step: Step, words: Sequence[Entry], why: str, mended: str
) -> tuple[StepView, tuple[GateHold, ...]]:
    view = StepView(step, "held", words[-1].check, why) if words else StepView(step, "open", None, why)
    return view, (GateHold(panel, why, mended),)
