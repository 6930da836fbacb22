"""A worked case of the standards as a form: its facts, what must come out, and what comes out now."""

from collections.abc import Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from prepadvisor.cases import CATEGORY, FACT, FACTS, NUMBER, Category, Value
from prepadvisor.standards import OUTPUTS, output_named, read_set, read_value, whole_case
from prepadvisor.tui.model.lead.rule_form import FormLine
from prepadvisor.tui.model.lead.rule_rows import answer_label, fact_label, value_words
from prepadvisor.tui.model.open_job import RefusedError

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards import Example, House, Rule

PLAIN: Final[tuple["OutputName", ...]] = tuple(name for name, about in OUTPUTS.items() if not about.is_union)
"""The answers that a form of an example expects: grades, words and numbers; texts stay to an editor."""


class ExampleForm(NamedTuple):
    """An example being written.

    Attributes:
        file: the rule file it stands in or goes to.
        given: the facts that are stated; all others are as most jobs have them.
        expect: the answers that must come out; None: no rule sets it.
        kept: answers of its file that are texts, which the form leaves as they are.
        was: how it stands in its file; None for a new one.
    """

    file: str
    given: Mapping[str, object]
    expect: Mapping["OutputName", object]
    kept: Mapping["OutputName", object] = {}
    was: Mapping[str, Any] | None = None

    def lines(self, house: "House") -> list[FormLine]:
        """Return the lines of the form; beside an answer that does not come out now stands what does."""
        found = self.found(house)
        lines = [
            FormLine(f"given {fact}", f"Case: {fact_label(fact).lower()}", _fact_words(fact, value))
            for fact, value in self.given.items()
        ]
        lines.append(FormLine("more given", "Case", "+ one more fact"))
        for output, value in self.expect.items():
            now = "" if found[output] == value else f"   × now {_answer_words(found[output])}"
            lines.append(
                FormLine(f"expect {output}", f"Then {answer_label(output)}", _answer_words(value) + now)
            )
        lines.append(FormLine("more expect", "Then", "+ one more answer, as it is now"))
        return lines

    def found(self, house: "House") -> dict["OutputName", object]:
        """Return what the standards answer in this case."""
        decided = house.engine.decide(whole_case(self.given))._asdict()
        return {output: decided[output] for output in OUTPUTS}

    def with_fact(self, fact: str, value: object) -> "ExampleForm":
        """Return it with a fact as chosen or typed; None takes it away.

        Raises:
            RefusedError: the fact cannot have this value.
        """
        given = {name: each for name, each in self.given.items() if name != fact or value is not None}
        if value is not None:
            given[fact], problems = read_value(fact, value, ())
            if problems:
                raise RefusedError(problems[0].says)
        return self._replace(given=given)

    def with_answer(self, output: "OutputName", value: object, *, is_stated: bool = True) -> "ExampleForm":
        """Return it expecting an answer; not stated takes it away.

        Raises:
            RefusedError: the answer cannot be this.
        """
        expect = {name: each for name, each in self.expect.items() if name != output or is_stated}
        if is_stated and value is not None:
            made, problems = read_set({output: value}, ())
            if problems:
                raise RefusedError(problems[0].says)
            value = made[output]
        return self._replace(expect=expect | {output: value} if is_stated else expect)

    def values(self) -> dict[str, Any]:
        """Return it as plain data, as its file has it."""
        expect = {name: "none" if value is None else value for name, value in self.expect.items()}
        return {"given": dict(self.given), "expect": {**expect, **self.kept}}


def kept_case(rule: "Rule", house: "House", file: str) -> ExampleForm:
    """Return a case that a rule is about, with the answers it gives as they come out now."""
    given: dict[str, object] = {}
    for fact in rule.when.asked:
        if fact in CATEGORY and not (about := FACT[fact]).takes_any_word:  # type: ignore[union-attr]
            given[fact] = next(value for value in about.stated if value in rule.when.values(fact))  # type: ignore[union-attr]
    form = ExampleForm(file, given, {})
    found = form.found(house)
    return form._replace(expect={output: found[output] for output in rule.set if output in PLAIN})


def form_of_example(example: "Example", raw: Mapping[str, Any]) -> ExampleForm:
    """Return an example of the house as a form; `raw` is how it stands in its file."""
    plain = {output: value for output, value in example.expect.items() if output in PLAIN}
    kept = {output: value for output, value in raw["expect"].items() if output not in PLAIN}
    return ExampleForm(PurePath(example.file).name, dict(example.given), plain, kept, raw)


def example_says(given: Mapping[str, object], expect: Mapping["OutputName", object]) -> str:
    """Return an example in a line."""
    case = ", ".join(
        f"{fact_label(fact).lower()} {_fact_words(fact, value)}" for fact, value in given.items()
    )
    answers = ", ".join(f"{answer_label(name)} {_answer_words(value)}" for name, value in expect.items())
    return f"{case or 'the usual case'}: {answers}"


def ungiven(form: ExampleForm) -> list[str]:
    """Return the facts that the example does not state."""
    return [fact for fact in FACTS if fact not in form.given]


def values_of(fact: str) -> tuple[Value, ...]:
    """Return the values of a fact that are chosen from a list; none where it is typed."""
    about = FACT[fact]
    return tuple(about.stated) if isinstance(about, Category) and not about.takes_any_word else ()


def answer_of(line: str) -> "OutputName | None":
    """Return the answer that a line of the form is about; None for any other line."""
    kind, _, name = line.partition(" ")
    output = output_named(name) if kind == "expect" else None
    return output.name if output is not None else None


def typed_answer(output: "OutputName", text: str) -> object:
    """Return an answer as it was typed: a number where it is one, None for "none"."""
    if text in {"", "none"}:
        return None
    try:
        return float(text.replace(",", ".")) if OUTPUTS[output].is_number else text
    except ValueError:
        raise RefusedError(f'"{text}" is not a number') from None


def is_number(fact: str) -> bool:
    """Say whether a fact is a number."""
    return fact in NUMBER


def _fact_words(fact: str, value: object) -> str:
    return (
        value_words(fact, value)
        if isinstance(value, str | int)
        else f"{value:g}"
        if isinstance(value, float)
        else str(value)
    )


def _answer_words(value: object) -> str:
    return "not set" if value is None else str(value)
