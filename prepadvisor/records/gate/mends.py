"""How what shuts the gate is mended, one small kind each, with its facts."""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Hold
from prepadvisor.records.drill import Ask as Ask
from prepadvisor.records.drill import Bed as Bed
from prepadvisor.records.drill import Drill as Drill
from prepadvisor.records.drill import LeadDecides as LeadDecides
from prepadvisor.records.gate.holds import Said


class DoIt(NamedTuple):
    """Do these, in order; then look again if `look`; `lead` where the lead may accept it instead."""

    asks: tuple[Ask, ...]
    minutes: float = 0.0
    look: bool = False
    lead: bool = False
    kind: Literal["do-it"] = "do-it"


class LookAgain(NamedTuple):
    """Look under the lamp and log what is seen; `renew` where one entry for the panel renews its looks."""

    renew: bool = False
    kind: Literal["look-again"] = "look-again"


class WetDrill(NamedTuple):
    """What to do where a wet coat shows lines or a rub-through; `asks` take the lines out at that place."""

    result: Literal["lines", "cut-through"]
    asks: tuple[Ask, ...] = ()
    kind: Literal["wet-drill"] = "wet-drill"


class WipeIt(NamedTuple):
    """Blow the panel off and wipe it."""

    kind: Literal["wipe-it"] = "wipe-it"


class CheckClock(NamedTuple):
    """Check the clock and log it again."""

    kind: Literal["check-clock"] = "check-clock"


class NameIt(NamedTuple):
    """The lead accepts by name what left the job, or it is put back; never for a rub-through."""

    near: str = ""
    rubbed: bool = False
    kind: Literal["name-it"] = "name-it"


class CardAgain(NamedTuple):
    """Make the card again."""

    kind: Literal["card-again"] = "card-again"


class AsPlanned(NamedTuple):
    """As the plan's own hold says."""

    hold: Hold
    kind: Literal["as-planned"] = "as-planned"


class StrikeEarly(NamedTuple):
    """Take the entry back, finish the stage before, and log it again."""

    said: Said
    kind: Literal["strike-early"] = "strike-early"


MendFact = (
    DoIt
    | LookAgain
    | Drill
    | WetDrill
    | WipeIt
    | CheckClock
    | NameIt
    | CardAgain
    | AsPlanned
    | LeadDecides
    | StrikeEarly
)
"""How a hold is mended."""
