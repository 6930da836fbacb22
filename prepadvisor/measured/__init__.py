"""What a shop's own panels say of the line model's numbers: fit, choice of panels, calibration.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.measured.checks import checked as checked
    from prepadvisor.measured.choosing import ArchivedDecision as ArchivedDecision
    from prepadvisor.measured.choosing import choose as choose
    from prepadvisor.measured.choosing import heaviest as heaviest
    from prepadvisor.measured.colour_counts import by_colour as by_colour
    from prepadvisor.measured.fitting import Fitted as Fitted
    from prepadvisor.measured.fitting import fit_rows as fit_rows
    from prepadvisor.measured.force import ColourSize as ColourSize
    from prepadvisor.measured.force import InForce as InForce
    from prepadvisor.measured.force import InForceNext as InForceNext
    from prepadvisor.measured.force import applied as applied
    from prepadvisor.measured.from_jobs import by_class as by_class
    from prepadvisor.measured.from_jobs import candidates_of as candidates_of
    from prepadvisor.measured.from_jobs import class_unsure as class_unsure
    from prepadvisor.measured.from_jobs import classes_in_doubt as classes_in_doubt
    from prepadvisor.measured.from_jobs import decisions_of as decisions_of
    from prepadvisor.measured.from_jobs import job_rows as job_rows
    from prepadvisor.measured.from_jobs import usual_decisions as usual_decisions
    from prepadvisor.measured.microscope import FLAKES_LEAST as FLAKES_LEAST
    from prepadvisor.measured.microscope import FlakeSizes as FlakeSizes
    from prepadvisor.measured.microscope import flake_sizes as flake_sizes
    from prepadvisor.measured.model import Settings as Settings

_PARTS = {
    "checks": "checked",
    "choosing": "ArchivedDecision choose heaviest",
    "colour_counts": "by_colour",
    "fitting": "Fitted fit_rows",
    "force": "ColourSize InForce InForceNext applied",
    "from_jobs": "by_class candidates_of class_unsure classes_in_doubt decisions_of job_rows usual_decisions",
    "microscope": "FLAKES_LEAST FlakeSizes flake_sizes",
    "model": "Settings",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
