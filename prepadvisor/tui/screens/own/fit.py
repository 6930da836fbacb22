"""The fit: each number with its interval and count, what the data say, and what it changes on our jobs."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING, ClassVar, Final

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget

from prepadvisor.cards import said_blocks
from prepadvisor.tui.dialogs import AskYes
from prepadvisor.tui.model import own_sheets
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.own.view import OwnView
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.widgets import Act, Line, Reading, Row, Rows
from prepadvisor.wording import number_name, rows_says

if TYPE_CHECKING:
    from prepadvisor.cards import FitReport
    from prepadvisor.records import FittedNumber

ACTS: Final = (
    Act("W", "In force", "put_in_force", "Put the numbers in force, for every card"),
    Act("X", "Spray next", "next", "Which eight panels to spray next, and why"),
    Act("G", "Report", "page", "Write the report as a page into the house"),
    Act("K", "Spray plan", "plan", "Write the spray plan of X's panels as a page"),
    Act("R", "Fit again", "again", "Read panels and jobs again, and fit"),
    *ways_from("fit"),
)
_NEXT: Final = 8


class FitView(OwnView):
    """Numbers at the left, what is to be read at the right."""

    view = "fit"
    title_words = "Fit"
    acts = ACTS
    help_words = """\
What our own test panels, outcomes and wet looks make of the line model's numbers. At the left each number
that rows bear on, with how many; below it its value now and the 90 % interval. At the right what was in
force and believed before, what the data fix, what to be careful about, rows that disagree, and which of our
own jobs would change, and how. Jobs are read beside the screen: its keys stay alive.

Nothing counts until W puts it in force; the version before is kept in the house's folder earlier. X chooses
the panels that would say most about the decisions our jobs hold. G writes all of it with drawings."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    def __init__(self) -> None:
        """Start with nothing wished for."""
        super().__init__()
        self._wish: Callable[[], None] | None = None
        self._stamp = (0, 0)

    def compose_body(self) -> Iterable[Widget]:
        """Numbers and words."""
        with Container(classes="body split"):
            yield pane(Rows(row_lines=2, name="numbers"), "Numbers")
            yield pane(Reading(name="told"), "What they say")

    def first_focus(self) -> str:
        """Start on the words, which scroll."""
        return "#told"

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:
        """Fit, where house, job or test panels are new, and show it."""
        if fresh or desk.panels_stamp() != self._stamp:
            self._fit(0)
        elif desk.report is not None:
            self._show(desk.report)

    def _fit(self, count: int) -> None:
        self._wish = None
        if self._desk is not None:
            self._stamp = self._desk.panels_stamp()
        self.work(lambda desk, told: desk.fit(count, told), self._fitted, "No fit")
        self.underway("reading our jobs …")

    def underway(self, says: str) -> None:
        """Show how far the fit is, in the list too while there is nothing else to show."""
        if self._desk is not None and self._desk.report is None:
            self.query_one("#numbers", Rows).show([Row("", says)])
        entitle(self.query_one("#numbers"), f"Numbers: {says}")

    def _fitted(self, report: "FitReport | None") -> None:
        if self._desk is not None:
            self._desk.report = report
        if report is None:
            self.query_one("#numbers", Rows).show([Row("", "no fit yet")])
            says = "The line below says what is in the way. P goes to the test panels."
            self.query_one("#told", Reading).show([Line(says)])
            return
        self._show(report)
        if report.chosen:
            count = len(report.chosen)
            self.say(f"√ {count} panels are chosen, at the end of the words; K writes their spray plan")
            self.query_one("#told", Reading).action_roll(100_000)
        wish, self._wish = self._wish, None
        if wish is not None:
            wish()

    def _later(self, wish: Callable[[], None]) -> bool:
        """While the fit is made: keep what is wished for until it is there, and say so."""
        if self.is_at_work:
            self._wish = wish
            self.say("as soon as the fit is there …")
        return self.is_at_work

    def _show(self, report: "FitReport") -> None:
        moved = [one for one in (*report.fit.numbers, report.fit.scatter) if one.rows]
        rows = [_row(one) for one in moved]
        self.query_one("#numbers", Rows).show(rows or [Row("", "no number has a row yet")])
        entitle(self.query_one("#numbers"), f"Numbers {len(moved)}, {report.day.isoformat()}")
        lines = [Line(rows_says(report.fit), "bold")]
        current = self.query_one("#numbers", Rows).current
        lines += [Line(_before(one)) for one in moved if one.name == current]
        for title, texts in said_blocks(report):
            lines += [Line(""), Line(title, "bold"), *(Line(text, indent=1) for text in texts)]
        self.query_one("#told", Reading).show(lines)

    @on(Rows.Moved, "#numbers")
    def _moved(self) -> None:
        if self._desk is not None and self._desk.report is not None:
            self._show(self._desk.report)

    def action_again(self) -> None:
        """Fit again."""
        self._fit(0)
        self.say("panels and jobs are read again")

    def action_next(self) -> None:
        """Choose panels to spray next."""
        self._fit(_NEXT)

    def action_page(self) -> None:
        """Write the report as a page."""
        self._write(plan=False)

    def action_plan(self) -> None:
        """Write the spray plan as a page."""
        self._write(plan=True)

    def _write(self, *, plan: bool) -> None:
        if self._later(partial(self._write, plan=plan)):
            return
        path = self.tried(lambda desk: desk.write_page(plan=plan), "Not written")
        if path is not None:
            self.say(f"√ written: {path}")

    def action_put_in_force(self) -> None:
        """Ask, then put the numbers in force."""
        if self._later(self.action_put_in_force):
            return
        report = self._desk.report if self._desk is not None else None
        if report is None or not report.in_force.changed:
            self.say("there is no number to put in force: panels first", refused=True)
            return
        tally = report.replay.tally if report.replay is not None else None
        change = (
            f"{tally.jobs_changed} of {tally.jobs} jobs change." if tally is not None else "No job was read."
        )
        question = f"Put {len(report.in_force.changed)} numbers in force, {rows_says(report.fit)}?"
        more = f"{change} Every card then rests on them and says so; the version before is kept."
        self.app.push_screen(AskYes(question, more, yes="In force"), self._answered)

    def _answered(self, yes: bool | None) -> None:
        told = self.tried(OwnDesk.put_in_force) if yes else None
        if told is not None:
            self.read_again(told)


def _row(one: "FittedNumber") -> Row:
    return Row(one.name, *own_sheets.number_words(one), right=str(one.rows))


def _before(one: "FittedNumber") -> str:
    """Return what a number was before."""
    return (
        f"{number_name(one.name)}: {one.before:.3g} in force, believed {one.before_low:.3g} to "
        f"{one.before_high:.3g} before; now {one.value:.3g}, {one.low:.3g} to {one.high:.3g}"
    )
