"""From a job and the house standards to advice: spots, grit range, places, grit steps, materials.

A part's code is loaded when something of it is first asked for: whoever asks the line model alone plans
no job.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.planning.advising import advise as advise
    from prepadvisor.planning.advising import as_primed as as_primed
    from prepadvisor.planning.archive import BothWays as BothWays
    from prepadvisor.planning.archive import JobDifferences as JobDifferences
    from prepadvisor.planning.archive import job_differences as job_differences
    from prepadvisor.planning.archive import spot_facts as spot_facts
    from prepadvisor.planning.archive import spot_plans as spot_plans
    from prepadvisor.planning.ladder import TIE as TIE
    from prepadvisor.planning.ladder import Climb as Climb
    from prepadvisor.planning.ladder import WorkRates as WorkRates
    from prepadvisor.planning.ladder import cleaning as cleaning
    from prepadvisor.planning.ladder import clears as clears
    from prepadvisor.planning.ladder import hand_work as hand_work
    from prepadvisor.planning.ladder import rates_of as rates_of
    from prepadvisor.planning.line_model import LINE_ZONES as LINE_ZONES
    from prepadvisor.planning.line_model import LineEstimate as LineEstimate
    from prepadvisor.planning.line_model import LineModel as LineModel
    from prepadvisor.planning.line_model import depth_uncertainty as depth_uncertainty
    from prepadvisor.planning.line_model import verdict_of as verdict_of
    from prepadvisor.planning.pieces import KeptPieces as KeptPieces
    from prepadvisor.planning.replay import HOLD_WAYS as HOLD_WAYS
    from prepadvisor.planning.replay import LOOSER as LOOSER
    from prepadvisor.planning.replay import WAYS as WAYS
    from prepadvisor.planning.replay import ChangedBy as ChangedBy
    from prepadvisor.planning.replay import JobDifference as JobDifference
    from prepadvisor.planning.replay import PlaceChange as PlaceChange
    from prepadvisor.planning.replay import difference as difference
    from prepadvisor.planning.replay import money as money
    from prepadvisor.planning.replay import ways_of as ways_of
    from prepadvisor.planning.replay_tally import LARGEST_MOST as LARGEST_MOST
    from prepadvisor.planning.replay_tally import SHOP as SHOP
    from prepadvisor.planning.replay_tally import ByCause as ByCause
    from prepadvisor.planning.replay_tally import Sums as Sums
    from prepadvisor.planning.replay_tally import Tally as Tally
    from prepadvisor.planning.window import Risks as Risks
    from prepadvisor.planning.window import Window as Window
    from prepadvisor.planning.work.drills import DrillShop as DrillShop
    from prepadvisor.planning.work.drills import drills_of as drills_of
    from prepadvisor.planning.work.film import budget as budget
    from prepadvisor.planning.work.film import cut_um as cut_um
    from prepadvisor.planning.work.film import once_worked as once_worked

_PARTS = {
    "advising": "advise as_primed",
    "archive": "BothWays JobDifferences job_differences spot_facts spot_plans",
    "ladder": "Climb TIE WorkRates cleaning clears hand_work rates_of",
    "line_model": "LINE_ZONES LineEstimate LineModel depth_uncertainty verdict_of",
    "pieces": "KeptPieces",
    "replay": "ChangedBy HOLD_WAYS JobDifference LOOSER PlaceChange WAYS difference money ways_of",
    "replay_tally": "ByCause LARGEST_MOST SHOP Sums Tally",
    "window": "Risks Window",
    "work.drills": "DrillShop drills_of",
    "work.film": "budget cut_um once_worked",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
