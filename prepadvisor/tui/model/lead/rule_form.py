"""A rule as a form: its conditions and answers one by one, and what of it goes back into its file."""

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple

import tomli

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER
from prepadvisor.records import RANK, OutputName, Problem
from prepadvisor.standards import (
    BASE,
    EVERYTHING,
    OUTPUTS,
    Box,
    Rule,
    Setting,
    read_set,
    read_when,
    rule_text,
    set_line,
    tightened,
    when_line,
)
from prepadvisor.tui.model.lead.rule_rows import answer_label, condition_words, fact_label, setting_words
from prepadvisor.tui.model.open_job import RefusedError

if TYPE_CHECKING:
    from prepadvisor.records import Grade

OWN_SOURCE: Final = "house"
"""What a rule of the shop's own rests on, where nothing else is said."""


RuleText = Literal["id", "says", "source"]
"""What of a rule is a free text."""


class FormLine(NamedTuple):
    """One line of the form: an id such as "when flake" or "set wet_bed", its label, its value in words."""

    id: str
    label: str
    says: str


class RuleForm(NamedTuple):
    """A rule being written.

    Attributes:
        was: the id it has in its file; empty for one that is in none yet.
        file: the name of the rule file it stands in or goes to.
        id, says, when, set, source, replaces: as of a rule.
        before: how it stands in its file.
    """

    was: str
    file: str
    id: str
    says: str
    when: Box
    set: Mapping[OutputName, Setting]
    source: str = OWN_SOURCE
    replaces: str = ""
    before: "RuleForm | None" = None

    @property
    def is_changed(self) -> bool:
        """Whether it differs from how it stands in its file."""
        return self.before is None or self._replace(before=None) != self.before

    @property
    def is_new(self) -> bool:
        """Whether it is in no file yet."""
        return not self.was

    def lines(self) -> list[FormLine]:
        """Return the lines of the form; those to add something come after what is there."""
        lines = [FormLine("id", "Name", self.id), FormLine("says", "Says", self.says or "nothing yet")]
        lines += [
            FormLine(f"when {fact}", f"When {fact_label(fact).lower()}", condition_words(self.when, fact))
            for fact in self.when.asked
        ]
        lines.append(FormLine("more when", "When", "+ one more condition"))
        lines += [
            FormLine(f"set {output}", f"Then {answer_label(output)}", setting_words(output, value))
            for output, value in self.set.items()
        ]
        lines.append(FormLine("more set", "Then", "+ one more answer"))
        lines.append(FormLine("source", "Rests on", self.source))
        if self.replaces:
            lines.append(FormLine("replaces", "In place of", self.replaces))
        return lines

    def with_text(self, field: RuleText, text: str) -> "RuleForm":
        """Return it with another name, sentence or source."""
        match field:
            case "id":
                return self._replace(id=text)
            case "says":
                return self._replace(says=text)
            case "source":
                return self._replace(source=text)

    def with_values(self, fact: str, values: Sequence[int]) -> "RuleForm":
        """Return it asking for some values of a fact, by their places; none of them drops the condition."""
        category = CATEGORIES[CATEGORY[fact]]
        mask = sum(1 << at for at in set(values))
        masks = list(self.when.masks)
        masks[CATEGORY[fact]] = mask or category.full
        return self._replace(when=self.when._replace(masks=tuple(masks)))

    def with_condition(self, fact: str, text: str) -> "RuleForm":
        """Return it with a condition as it is typed, such as "< 90"; an empty one drops it.

        Raises:
            RefusedError: the text is no condition on this fact.
        """
        box, problems = read_when({fact: _typed(text)}, ()) if text.strip() else (EVERYTHING, [])
        _refuse(problems)
        if fact in NUMBER:
            ranges = list(self.when.ranges)
            ranges[NUMBER[fact]] = box.ranges[NUMBER[fact]]
            return self._replace(when=self.when._replace(ranges=tuple(ranges)))
        masks = list(self.when.masks)
        masks[CATEGORY[fact]] = box.masks[CATEGORY[fact]]
        return self._replace(when=self.when._replace(masks=tuple(masks)))

    def with_answer(self, output: OutputName, text: str) -> "RuleForm":
        """Return it with an answer as typed or chosen; an empty one drops it.

        Raises:
            RefusedError: the text is no value of this answer.
        """
        settings = {name: value for name, value in self.set.items() if name != output or text.strip()}
        if text.strip():
            raw = [part.strip() for part in text.split(";") if part.strip()]
            value: object = raw if OUTPUTS[output].is_union else _typed(text)
            made, problems = read_set({output: value}, ())
            _refuse(problems)
            settings |= made
        return self._replace(set=settings)

    def missing(self) -> str:
        """Return what it still lacks to be a rule; empty for nothing."""
        if not self.id.strip():
            return "a rule needs a name: one word or several with - between"
        if not self.says.strip():
            return "a rule says in a sentence what it asks: it stands on the card"
        if not self.set:
            return "a rule asks for something: + one more answer"
        return ""

    def values(self) -> dict[str, Any]:
        """Return it as plain data, as its file has it."""
        data: dict[str, Any] = tomli.loads(f"when = {when_line(self.when)}\nset = {set_line(self.set)}\n")
        data |= {"id": self.id, "says": self.says, "source": self.source}
        if self.replaces:
            data["replaces"] = self.replaces
        return data

    def changes(self) -> dict[str, object]:
        """Return what of it is to be changed in its file, tables key by key; what is gone is None."""
        old = self.before.values() if self.before else {}
        return _differences(old, self.values())

    def text(self) -> str:
        """Return it as the text of a new rule."""
        return rule_text(
            self.id, self.says, self.when, settings=self.set, source=self.source, replaces=self.replaces
        )


def form_of(rule: Rule) -> RuleForm:
    """Return a rule of the house as a form."""
    form = RuleForm(
        was=rule.id,
        file=PurePath(rule.file).name,
        id=rule.id,
        says=rule.says,
        when=rule.when,
        set=dict(rule.set),
        source=rule.source,
        replaces=rule.replaces or "",
    )
    return form._replace(before=form)


def beside(rule: Rule, ids: Sequence[str], file: str, *, replaces: bool) -> RuleForm:
    """Return a new rule of the shop's own for the cases of another, in its place or beside it."""
    return RuleForm(
        was="",
        file=file,
        id=free_name(f"our-{rule.id}", ids),
        says=rule.says,
        when=rule.when,
        set=dict(rule.set),
        source=OWN_SOURCE,
        replaces=rule.id if replaces else "",
    )


def finer(rule: Rule, shelf: Sequence["Grade"], ids: Sequence[str], file: str) -> RuleForm:
    """Return a rule one grade of the shelf finer: itself where it is the shop's own, else one beside it.

    Raises:
        NoGradeError: it sets no grade that could be finer, or the shelf has none.
    """
    made = tightened(rule, 1, shelf)
    if rule.layer != BASE:
        return form_of(rule)._replace(says=made.says, set={**rule.set, **made.set})
    name = free_name(made.id, ids)
    return RuleForm(
        was="",
        file=file,
        id=name,
        says=made.says,
        when=rule.when,
        set=made.set,
        source=f"one grade finer than {rule.id}",
    )


def blank(ids: Sequence[str], file: str) -> RuleForm:
    """Return a form with nothing in it but a name."""
    return RuleForm(was="", file=file, id=free_name("our-rule", ids), says="", when=EVERYTHING, set={})


def free_name(first: str, ids: Sequence[str]) -> str:
    """Return a name that no rule has: this one, or this one with a number."""
    taken = set(ids)
    return next(
        name for name in (first, *(f"{first}-{count}" for count in range(2, 10_000))) if name not in taken
    )


def unasked(form: RuleForm) -> list[str]:
    """Return the facts that the form asks nothing of."""
    return [fact for fact in FACTS if fact not in form.when.asked]


def unset(form: RuleForm) -> list[OutputName]:
    """Return the answers that the form does not give."""
    return [output for output in OUTPUTS if output not in form.set]


def grades_of(shelf: Sequence["Grade"]) -> list["Grade"]:
    """Return a shelf's grades, coarse to fine."""
    return sorted(set(shelf), key=RANK.__getitem__)


def _differences(old: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, object]:
    found: dict[str, object] = {}
    for key in (*new, *(key for key in old if key not in new)):
        was, now = old.get(key), new.get(key)
        if was != now:
            if key in {"when", "set"} and isinstance(was, dict) and isinstance(now, dict):
                found[key] = _differences(was, now)
            else:
                found[key] = now
    return found


def _typed(text: str) -> object:
    """Return a typed text as a number where it is one."""
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        return text.strip()
    return int(number) if number.is_integer() else number


def _refuse(problems: Sequence[Problem]) -> None:
    if problems:
        first = problems[0]
        raise RefusedError(f"{first.says}; {first.mend}" if first.mend else first.says)
