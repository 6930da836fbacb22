"""What the check-off says of a job, as kinds with facts: what holds, how it is mended, what is to be known.

One small tuple for each kind, one union for each family; the last field names the kind. Sentences are made
where they are shown. Hours since an entry, film in µm, lengths in mm.
"""

import datetime as dt
from typing import Literal, NamedTuple

from prepadvisor.records.advice import Hold
from prepadvisor.records.job import Check
from prepadvisor.records.log_remarks import Remark
from prepadvisor.records.words import Look, Tool, Zone
from prepadvisor.records.work import Do, StageName, Work


class Said(NamedTuple):
    """An entry that a fact rests on: its place in the file, from 1, and what it says."""

    number: int
    check: Check


BasisPart = Literal["number", "name", "colour", "panel", "zones", "asks", "paths", "patches"]
"""What a look rests on: job number, colour name, flake, panel, zones, what is asked, lines, patches."""


# ---------------------------------------------------------------------------------------------------- holds


class NotDone(NamedTuple):
    """A task was never done, or what was done there is undone by `undone`."""

    do: Do
    tool: Tool | None
    grade: str | None
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
    coarsest: str
    is_final: bool = False
    kind: Literal["cut-too-coarse"] = "cut-too-coarse"


class CutTooFine(NamedTuple):
    """A grade finer than the finest allowed: the next coat would not hold."""

    said: Said
    finest: str
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


# ---------------------------------------------------------------------------------------------------- mends


class Ask(NamedTuple):
    """One pass to do: with what, what grade, and which grades are taken."""

    do: Do
    tool: Tool | None = None
    grade: str | None = None
    range: tuple[str, str] | None = None


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


class LeadDecides(NamedTuple):
    """Stop; nothing more is cut. The lead chooses: accept it as it is, or replan the place."""

    may_accept: bool
    kind: Literal["lead-decides"] = "lead-decides"


class StrikeEarly(NamedTuple):
    """Take the entry back, finish the stage before, and log it again."""

    said: Said
    kind: Literal["strike-early"] = "strike-early"


MendFact = (
    DoIt
    | LookAgain
    | Drill
    | WipeIt
    | CheckClock
    | NameIt
    | CardAgain
    | AsPlanned
    | LeadDecides
    | StrikeEarly
)
"""How a hold is mended."""


class GateHold(NamedTuple):
    """One thing that keeps the gate shut: where ("panel/feature", panel or "job"), why, and its mend."""

    place: str
    fact: HoldFact
    mend: MendFact


class Found(NamedTuple):
    """Something a look or the log found that is not mended."""

    place: str
    fact: HoldFact
    mend: MendFact


# ----------------------------------------------------------------------------------------------------- told


class OtherJob(NamedTuple):
    """The log up to entry `upto` is of another job's number, so it starts over."""

    upto: int
    kind: Literal["other-job"] = "other-job"


class NoBasis(NamedTuple):
    """Looks and acceptances that rest on nothing: nothing ties them to this job."""

    entries: tuple[int, ...]
    kind: Literal["no-basis"] = "no-basis"


class BasisLacks(NamedTuple):
    """Looks by an older version, which did not write these parts."""

    entries: tuple[int, ...]
    parts: tuple[BasisPart, ...]
    kind: Literal["basis-lacks"] = "basis-lacks"


class Accepted(NamedTuple):
    """An acceptance that counts; `own` where he accepts his own work, as the only lead of the shop may."""

    place: str
    said: Said
    what: Said | None
    own: bool
    kind: Literal["accepted"] = "accepted"


WhyNotAccepted = Literal[
    "no-initials", "no-reason", "own-work", "not-a-lead", "too-coarse", "too-fine", "rubbed-through", "gloss",
    "nothing-to-accept", "no-such-entry", "not-known", "edited", "moved", "ahead",
]  # fmt: skip


class NotAccepted(NamedTuple):
    """An acceptance that does not count, and why; `leads` are those who may."""

    place: str
    said: Said
    why: WhyNotAccepted
    leads: tuple[str, ...] = ()
    parts: tuple[BasisPart, ...] = ()
    kind: Literal["not-accepted"] = "not-accepted"


class LooksAged(NamedTuple):
    """Looks older than a day: places, and hours since the oldest."""

    places: tuple[str, ...]
    hours: float
    kind: Literal["looks-aged"] = "looks-aged"


class ClearWithoutWork(NamedTuple):
    """A look found something, a later one was clear, and no work was logged between."""

    place: str
    first: Said
    then: Said
    kind: Literal["clear-without-work"] = "clear-without-work"


class FaceAfterLines(NamedTuple):
    """The face was sanded after these places were looked at."""

    said: Said
    places: tuple[str, ...]
    kind: Literal["face-after-lines"] = "face-after-lines"


class UsualLinesAside(NamedTuple):
    """The panel states lines of its own, so these usual ones of its outline are not asked for."""

    panel: str
    lines: tuple[str, ...]
    kind: Literal["usual-lines-aside"] = "usual-lines-aside"


class OtherThanAsked(NamedTuple):
    """What was used is allowed but is not what the card says."""

    place: str
    said: Said
    deeper: Tool | None
    grade: str | None
    kind: Literal["other-than-asked"] = "other-than-asked"


class CountsNowhere(NamedTuple):
    """An entry that speaks for nothing: a panel's step at a place, a look without a place."""

    said: Said
    kind: Literal["counts-nowhere"] = "counts-nowhere"


class BedTold(NamedTuple):
    """A wet bed is required here; it comes after masking and holds nothing."""

    panel: str
    coats: int
    kind: Literal["bed-told"] = "bed-told"


class BorderlineTold(NamedTuple):
    """Borderline even so: spray a test panel or ask the lead."""

    place: str
    kind: Literal["borderline-told"] = "borderline-told"


CheckRemark = (
    OtherJob | NoBasis | BasisLacks | Accepted | NotAccepted | LooksAged | ClearWithoutWork | FaceAfterLines
    | UsualLinesAside | OtherThanAsked | CountsNowhere | BedTold | BorderlineTold
)  # fmt: skip
"""What must be known either way and holds nothing."""


class Gate(NamedTuple):
    """Clear for the next coat or not.

    Attributes:
        clear: whether nothing holds.
        stage: the stage that is worked now.
        holds: what keeps the gate shut, in the order it is worked.
        found: what looks and the log found that is not mended; each stands in `holds` too.
        told: what must be known either way: remarks of the check-off, then of the log.
        work: the plan of work with the state of each task.
        expires: when the clear ends by itself, None where it is not clear.
        said: the entries by their number, for those who tell of them.
    """

    clear: bool
    stage: StageName
    holds: tuple[GateHold, ...]
    found: tuple[Found, ...]
    told: tuple[CheckRemark | Remark, ...]
    work: Work
    expires: dt.datetime | None = None
    said: tuple[Check, ...] = ()
