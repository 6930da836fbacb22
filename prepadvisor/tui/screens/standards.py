"""Standards: the lead's view of the rules, of what an audit finds, and of what a draft would change."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.message import Message
from textual.widget import Widget

from prepadvisor.records.advice import Advice
from prepadvisor.tui.model import rule_rows
from prepadvisor.tui.model.answer import SaidLine
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.asking import ask_text
from prepadvisor.tui.screens.view import View, bound, pane
from prepadvisor.tui.widgets.rail import Act
from prepadvisor.tui.widgets.reading import Line, Reading
from prepadvisor.tui.widgets.rows import Row, Rows

ACTS = (
    Act("F", "Filter", "filter", "Show only rules with these words"),
    Act("A", "Audit", "audit", "Look for holes and contradictions over all possible cases"),
    Act("D", "Try draft", "draft", "What would a draft folder change on the open job?"),
    Act("R", "Reload", "reload", "Read the rule files again"),
    Act("V", "House", "house", "What the house does otherwise than the base"),
)
LOOK_EVERY_SECONDS = 2.0


class StandardsView(View):
    """Rules by family at the left, one rule or the findings at the right."""

    view = "standards"
    title_words = "Standards"
    acts = ACTS
    help_words = """\
The standards are data: rule files that a lead can read and edit, the shipped base and the shop's own folder
over it. ■ marks a rule of the shop. F shows only rules with some words, such as "fade fine"; an empty filter
shows all.

A looks through every possible case for holes, contradictions, broken promises and dead rules. D tries a draft
folder on the open job before it is live. Files are read again by themselves when they change; the job is
then judged by them at once. A file with a fault is not taken over, and the fault is told."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    class FreshWanted(Message):
        """The rule files are to be read again; `asked` by a person or by the view's own watch."""

        def __init__(self, asked: bool) -> None:
            super().__init__()
            self.asked = asked

    class DraftWanted(Message):
        """A draft folder is to be tried on the open job."""

        def __init__(self, folder: str) -> None:
            super().__init__()
            self.folder = folder

    def __init__(self) -> None:
        """Start with all rules."""
        super().__init__()
        self._session: Session | None = None
        self._filter = ""
        self._shown: list[SaidLine] | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Rules at the left, words at the right."""
        with Container(classes="body split"):
            yield pane(Rows(name="rules"), "Rules")
            yield pane(Reading(name="rule"))

    def on_mount(self) -> None:
        """Look for changed files now and then, as long as the view is on."""
        super().on_mount()
        self.set_interval(LOOK_EVERY_SECONDS, self._watch)

    def first_focus(self) -> str:
        """Start on the rules."""
        return "#rules"

    def show(self, session: Session) -> None:
        """Fill rules and words; what was told of another job is told no more."""
        if session is not self._session:
            self._shown = None
        self._session = session
        rows = [
            Row(row.id, row.says, mark=row.mark, ink="plain" if row.id else "bold")
            for row in rule_rows.rule_rows(session.house, self._filter)
        ]
        rules = self.query_one("#rules", Rows)
        rules.show(rows or [Row("", f'no rule has "{self._filter}"')])
        said = self._shown if self._shown is not None else rule_rows.rule_words(session.house, rules.current)
        self.query_one("#rule", Reading).show([Line(*line) for line in said])

    def show_rule(self, rule_id: str) -> None:
        """Go to one rule, with no filter in its way."""
        self._filter, self._shown = "", None
        if self._session is not None:
            self.show(self._session)
            self.query_one("#rules", Rows).show(self.query_one("#rules", Rows).rows, rule_id)
            self.show(self._session)

    def show_draft(self, advice: Advice | None, folder: str) -> None:
        """Show what a draft changes on the open job."""
        if self._session is not None:
            self._tell(rule_rows.draft_words(self._session.advice, advice, folder))

    @on(Rows.Moved, "#rules")
    def _moved(self) -> None:
        self._shown = None
        if self._session is not None:
            self.show(self._session)

    def action_filter(self) -> None:
        """Ask for the words of the filter."""
        ask_text(self, "Show rules with these words (empty: all)", self._filter, self._filtered)

    def action_audit(self) -> None:
        """Look through all possible cases."""
        from prepadvisor.standards.audit import audit_house
        from prepadvisor.standards.audited import Audited

        if self._session is not None:
            house = self._session.house
            self._tell(rule_rows.finding_words(audit_house(house, Audited(house.engine))))

    def action_house(self) -> None:
        """Show the house's deviations."""
        if self._session is not None:
            self._tell(rule_rows.deviations(self._session.house))

    def action_draft(self) -> None:
        """Ask for the folder of a draft."""
        ask_text(self, "Folder of the draft", "", self._draft_named)

    def action_reload(self) -> None:
        """Ask for the files to be read again."""
        self.post_message(self.FreshWanted(asked=True))

    def _watch(self) -> None:
        if self.is_current:
            self.post_message(self.FreshWanted(asked=False))

    def _draft_named(self, folder: str) -> None:
        self.post_message(self.DraftWanted(folder))

    def _filtered(self, words: str) -> None:
        self._filter, self._shown = words, None
        if self._session is not None:
            self.show(self._session)

    def _tell(self, said: list[SaidLine]) -> None:
        self._shown = said
        self.query_one("#rule", Reading).show([Line(*line) for line in said])
