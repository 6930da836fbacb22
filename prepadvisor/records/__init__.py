"""What is talked about: frozen records without I/O, taken by everyone else from this door.

A part's code is loaded when something of it is first asked for: a command pays for no record that it does
not use.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door
from prepadvisor.named import NamedTuple as NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records.advice import Advice as Advice
    from prepadvisor.records.advice import Deviation as Deviation
    from prepadvisor.records.advice import FilmBudget as FilmBudget
    from prepadvisor.records.advice import Hold as Hold
    from prepadvisor.records.advice import JobSummary as JobSummary
    from prepadvisor.records.advice import LayerUsed as LayerUsed
    from prepadvisor.records.advice import Offer as Offer
    from prepadvisor.records.advice import PanelAdvice as PanelAdvice
    from prepadvisor.records.advice import PanelWetBed as PanelWetBed
    from prepadvisor.records.advice import RuleFileUsed as RuleFileUsed
    from prepadvisor.records.advice import StandardsUsed as StandardsUsed
    from prepadvisor.records.advice import ZoneBand as ZoneBand
    from prepadvisor.records.base import TEXT_MAX as TEXT_MAX
    from prepadvisor.records.base import Identifier as Identifier
    from prepadvisor.records.base import Record as Record
    from prepadvisor.records.base import Text as Text
    from prepadvisor.records.base import cleaned as cleaned
    from prepadvisor.records.base import is_blank as is_blank
    from prepadvisor.records.card import BY_ENDING as BY_ENDING
    from prepadvisor.records.card import FORMS as FORMS
    from prepadvisor.records.card import Form as Form
    from prepadvisor.records.card import card_numbers as card_numbers
    from prepadvisor.records.card import letters as letters
    from prepadvisor.records.card import place_named as place_named
    from prepadvisor.records.constants import ARCSEC as ARCSEC
    from prepadvisor.records.constants import DEPTH_PER_GRAIN as DEPTH_PER_GRAIN
    from prepadvisor.records.constants import FLAKE_UM as FLAKE_UM
    from prepadvisor.records.constants import LEAST_UNCERTAIN as LEAST_UNCERTAIN
    from prepadvisor.records.constants import Constants as Constants
    from prepadvisor.records.constants import MeasuredHere as MeasuredHere
    from prepadvisor.records.constants import Mixing as Mixing
    from prepadvisor.records.constants import Quantity as Quantity
    from prepadvisor.records.constants import SeenFlake as SeenFlake
    from prepadvisor.records.constants import Source as Source
    from prepadvisor.records.constants import Within as Within
    from prepadvisor.records.fault import BadInputError as BadInputError
    from prepadvisor.records.fault import Fault as Fault
    from prepadvisor.records.fault import KeyPath as KeyPath
    from prepadvisor.records.fault import Problem as Problem
    from prepadvisor.records.fault import own_words as own_words
    from prepadvisor.records.fit import Agreement as Agreement
    from prepadvisor.records.fit import Alike as Alike
    from prepadvisor.records.fit import Calibration as Calibration
    from prepadvisor.records.fit import ClassesDiffer as ClassesDiffer
    from prepadvisor.records.fit import ClassNotSaid as ClassNotSaid
    from prepadvisor.records.fit import ColourRecord as ColourRecord
    from prepadvisor.records.fit import Contradictory as Contradictory
    from prepadvisor.records.fit import DimLight as DimLight
    from prepadvisor.records.fit import FarFromBefore as FarFromBefore
    from prepadvisor.records.fit import Fit as Fit
    from prepadvisor.records.fit import FitCheck as FitCheck
    from prepadvisor.records.fit import FittedNumber as FittedNumber
    from prepadvisor.records.fit import FixedTogether as FixedTogether
    from prepadvisor.records.fit import KeptUnused as KeptUnused
    from prepadvisor.records.fit import NextPanel as NextPanel
    from prepadvisor.records.fit import NextReason as NextReason
    from prepadvisor.records.fit import NoRows as NoRows
    from prepadvisor.records.fit import NotBlind as NotBlind
    from prepadvisor.records.fit import NotSettled as NotSettled
    from prepadvisor.records.fit import OneAnswerOnly as OneAnswerOnly
    from prepadvisor.records.fit import PadAsGrade as PadAsGrade
    from prepadvisor.records.fit import ReliabilityBin as ReliabilityBin
    from prepadvisor.records.fit import RowFitted as RowFitted
    from prepadvisor.records.fit import Separable as Separable
    from prepadvisor.records.fit import StartedAfresh as StartedAfresh
    from prepadvisor.records.fit import ToldOfFit as ToldOfFit
    from prepadvisor.records.fit import WrongWayRound as WrongWayRound
    from prepadvisor.records.gate.holds import BasisPart as BasisPart
    from prepadvisor.records.gate.holds import Said as Said
    from prepadvisor.records.gate.holds import WetDrill as WetDrill
    from prepadvisor.records.gate.told import Gate as Gate
    from prepadvisor.records.gate.told import GateHold as GateHold
    from prepadvisor.records.held import BedForbidden as BedForbidden
    from prepadvisor.records.held import BedTooThin as BedTooThin
    from prepadvisor.records.held import BedWay as BedWay
    from prepadvisor.records.held import CannotCutOut as CannotCutOut
    from prepadvisor.records.held import Collision as Collision
    from prepadvisor.records.held import DoneKind as DoneKind
    from prepadvisor.records.held import GradeUnknown as GradeUnknown
    from prepadvisor.records.held import HoldKind as HoldKind
    from prepadvisor.records.held import NoHandGrade as NoHandGrade
    from prepadvisor.records.held import NoRule as NoRule
    from prepadvisor.records.held import NoWayOut as NoWayOut
    from prepadvisor.records.held import NoWayUp as NoWayUp
    from prepadvisor.records.held import OfferKind as OfferKind
    from prepadvisor.records.held import RuleHold as RuleHold
    from prepadvisor.records.held import RunsOn as RunsOn
    from prepadvisor.records.held import ShelfLacks as ShelfLacks
    from prepadvisor.records.held import TooCoarse as TooCoarse
    from prepadvisor.records.held import TooFine as TooFine
    from prepadvisor.records.held import TooLittleLeft as TooLittleLeft
    from prepadvisor.records.held import TooMuchFilm as TooMuchFilm
    from prepadvisor.records.held import TrimOff as TrimOff
    from prepadvisor.records.held import WillShow as WillShow
    from prepadvisor.records.job import FORMAT as FORMAT
    from prepadvisor.records.job import Check as Check
    from prepadvisor.records.job import Colour as Colour
    from prepadvisor.records.job import Done as Done
    from prepadvisor.records.job import Feature as Feature
    from prepadvisor.records.job import Job as Job
    from prepadvisor.records.job import JobHead as JobHead
    from prepadvisor.records.job import Outcome as Outcome
    from prepadvisor.records.job import Outline as Outline
    from prepadvisor.records.job import Panel as Panel
    from prepadvisor.records.job import Patch as Patch
    from prepadvisor.records.job import Point as Point
    from prepadvisor.records.kinds import BookDiffers as BookDiffers
    from prepadvisor.records.kinds import BookMissing as BookMissing
    from prepadvisor.records.kinds import BookUnsealed as BookUnsealed
    from prepadvisor.records.kinds import Caution as Caution
    from prepadvisor.records.kinds import CrossesPatch as CrossesPatch
    from prepadvisor.records.kinds import Estimate as Estimate
    from prepadvisor.records.kinds import FadesMeet as FadesMeet
    from prepadvisor.records.kinds import FlakeUnknown as FlakeUnknown
    from prepadvisor.records.kinds import FromBook as FromBook
    from prepadvisor.records.kinds import HandOnlyInClear as HandOnlyInClear
    from prepadvisor.records.kinds import HeldAfterPrimer as HeldAfterPrimer
    from prepadvisor.records.kinds import KeptOff as KeptOff
    from prepadvisor.records.kinds import KeyAllowsNoFiner as KeyAllowsNoFiner
    from prepadvisor.records.kinds import LinesGone as LinesGone
    from prepadvisor.records.kinds import MeasuredFiner as MeasuredFiner
    from prepadvisor.records.kinds import MistPastEnd as MistPastEnd
    from prepadvisor.records.kinds import ModelSaid as ModelSaid
    from prepadvisor.records.kinds import NarrowFade as NarrowFade
    from prepadvisor.records.kinds import PanelException as PanelException
    from prepadvisor.records.kinds import PatchNowUnstated as PatchNowUnstated
    from prepadvisor.records.kinds import PlaceNote as PlaceNote
    from prepadvisor.records.kinds import ReachUnstated as ReachUnstated
    from prepadvisor.records.kinds import RingOf as RingOf
    from prepadvisor.records.kinds import RuleCaution as RuleCaution
    from prepadvisor.records.kinds import RuleNote as RuleNote
    from prepadvisor.records.kinds import SandedUnknown as SandedUnknown
    from prepadvisor.records.kinds import SeenUnstated as SeenUnstated
    from prepadvisor.records.kinds import Silence as Silence
    from prepadvisor.records.kinds import SilenceWhy as SilenceWhy
    from prepadvisor.records.kinds import SplitPlace as SplitPlace
    from prepadvisor.records.kinds import StagesUnstated as StagesUnstated
    from prepadvisor.records.kinds import ThreeStages as ThreeStages
    from prepadvisor.records.kinds import ToneUnstated as ToneUnstated
    from prepadvisor.records.log_refusals import LogRefusal as LogRefusal
    from prepadvisor.records.log_remarks import Ahead as Ahead
    from prepadvisor.records.log_remarks import KnewBelow as KnewBelow
    from prepadvisor.records.log_remarks import KnewNone as KnewNone
    from prepadvisor.records.log_remarks import NoKnew as NoKnew
    from prepadvisor.records.log_remarks import NotStruck as NotStruck
    from prepadvisor.records.log_remarks import OutOfTurn as OutOfTurn
    from prepadvisor.records.log_remarks import StruckEntry as StruckEntry
    from prepadvisor.records.log_remarks import TimeBack as TimeBack
    from prepadvisor.records.log_remarks import TwiceThere as TwiceThere
    from prepadvisor.records.panel_rows import LIGHTS as LIGHTS
    from prepadvisor.records.panel_rows import LUX_LEAST as LUX_LEAST
    from prepadvisor.records.panel_rows import SHOWS as SHOWS
    from prepadvisor.records.panel_rows import PanelRow as PanelRow
    from prepadvisor.records.panel_rows import RowKind as RowKind
    from prepadvisor.records.panel_rows import Shows as Shows
    from prepadvisor.records.shop import BookColour as BookColour
    from prepadvisor.records.shop import Passport as Passport
    from prepadvisor.records.shop import Rates as Rates
    from prepadvisor.records.shop import Shop as Shop
    from prepadvisor.records.shop import WetBed as WetBed
    from prepadvisor.records.shop import found as found
    from prepadvisor.records.shop import key_of as key_of
    from prepadvisor.records.shop import of_one_code as of_one_code
    from prepadvisor.records.spots import ChangeValue as ChangeValue
    from prepadvisor.records.spots import Decision as Decision
    from prepadvisor.records.spots import DoneAdvice as DoneAdvice
    from prepadvisor.records.spots import Finish as Finish
    from prepadvisor.records.spots import HouseChange as HouseChange
    from prepadvisor.records.spots import LadderStep as LadderStep
    from prepadvisor.records.spots import Laxer as Laxer
    from prepadvisor.records.spots import LineRisk as LineRisk
    from prepadvisor.records.spots import OutputName as OutputName
    from prepadvisor.records.spots import OutputWord as OutputWord
    from prepadvisor.records.spots import Place as Place
    from prepadvisor.records.spots import Reason as Reason
    from prepadvisor.records.spots import Spot as Spot
    from prepadvisor.records.spots import WetBedAdvice as WetBedAdvice
    from prepadvisor.records.trade_words import ANY_WORDS as ANY_WORDS
    from prepadvisor.records.trade_words import KEY_WORDS as KEY_WORDS
    from prepadvisor.records.trade_words import OTHER_WORDS as OTHER_WORDS
    from prepadvisor.records.trade_words import VALUE_WORDS as VALUE_WORDS
    from prepadvisor.records.trade_words import did_you_mean as did_you_mean
    from prepadvisor.records.trade_words import first_word as first_word
    from prepadvisor.records.trade_words import first_words_of_place as first_words_of_place
    from prepadvisor.records.trade_words import known_words as known_words
    from prepadvisor.records.trade_words import near_words as near_words
    from prepadvisor.records.trade_words import nearest as nearest
    from prepadvisor.records.trade_words import other_keys as other_keys
    from prepadvisor.records.words import AREA_KINDS as AREA_KINDS
    from prepadvisor.records.words import BUILT as BUILT
    from prepadvisor.records.words import CLEAR_SURFACES as CLEAR_SURFACES
    from prepadvisor.records.words import COLOURED_SURFACES as COLOURED_SURFACES
    from prepadvisor.records.words import CREST_KINDS as CREST_KINDS
    from prepadvisor.records.words import DA_TOOLS as DA_TOOLS
    from prepadvisor.records.words import DS50_UM as DS50_UM
    from prepadvisor.records.words import FEATURE_KINDS as FEATURE_KINDS
    from prepadvisor.records.words import FLAKES as FLAKES
    from prepadvisor.records.words import FROM_MEMORY as FROM_MEMORY
    from prepadvisor.records.words import GRADES as GRADES
    from prepadvisor.records.words import GUIDE_COAT as GUIDE_COAT
    from prepadvisor.records.words import HAND_TOOLS as HAND_TOOLS
    from prepadvisor.records.words import LEVELLED_SURFACES as LEVELLED_SURFACES
    from prepadvisor.records.words import LINE_KINDS as LINE_KINDS
    from prepadvisor.records.words import MEANS as MEANS
    from prepadvisor.records.words import NO_FILM_SUMS as NO_FILM_SUMS
    from prepadvisor.records.words import OUTLINES as OUTLINES
    from prepadvisor.records.words import PRIMED_SURFACES as PRIMED_SURFACES
    from prepadvisor.records.words import RANK as RANK
    from prepadvisor.records.words import SIDES as SIDES
    from prepadvisor.records.words import SPECIALS as SPECIALS
    from prepadvisor.records.words import SURFACES as SURFACES
    from prepadvisor.records.words import TONES as TONES
    from prepadvisor.records.words import TOOLS as TOOLS
    from prepadvisor.records.words import TRIM_KINDS as TRIM_KINDS
    from prepadvisor.records.words import UNSEEN_KINDS as UNSEEN_KINDS
    from prepadvisor.records.words import WET_BED as WET_BED
    from prepadvisor.records.words import ZONES as ZONES
    from prepadvisor.records.words import Built as Built
    from prepadvisor.records.words import DoneVerdict as DoneVerdict
    from prepadvisor.records.words import FeatureKind as FeatureKind
    from prepadvisor.records.words import Flake as Flake
    from prepadvisor.records.words import Grade as Grade
    from prepadvisor.records.words import GuideCoat as GuideCoat
    from prepadvisor.records.words import Known as Known
    from prepadvisor.records.words import LineKind as LineKind
    from prepadvisor.records.words import Look as Look
    from prepadvisor.records.words import NextCoat as NextCoat
    from prepadvisor.records.words import NotAGradeError as NotAGradeError
    from prepadvisor.records.words import Reach as Reach
    from prepadvisor.records.words import Role as Role
    from prepadvisor.records.words import Special as Special
    from prepadvisor.records.words import Step as Step
    from prepadvisor.records.words import Surface as Surface
    from prepadvisor.records.words import Tone as Tone
    from prepadvisor.records.words import Tool as Tool
    from prepadvisor.records.words import Verdict as Verdict
    from prepadvisor.records.words import WetBedNeed as WetBedNeed
    from prepadvisor.records.words import Zone as Zone
    from prepadvisor.records.words import coarsest as coarsest
    from prepadvisor.records.words import ds50_um as ds50_um
    from prepadvisor.records.words import finest as finest
    from prepadvisor.records.words import grade as grade
    from prepadvisor.records.words import is_finer as is_finer
    from prepadvisor.records.words import is_grade as is_grade
    from prepadvisor.records.work import CLEAR as CLEAR
    from prepadvisor.records.work import DO_OF as DO_OF
    from prepadvisor.records.work import STEP_OF as STEP_OF
    from prepadvisor.records.work import Ask as Ask
    from prepadvisor.records.work import Bed as Bed
    from prepadvisor.records.work import BoothDo as BoothDo
    from prepadvisor.records.work import BoothEntry as BoothEntry
    from prepadvisor.records.work import Do as Do
    from prepadvisor.records.work import Drill as Drill
    from prepadvisor.records.work import FilmShort as FilmShort
    from prepadvisor.records.work import LeadDecides as LeadDecides
    from prepadvisor.records.work import Stage as Stage
    from prepadvisor.records.work import StageName as StageName
    from prepadvisor.records.work import Task as Task
    from prepadvisor.records.work import TaskState as TaskState
    from prepadvisor.records.work import Work as Work
    from prepadvisor.records.work import WorkStep as WorkStep
    from prepadvisor.records.work import admits as admits
    from prepadvisor.records.work import too_coarse as too_coarse
    from prepadvisor.records.work import too_fine as too_fine

_PARTS = {
    "advice": (
        "Advice Deviation FilmBudget Hold JobSummary LayerUsed Offer PanelAdvice PanelWetBed "
        "RuleFileUsed StandardsUsed ZoneBand"
    ),
    "base": "Identifier Record TEXT_MAX Text cleaned is_blank",
    "card": "BY_ENDING FORMS Form card_numbers letters place_named",
    "constants": (
        "ARCSEC Constants DEPTH_PER_GRAIN FLAKE_UM LEAST_UNCERTAIN MeasuredHere Mixing Quantity "
        "SeenFlake Source Within"
    ),
    "fault": "BadInputError Fault KeyPath Problem own_words",
    "fit": (
        "Agreement Alike Calibration ClassNotSaid ClassesDiffer ColourRecord Contradictory DimLight "
        "FarFromBefore Fit FitCheck FittedNumber FixedTogether KeptUnused NextPanel NextReason NoRows "
        "NotBlind NotSettled OneAnswerOnly PadAsGrade ReliabilityBin RowFitted Separable "
        "StartedAfresh ToldOfFit WrongWayRound"
    ),
    "gate.holds": "BasisPart Said WetDrill",
    "gate.told": "Gate GateHold",
    "held": (
        "BedForbidden BedTooThin BedWay CannotCutOut Collision DoneKind GradeUnknown HoldKind "
        "NoHandGrade NoRule NoWayOut NoWayUp OfferKind RuleHold RunsOn ShelfLacks TooCoarse TooFine "
        "TooLittleLeft TooMuchFilm TrimOff WillShow"
    ),
    "job": "Check Colour Done FORMAT Feature Job JobHead Outcome Outline Panel Patch Point",
    "kinds": (
        "BookDiffers BookMissing BookUnsealed Caution CrossesPatch Estimate FadesMeet FlakeUnknown "
        "FromBook HandOnlyInClear HeldAfterPrimer KeptOff KeyAllowsNoFiner LinesGone MeasuredFiner "
        "MistPastEnd ModelSaid NarrowFade PanelException PatchNowUnstated PlaceNote ReachUnstated RingOf "
        "RuleCaution RuleNote SandedUnknown SeenUnstated Silence SilenceWhy SplitPlace StagesUnstated "
        "ThreeStages ToneUnstated"
    ),
    "log_refusals": "LogRefusal",
    "log_remarks": "Ahead KnewBelow KnewNone NoKnew NotStruck OutOfTurn StruckEntry TimeBack TwiceThere",
    "panel_rows": "LIGHTS LUX_LEAST PanelRow RowKind SHOWS Shows",
    "shop": "BookColour Passport Rates Shop WetBed found key_of of_one_code",
    "spots": (
        "ChangeValue Decision DoneAdvice Finish HouseChange LadderStep Laxer LineRisk OutputName "
        "OutputWord Place Reason Spot WetBedAdvice"
    ),
    "trade_words": (
        "ANY_WORDS KEY_WORDS OTHER_WORDS VALUE_WORDS did_you_mean first_word first_words_of_place "
        "known_words near_words nearest other_keys"
    ),
    "words": (
        "AREA_KINDS BUILT Built CLEAR_SURFACES COLOURED_SURFACES CREST_KINDS DA_TOOLS DS50_UM DoneVerdict "
        "FEATURE_KINDS FLAKES FROM_MEMORY FeatureKind Flake GRADES GUIDE_COAT Grade GuideCoat "
        "HAND_TOOLS Known LEVELLED_SURFACES LINE_KINDS LineKind Look MEANS NO_FILM_SUMS NextCoat "
        "NotAGradeError OUTLINES PRIMED_SURFACES RANK Reach Role SIDES SPECIALS SURFACES Special Step "
        "Surface TONES TOOLS TRIM_KINDS Tone Tool UNSEEN_KINDS Verdict WET_BED WetBedNeed ZONES Zone "
        "coarsest ds50_um finest grade is_finer is_grade"
    ),
    "work": (
        "Ask Bed BoothDo BoothEntry CLEAR DO_OF Do Drill FilmShort LeadDecides STEP_OF Stage "
        "StageName Task TaskState Work WorkStep admits too_coarse too_fine"
    ),
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
