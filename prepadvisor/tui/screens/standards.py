"""Standards: the lead's desk. Rules and what each does, the check, and a draft on the shop's own jobs."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget

from prepadvisor.records import BadInputError
from prepadvisor.standards import BASE
from prepadvisor.tui.dialogs import ask_text
from prepadvisor.tui.model import SaidLine, Session
from prepadvisor.tui.model.lead import rule_rows
from prepadvisor.tui.screens.own.way import ways_from
from prepadvisor.tui.screens.promising import Promising
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.screens.wishes import FaultsFound, FreshWanted
from prepadvisor.tui.widgets import Act, Line, Reading, Row, Rows

if TYPE_CHECKING:
    from prepadvisor.tui.model import Effect

ACTS = (
    Act(
        "Enter",
        "Edit",
        "edit_rule",
        "Edit the rule as a form, or write an own one",
    ),
    Act("G", "Finer", "finer", "A rule one grade finer, as a form"),
    Act("A", "Check", "check", "Check: holes, contradictions, promises"),
    Act(
        "J",
        "Our jobs",
        "jobs",
        "What the draft changes on jobs, by rule",
    ),
    Act("M", "Make live", "make_live", "Make the draft live, for every job"),
    Act("D", "Draft", "draft", "Draft: on the open job, another, throw away"),
    Act("F", "Filter", "filter", "Show only rules with these words"),
    Act("W", "Write", "write_rule", "Write a new rule as a form"),
    Act("S", "Shop", "shop", "The shop: shelf, tools, pads, times; the line model's numbers"),
    Act(
        "K",
        "Examples",
        "examples",
        "Worked cases: keep, change or drop one",
    ),
    Act("Y", "Promises", "promises", "Promises: what must hold over all cases"),
    Act("X", "Do without", "do_without", "Do without the rule under the arrow"),
    Act("V", "House", "house", "What the house does otherwise than the base"),
    Act("R", "Reload", "reload", "Read the rule files again"),
    *ways_from("standards"),
)
LOOK_EVERY_SECONDS = 2.0
_JOBS_AT_ONCE = 2


class StandardsView(Promising):
    """Rules by family at the left; one rule, the check or a draft's effect at the right."""

    view = "standards"
    title_words = "Standards"
    acts = ACTS
    help_words = """\
The standards are data: rule files that a lead can read and edit, the shipped base and the shop's own folder
over it. ■ marks a rule of the shop. F shows only rules with some words, such as "fade fine"; an empty filter
shows all.

Nothing you edit here counts at once. Enter on a rule opens it as a form, G makes it a grade finer, W writes a
new one, X does without one, S is the shop file and the line model's numbers, K keeps worked cases and Y
promises, which every check tries: all of it goes into a draft, a folder beside the shop's own. + marks what
is new in it, * what is changed. A checks it over every possible case, J shows what it changes on the shop's
jobs and by which rule, D on the open job. M makes it live; until then every card rests on what is in force.

C, P, T and O lead on to the shop's own numbers: colour book, test panels, their fit, outcomes.

Files are read again by themselves when they change. A file with a fault is not taken over, and the fault is
told."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS[1:])

    def __init__(self) -> None:
        """Start with all rules."""
        super().__init__()
        self._filter = ""
        self._shown: list[SaidLine] | None = None
        self._effects: list[Effect] = []
        self._coming: Iterator[Effect] | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Rules at the left, words at the right; in a wide window what was asked for beside the rule."""
        with Container(classes="body split"):
            yield pane(Rows(name="rules"), "Rules")
            yield pane(Reading(name="rule"))
            yield pane(Reading(name="told"), "Check and draft")

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
            self._forget()
        if self._desk is None or self._desk.live is not session.house:
            from prepadvisor.tui.model import LeadDesk

            other = self._desk.other if self._desk is not None and session is self._session else ""
            self._desk = LeadDesk(session.house, session.folder, session.is_demo)
            self._desk.other = other
            self._forget()
        self._session = session
        house, has_draft = self._house, self._desk.has_draft
        rows = [
            Row(row.id, row.says, mark=row.mark, ink="plain" if row.id else "bold")
            for row in rule_rows.rule_rows(house, self._filter, session.house if has_draft else None)
        ]
        rules = self.query_one("#rules", Rows)
        rules.show(rows or [Row("", f'no rule has "{self._filter}"')])
        count = sum(bool(row.id) for row in rows)
        entitle(rules, f"Rules {count}{', DRAFT' if has_draft else ''}")
        self._show_rule(rules.current)

    def show_rule(self, rule_id: str) -> None:
        """Go to one rule, with no filter in its way."""
        self._filter = ""
        self._forget()
        if self._session is not None:
            self.show(self._session)
            self.query_one("#rules", Rows).show(self.query_one("#rules", Rows).rows, rule_id)
            self.show(self._session)

    def _show_rule(self, rule_id: str) -> None:
        """Fill both readings: what was asked for stands in the place of the rule where there is one only."""
        rule, told = self.query_one("#rule", Reading), self.query_one("#told", Reading)
        said = rule_rows.rule_words(self._house, rule_id)
        found = next((each for each in self._house.engine.rules if each.id == rule_id), None)
        desk = self._desk
        if found is not None and desk is not None and (found.layer != BASE or desk.has_draft):
            from prepadvisor.tui.model import desk_words

            live = next((each for each in desk.live.engine.rules if each.id == rule_id), None)
            said += desk_words(desk.checked(self._house), found, live, desk.has_draft)
        said += rule_rows.example_words(self._house, rule_id)
        aside = told.display
        if self._shown is not None and not aside:
            said = self._shown
        rule.show([Line(*line) for line in said])
        entitle(rule, "What was asked for" if self._shown is not None and not aside else "Rule")
        blank = [SaidLine("A checks the standards; J shows what a draft changes on the shop's jobs.", "hush")]
        told.show([Line(*line) for line in (self._shown if self._shown is not None else blank)])

    @on(Rows.Moved, "#rules")
    def _moved(self, event: Rows.Moved) -> None:
        if not self.query_one("#told", Reading).display:
            self._forget()
        self._show_rule(event.row_id)

    @on(Rows.Picked, "#rules")
    def _picked(self) -> None:
        self.action_edit_rule()

    def action_filter(self) -> None:
        """Ask for the words of the filter."""
        ask_text(self, "Show rules with these words (empty: all)", self._filter, self._filtered)

    def action_check(self) -> None:
        """Look through all possible cases, of the draft where there is one."""
        from prepadvisor.tui.model import check_words

        if self._desk is not None:
            self._tell(check_words(self._desk.checked(self._house), self._desk.has_draft))

    def action_house(self) -> None:
        """Show the house's deviations."""
        if self._session is not None:
            self._tell(rule_rows.deviations(self._house))

    def action_jobs(self) -> None:
        """Look at the shop's jobs one after the other, under the draft and as they are."""
        from prepadvisor.tui.starts import starts_of

        if self._desk is None or self._session is None or self._has_no_draft():
            return
        starts = starts_of(self._session.folder)
        paths = [Path(start.ident) for start in starts if start.kind == "recent"]
        self._which = "jobs of the shop"
        if not paths:
            paths = [Path(start.ident) for start in starts if start.kind == "demo"]
            self._which = "demo jobs"
        self._count, self._effects = len(paths), []
        try:
            self._coming = self._desk.effects(paths)
            self._more_jobs()
        except BadInputError as error:
            self.post_message(FaultsFound("This draft has faults", error))

    def _more_jobs(self) -> None:
        from itertools import islice

        from prepadvisor.tui.model import effect_words

        if self._coming is None:
            return
        more = list(islice(self._coming, _JOBS_AT_ONCE))
        self._effects += more
        self._tell(effect_words(self._effects, self._count, self._which))
        if more and len(self._effects) < self._count:
            self.call_after_refresh(self._more_jobs)
        else:
            self._coming = None

    def action_reload(self) -> None:
        """Ask for the files to be read again."""
        self._again("")
        self.post_message(FreshWanted(asked=True))

    def _again(self, told: str) -> None:
        self._forget()
        if self._session is not None:
            self.show(self._session)
        self.say(told)

    def _forget(self) -> None:
        self._shown, self._coming = None, None

    def _watch(self) -> None:
        if self.is_current:
            self.post_message(FreshWanted(asked=False))

    def _filtered(self, words: str) -> None:
        self._filter = words
        self._again("")

    def _tell(self, said: list[SaidLine]) -> None:
        self._shown = said
        self._show_rule(self.query_one("#rules", Rows).current)
