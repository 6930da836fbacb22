"""Answer: what is decided at the selected place, on a ruler of grades and in words, and what if."""

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widget import Widget

from prepadvisor.planning import verdict_of
from prepadvisor.records import ZONES, Advice, Place
from prepadvisor.tui.model import (
    BED_SIGN,
    RefusedError,
    SaidLine,
    Session,
    WhatIf,
    answer,
    changes,
    drawn,
    four_answers,
    held_words,
    place_name,
    place_of,
    place_rows,
    reasons,
    ruler,
    shelf_risks,
    spots_of,
    with_more_coats,
)
from prepadvisor.tui.screens.view import DIGITS, View, bound, entitle, pane
from prepadvisor.tui.widgets import Act, GradeRuler, Line, PanelDrawing, Plates, Reading, Row, Rows
from prepadvisor.wording import Units, panel_name

ACTS = (
    Act("W", "Why", "why", "Why: each rule behind it, or put them away"),
    Act("F", "Finer?", "try('finer')", "What if the flake were one class finer?"),
    Act("O", "Handle off", "try('handle')", "What if the handle and trim came off?"),
    Act("X", "Back one", "back", "Take the last what-if away"),
    Act("Z", "Next zone", "zone", "Look at the place's next zone"),
    Act("M", "Numbers", "numbers", "Every number here, down to the line model"),
    Act("C", "Coarser?", "try('coarser')", "What if the flake were one class coarser?"),
    Act("L", "Lighter?", "try('lighter')", "What if the tone were lighter?"),
    Act("K", "Darker?", "try('darker')", "What if the tone were darker?"),
    Act("+", "Coat more?", "try('coat')", "What if one more coat of wet bed went on?"),
    Act("P", "Other pad?", "try('pad')", "What if the sander had the other pad?"),
)


_ROOM_FOR_GRADES = 60
"""Columns of a window whose list has each place's grade; in less the plates have the selected one's."""


_Listed = tuple[Advice | None, Advice | None, bool]
"""What the list was made of: the advice shown, the job's own under a what-if, whether grades have room."""


class AnswerView(View):
    """The decision at one place, with its reasons, and trials on top that change nothing."""

    view = "answer"
    title_words = "Answer"
    acts = ACTS
    help_words = """\
The ruler runs from coarse to fine. Between the brackets is the grit range; ■ is the grade taken; "hand" is
the coarsest scuff by hand that the DA after it cuts out; "done" is what was recorded, "both" is both in one.
Under each grade stands whether its lines are safe, on the border, or will show: an estimate
until the shop's own test panels are fitted. The rules come first.

WHAT IF: F and C make the flake finer or coarser, L and K the tone lighter or darker, + adds a wet-bed coat, P
swaps the sander's pad, O takes handle and trim off. Places that change are marked with ▲ and say what
changed. X goes one back. Nothing of it is kept in the job.

W says why, rule by rule; M shows every number behind the answer with its source. Typing a number goes to that
line. In the list: √ fine, ▲ look here, × hold, + a wet bed is needed there."""
    BINDINGS: ClassVar[list[BindingType]] = [*bound(ACTS), *DIGITS]

    def __init__(self) -> None:
        """Start at the strictest zone of a place."""
        super().__init__()
        self._session: Session | None = None
        self._what_if: WhatIf | None = None
        self._revision = -1
        self._zone = 0
        self._why = False
        self._listed: tuple[_Listed, tuple[str, tuple[Row, ...]]] | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Places at the left, ruler over words at the right."""
        with Container(classes="body split"):
            yield pane(Rows(name="places"), "Places")
            with Vertical(classes="main"):
                yield Plates()
                yield GradeRuler()
                yield pane(Reading(name="answer"))
                yield pane(PanelDrawing(name="below"))
            yield pane(PanelDrawing(name="drawing"))

    def plates(self) -> tuple[Act, ...]:
        """Put the way back first while a what-if stands."""
        tried = self._what_if is not None and bool(self._what_if.trials)
        return tuple(sorted(ACTS, key=lambda act: act.key != "X")) if tried else ACTS

    def first_focus(self) -> str:
        """Start on the places."""
        return "#places"

    def show(self, session: Session) -> None:
        """Fill list, ruler and words for the selected place."""
        if self._session is not session or self._revision != session.revision:
            self._what_if = WhatIf(session, with_more_coats)
        self._session, self._revision = session, session.revision
        trial = self._what_if
        advice = trial.advice if trial else None
        before = session.advice if trial and trial.trials else None
        title, rows = self._rows(session, advice, before)
        places = self.query_one("#places", Rows)
        entitle(places, title)
        places.show(rows or (Row("", "No panel yet: F3"),), session.place_id)
        place = place_of(advice, session.place_id)
        if advice is None or place is None or not place.spots:
            self.query_one(GradeRuler).show([])
            self.query_one(Plates).show(())
            self.query_one("#answer", Reading).show([Line(says) for says in session.trouble])
            return
        self._show_place(session, advice, place)

    def _rows(
        self, session: Session, advice: Advice | None, before: Advice | None
    ) -> tuple[str, tuple[Row, ...]]:
        """Return the list's title and rows; a move of the arrow makes none anew."""
        has_room = self.app.size.width >= _ROOM_FOR_GRADES
        if self._listed is not None:
            was, known = self._listed
            if was[0] is advice and was[1] is before and was[2] is has_room:
                return known
        rows = [
            Row(row.id, row.says, mark=row.sign, ink=row.ink, right=row.right if has_room else row.right[-1])
            for row in place_rows(session.job, advice, before)
        ]
        has_bed = any(row.right.endswith(BED_SIGN) for row in rows)
        held = held_words(session.job, advice)
        if held:
            rows.insert(0, Row("", held, ink="stop"))
        stops = sum(row.ink == "stop" and bool(row.id) for row in rows)
        count = sum(bool(row.id) for row in rows)
        bed = ", + wet bed" if has_room else ", + bed"
        title = f"Places {count}{f', {stops} held' if stops else ''}{bed if has_bed else ''}"
        self._listed = (advice, before, has_room), (title, tuple(rows))
        return self._listed[1]

    def _show_place(self, session: Session, advice: Advice, place: Place) -> None:
        trial = self._what_if
        spots = sorted(spots_of(advice, place), key=lambda spot: -ZONES.index(spot.zone))
        spot = spots[self._zone % len(spots)]
        top = trial.trials[-1] if trial and trial.trials else None
        job, house = (top.job, top.house) if top else (session.job, session.house)
        borderline = house.constants.uncertainty.borderline_risk.value
        risks = {
            grade: verdict_of(risk, spot.risk_limit, borderline)
            for grade, risk in shelf_risks(job, house, spot, top.extra_coats if top else 0).items()
        }
        self.query_one(GradeRuler).show(ruler(spot, place, house.shop.shelf, risks))
        units = Units(session.job.job.units == "imperial")
        title = _title(session, place)
        words = self.query_one("#answer")
        entitle(words, title[0] if sum(map(len, title)) + 8 > (words.size.width or 80) else ", ".join(title))
        said = _trial_lines(session, trial, place)
        if self._why:  # first, so that it is in sight
            said += [*reasons(spot, units), SaidLine("")]
        said += answer(advice, place, spot, units)
        if len(spots) > 1:
            others = ", ".join(other.zone for other in spots if other is not spot)
            said.append(SaidLine(f"Also in: {others} (Z)", "hush"))
        if not self._why:
            said.append(SaidLine("W says why, rule by rule; M every number", "hush"))
        self.query_one(Plates).show(four_answers(advice, place))
        for drawing in self.query(PanelDrawing):
            if drawing.display and not (trial and trial.trials):
                entitle(drawing, panel_name(session.panel.id) if session.panel else "")
                drawing.show(drawn(session))
        self.query_one("#answer", Reading).show([Line(*line) for line in said])

    @on(Rows.Moved, "#places")
    def _moved(self, event: Rows.Moved) -> None:
        self._zone = 0
        panel_id, _, part_id = event.row_id.partition("/")
        self.post_message(self.Selected(panel_id, part_id))

    @on(Rows.Picked, "#places")
    def _picked(self) -> None:
        self.action_zone()

    @on(PanelDrawing.Pointed)
    def _pointed(self, event: PanelDrawing.Pointed) -> None:
        if self._session is not None:
            self.post_message(self.Selected(self._session.panel_id, event.part_id))

    @on(PanelDrawing.Nudged)
    def _nudged(self, event: PanelDrawing.Nudged) -> None:
        self.query_one("#places", Rows).action_move(event.down or event.across)

    def action_why(self) -> None:
        """Show the rules behind the answer, or put them away."""
        self._why = not self._why
        self.set_class(self._why, "-why")  # the reasons get the room of the drawing
        if self._session is not None:
            self.show(self._session)

    def action_zone(self) -> None:
        """Look at the next zone of the place."""
        self._zone += 1
        if self._session is not None:
            self.show(self._session)

    def action_try(self, what: str) -> None:
        """Put a trial on top of those before."""
        trial, session = self._what_if, self._session
        if trial is None or session is None:
            return
        moves: dict[str, Callable[[], None]] = {
            "finer": lambda: trial.finer_flake(1),
            "coarser": lambda: trial.finer_flake(-1),
            "lighter": lambda: trial.lighter_tone(1),
            "darker": lambda: trial.lighter_tone(-1),
            "coat": trial.one_coat_more,
            "pad": trial.other_pad,
            "handle": trial.handle_off,
        }
        try:
            moves[what]()
        except RefusedError as error:
            self.say(str(error), refused=True)
            return
        self.show(session)
        self.say(f"WHAT IF: {trial.says}. X goes one back; the job itself is unchanged.")

    def action_back(self) -> None:
        """Take the last trial away."""
        if self._what_if is None or self._session is None:
            return
        said = self._what_if.back()
        self.show(self._session)
        self.say(f"back: without {said}" if said else "this is the job as it stands")

    def action_numbers(self) -> None:
        """Show every number of the place, with rules, model and sources."""
        from prepadvisor.cards.explain.ask import explain
        from prepadvisor.tui.dialogs import Page

        session = self._session
        place = place_of(session.advice, session.place_id) if session else None
        if session is None or session.advice is None or place is None:
            return
        sections = explain(session.job, session.advice, session.house, place.id)
        words = "\n\n".join("\n".join([section.title.upper(), *section.lines]) for section in sections)
        self.app.push_screen(Page("Every number here", words))


def _title(session: Session, place: Place) -> tuple[str, str]:
    """Return the names of a place and of its panel."""
    panel = session.job.panel_at(place.panel)
    name = place_name(session.advice, place) if session.advice else place.id
    return name, panel_name(panel.id) if panel else place.panel


def _trial_lines(session: Session, trial: WhatIf | None, place: Place) -> list[SaidLine]:
    if trial is None or not trial.trials:
        return []
    changed = changes(session.advice, trial.advice, place.id)
    said = [SaidLine(f"WHAT IF {trial.says}", "warn")]
    if not changed:
        return [*said, SaidLine("nothing changes at this place", "plain", 2)]
    return [*said, *(SaidLine(f"▲ {change}", "warn", 2) for change in changed)]
