"""Clear means clear: random logs held against a plain restatement of what a place owes.

The restatement below shares no code with the gate. It looks at every entry anew for every question, which is
slow and easy to read.
"""

import datetime as dt
from collections.abc import Callable
from typing import Any, Final

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from prepadvisor.records.job import Check
from prepadvisor.surface.grades import DS50_UM

Log = tuple[Check, ...]
Entry = Callable[..., Check]

FACE: Final = ("face",)
PATCH: Final = ("R1",)
MACHINE_LINES: Final = ("E1", "E2", "L1")
HAND_LINES: Final = ("H1", "F1")
POWDERED: Final = ("E1", "L1")
TOUCHING_HAND: Final = {"L1": "H1"}
LAST_TOUCH: Final = {
    "face": ("P1000", "P1500"), "R1": ("P800", "P1000"), "E1": ("P1000", "P1500"), "E2": ("P800", "P1500"),
    "L1": ("P1000", "P1500"), "H1": ("P1500", "P1500"), "F1": ("P800", "P1500"),
}  # fmt: skip
AHEAD: Final = {"E1": "P1000", "E2": "P800", "L1": "P1000"}
PLACES: Final = tuple(LAST_TOUCH)


def _speaks(check: Check, feature: str) -> bool:
    if check.feature == feature:
        return True
    if check.feature != "all":
        return False
    return (check.step == "scuffed" and feature in (*MACHINE_LINES, *HAND_LINES)) or (
        check.step in {"guide-coated", "sanded"} and feature not in HAND_LINES
    )


def _last(log: Log, feature: str, *steps: str) -> int:
    return max((at for at, c in enumerate(log) if c.step in steps and _speaks(c, feature)), default=-1)


def _inside(grade: str | None, coarsest: str, finest: str) -> bool:
    return grade is not None and DS50_UM[finest] <= DS50_UM[grade] <= DS50_UM[coarsest]


def _accepted_after(log: Log, feature: str, at: int) -> bool:
    accepts = [i for i, c in enumerate(log) if c.step == "accepted" and c.feature == feature]
    return bool(accepts) and accepts[-1] > at and bool(log[accepts[-1]].by and log[accepts[-1]].note)


def _place_is_done(log: Log, feature: str) -> bool:
    scuff, powder = _last(log, feature, "scuffed"), _last(log, feature, "guide-coated")
    sanding, look = _last(log, feature, "sanded"), _last(log, feature, "inspected")
    by_hand = feature in HAND_LINES
    if feature in (*MACHINE_LINES, *HAND_LINES) and scuff < 0:
        return False
    if feature in POWDERED and not scuff < powder:
        return False
    if not by_hand and not max(scuff, powder) < sanding:
        return False
    if by_hand and not max(sanding, powder) < scuff:
        return False
    if look < 0 or log[look].result != "clear" or look < max(scuff, powder, sanding):
        return False
    if any(c.result == "cut-through" for c in log if c.step == "inspected" and c.feature == feature):
        return False
    last = log[scuff if by_hand else sanding]
    tool_fits = last.tool == ("hand-pad" if by_hand else "da-soft")
    within = tool_fits and _inside(last.grade, *LAST_TOUCH[feature])
    if not within and not _accepted_after(log, feature, scuff if by_hand else sanding):
        return False
    if feature in AHEAD:
        ahead = log[scuff]
        fits = ahead.tool == "hand-pad" and _inside(ahead.grade, AHEAD[feature], "P4000")
        if not fits and not _accepted_after(log, feature, scuff):
            return False
    return look > _hand_work_beside(log, feature)


def _hand_work_beside(log: Log, feature: str) -> int:
    def beside(check: Check) -> bool:
        if check.step not in {"scuffed", "sanded"} or (check.step == "sanded" and check.tool == "da-soft"):
            return False
        if feature == "face":
            return check.feature != "face"
        return check.feature in {TOUCHING_HAND.get(feature), "all"} and feature in TOUCHING_HAND

    return max((at for at, check in enumerate(log) if beside(check)), default=-1)


def _is_clear(log: Log) -> bool:
    cleaned = [at for at, c in enumerate(log) if c.step == "cleaned"]
    wiped = [at for at, c in enumerate(log) if c.step == "wiped"]
    if not cleaned or not wiped or not all(_place_is_done(log, feature) for feature in PLACES):
        return False
    first_work = min(
        at
        for feature in PLACES
        for steps in (("scuffed",), ("sanded",))
        if (at := _last(log, feature, *steps)) >= 0 and _owes(feature, steps[0])
    )
    looks_and_work = max(
        at
        for feature in PLACES
        for steps in (("scuffed",), ("sanded",), ("inspected",))
        if (at := _last(log, feature, *steps)) >= 0 and _owes(feature, steps[0])
    )
    return cleaned[0] < first_work and wiped[-1] > looks_and_work


def _owes(feature: str, step: str) -> bool:
    if step == "inspected":
        return True
    return feature not in (*FACE, *PATCH) if step == "scuffed" else feature not in HAND_LINES


GRADES: Final = st.sampled_from(["P600", "P800", "P1000", "P1500", "P2000", None])
BY_HAND: Final = st.fixed_dictionaries(
    {
        "step": st.just("scuffed"),
        "tool": st.sampled_from(["hand-pad", "hand-pad", "da-soft", None]),
        "grade": GRADES,
    }
)
BY_MACHINE: Final = st.fixed_dictionaries(
    {
        "step": st.just("sanded"),
        "tool": st.sampled_from(["da-soft", "da-soft", "hand-pad", None]),
        "grade": GRADES,
    }
)
LOOKS: Final = st.fixed_dictionaries(
    {
        "step": st.just("inspected"),
        "result": st.sampled_from(["clear", "clear", "clear", "lines", "gloss", "cut-through", None]),
    }
)
ACCEPTS: Final = st.fixed_dictionaries(
    {"step": st.just("accepted"), "note": st.sampled_from(["", "seen by the lead"])}
)
PLAIN: Final = st.fixed_dictionaries({"step": st.just("guide-coated")})
AT_PLACE: Final = st.tuples(
    st.sampled_from([*PLACES, "all"]), st.one_of(BY_HAND, BY_MACHINE, LOOKS, ACCEPTS, PLAIN)
)
AT_PANEL: Final = st.tuples(
    st.just("panel"), st.fixed_dictionaries({"step": st.sampled_from(["cleaned", "wiped"])})
)
MENDS: Final = ("look", "wipe", "none")


@st.composite
def _logs(draw: st.DrawFn, whole: Log, entry: Entry) -> Log:
    """A whole log with entries put in, taken out and moved, then perhaps looked over and wiped again."""
    log = list(whole)
    for _ in range(draw(st.integers(0, 4))):
        change = draw(st.sampled_from(["put", "put", "take", "move"]))
        at = draw(st.integers(0, len(log) - 1))
        if change == "put":
            feature, stated = draw(st.one_of(AT_PLACE, AT_PLACE, AT_PLACE, AT_PANEL))
            log.insert(at if draw(st.booleans()) else len(log), entry(0, feature, **stated))
        elif change == "take":
            log.pop(at)
        else:
            log.insert(draw(st.integers(0, len(log) - 1)), log.pop(at))
    mend = draw(st.sampled_from(MENDS))
    if mend == "look":
        log += [entry(0, feature, "inspected", result="clear") for feature in PLACES]
    if mend != "none":
        log.append(entry(0, "panel", "wiped"))
    return tuple(
        check.model_copy(update={"at": whole[0].at + dt.timedelta(minutes=minute)})
        for minute, check in enumerate(log)
    )


CHECKED: Final = settings(
    max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@CHECKED
@given(data=st.data())
def test_the_gate_is_clear_exactly_when_every_place_has_its_steps(
    door: Any, whole_log: Log, entry: Entry, data: st.DataObject
) -> None:
    """In every zone, in order, within limits or accepted, looked at after all work there and beside it."""
    log = data.draw(_logs(whole_log, entry))
    clear = door.gate(log).clear
    event(f"clear: {clear}")
    assert clear is _is_clear(log)


@CHECKED
@given(data=st.data())
def test_a_clear_log_without_the_scuffs_or_the_looks_of_any_place_holds(
    door: Any, whole_log: Log, entry: Entry, data: st.DataObject
) -> None:
    """Remove what speaks for one place, and the gate closes."""
    log = data.draw(_logs(whole_log, entry))
    if not door.gate(log).clear:
        return
    for feature in PLACES:
        work = "scuffed" if feature in (*MACHINE_LINES, *HAND_LINES) else "sanded"
        for step in (work, "inspected"):
            rest = [check for check in log if not (check.step == step and _speaks(check, feature))]
            assert not door.gate(rest).clear, (feature, step)


@CHECKED
@given(data=st.data())
def test_a_clock_that_jumps_never_clears_what_the_order_of_entry_does_not(
    door: Any, whole_log: Log, entry: Entry, data: st.DataObject
) -> None:
    """Times may be wrong in any way: they can hold the gate, not open it."""
    log = list(data.draw(_logs(whole_log, entry)))
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(log) - 1))
        shift = dt.timedelta(minutes=data.draw(st.integers(-60, 60)))
        log[at] = log[at].model_copy(update={"at": log[at].at + shift})
    gate = door.gate(log)
    if gate.clear:
        assert _is_clear(tuple(log))
