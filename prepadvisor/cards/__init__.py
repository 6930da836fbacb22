"""Cards to work from: one sheet of facts, printed as text, page, PDF or JSON."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from prepadvisor.cards.day import Day as Day
    from prepadvisor.cards.day import DayForm as DayForm
    from prepadvisor.cards.day import DayJob as DayJob
    from prepadvisor.cards.day import Load as Load
    from prepadvisor.cards.day import age as age
    from prepadvisor.cards.day import day_of as day_of
    from prepadvisor.cards.day import day_of_lines as day_of_lines
    from prepadvisor.cards.day import job_line as job_line
    from prepadvisor.cards.day import state as state
    from prepadvisor.cards.day import sums_says as sums_says
    from prepadvisor.cards.day import write_day as write_day
    from prepadvisor.cards.outcomes import Gathered as Gathered
    from prepadvisor.cards.outcomes import gathered as gathered
    from prepadvisor.cards.outcomes import outcomes_blocks as outcomes_blocks
    from prepadvisor.cards.outcomes import outcomes_lines as outcomes_lines
    from prepadvisor.cards.write import write_card as write_card

_PARTS = {
    "day": "Day DayForm DayJob Load age day_of day_of_lines job_line state sums_says write_day",
    "outcomes": "Gathered gathered outcomes_blocks outcomes_lines",
    "write": "write_card",
}
"""The parts of this room, and what each brings to the door."""

_HOMES = {name: part for part, names in _PARTS.items() for name in names.split()}

if not TYPE_CHECKING:  # else a type checker would take any name for granted

    def __getattr__(name):
        """Load the part that has a name, and keep all that it brings."""
        if name not in _HOMES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        part = import_module(f"{__name__}.{_HOMES[name]}")
        globals().update((each, getattr(part, each)) for each in _PARTS[_HOMES[name]].split())
        return globals()[name]
