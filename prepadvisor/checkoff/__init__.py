"""The check-off and the gate before masking: what each place owes, what is logged, and what still holds."""

from prepadvisor.checkoff.gate import checklist, gate
from prepadvisor.checkoff.verdict import Gate, GateHold, PanelView, PlaceView, StepView

__all__ = ["Gate", "GateHold", "PanelView", "PlaceView", "StepView", "checklist", "gate"]
