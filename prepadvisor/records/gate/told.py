"""What a check-off says of a job: clear or not, what holds, and what must be known and holds nothing."""

import datetime as dt
from collections.abc import Mapping
from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.gate.holds import BasisPart, HoldFact, MendFact, Said
from prepadvisor.records.job import Check
from prepadvisor.records.log_remarks import Remark
from prepadvisor.records.words import Grade, Look, Tool
from prepadvisor.records.work import Drill, LeadDecides, StageName, Work


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


class ScopeMoved(NamedTuple):
    """Panels were added to the job or taken out of it since these looks."""

    entries: tuple[int, ...]
    kind: Literal["scope-moved"] = "scope-moved"


class PrimedUnseen(NamedTuple):
    """Primer written by hand over work of which the log has nothing: it was put on before the log began."""

    said: Said
    kind: Literal["primed-unseen"] = "primed-unseen"


class NoLines(NamedTuple):
    """Neither the panel nor its outline has a line, so no edge is asked for."""

    panel: str
    kind: Literal["no-lines"] = "no-lines"


class OtherThanAsked(NamedTuple):
    """What was used is allowed but is not what the card says."""

    place: str
    said: Said
    deeper: Tool | None
    grade: Grade | None
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
    | UsualLinesAside | ScopeMoved | PrimedUnseen | NoLines | OtherThanAsked | CountsNowhere | BedTold
    | BorderlineTold
)  # fmt: skip
"""What must be known either way and holds nothing."""


# What the check-off says of a job: clear or not, what holds, was found and told, the plan with states.


class GateHold(NamedTuple):
    """One thing that keeps the gate shut, or that a look or the log found and is not mended.

    Attributes:
        place: where: panel/feature, the panel, or "job".
        fact: why, as kind and facts.
        mend: what mends it.
    """

    place: str
    fact: HoldFact
    mend: MendFact


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
        drills: what a look that finds something will ask for, by place and by what is seen, wherever more was
            cut than is planned; everywhere else the plan's drills hold.
    """

    clear: bool
    stage: StageName
    holds: tuple[GateHold, ...]
    found: tuple[GateHold, ...]
    told: tuple[CheckRemark | Remark, ...]
    work: Work
    expires: dt.datetime | None = None
    said: tuple[Check, ...] = ()
    drills: Mapping[str, Mapping[Look, Drill | LeadDecides]] = {}
