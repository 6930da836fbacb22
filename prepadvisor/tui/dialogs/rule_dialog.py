"""A rule as a form: a line for each condition and answer, and at once what the rule would do and break."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical
from textual.widgets import Static

from prepadvisor.cases import FACT, Category
from prepadvisor.standards import NUMBER_RANGES, OUTPUTS, output_named
from prepadvisor.tui.dialogs.ask import AskText, AskYes, Dialog
from prepadvisor.tui.dialogs.choose import Choice, Choose, ChooseSeveral
from prepadvisor.tui.model import (
    Preview,
    RefusedError,
    RuleForm,
    RuleText,
    answer_label,
    fact_label,
    grades_of,
    plain,
    preview_words,
    setting_words,
    unasked,
    unset,
    value_words,
)
from prepadvisor.tui.widgets import Act, Line, Note, Rail, Reading, Row, Sheet

if TYPE_CHECKING:
    from prepadvisor.records import Grade, OutputName, OutputWord
    from prepadvisor.standards import House

_NUMBER_HELP = 'Such as "< 90", ">= 90", "90 .. 300" or "no reading"; empty: it does not matter.'
ACTS = (
    Act("Esc", "Back", "leave"),
    Act("S", "Into draft", "save"),
    Act("C", "Condition", "ask('more when')"),
    Act("A", "Answer", "ask('more set')"),
    Act("D", "Drop line", "drop"),
)


class RuleDialog(Dialog[RuleForm | None]):
    """The form over the whole window. Answers with the rule as it then is, or nothing.

    Args:
        form: the rule as it begins.
        preview: tells what a rule would do.
        house: the standards it would stand in, for its shelf.
    """

    help_words: ClassVar[str] = (
        "Each line is a condition (When) or an answer (Then) of the rule. Arrows move, left and right turn a "
        "grade, Enter or a touch changes the line, D drops it; C adds a condition, A an answer. A rule "
        "counts where all its conditions are met; what it does not ask does not matter. Beside it stands at "
        "once what the rule would do and what the check finds. S puts it into the draft: nothing counts "
        "before the draft is made live."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("s,S", "save", "save", show=False),
        Binding("c,C", "ask('more when')", "condition", show=False),
        Binding("a,A", "ask('more set')", "answer", show=False),
        Binding("d,D,delete", "drop", "drop", show=False),
    ]

    def __init__(self, form: RuleForm, preview: Callable[[RuleForm], Preview], house: "House") -> None:
        """Open a rule."""
        super().__init__()
        self._form, self._began = form, form
        self._preview, self._house = preview, house

    def compose(self) -> ComposeResult:
        """Lay out title, form, preview, note and plates."""
        with Vertical(classes="dialog reading rule-form"):
            yield Static(Text(""), classes="dialog-title")
            with Container(classes="split"):
                yield Sheet(26, name="form").add_class("pane")
                yield Reading(name="preview").add_class("pane")
            yield Note()
            yield Rail()

    def on_mount(self) -> None:
        """Fill the form and start on its first line."""
        self.query_one(Rail).show(ACTS)
        self.query_one("#form").border_title = "Rule"
        self.query_one("#preview").border_title = "What it would do"
        self._show()
        self.set_focus(self.query_one("#form", Sheet))

    @on(Sheet.Asked)
    def _asked(self, event: Sheet.Asked) -> None:
        self.action_ask(event.row_id)

    @on(Sheet.Turned)
    def _turned(self, event: Sheet.Turned) -> None:
        """Turn a grade or word one on or back."""
        output = _output_of(event.row_id)
        if output is None:
            return
        values, now = self._values(output), str(self._form.set.get(output))
        if now in values:
            at = min(max(values.index(now) + event.step, 0), len(values) - 1)
            self._answer(output, values[at])

    def action_ask(self, line: str) -> None:
        """Ask for one line of the form."""
        kind, _, name = line.partition(" ")
        output = _output_of(line)
        if line == "more when":
            facts = [Choice(fact, fact_label(fact)) for fact in unasked(self._form)]
            self._choose("One more condition: on what?", facts, self._ask_condition)
        elif line == "more set":
            outputs = [Choice(each, answer_label(each), OUTPUTS[each].says) for each in unset(self._form)]
            self._choose(
                "One more answer: what is asked for?", outputs, lambda each: self.action_ask(f"set {each}")
            )
        elif kind == "when":
            self._ask_condition(name)
        elif output is not None:
            self._ask_answer(output)
        elif kind == "says":
            self._text("What it says, in a sentence for the card", self._form.says, "says")
        elif kind == "source":
            self._text(
                "What it rests on: house, practice, or a source of the register", self._form.source, "source"
            )
        elif kind == "id":
            self._text("Name of the rule: letters, figures and -", self._form.id, "id")
        else:
            self._say("it stands in the place of that rule: make another rule to change that", refused=True)

    def action_drop(self) -> None:
        """Drop the condition or answer under the arrow."""
        line = self.query_one("#form", Sheet).current
        kind, _, name = line.partition(" ")
        output = _output_of(line)
        if kind == "when":
            self._put(self._form.with_condition(name, ""))
        elif output is not None:
            self._put(self._form.with_answer(output, ""))
        else:
            self._say("only conditions and answers can be dropped", refused=True)

    def action_save(self) -> None:
        """Answer with the rule, if it is one."""
        found = self._preview(self._form)
        if found.faults:
            self._say(found.faults[0], refused=True)
        else:
            self.answer(self._form)

    def action_leave(self) -> None:
        """Leave; what was changed is asked about first."""
        if self._form == self._began:
            self.answer(None)
            return

        def answered(yes: bool | None) -> None:
            if yes:
                self.answer(None)

        self.app.push_screen(
            AskYes("Leave this form without its changes?", "S puts them into the draft.", "Leave"), answered
        )

    def _ask_condition(self, fact: str) -> None:
        about = FACT[fact]
        if isinstance(about, Category) and not about.takes_any_word:
            every = (*about.stated, *(self._house.kinds if about.is_open else ()))
            now = [] if fact not in self._form.when.asked else list(self._form.when.values(fact))
            ticked = [at for at, value in enumerate(every) if value in now]
            onward = ("And finer" if fact == "flake" else "And stricter") if about.ordered else ""
            says = [value_words(fact, value) for value in every]
            dialog = ChooseSeveral(f"{fact_label(fact)}: which of these?", says, ticked, onward)

            def taken(values: tuple[int, ...] | None) -> None:
                if values is not None:
                    places = [about.values.index(every[at]) for at in values if len(values) < len(every)]
                    self._put(self._form.with_values(fact, places))

            self.app.push_screen(dialog, taken)
            return
        is_name = isinstance(about, Category)
        help_words = "A colour of the book; empty: it does not matter." if is_name else _NUMBER_HELP
        fault = partial(self._fault, lambda text: self._form.with_condition(fact, text))
        self.app.push_screen(
            AskText(fact_label(fact), "", help_words, fault),
            lambda text: None if text is None else self._put(self._form.with_condition(fact, text)),
        )

    def _ask_answer(self, output: "OutputName") -> None:
        values = self._values(output)
        now = self._form.set.get(output)
        if values:
            choices = [Choice(value, setting_words(output, value)) for value in values]
            self._choose(answer_label(output), choices, partial(self._answer, output), str(now or ""))
            return
        about = OUTPUTS[output]
        if about.is_number:
            low, high = NUMBER_RANGES[output]
            help_words = (
                f"{about.says} A number from {low:g} to {high:g}{f' {about.unit}' if about.unit else ''}."
            )
        else:
            help_words = f"{about.says} Several sentences with ; between."
        self.app.push_screen(
            AskText(
                answer_label(output), setting_words(output, now) if now is not None else "", help_words,
                partial(self._fault, lambda text: self._form.with_answer(output, text)),
            ),
            lambda text: None if text is None else self._answer(output, text),
        )  # fmt: skip

    def _values(self, output: "OutputName") -> Sequence["Grade | OutputWord"]:
        """Return the values of an answer that are chosen from a list; none where it is typed."""
        about = OUTPUTS[output]
        return grades_of(self._house.shop.shelf) if about.is_grade else about.words

    def _answer(self, output: "OutputName", text: str) -> None:
        self._put(self._form.with_answer(output, text))

    def _choose(self, title: str, choices: list[Choice], then: Callable[[str], None], now: str = "") -> None:
        self.app.push_screen(
            Choose(title, choices, now), lambda answer: None if answer is None else then(answer)
        )

    def _text(self, title: str, now: str, field: RuleText) -> None:
        def taken(text: str | None) -> None:
            if text is not None:
                self._put(self._form.with_text(field, text))

        lack = partial(_lack, field)
        self.app.push_screen(AskText(title, now, fault_of=lack), taken)

    @staticmethod
    def _fault(make: Callable[[str], RuleForm], text: str) -> str:
        try:
            make(text)
        except RefusedError as error:
            return str(error)
        return ""

    def _put(self, form: RuleForm) -> None:
        self._form = form
        self._show()

    def _show(self) -> None:
        form = self._form
        title = f"{'New rule' if form.is_new else 'Rule'} in the draft, {form.file}"
        self.query_one(".dialog-title", Static).update(Text(plain(title)))
        rows = [Row(line.id, line.says, label=line.label) for line in form.lines()]
        self.query_one("#form", Sheet).show(rows)
        self.query_one("#preview", Reading).show([Line(*each) for each in preview_words(self._preview(form))])
        self._say("")

    def _say(self, words: str, refused: bool = False) -> None:
        self.query_one(Note).say(words, refused)


def _output_of(line: str) -> "OutputName | None":
    """Return the answer that a line of the form is about; None for any other line."""
    kind, _, name = line.partition(" ")
    output = output_named(name) if kind == "set" else None
    return output.name if output is not None else None


def _lack(field: str, text: str) -> str:
    if not text:
        return "this cannot be empty"
    is_name = all(each.isalnum() or each in "-_" for each in text)
    return "" if field != "id" or is_name else "a name has letters, figures and - only, no blanks"
