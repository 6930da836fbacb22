"""Ask for the value of a field with the dialog that fits it."""

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Final

from textual.screen import Screen

from prepadvisor.records import GRADES
from prepadvisor.tui.dialogs.ask import AskText
from prepadvisor.tui.dialogs.asks_again import AsksAgain
from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.model import Field, RefusedError, number, pad_text
from prepadvisor.wording import TOOL

OnAnswer = Callable[[str], None]
Pads = Mapping[str, str]
NO_PADS: Final[Pads] = MappingProxyType({})

USUAL_GRADES: Final = (
    "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000",
)  # fmt: skip
"""Grades offered first, coarse to fine."""


PAD_TOOLS: Final = ("hand-pad", "hand-foam")
"""Tools that a shop may know by a name of its own instead of a grade."""


def ask_field(screen: Screen[None], field: Field, answered: OnAnswer, pads: Pads = NO_PADS) -> None:
    """Ask for a field and call `answered` with the answer; nothing happens after Esc.

    `pads` gives the coarse end of the shop's own pads by their names.
    """
    if field.kind == "choice":
        ask_choice(
            screen, field.ask, [Choice(value, says) for value, says in field.options], answered, field.now
        )
    elif field.kind == "number":
        ask_text(screen, field.ask, field.now, answered=answered, kind="number", fault_of=number_fault)
    elif field.kind == "done":
        ask_done(screen, field.ask, answered, pads)
    elif field.kind == "several":
        parts = {part.id: part for part in field.parts}
        ask_choice(
            screen, field.ask, [Choice(part.id, f"{part.label}: {part.says}") for part in field.parts],
            lambda ident: ask_field(screen, parts[ident], lambda answer: answered(f"{ident} {answer}")),
        )  # fmt: skip
    else:
        ask_text(screen, field.ask, field.now, answered)


def ask_choice(
    screen: Screen[None], title: str, choices: list[Choice], answered: OnAnswer, now: str = ""
) -> None:
    """Ask for one of several things."""
    screen.app.push_screen(Choose(title, choices, now), partial(_told, answered))


def ask_text(
    screen: Screen[None],
    title: str,
    value: str,
    answered: OnAnswer,
    kind: str = "text",
    fault_of: Callable[[str], str] = lambda _text: "",
    help_words: str = "",
    told: str = "",
) -> None:
    """Ask for a text or number; one that is refused once it is taken is asked for again, as it was typed."""

    def again(text: str, fault: str) -> None:
        ask_text(
            screen, title, text, answered, kind=kind, fault_of=fault_of, help_words=help_words, told=fault
        )

    def taken(text: str | None) -> None:
        if text is None:
            return
        if isinstance(screen, AsksAgain):
            screen.asked_again = partial(again, text)
        answered(text)
        if isinstance(screen, AsksAgain):
            screen.asked_again = None

    screen.app.push_screen(AskText(title, value, help_words, fault_of, kind, told=told), taken)


def ask_done(
    screen: Screen[None], title: str, answered: OnAnswer, pads: Pads = NO_PADS, near: str = ""
) -> None:
    """Ask for a tool, then for its grade or pad; the answer is such as "da P320", or empty for nothing.

    `near` is the grade that the list starts at.
    """
    tools = [Choice("", "nothing recorded"), *(Choice(tool, says) for tool, says in TOOL.items())]

    def of_tool(tool: str) -> None:
        if tool:
            own = pads if tool in PAD_TOOLS else NO_PADS
            ask_grade(screen, TOOL[tool], lambda grade: answered(f"{tool} {grade}"), now=near, pads=own)
        else:
            answered("")

    ask_choice(screen, f"{title}: which tool?", tools, of_tool)


def ask_grade(
    screen: Screen[None], title: str, answered: OnAnswer, now: str = "", pads: Pads = NO_PADS
) -> None:
    """Ask for a grade of the P series, or for one of the shop's own pads, which stand first."""
    usual = [Choice(grade, grade) for grade in USUAL_GRADES]
    rest = [Choice(grade, f"{grade} (seldom)") for grade in GRADES if grade not in USUAL_GRADES]
    own = [Choice(pad_text(pad), f"{pad} (up to {coarsest})") for pad, coarsest in pads.items()]
    ask_choice(screen, f"{title}: which grade stands on the back?", own + usual + rest, answered, now)


def number_fault(text: str) -> str:
    """Return what is wrong with a typed number; an empty one is taken as not stated."""
    try:
        number(text or "0")
    except RefusedError as error:
        return str(error)
    return ""


def _told(answered: OnAnswer, answer: str | None) -> None:
    if answer is not None:
        answered(answer)
