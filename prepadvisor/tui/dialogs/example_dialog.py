"""A worked case as a form: its facts and what must come out, beside what comes out now."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from prepadvisor.tui.dialogs.ask import AskText, Dialog
from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.model import (
    PLAIN,
    ExampleForm,
    RefusedError,
    answer_label,
    answer_of,
    fact_label,
    is_number,
    typed_answer,
    ungiven,
    value_words,
    values_of,
)
from prepadvisor.tui.widgets import Act, Note, Rail, Row, Sheet

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards import House

_ANSWER_HELP = "A grade such as P800, a word or a number; none: no rule sets it."


class ExampleDialog(Dialog[tuple[ExampleForm, bool] | None]):
    """The form over the whole window. Answers with the case and whether it is taken out, or nothing.

    Args:
        form: the case as it begins.
        house: the standards that it is tried on.
    """

    help_words: ClassVar[str] = (
        "A worked case says what must come out for some facts; every check tries it. Arrows move, Enter or a "
        "touch changes the line or adds one, D drops it. × now: the standards answer otherwise. S puts the "
        "case into the draft, X takes it out of its file."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("s,S", "save(False)", "save", show=False),
        Binding("x,X", "save(True)", "take out", show=False),
        Binding("d,D,delete", "drop", "drop", show=False),
    ]

    def __init__(self, form: ExampleForm, house: "House") -> None:
        """Open a case."""
        super().__init__()
        self._form, self._house = form, house

    def compose(self) -> ComposeResult:
        """Lay out title, form, note and plates."""
        with Vertical(classes="dialog reading rule-form"):
            yield Static(Text(f"Worked case in the draft, {self._form.file}"), classes="dialog-title")
            yield Sheet(26, name="form").add_class("pane")
            yield Note()
            yield Rail()

    def on_mount(self) -> None:
        """Fill the form and start on its first line."""
        acts = [
            Act("Esc", "Back", "leave"),
            Act("S", "Into draft", "save(False)"),
            Act("D", "Drop line", "drop"),
        ]
        if self._form.was is not None:
            acts.append(Act("X", "Take out", "save(True)"))
        self.query_one(Rail).show(tuple(acts))
        self.query_one("#form").border_title = "Worked case"
        self._put(self._form)
        self.set_focus(self.query_one("#form", Sheet))

    @on(Sheet.Asked)
    def _asked(self, event: Sheet.Asked) -> None:
        kind, _, name = event.row_id.partition(" ")
        output = answer_of(event.row_id)
        if event.row_id == "more given":
            facts = [Choice(fact, fact_label(fact)) for fact in ungiven(self._form)]
            self._push(Choose("One more fact of the case: which?", facts), self._ask_fact)
        elif event.row_id == "more expect":
            answers = [Choice(each, answer_label(each)) for each in PLAIN if each not in self._form.expect]
            self._push(Choose("One more answer: which?", answers), self._add_answer)
        elif kind == "given":
            self._ask_fact(name)
        elif output is not None:
            now = self._form.expect[output]
            make = partial(self._with_answer, output)
            self._ask(answer_label(output), "none" if now is None else str(now), _ANSWER_HELP, make)

    def action_drop(self) -> None:
        """Drop the line under the arrow."""
        line = self.query_one("#form", Sheet).current
        kind, _, name = line.partition(" ")
        output = answer_of(line)
        if kind == "given":
            self._put(self._form.with_fact(name, None))
        elif output is not None:
            self._put(self._form.with_answer(output, None, is_stated=False))
        else:
            self.query_one(Note).say("only facts and answers can be dropped", refused=True)

    def action_save(self, out: bool) -> None:
        """Answer with the case, if it is one."""
        if not out and not self._form.expect and not self._form.kept:
            self.query_one(Note).say("a worked case expects something: + one more answer", refused=True)
        elif not out or self._form.was is not None:
            self.answer((self._form, out))

    def action_leave(self) -> None:
        """Leave; the draft stays as it is."""
        self.answer(None)

    def _ask_fact(self, fact: str) -> None:
        if values := values_of(fact):
            choices = [Choice(str(at), value_words(fact, value)) for at, value in enumerate(values)]
            self._push(
                Choose(f"{fact_label(fact)}: which?", choices),
                lambda at: self._put(self._form.with_fact(fact, values[int(at)])),
            )
        else:
            self._ask(
                fact_label(fact), str(self._form.given.get(fact, "")), "", partial(self._with_fact, fact)
            )

    def _add_answer(self, name: str) -> None:
        output = answer_of(f"expect {name}")
        if output is not None:
            self._put(self._form.with_answer(output, self._form.found(self._house)[output]))

    def _with_fact(self, fact: str, text: str) -> ExampleForm:
        if not is_number(fact):
            return self._form.with_fact(fact, text or None)
        try:
            return self._form.with_fact(fact, float(text.replace(",", ".")) if text else None)
        except ValueError:
            raise RefusedError(f'"{text}" is not a number') from None

    def _with_answer(self, output: "OutputName", text: str) -> ExampleForm:
        return self._form.with_answer(output, typed_answer(output, text))

    def _ask(self, title: str, now: str, help_words: str, make: Callable[[str], ExampleForm]) -> None:
        def fault(text: str) -> str:
            try:
                make(text)
            except RefusedError as error:
                return str(error)
            return ""

        self._push(AskText(title, now, help_words, fault), lambda text: self._put(make(text)))

    def _push(self, dialog: Choose | AskText, then: Callable[[str], None]) -> None:
        self.app.push_screen(dialog, lambda answer: None if answer is None else then(answer))

    def _put(self, form: ExampleForm) -> None:
        self._form = form
        rows = [Row(line.id, line.says, label=line.label) for line in form.lines(self._house)]
        self.query_one("#form", Sheet).show(rows)
        self.query_one(Note).say("")
