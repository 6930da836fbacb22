"""The gate of the open job as its screen holds it: in words, and as the columns of its table."""

from typing import Final, get_args

from prepadvisor.checkoff import (
    WORK_STEPS,
    PanelView,
    PlaceView,
    due,
    gate_now,
    views,
)
from prepadvisor.records import Ask, Gate, GateHold, NamedTuple, Place, Step, Task, letters
from prepadvisor.tui.model.gate_kept import KeptGate, Only
from prepadvisor.tui.model.rows import place_label
from prepadvisor.tui.model.says import place_name
from prepadvisor.tui.model.session import Session, place_of
from prepadvisor.wording import Words, ask_says, gate_why, mend_says, panel_name, remark_says

# The gate in words: the banner, what is next, what holds and where, named as on the card.

ONLY_WORDS: Final[dict[Only, str]] = {
    "all": "all places",
    "look": "owes a look",
    "open": "not done",
    "held": "held or found",
}


def banner_words(verdict: "GateView") -> str:
    """Return the gate in one line."""
    said = clear_words(verdict)
    if verdict.clear:
        return f"√ {said}"
    count = len(verdict.gate.holds)
    return f"× NOT {said}: {count} thing{'s' if count != 1 else ''} left"


def clear_words(verdict: "GateView") -> str:
    """Return what the stage that is worked says when it is passed."""
    return verdict.gate.work.clear


def next_words(session: Session, verdict: "GateView") -> str:
    """Return the next thing to do, as gate and day have it, in words."""
    match due(verdict.gate):
        case Task() as task:
            return f"NEXT, {where_words(session, task.place)}: {task_words(task)}"
        case GateHold() as hold:
            return f"NEXT, {where_words(session, hold.place)}: {_hold_words(verdict, hold)}"
    told = [remark_says(each, verdict.words) for each in verdict.gate.told[:1]]
    return "; ".join(told) or f"masking may start; {_wiped(verdict)}"


def task_words(task: Task) -> str:
    """Return a task as something to do."""
    return ask_says(Ask(task.do, task.tool, task.grade, task.range))


def _wiped(verdict: "GateView") -> str:
    times = [check.at for check in verdict.gate.said if check.step == "wiped"]
    return f"wiped {times[-1]:%H:%M}" if times else "wiped"


def _hold_words(verdict: "GateView", hold: GateHold) -> str:
    return f"{gate_why(hold.fact, verdict.words)}; {mend_says(hold.mend, verdict.words)}"


def where_words(session: Session, place_id: str) -> str:
    """Return where a hold is, as the card names it: "A4 handle recess"; a panel by its letter and name."""
    panel_id, place = _panel_and_place(session, place_id)
    number = card_number(session, place_id)
    if number == place_id:
        return place_id
    return (
        f"{number} {place_name(session.advice, place) if place and session.advice else panel_name(panel_id)}"
    )


def card_number(session: Session, place_id: str) -> str:
    """Return the number of a place on the card, a panel's letter; the id where there is none."""
    panel_id, place = _panel_and_place(session, place_id)
    at = next((at for at, panel in enumerate(session.job.panel) if panel.id == panel_id), None)
    if at is None:
        return place_id
    return place_label(letters(at), place) if place else letters(at)


def _panel_and_place(session: Session, place_id: str) -> tuple[str, Place | None]:
    panel_id, _, part_id = place_id.partition("/")
    return panel_id, place_of(session.advice, f"{panel_id}/{part_id.partition('/')[0]}")


def hold_lines(session: Session, verdict: "GateView") -> list[str]:
    """Return everything that holds, each with its mend, then what is only to be known."""
    lines = []
    for hold in verdict.gate.holds:
        why, mend = gate_why(hold.fact, verdict.words), mend_says(hold.mend, verdict.words)
        lines += [f"{where_words(session, hold.place)}: {why}", f"   mend: {mend}"]
    return [*lines, "", *(f"To know: {remark_says(told, verdict.words)}" for told in verdict.gate.told)]


def is_worked_again(session: Session, view: PlaceView) -> bool:
    """Return whether all work at a place is done and some of it was logged after the last look there."""
    if view.look in {None, "clear"} or any(
        step.state != "done" for step in view.steps if step.step != "inspected"
    ):
        return False
    panel_id, _, part_id = view.id.partition("/")
    here = (check for check in reversed(session.job.check) if check.panel == panel_id)
    last = next((check.step for check in here if check.feature in {part_id, "all"}), "")
    return last in WORK_STEPS - {"guide-coated"}


def here_words(session: Session, verdict: "GateView", place_id: str) -> str:
    """Return what to do at a place whose last entry cannot stand; empty elsewhere."""
    for panel in verdict.panels:
        for view in panel.places:
            if view.id != place_id:
                continue
            if view.look != "cut-through" and is_worked_again(session, view):
                return "HERE: worked over again; now look at it again under the lamp, and log what is seen"
            if view.holds and any(step.state == "held" for step in view.steps):
                return f"HERE: {mend_says(view.holds[0].mend, verdict.words)}"
            if view.stop is not None:
                return f"HERE: {mend_says(view.stop.mend, verdict.words)}"
    return ""


def listed_places(session: Session, places: list[str]) -> str:
    """Return places by their numbers on the card, a panel by its letter: "A1, A2, A5"."""
    wanted = [each.removesuffix("/panel") for each in places]
    if len(wanted) == 1:
        return where_words(session, wanted[0])
    return ", ".join(card_number(session, each) for each in wanted)


def count_words(verdict: "GateView", only: Only) -> str:
    """Return how far the job is: places clear of all, minutes planned and since it was begun."""
    places = [view for panel in verdict.panels for view in panel.places]
    done = sum(view.is_clear for view in places)
    minutes = next(
        (stage.minutes for stage in verdict.gate.work.stages if stage.id == verdict.gate.stage), 0.0
    )
    said = [check.at for check in verdict.gate.said]
    spent = f", {(said[-1] - said[0]).total_seconds() / 60:.0f} so far" if len(said) > 1 else ""
    shown = "" if only == "all" else f"; shown: {ONLY_WORDS[only]}"
    return f"Places {len(places)}, {done} clear; {minutes:.0f} min planned{spent}{shown}"


STEP_WORDS: Final = {
    "cleaned": "cleaned",
    "scuffed": "scuffed",
    "guide-coated": "powder",
    "sanded": "sanded",
    "inspected": "LOOK",
    "wiped": "wiped",
    "accepted": "accepted",
}


BOX: Final = {"done": "[x]", "open": "[ ]", "held": "[×]"}


LOOK_WORDS: Final = {
    "clear": "clear, nothing seen",
    "lines": "lines left",
    "gloss": "gloss left",
    "cut-through": "rubbed through",
    "low": "low spot in the fill",
    "pinhole": "pinhole in the fill",
}


SEEN_WORDS: Final = {
    "lines": "LINES",
    "gloss": "GLOSS",
    "cut-through": "THROUGH",
    "low": "LOW",
    "pinhole": "PINHOLE",
}


COLUMNS: Final[tuple[Step, ...]] = ("scuffed", "guide-coated", "sanded", "inspected")
"""The boxes of a place, in their columns."""


HEADS: Final = ("scuffed", "powder", "sanded", " LOOK  ")


SHORT_HEADS: Final = ("scuff", "powdr", "sand", "LOOK")


FILTERS: Final[tuple[Only, ...]] = get_args(Only)
"""What the list can be narrowed to."""


WIDE: Final = 7


NARROW: Final = 5
"""Columns of a box, in a window with room and in a narrow one."""


def kept_gate(session: Session) -> KeptGate:
    """Return what is known of the gate of the open job."""
    if session.kept_gate is None:
        session.kept_gate = KeptGate()
    return session.kept_gate


class GateView(NamedTuple):
    """The gate of a job with its panels laid out, and the words that it is told in."""

    gate: Gate
    panels: tuple[PanelView, ...]
    words: Words

    @property
    def clear(self) -> bool:
        """Whether nothing holds."""
        return self.gate.clear


def gate_of(session: Session) -> GateView | None:
    """Return the gate as it stands, None without advice."""
    advice = session.advice
    if advice is None:
        return None
    kept = kept_gate(session)
    verdict = gate_now(session.job, advice, session.house, session.now(), kept.verdicts)
    return GateView(verdict, views(verdict, advice, kept.views), Words(advice))


def gate_for_card(session: Session) -> Gate | None:
    """Return where the log leaves the work, for the card; None without a log."""
    verdict = gate_of(session) if session.job.check else None
    return verdict.gate if verdict is not None else None


def heads(wide: int = WIDE) -> str:
    """Return the headings of the boxes, in their columns of a width."""
    return "│".join(f"{head:^{wide}}" for head in (HEADS if wide == WIDE else SHORT_HEADS))
