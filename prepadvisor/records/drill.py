"""What to do where a look found something, as facts: passes first, passes then, or the lead.

Cards print drills without a log, so these stand apart from all else that the check-off says.
"""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.words import Look, Tool, Zone
from prepadvisor.records.work import Do
from prepadvisor.surface.grades import Grade


class Ask(NamedTuple):
    """One pass to do: with what, what grade, and which grades are taken."""

    do: Do
    tool: Tool | None = None
    grade: Grade | None = None
    range: tuple[Grade, Grade] | None = None


Bed = Literal["no", "too-coarse", "lead"]
"""A wet bed instead: none goes there, none covers that scuff, or only with the lead's initials."""


class Drill(NamedTuple):
    """What to do where a look found something: first these; still there, then those; still, then the lead.

    `first` and `then` name no grade that is forbidden there; `then` is empty where only the lead is left.
    `zones` are those of the place.
    """

    result: Look
    first: tuple[Ask, ...]
    then: tuple[Ask, ...] = ()
    minutes: float = 0.0
    bed: Bed = "no"
    zones: tuple[Zone, ...] = ()
    on_fill: bool = False
    kind: Literal["drill"] = "drill"


class LeadDecides(NamedTuple):
    """Stop; nothing more is cut. The lead chooses: accept it as it is, or replan the place."""

    may_accept: bool
    kind: Literal["lead-decides"] = "lead-decides"
