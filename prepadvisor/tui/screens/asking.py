"""Ask for the value of a field with the dialog that fits it."""

from collections.abc import Callable
from functools import partial
from typing import Final

from textual.screen import Screen

from prepadvisor.cards import words
from prepadvisor.surface.grades import GRADES
from prepadvisor.tui.dialogs.ask_text import AskText
from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.model.fields import Field, number
from prepadvisor.tui.model.open_job import RefusedError

Answered = Callable[[str], None]

USUAL_GRADES: Final = (
    "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000",
)  # fmt: skip
"""Grades offered first, coarse to fine."""


def ask_field(screen: Screen[None], field: Field, answered: Answered) -> None:
    """Ask for a field and call `answered` with the answer; nothing happens after Esc."""
    if field.kind == "choice":
        ask_choice(
            screen, field.ask, [Choice(value, says) for value, says in field.options], answered, field.now
        )
    elif field.kind == "number":
        ask_text(screen, field.ask, field.now, answered, "number", number_fault)
    elif field.kind == "done":
        ask_done(screen, field.ask, answered)
    else:
        ask_text(screen, field.ask, field.now, answered)


def ask_choice(
    screen: Screen[None], title: str, choices: list[Choice], answered: Answered, now: str = ""
) -> None:
    """Ask for one of several things."""
    screen.app.push_screen(Choose(title, choices, now), partial(_told, answered))


def ask_text(
    screen: Screen[None],
    title: str,
    value: str,
    answered: Answered,
    kind: str = "text",
    fault_of: Callable[[str], str] = lambda _text: "",
    help_words: str = "",
) -> None:
    """Ask for a text or number."""
    screen.app.push_screen(AskText(title, value, help_words, fault_of, kind), partial(_told, answered))


def ask_done(screen: Screen[None], title: str, answered: Answered) -> None:
    """Ask for a tool, then for its grade; the answer is such as "da P320", or empty for nothing."""
    tools = [Choice("", "nothing recorded"), *(Choice(tool, says) for tool, says in words.TOOL.items())]

    def of_tool(tool: str) -> None:
        if tool:
            ask_grade(screen, words.TOOL[tool], lambda grade: answered(f"{tool} {grade}"))
        else:
            answered("")

    ask_choice(screen, f"{title}: which tool?", tools, of_tool)


def ask_grade(screen: Screen[None], title: str, answered: Answered, now: str = "") -> None:
    """Ask for a grade of the P series."""
    usual = [Choice(grade, grade) for grade in USUAL_GRADES]
    rest = [Choice(grade, f"{grade} (seldom)") for grade in GRADES if grade not in USUAL_GRADES]
    ask_choice(screen, f"{title}: which grade stands on the back?", usual + rest, answered, now)


def number_fault(text: str) -> str:
    """Return what is wrong with a typed number; an empty one is taken as not stated."""
    try:
        number(text or "0")
    except RefusedError as error:
        return str(error)
    return ""


def _told(answered: Answered, answer: str | None) -> None:
    if answer is not None:
        answered(answer)
