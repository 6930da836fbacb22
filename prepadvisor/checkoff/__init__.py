"""The check-off and the gate: what is logged of the plan of work, and what still holds.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import bases as bases
    from prepadvisor.checkoff.basis import changed as changed
    from prepadvisor.checkoff.basis import lacking as lacking
    from prepadvisor.checkoff.basis import parts_of as parts_of
    from prepadvisor.checkoff.film import ledger as ledger
    from prepadvisor.checkoff.kept_verdicts import KeptVerdicts as KeptVerdicts
    from prepadvisor.checkoff.log_entry import EntryRefusedError as EntryRefusedError
    from prepadvisor.checkoff.log_entry import Wanted as Wanted
    from prepadvisor.checkoff.log_entry import log_entries as log_entries
    from prepadvisor.checkoff.panel_views import KeptViews as KeptViews
    from prepadvisor.checkoff.panel_views import PanelView as PanelView
    from prepadvisor.checkoff.panel_views import PlaceView as PlaceView
    from prepadvisor.checkoff.panel_views import StepView as StepView
    from prepadvisor.checkoff.panel_views import due as due
    from prepadvisor.checkoff.panel_views import free_tasks as free_tasks
    from prepadvisor.checkoff.panel_views import ticks as ticks
    from prepadvisor.checkoff.panel_views import turns as turns
    from prepadvisor.checkoff.panel_views import views as views
    from prepadvisor.checkoff.recorded import ever_clear as ever_clear
    from prepadvisor.checkoff.recorded import gate_now as gate_now
    from prepadvisor.checkoff.recorded import recuts as recuts
    from prepadvisor.checkoff.redo import FACTORS as FACTORS
    from prepadvisor.checkoff.redo import Finished as Finished
    from prepadvisor.checkoff.redo import Rate as Rate
    from prepadvisor.checkoff.redo import finished as finished
    from prepadvisor.checkoff.redo import in_sight as in_sight
    from prepadvisor.checkoff.redo import rate as rate
    from prepadvisor.checkoff.redo import rates as rates
    from prepadvisor.checkoff.redo import with_risks as with_risks
    from prepadvisor.checkoff.shares import FEW_JOBS as FEW_JOBS
    from prepadvisor.checkoff.shares import share_by_job as share_by_job
    from prepadvisor.checkoff.shares import student_975 as student_975
    from prepadvisor.checkoff.shares import variance_by_job as variance_by_job
    from prepadvisor.checkoff.shares import wilson as wilson
    from prepadvisor.checkoff.spoken import WORK_STEPS as WORK_STEPS
    from prepadvisor.checkoff.timing import Bout as Bout
    from prepadvisor.checkoff.timing import NewRate as NewRate
    from prepadvisor.checkoff.timing import Pace as Pace
    from prepadvisor.checkoff.timing import WorkKind as WorkKind
    from prepadvisor.checkoff.timing import bouts as bouts
    from prepadvisor.checkoff.timing import new_rates as new_rates
    from prepadvisor.checkoff.timing import paces as paces
    from prepadvisor.checkoff.verdict import gate as gate

_PARTS = {
    "basis": "bases changed lacking parts_of",
    "film": "ledger",
    "kept_verdicts": "KeptVerdicts",
    "log_entry": "EntryRefusedError Wanted log_entries",
    "recorded": "ever_clear gate_now recuts",
    "redo": "FACTORS Finished Rate finished in_sight rate rates with_risks",
    "shares": "FEW_JOBS share_by_job student_975 variance_by_job wilson",
    "panel_views": "KeptViews PanelView PlaceView StepView due free_tasks ticks turns views",
    "spoken": "WORK_STEPS",
    "timing": "Bout NewRate Pace WorkKind bouts new_rates paces",
    "verdict": "gate",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
