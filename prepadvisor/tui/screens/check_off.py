"""Check-off: one key a step for a whole panel, a look for each place, and the gate in words on top."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widget import Widget

from prepadvisor.checkoff.log_entry import Wanted
from prepadvisor.logbook.people import is_reason
from prepadvisor.tui.dialogs.choose import Choice
from prepadvisor.tui.dialogs.page import Page
from prepadvisor.tui.model import check_off, gate_words
from prepadvisor.tui.model.check_off import LOOK_WORDS
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.asking import ask_choice, ask_text
from prepadvisor.tui.screens.logging import Logging
from prepadvisor.tui.screens.view import bound
from prepadvisor.tui.widgets.rail import Act
from prepadvisor.tui.widgets.reading import Line, Reading
from prepadvisor.tui.widgets.rows import Row, Rows

ACTS = (
    Act("Enter", "LOOK", "look", "Look at the selected place under the lamp, and say what you saw"),
    Act("C", "Cleaned", "panel_step('cleaned')", "Panel cleaned and degreased"),
    Act("S", "Scuffed", "work('scuffed')", "Lines of the panel scuffed by hand"),
    Act("G", "Powder", "work('guide-coated')", "Guide coat on"),
    Act("D", "Sanded", "work('sanded')", "Face and lines of the panel sanded by DA"),
    Act("W", "Wiped", "panel_step('wiped')", "Panel blown off and wiped"),
    Act("H", "Holds", "holds", "Everything that holds, with its mend"),
    Act("A", "Lead takes", "accept", "The lead accepts a place as it is, with initials and reason"),
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
_LOOKS = tuple(
    Act(str(at), says, f"looked('{look}')") for at, (look, says) in enumerate(LOOK_WORDS.items(), 1)
)


class CheckOffView(Logging):
    """Large rows of places with their boxes, the gate in a banner, and the next thing to do."""

    view = "check-off"
    title_words = "Check-off"
    acts = ACTS
    help_words = """\
Work down the keys: C cleaned, S scuffed, G powder, D sanded, W wiped. Each logs its step for every place of
the panel under the arrow that still owes it; before scuffed and sanded you are shown the grades and asked
whether those were used.

The LOOK is for each place by itself: go to the row, hold the lamp to it, then 1 clear, 2 lines left, 3 gloss
left, 4 rubbed through (or Enter for the list). There is no key that looks at all of them.

[x] done, [ ] still to do, [×] logged, but it cannot stand: the line under the banner says what mends it.

Where a look found lines or gloss, the row says what to do; G, D or S then log the work again at that place.
The banner says CLEAR TO MASK only when nothing is left in any zone. H tells everything that holds. F9 takes
the last entry back as long as it is not saved; after that, log the step again as it is."""
    BINDINGS: ClassVar[list[BindingType]] = [*bound(ACTS[1:]), *bound(_LOOKS)]

    def compose_body(self) -> Iterable[Widget]:
        """The gate over the rows."""
        yield Reading(name="gate", takes_focus=False)
        yield Rows(row_lines=2, name="places", most_lines=3)

    def plates(self) -> tuple[Act, ...]:
        """Put the step that is due next on the panel first, and those after it behind it."""
        due = ""
        if self._gate is not None and self._session is not None:
            due = check_off.due_at(self._session, self._gate, self._place_id)
            due = due or check_off.due_step(self._gate, self._panel_id)
        steps = list(_STEP_OF.values())
        start = steps.index(due) if due else 0
        ordered = [*list(_STEP_OF)[start:], *list(_STEP_OF)[:start]]
        first = [act for key in ordered for act in ACTS if act.key == key]
        return (*first, *(act for act in ACTS if act.key not in _STEP_OF))

    def first_focus(self) -> str:
        """Start on the places."""
        return "#places"

    def show(self, session: Session) -> None:
        """Fill banner and rows."""
        self._session = session
        self._gate = check_off.gate_of(session)
        banner, rows = self.query_one("#gate", Reading), self.query_one("#places", Rows)
        if self._gate is None:
            banner.show([Line("× NOT CLEAR TO MASK: no panel yet", "stop-fill")])
            rows.show([Row("", "No panel yet: F3")])
            return
        ink = "go-fill" if self._gate.clear else "stop-fill"
        here = gate_words.here_words(session, self._gate, session.place_id)
        says = here or gate_words.next_words(session, self._gate)
        banner.show([Line(gate_words.banner_words(self._gate), ink), Line(says, "bold")])
        rows.show(
            [
                Row(row.id, row.says, row.boxes, mark=row.mark, ink=row.ink)
                for row in check_off.check_rows(session, self._gate)
            ]
        )

    @on(Rows.Moved, "#places")
    def _moved(self, event: Rows.Moved) -> None:
        panel_id, _, part_id = event.row_id.partition("/")
        if self._session is not None:
            self.post_message(self.Selected(panel_id, part_id))

    @on(Rows.Picked, "#places")
    def _picked(self) -> None:
        self.action_look()

    def action_panel_step(self, step: str) -> None:
        """Log a step of a whole panel."""
        self._by_somebody(lambda by: self._log(step, [Wanted(f"{self._panel_id}/panel", step, by)]))

    def action_work(self, step: str) -> None:
        """Log a step at every place of the panel that owes it, after showing the grades."""
        self._by_somebody(lambda by: self._ask_work(self._place_id, step, by))

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
            self._by_somebody(
                lambda by: self._log("inspected", [Wanted(self._place_id, "inspected", by, result=result)])
            )

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
            says = "\n".join(gate_words.hold_lines(self._session, self._gate))
            self.app.push_screen(Page(gate_words.banner_words(self._gate), says))

    def action_initials(self) -> None:
        """Ask who works on."""
        self._ask_initials(lambda _by: None)

    def _is_place(self) -> bool:
        if self._place_id and not self._place_id.endswith("/panel"):
            return True
        self.say("go to the row of a place first: every place needs its own look", refused=True)
        return False

    def _place_words(self) -> str:
        rows = self.query_one("#places", Rows)
        return rows.rows[rows.cursor].text.partition(":")[0].strip() if rows.rows else ""

    @property
    def _place_id(self) -> str:
        return self.query_one("#places", Rows).current

    @property
    def _panel_id(self) -> str:
        return self._place_id.partition("/")[0]
