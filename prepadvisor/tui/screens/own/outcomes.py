"""Outcomes: what was seen weeks later on the shop's jobs, beside what was predicted."""

from collections.abc import Iterable
from typing import ClassVar, Final

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget

from prepadvisor.cards.outcomes.text import outcomes_blocks
from prepadvisor.records.advice import Place
from prepadvisor.records.card_number import card_numbers
from prepadvisor.tui.dialogs.choose import Choice
from prepadvisor.tui.model.says import place_name
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.asking import ask_choice, ask_text
from prepadvisor.tui.screens.own.view import OwnView
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets.rail import Act
from prepadvisor.tui.widgets.reading import Line, Reading
from prepadvisor.tui.widgets.rows import Row, Rows
from prepadvisor.wording.names import panel_name

ACTS: Final = (
    Act("Enter", "Report", "report", "What was seen on the job under the arrow"),
    Act("R", "Read again", "again", "Read the jobs again"),
    *ways_from("outcomes"),
)


class OutcomesView(OwnView):
    """Jobs at the left, what became of all of them at the right."""

    view = "outcomes"
    title_words = "Outcomes"
    acts = ACTS
    help_words = """\
Weeks later, with the car in the sun: were lines seen? Enter on a job asks where, and what. "No lines
anywhere on a panel" is one answer for all of it that has none of its own. The answer is in the job's file
at once, and counts as a row of the fit.

At the right stands how often lines came back, by flake, colour, zone, tool, grade, coats and reach, each
with its 95 % interval and what was predicted. Jobs nobody came back about are counted apart: nothing is
known of them."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS[1:])

    def compose_body(self) -> Iterable[Widget]:
        """Jobs and rates."""
        with Container(classes="body split"):
            yield pane(Rows(name="jobs"), "Jobs")
            yield pane(Reading(name="told"), "What became of the work")

    def first_focus(self) -> str:
        """Start on the jobs."""
        return "#jobs"

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:
        """Show jobs and rates."""
        if not fresh:
            return
        jobs = desk.finished()
        rows = [Row(job.path, job.says or job.path, mark=f"{job.reports or '-':>2}") for job in jobs]
        self.query_one("#jobs", Rows).show(rows or [Row("", "no job in this folder")])
        entitle(self.query_one("#jobs"), f"Jobs {len(jobs)}: reports, which")
        became = desk.outcomes()
        reported = (became.rates[0].places if became.rates else 0) + len(became.hidden)
        lines = [Line(f"{became.files} jobs, {reported} places reported on", "bold")]
        for title, texts in outcomes_blocks(became):
            lines += [Line(""), Line(title, "bold"), *(Line(text, indent=1) for text in texts)]
        self.query_one("#told", Reading).show(lines)

    @on(Rows.Picked, "#jobs")
    def _picked(self) -> None:
        self.action_report()

    def action_again(self) -> None:
        """Read the jobs again."""
        if self._desk is not None:
            self.fill(self._desk, fresh=True)
            self.say("the jobs are read again")

    def action_report(self) -> None:
        """Ask where something was seen on the job under the arrow, then what."""
        path = self.query_one("#jobs", Rows).current
        advice = self.tried(lambda desk: desk.advice(path)) if path else None
        if advice is None:
            return
        panels = {panel.id: panel_name(panel.id) for panel in advice.panels}
        numbers = card_numbers(panels, advice.places)
        choices = [Choice(f"{name}/all", f"{words}: no lines anywhere") for name, words in panels.items()]
        choices += [
            Choice(
                place.id,
                f"{numbers.get(place.id, '')} {place_name(advice, place)}, {panels[place.panel]}".strip(),
            )
            for place in sorted(advice.places, key=_likely)
        ]
        title = "Where? Hand-only places stand first: lines show most there"
        ask_choice(self, title, choices, lambda at: self._seen(path, at))

    def _seen(self, path: str, place: str) -> None:
        if place.endswith("/all"):
            self._by(path, place, seen=False)
            return
        choices = [Choice("seen", "lines are seen", key="L"), Choice("clear", "none", key="K")]
        ask_choice(
            self, "What is seen there?", choices, lambda said: self._by(path, place, seen=said == "seen")
        )

    def _by(self, path: str, place: str, *, seen: bool) -> None:
        by = self._session.initials if self._session is not None else ""
        ask_text(
            self, "Your initials", by, lambda who: self._note(path, place, who, seen=seen),
            fault_of=lambda text: "" if any(map(str.isalnum, text)) else "whose report is it?",
        )  # fmt: skip

    def _note(self, path: str, place: str, by: str, *, seen: bool) -> None:
        title = "What it looks like, if there is anything to say"
        ask_text(self, title, "", lambda note: self._put(path, place, by, note, seen=seen))

    def _put(self, path: str, place: str, by: str, note: str, *, seen: bool) -> None:
        told = self.tried(lambda desk: desk.add_outcome(path, place, by, note, seen=seen))
        if told is not None and self._desk is not None:
            self.fill(self._desk, fresh=True)
            self.say(told)


def _likely(place: Place) -> tuple[bool, str]:
    return place.reach != "hand", place.id
