"""The check-off and the gate: what is logged of the plan of work, and what still holds."""

from prepadvisor.checkoff.gate import gate
from prepadvisor.checkoff.views import PanelView, PlaceView, StepView, ticks, turns, views

__all__ = ["PanelView", "PlaceView", "StepView", "gate", "ticks", "turns", "views"]
