"""A record as a sheet of fields: what each is called and says, what it may become, and the change."""

from collections.abc import Mapping
from typing import Literal

from prepadvisor.records import Done, NamedTuple, NotAGradeError, grade
from prepadvisor.tui.model.open_job import RefusedError
from prepadvisor.wording import TOOL

FieldKind = Literal["choice", "number", "text", "done", "sources", "several"]
_PAD = "pad:"


class Option(NamedTuple):
    """One value a field may take, and its words."""

    value: str
    says: str


class Field(NamedTuple):
    """One fact on a sheet.

    `says` is what is shown; `now` the value itself as text; `options` the values of a choice; `step` how far
    an arrow turns a number; `ask` the words of the dialog; `parts` are the fields that "several" stands for,
    whose answer is the id of one of them, a blank, and its answer.
    """

    id: str
    label: str
    says: str
    kind: FieldKind
    now: str = ""
    options: tuple[Option, ...] = ()
    step: float = 0.0
    ask: str = ""
    parts: tuple["Field", ...] = ()

    def turned(self, step: int) -> str | None:
        """Return the value an arrow turns to; None where arrows turn nothing."""
        if self.kind == "choice" and self.options:
            values = [option.value for option in self.options]
            at = values.index(self.now) if self.now in values else -1 if step > 0 else 0
            return values[(at + step) % len(values)]
        if self.kind == "number" and self.step:
            return f"{max(number(self.now or '0') + step * self.step, 0):g}"
        return None


def choice(ident: str, label: str, now: str, options: Mapping[str, str], blank: str = "") -> Field:
    """Return a field that takes one of some values; `blank` is shown for a value not stated."""
    return Field(
        id=ident,
        label=label,
        says=options.get(now, blank or now),
        kind="choice",
        now=now,
        options=tuple(Option(value, says) for value, says in options.items()),
        ask=label,
    )


def number(text: str) -> float:
    """Return the number a person typed, with point or comma."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise RefusedError(f'"{text}" is not a number') from None


def optional_number(text: str) -> float | None:
    """Return the number, or None for an empty text."""
    return number(text) if text.strip() else None


def done_of(text: str) -> Done | None:
    """Return "da P320" or "hand-pad pad:our grey" as an abrasive used; an empty text as nothing recorded."""
    tool, _, name = text.strip().partition(" ")
    if not tool:
        return None
    if name.startswith(_PAD):
        return Done.model_validate({"tool": tool, "pad": name.removeprefix(_PAD)})
    try:
        return Done.model_validate({"tool": tool, "grade": grade(name) if name else None})
    except NotAGradeError as error:
        raise RefusedError(str(error)) from error


def done_text(done: Done | None) -> str:
    """Return an abrasive used as the text `done_of` takes."""
    if done is None:
        return ""
    return f"{done.tool} {pad_text(done.pad) if done.pad else done.grade or ''}".strip()


def pad_text(pad: str) -> str:
    """Return the shop's own name of a pad as it stands in the place of a grade."""
    return f"{_PAD}{pad}"


def pad_of(text: str) -> str:
    """Return the name of a pad where one stands in the place of a grade; empty for a grade."""
    return text.removeprefix(_PAD) if text.startswith(_PAD) else ""


def done_words(done: Done | None, blank: str) -> str:
    """Return a tool and grade in shop words."""
    if done is None:
        return blank
    return f"{done.grade or done.pad or 'grade not known'}, {TOOL[done.tool]}"


def readings(text: str) -> tuple[float, ...]:
    """Return the film readings in µm that a person typed with blanks or semicolons between."""
    return tuple(number(word) for word in text.replace(";", " ").split())
