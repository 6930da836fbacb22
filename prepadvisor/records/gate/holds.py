"""Why the gate is shut and how that is mended, one small kind each, with its facts.

The last field names the kind. Sentences are made where they are shown. Hours since an entry, film in µm.
"""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Hold
from prepadvisor.records.job import Check
from prepadvisor.records.words import Grade, Look, Tool, Zone
from prepadvisor.records.work import Ask as Ask
from prepadvisor.records.work import Bed as Bed
from prepadvisor.records.work import Do
from prepadvisor.records.work import Drill as Drill
from prepadvisor.records.work import FilmShort as FilmShort
from prepadvisor.records.work import LeadDecides as LeadDecides


class Said(NamedTuple):
    """An entry that a fact rests on: its place in the file, from 1, and what it says."""

    number: int
    check: Check


BasisPart = Literal["number", "name", "colour", "panel", "zones", "asks", "paths", "patches", "scope"]
"""What a look rests on: job number, colour name, flake, panel, zones, what is asked, lines, patches …"""


class NotDone(NamedTuple):
    """A task was never done, or what was done there is undone by `undone`."""

    do: Do
    tool: Tool | None
    grade: Grade | None
    undone: Said | None = None
    kind: Literal["not-done"] = "not-done"


class TooEarly(NamedTuple):
    """Work was logged before a task that it must follow: `before` at `place`, not done yet where None."""

    said: Said
    do: Do
    place: str
    before: Said | None
    kind: Literal["too-early"] = "too-early"


class Unordered(NamedTuple):
    """Two writers logged without knowing of each other, so nobody can say which came first."""

    said: Said
    other: Said
    kind: Literal["unordered"] = "unordered"


class NotRecorded(NamedTuple):
    """An entry does not say with what tool, with what grade, or neither."""

    said: Said
    lacks: tuple[Literal["tool", "grade"], ...]
    kind: Literal["not-recorded"] = "not-recorded"


class WrongTool(NamedTuple):
    """A tool that may not be used for this: `asked` is what is."""

    said: Said
    asked: Tool | None
    kind: Literal["wrong-tool"] = "wrong-tool"


class NotAsked(NamedTuple):
    """Work that this place must not have, such as a machine in a place for the hand alone."""

    said: Said
    kind: Literal["not-asked"] = "not-asked"


class CutTooCoarse(NamedTuple):
    """A grade coarser than the coarsest allowed; `is_final` where no film or shelf cuts it out."""

    said: Said
    coarsest: Grade
    is_final: bool = False
    kind: Literal["cut-too-coarse"] = "cut-too-coarse"


class CutTooFine(NamedTuple):
    """A grade finer than the finest allowed: the next coat would not hold."""

    said: Said
    finest: Grade
    kind: Literal["cut-too-fine"] = "cut-too-fine"


class StillCoarse(NamedTuple):
    """A grade too far from the coarse one before it: it runs over those scratches and leaves them."""

    said: Said
    coarse: Said
    kind: Literal["still-coarse"] = "still-coarse"


class ShowsLines(NamedTuple):
    """The tool used scratches deeper than the one asked, so that the risk is over the limit."""

    said: Said
    asked: Tool
    risk: float
    limit: float
    zone: Zone
    kind: Literal["shows-lines"] = "shows-lines"


class NotLooked(NamedTuple):
    """Nobody looked at the place; `for_all` is an entry for all places, which never is a first look."""

    for_all: Said | None = None
    kind: Literal["not-looked"] = "not-looked"


class LookedBefore(NamedTuple):
    """The last look did not know of work there or beside it: it came before it."""

    said: Said
    work: Said
    kind: Literal["looked-before"] = "looked-before"


class NoResult(NamedTuple):
    """A look that does not say what it saw."""

    said: Said
    kind: Literal["no-result"] = "no-result"


class SawSomething(NamedTuple):
    """A look found something that is not mended; `times` looks in a row found the same."""

    said: Said
    result: Look
    times: int = 1
    kind: Literal["saw-something"] = "saw-something"


class RubbedThrough(NamedTuple):
    """A look found a rub-through; only a patch there, or full colour to there, mends it."""

    said: Said
    zones: tuple[Zone, ...]
    kind: Literal["rubbed-through"] = "rubbed-through"


class BasisMoved(NamedTuple):
    """What the look rested on has changed since."""

    said: Said
    parts: tuple[BasisPart, ...]
    kind: Literal["basis-moved"] = "basis-moved"


class LookOld(NamedTuple):
    """The look is older than the shop lets a look count."""

    said: Said
    hours: float
    limit: float
    kind: Literal["look-old"] = "look-old"


class ByHand(NamedTuple):
    """The file was edited by hand at this entry, so nobody can say what came before what."""

    said: Said
    kind: Literal["by-hand"] = "by-hand"


class DatedAhead(NamedTuple):
    """An entry is dated ahead of now and does not count until then."""

    said: Said
    kind: Literal["dated-ahead"] = "dated-ahead"


class WipedBefore(NamedTuple):
    """The panel was wiped before something that came after it."""

    said: Said
    later: Said
    kind: Literal["wiped-before"] = "wiped-before"


class WipeOld(NamedTuple):
    """The wipe is older than the shop lets it count."""

    said: Said
    hours: float
    limit: float
    kind: Literal["wipe-old"] = "wipe-old"


class LeftTheJob(NamedTuple):
    """The log has entries for a place that is not in the job (any more); `near` is one like it."""

    entries: tuple[int, ...]
    near: str
    rubbed: bool = False
    kind: Literal["left-the-job"] = "left-the-job"


class NotPlanned(NamedTuple):
    """The job has a place that the advice has no word on."""

    kind: Literal["not-planned"] = "not-planned"


class PlanHolds(NamedTuple):
    """The advice itself holds the place."""

    hold: Hold
    kind: Literal["plan-holds"] = "plan-holds"


class FilmSpent(NamedTuple):
    """Planned and logged work takes more film than may come off: `said` is the pass that went over."""

    said: Said
    off_um: float
    off_max_um: float
    kind: Literal["film-spent"] = "film-spent"


class PrimedEarly(NamedTuple):
    """Primer was logged while something still held the stage before it: `held` places."""

    said: Said
    held: tuple[str, ...]
    kind: Literal["primed-early"] = "primed-early"


HoldFact = (
    NotDone | TooEarly | Unordered | NotRecorded | WrongTool | NotAsked | CutTooCoarse | CutTooFine
    | StillCoarse | ShowsLines | NotLooked | LookedBefore | NoResult | SawSomething | RubbedThrough
    | BasisMoved | LookOld | ByHand | DatedAhead | WipedBefore | WipeOld | LeftTheJob | NotPlanned | PlanHolds
    | FilmSpent | PrimedEarly
)  # fmt: skip
"""Why the gate is shut."""


# How what shuts the gate is mended, one small kind each, with its facts.


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
