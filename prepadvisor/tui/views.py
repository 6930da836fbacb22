"""The views by name and where their code is; it is loaded when one is first shown."""

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from prepadvisor.tui.screens.view import View

VIEWS: Final[dict[str, tuple[str, str]]] = {
    "colour": ("prepadvisor.tui.screens.colour", "ColourView"),
    "panels": ("prepadvisor.tui.screens.panels", "PanelsView"),
    "lines": ("prepadvisor.tui.screens.lines", "LinesView"),
    "answer": ("prepadvisor.tui.screens.answer", "AnswerView"),
    "check-off": ("prepadvisor.tui.screens.check_off", "CheckOffView"),
    "card": ("prepadvisor.tui.screens.card", "CardView"),
    "standards": ("prepadvisor.tui.screens.standards", "StandardsView"),
    "book": ("prepadvisor.tui.screens.own.book", "BookView"),
    "test-panels": ("prepadvisor.tui.screens.own.seen", "StripsView"),
    "fit": ("prepadvisor.tui.screens.own.fit", "FitView"),
    "outcomes": ("prepadvisor.tui.screens.own.seen", "OutcomesView"),
}
"""Each view's name to its module and class."""

HOUSE_VIEWS: Final = frozenset({"standards", "book", "test-panels", "fit", "outcomes"})
"""Views of the house: they need no job, and no job is left in them."""


def view_class(view: str) -> "type[View]":
    """Return the class of a view, loading its code."""
    module, name = VIEWS[view]
    made: type[View] = getattr(import_module(module), name)
    return made
