"""What the check-off says of a job, as kinds with facts: what holds, how it is mended, what is told."""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.records.gate.holds import Ask as Ask
    from prepadvisor.records.gate.holds import AsPlanned as AsPlanned
    from prepadvisor.records.gate.holds import BasisMoved as BasisMoved
    from prepadvisor.records.gate.holds import BasisPart as BasisPart
    from prepadvisor.records.gate.holds import Bed as Bed
    from prepadvisor.records.gate.holds import ByHand as ByHand
    from prepadvisor.records.gate.holds import CardAgain as CardAgain
    from prepadvisor.records.gate.holds import CheckClock as CheckClock
    from prepadvisor.records.gate.holds import CutTooCoarse as CutTooCoarse
    from prepadvisor.records.gate.holds import CutTooFine as CutTooFine
    from prepadvisor.records.gate.holds import DatedAhead as DatedAhead
    from prepadvisor.records.gate.holds import DoIt as DoIt
    from prepadvisor.records.gate.holds import Drill as Drill
    from prepadvisor.records.gate.holds import FilmShort as FilmShort
    from prepadvisor.records.gate.holds import FilmSpent as FilmSpent
    from prepadvisor.records.gate.holds import HoldFact as HoldFact
    from prepadvisor.records.gate.holds import LeadDecides as LeadDecides
    from prepadvisor.records.gate.holds import LeftTheJob as LeftTheJob
    from prepadvisor.records.gate.holds import LookAgain as LookAgain
    from prepadvisor.records.gate.holds import LookedBefore as LookedBefore
    from prepadvisor.records.gate.holds import LookOld as LookOld
    from prepadvisor.records.gate.holds import MendFact as MendFact
    from prepadvisor.records.gate.holds import NameIt as NameIt
    from prepadvisor.records.gate.holds import NoResult as NoResult
    from prepadvisor.records.gate.holds import NotAsked as NotAsked
    from prepadvisor.records.gate.holds import NotDone as NotDone
    from prepadvisor.records.gate.holds import NotLooked as NotLooked
    from prepadvisor.records.gate.holds import NotPlanned as NotPlanned
    from prepadvisor.records.gate.holds import NotRecorded as NotRecorded
    from prepadvisor.records.gate.holds import PlanHolds as PlanHolds
    from prepadvisor.records.gate.holds import PrimedEarly as PrimedEarly
    from prepadvisor.records.gate.holds import RubbedThrough as RubbedThrough
    from prepadvisor.records.gate.holds import Said as Said
    from prepadvisor.records.gate.holds import SawSomething as SawSomething
    from prepadvisor.records.gate.holds import ShowsLines as ShowsLines
    from prepadvisor.records.gate.holds import StillCoarse as StillCoarse
    from prepadvisor.records.gate.holds import StrikeEarly as StrikeEarly
    from prepadvisor.records.gate.holds import TooEarly as TooEarly
    from prepadvisor.records.gate.holds import Unordered as Unordered
    from prepadvisor.records.gate.holds import WetDrill as WetDrill
    from prepadvisor.records.gate.holds import WipedBefore as WipedBefore
    from prepadvisor.records.gate.holds import WipeIt as WipeIt
    from prepadvisor.records.gate.holds import WipeOld as WipeOld
    from prepadvisor.records.gate.holds import WrongTool as WrongTool
    from prepadvisor.records.gate.told import Accepted as Accepted
    from prepadvisor.records.gate.told import BasisLacks as BasisLacks
    from prepadvisor.records.gate.told import BedTold as BedTold
    from prepadvisor.records.gate.told import BorderlineTold as BorderlineTold
    from prepadvisor.records.gate.told import CheckRemark as CheckRemark
    from prepadvisor.records.gate.told import ClearWithoutWork as ClearWithoutWork
    from prepadvisor.records.gate.told import CountsNowhere as CountsNowhere
    from prepadvisor.records.gate.told import FaceAfterLines as FaceAfterLines
    from prepadvisor.records.gate.told import Gate as Gate
    from prepadvisor.records.gate.told import GateHold as GateHold
    from prepadvisor.records.gate.told import LooksAged as LooksAged
    from prepadvisor.records.gate.told import NoBasis as NoBasis
    from prepadvisor.records.gate.told import NoLines as NoLines
    from prepadvisor.records.gate.told import NotAccepted as NotAccepted
    from prepadvisor.records.gate.told import OtherJob as OtherJob
    from prepadvisor.records.gate.told import OtherThanAsked as OtherThanAsked
    from prepadvisor.records.gate.told import PrimedUnseen as PrimedUnseen
    from prepadvisor.records.gate.told import ScopeMoved as ScopeMoved
    from prepadvisor.records.gate.told import UsualLinesAside as UsualLinesAside
    from prepadvisor.records.gate.told import WhyNotAccepted as WhyNotAccepted

_PARTS = {
    "holds": (
        "AsPlanned Ask BasisMoved BasisPart Bed ByHand CardAgain CheckClock CutTooCoarse CutTooFine "
        "DatedAhead DoIt Drill FilmShort FilmSpent HoldFact LeadDecides LeftTheJob LookAgain LookOld "
        "LookedBefore MendFact NameIt NoResult NotAsked NotDone NotLooked NotPlanned NotRecorded "
        "PlanHolds PrimedEarly RubbedThrough Said SawSomething ShowsLines StillCoarse StrikeEarly "
        "TooEarly Unordered WetDrill WipeIt WipeOld WipedBefore WrongTool"
    ),
    "told": (
        "Accepted BasisLacks BedTold BorderlineTold CheckRemark ClearWithoutWork CountsNowhere "
        "FaceAfterLines Gate GateHold LooksAged NoBasis NoLines NotAccepted OtherJob OtherThanAsked "
        "PrimedUnseen ScopeMoved UsualLinesAside WhyNotAccepted"
    ),
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
