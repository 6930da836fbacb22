"""Check-off: one key a step for a whole panel, a look for each place, and the gate in words on top."""

from collections.abc import Iterable
from textwrap import wrap
from time import monotonic
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget

from prepadvisor.checkoff import Wanted
from prepadvisor.logbook import is_reason
from prepadvisor.tui.dialogs import Choice, Page, ask_choice, ask_text
from prepadvisor.tui.model import (
    LOOK_WORDS,
    Only,
    Session,
    booth_rows,
    booth_wanted,
    check_off,
    drawn,
    gate_view,
)
from prepadvisor.tui.screens.logging import Logging
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets import Act, Line, PanelDrawing, Reading, Row, Rows
from prepadvisor.wording import panel_name

ACTS = (
    Act("L", "Log NEXT", "log_next", "Log what NEXT names, where the panel owes it"),
    Act("Enter", "LOOK", "look", "Hold the lamp here, and say what it shows"),
    Act("C", "Cleaned", "panel_step('cleaned')", "Panel cleaned and degreased"),
    Act("S", "Scuffed", "work('scuffed')", "Lines of the panel scuffed by hand"),
    Act("G", "Powder", "work('guide-coated')", "Guide coat on"),
    Act("D", "Sanded", "work('sanded')", "Face and lines of the panel sanded by DA"),
    Act("W", "Wiped", "panel_step('wiped')", "Panel blown off and wiped"),
    Act("F", "Show", "filter", "Show: all, owes a look, not done, held"),
    Act("H", "Holds", "holds", "Everything that holds, with its mend"),
    Act("A", "Lead takes", "accept", "The lead takes a place as it is; says why"),
    Act("I", "Initials", "initials", "Somebody else works on"),
)
_STEP_OF = {
    "C": "cleaned",
    "S": "scuffed",
    "G": "guide-coated",
    "D": "sanded",
    "Enter": "inspected",
    "W": "wiped",
}
"""Keys in the order of the work."""
_BESIDE_BOOTH = 8
"""Columns of a turn in the booth that are not its words: arrow, mark, a blank before the box, the bar."""
_WIDE_FROM = 72
"""Columns from which each box of the table has its whole heading."""
LOOK_APART_SECONDS = 0.3
"""A look sooner than this after the arrow went on by itself is a key held down, not a look."""
_LOOKS = tuple(
    Act(str(at), says, f"looked('{look}')") for at, (look, says) in enumerate(LOOK_WORDS.items(), 1)
)


_LOOK_PLATES = (
    Act("1", "Clear", "looked('clear')"), Act("2", "Lines left", "looked('lines')"), ACTS[1],
    Act("3", "Gloss left", "looked('gloss')"), Act("4", "Rubbed", "looked('cut-through')"),
)  # fmt: skip
"""Plates at a place that owes a look: one touch says what the lamp shows, as one key does."""


_Listed = tuple[gate_view.GateView, Only, int]
"""What the list was made of: the gate, which places, and for how many columns."""


class CheckOffView(Logging):
    """The card's table with its boxes, the gate in a banner, what is next, the panel's drawing beside it."""

    view = "check-off"
    fills_its_room = True
    title_words = "Check-off"
    acts = ACTS
    help_words = """\
NEXT names the next step of the plan; L logs it at every place of that panel which owes it. Before scuffed and
sanded you are shown the grades and asked whether those were used. C, S, G, D and W log one step by its name.

The LOOK is for each place by itself: hold the lamp to the row under the arrow, then 1 clear, 2 lines left,
3 gloss left, 4 rubbed through (or Enter for the list); the arrow goes on to the next place that owes a look.
There is no key that looks at all of them.

[x] done, [ ] still to do, [1/3] some of several, [×] logged, but it cannot stand, - not asked here. Where
something cannot stand or a look found something, HERE says what mends it; G, D or S then log the work again
at that place. / and a number, such as A4, jumps to a place; F shows only what owes a look, or is held.

The banner says CLEAR only when nothing is left in any zone. H tells everything that holds. F9 takes the last
entry back as long as it is not saved; after that it is struck, never deleted. After masking the booth's steps
stand below; Enter on one logs it."""
    BINDINGS: ClassVar[list[BindingType]] = [*bound((ACTS[0], *ACTS[2:])), *bound(_LOOKS)]

    def compose_body(self) -> Iterable[Widget]:
        """The gate over the table, the drawing beside it where there is room."""
        yield Reading(name="gate", takes_focus=False)
        with Container(classes="body split"):
            yield pane(Rows(name="places", most_lines=2))
            yield pane(PanelDrawing(name="drawing"))

    def __init__(self) -> None:
        """Start with all places shown."""
        super().__init__()
        self._only: Only = gate_view.FILTERS[0]
        self._moved_on = -LOOK_APART_SECONDS
        self._stands: tuple[object, ...] = ()
        self._judged: object = None
        self._was_at = ""
        self._listed: tuple[_Listed, str, tuple[Row, ...]] | None = None

    def plates(self) -> tuple[Act, ...]:
        """Put the step that is due next first, those after it behind it; at a look its answers."""
        due, rest = "", (act for act in ACTS[1:] if act.key not in _STEP_OF)
        if self._gate is not None and self._session is not None:
            due = check_off.due_at(self._session, self._gate, self._place_id)
            due = due or check_off.due_step(self._gate, self._panel_id)
        steps = list(_STEP_OF.values())
        start = steps.index(due) if due else 0
        ordered = [*list(_STEP_OF)[start:], *list(_STEP_OF)[:start]]
        first = [act for key in ordered for act in ACTS if act.key == key]
        if self._owes_look():
            return (*_LOOK_PLATES, ACTS[0], *first[1:], *rest)
        return (ACTS[0], *first, *rest)

    def _owes_look(self) -> bool:
        """Say whether the place under the arrow owes nothing but its look now."""
        step = check_off.next_step(self._gate, self._panel_id) if self._gate is not None else None
        looks = step.tasks if step is not None and step.step == "inspected" else ()
        return any(task.place == self._place_id for task in looks)

    def first_focus(self) -> str:
        """Start on the places."""
        return "#places"

    def show(self, session: Session) -> None:
        """Fill banner and rows."""
        stands = (session, session.revision, session.house, f"{session.now():%H:%M}")
        self._session = session
        banner, rows = self.query_one("#gate", Reading), self.query_one("#places", Rows)
        if session.is_long and self._judged is not session.advice:
            self._judged, self._gate, self._stands = session.advice, None, ()
            self._was_at = self._was_at or rows.current
            banner.show([Line("× NOT CLEAR: being judged ...", "stop-fill")])
            rows.show([Row("", "All places are being judged ...")])
            self.show_later()
        if self.is_waiting:
            return
        if self._stands != stands:  # a move of the arrow judges nothing anew
            self._stands, self._gate = stands, gate_view.gate_of(session)
        if self._gate is None:
            banner.show([Line("× NOT CLEAR TO MASK: no panel yet", "stop-fill")])
            rows.show([Row("", "No panel yet: F3")])
            return
        gate = self._gate
        here = gate_view.here_words(session, gate, session.place_id)
        room = rows.size.width or self.size.width
        listed = (gate, self._only, room)
        if self._listed is None or self._listed[0][0] is not gate or self._listed[0][1:] != listed[1:]:
            self._listed = listed, gate_view.next_words(session, gate), self._rows(session, gate, room)
        _, following, shown = self._listed
        says = here or following
        ink = "go-fill" if gate.clear else "stop-fill"
        banner.show([Line(gate_view.banner_words(gate), ink), Line(says, "bold")])
        rows.show(shown, self._was_at or None)
        self._was_at = ""
        entitle(rows, gate_view.count_words(gate, self._only))
        drawing = self.query_one("#drawing", PanelDrawing)
        if drawing.display:
            done = {view.feature for panel in gate.panels for view in panel.places
                    if view.panel == session.panel_id and view.is_clear}  # fmt: skip
            entitle(drawing, panel_name(session.panel_id))
            drawing.show(drawn(session, done=done))

    def _rows(self, session: Session, gate: gate_view.GateView, room: int) -> tuple[Row, ...]:
        """Return the table's heading and rows, and the booth's below them, for so many columns."""
        wide = gate_view.NARROW if room < _WIDE_FROM else gate_view.WIDE
        table = check_off.check_rows(session, gate, self._only, wide)
        shown = [Row("", "  place", right=gate_view.heads(wide), ink="hush")]
        shown += [Row(row.id, row.says, mark=row.mark, ink=row.ink, right=row.boxes) for row in table]
        for at, (says, box) in enumerate(booth_rows(session, gate)):
            first, *rest = wrap(says, max(room - len(box) - _BESIDE_BOOTH, 8))
            shown.append(Row(f"booth:{at}", first, right=box, ink="plain", mark=" "))
            shown += [Row("", f"  {words}", ink="plain", mark=" ") for words in rest]
        return tuple(shown)

    @on(Rows.Moved, "#places")
    def _moved(self, event: Rows.Moved) -> None:
        """Select what the arrow stands on; a row of the booth changes only what the plates offer."""
        panel_id, _, part_id = event.row_id.partition("/")
        if self._session is not None:
            same = self._session.panel_id, self._session.part_id
            self.post_message(self.Selected(*((panel_id, part_id) if part_id else same)))

    @on(Rows.Picked, "#places")
    def _picked(self, event: Rows.Picked) -> None:
        if event.row_id.startswith("booth:"):
            self._by_somebody(lambda by: self._log_booth(int(event.row_id.partition(":")[2]), by))
        else:
            self.action_look()

    @on(PanelDrawing.Pointed)
    def _pointed(self, event: PanelDrawing.Pointed) -> None:
        if self._session is not None:
            self._go_to(f"{self._session.panel_id}/{event.part_id}")

    @on(PanelDrawing.Nudged)
    def _nudged(self, event: PanelDrawing.Nudged) -> None:
        self.query_one("#places", Rows).action_move(event.down or event.across)

    def on_logged(self) -> None:
        """Once only looks are left on the panel, go to the first of them."""
        self.call_after_refresh(self._to_first_look)

    def _to_first_look(self) -> None:
        step = check_off.next_step(self._gate, self._panel_id) if self._gate is not None else None
        if step is not None and step.step == "inspected":
            self._go_to(step.tasks[0].place)

    def _go_to(self, place_id: str) -> None:
        rows = self.query_one("#places", Rows)
        if any(row.id == place_id for row in rows.rows):
            rows.cursor = next(at for at, row in enumerate(rows.rows) if row.id == place_id)

    def action_filter(self) -> None:
        """Narrow the list to what owes a look, is not done, or is held; then all again."""
        at = gate_view.FILTERS.index(self._only)
        self._only = gate_view.FILTERS[(at + 1) % len(gate_view.FILTERS)]
        self.say(f"shown: {gate_view.ONLY_WORDS[self._only]}")
        if self._session is not None:
            self.show(self._session)

    def action_log_next(self) -> None:
        """Log the next step of the plan, or go to the place that owes a look."""
        gate = self._gate
        step = check_off.next_step(gate, self._panel_id) if gate is not None else None
        if gate is None or step is None:
            self.say(
                "nothing is owed now" if gate is not None and gate.clear else "see what holds: H",
                refused=True,
            )
        elif step.step == "inspected":
            self._go_to(step.tasks[0].place)
            self.say("look at it under the lamp: 1 clear, 2 lines, 3 gloss, 4 rubbed through")
        elif step.step in {"cleaned", "wiped"}:
            self._by_somebody(lambda by: self._log(step.step, [Wanted(f"{step.panel}/panel", step.step, by)]))
        else:
            self._by_somebody(lambda by: self._confirm(step.step, check_off.wanted_of(step, by), again=False))

    def action_panel_step(self, step: str) -> None:
        """Log a step of a whole panel."""
        self._by_somebody(lambda by: self._log(step, [Wanted(f"{self._panel_id}/panel", step, by)]))

    def action_work(self, step: str) -> None:
        """Log a step at every place of the panel that owes it, after showing the grades."""
        self._by_somebody(lambda by: self._ask_work(self._work_at, step, by))

    def action_look(self) -> None:
        """Ask what was seen at the selected place."""
        if self._is_place():
            choices = [Choice(look, says) for look, says in LOOK_WORDS.items()]
            ask_choice(
                self, f"What does the lamp show at {self._place_words()}?", choices, self.action_looked
            )

    def action_looked(self, result: str) -> None:
        """Log what was seen at the selected place."""
        if self._is_place():
            if monotonic() - self._moved_on < LOOK_APART_SECONDS:
                self._moved_on = monotonic()
                self.say("one look at a time: hold the lamp to this place first", refused=True)
                return
            where = self._place_id
            following = check_off.next_look(self._gate, where) if self._gate and result == "clear" else ""

            def go_on() -> None:
                if following:
                    self._go_to(following)
                    self._moved_on = monotonic()

            self._by_somebody(
                lambda by: self._log("inspected", [Wanted(where, "inspected", by, result=result)], go_on)
            )

    def _log_booth(self, at: int, by: str) -> None:
        if self._session is not None and self._gate is not None:
            wanted = booth_wanted(self._gate, at, by)
            if not self._gate.clear:
                self.say("the booth comes after the gate is clear", refused=True)
            elif wanted:
                self._log(wanted[0].step, wanted)
            else:
                self.say("this look is not logged: the looks before masking are", refused=True)

    def action_accept(self) -> None:
        """Ask the lead for initials and reason, and accept the selected place."""
        if not self._is_place():
            return
        where = self._place_id

        def with_reason(lead: str) -> None:
            ask_text(
                self, "Reason, for the card", "",
                lambda reason: self._log("accepted", [Wanted(where, "accepted", lead, note=reason)]),
                fault_of=lambda text: "" if is_reason(text) else "a reason in words is needed",
            )  # fmt: skip

        ask_text(
            self, f"Who accepts {self._place_words()}? Initials (not of who did it)", "", with_reason,
            fault_of=lambda text: "" if text else "the lead's initials are needed",
        )  # fmt: skip

    def action_holds(self) -> None:
        """Show everything that holds."""
        if self._gate is not None and self._session is not None:
            says = "\n".join(gate_view.hold_lines(self._session, self._gate))
            self.app.push_screen(Page(gate_view.banner_words(self._gate), says))

    def action_initials(self) -> None:
        """Ask who works on."""
        self._ask_initials(lambda _by: None)

    def _is_place(self) -> bool:
        if "/" in self._place_id and not self._place_id.endswith("/panel"):
            return True
        self.say("go to the row of a place first: every place needs its own look", refused=True)
        return False

    def _place_words(self) -> str:
        return gate_view.where_words(self._session, self._place_id) if self._session else ""

    @property
    def _place_id(self) -> str:
        return self.query_one("#places", Rows).current

    @property
    def _work_at(self) -> str:
        """Where work is logged: the row under the arrow, or the panel where that is no place."""
        return self._place_id if "/" in self._place_id else f"{self._panel_id}/panel"

    @property
    def _panel_id(self) -> str:
        """The panel of the row under the arrow; the selected one at a row of the booth or an empty list."""
        panel_id, _, place = self._place_id.partition("/")
        return panel_id if place or self._session is None else self._session.panel_id
