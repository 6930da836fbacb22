"""What the check-off says of a job: clear or not, what holds, was found and told, the plan with states."""

import datetime as dt

from prepadvisor.named import NamedTuple
from prepadvisor.records.gate.holds import HoldFact
from prepadvisor.records.gate.mends import MendFact
from prepadvisor.records.gate.told import CheckRemark
from prepadvisor.records.job import Check
from prepadvisor.records.log_remarks import Remark
from prepadvisor.records.work import StageName, Work


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
    """

    clear: bool
    stage: StageName
    holds: tuple[GateHold, ...]
    found: tuple[GateHold, ...]
    told: tuple[CheckRemark | Remark, ...]
    work: Work
    expires: dt.datetime | None = None
    said: tuple[Check, ...] = ()
