"""What the check-off says: each place with its steps, what holds the gate, and how that is mended."""

from typing import Literal, NamedTuple

from prepadvisor.records.job import Check
from prepadvisor.records.words import Look, Reach, Step

StepState = Literal["open", "done", "held", "reopened"]
"""open: never logged; done: counts; held: logged but may not stand; reopened: counted once, no longer."""


class GateHold(NamedTuple):
    """One thing that keeps a job from masking: where ("panel/feature" or "panel"), why, and its mend."""

    place: str
    why: str
    mend: str


class StepView(NamedTuple):
    """One step that is owed: its state, the entry that speaks for it, and why it does not count if so."""

    step: Step
    state: StepState
    entry: Check | None = None
    why: str = ""


class PlaceView(NamedTuple):
    """A place with the steps it owes, in order. `next` is what to do there now, in words, empty when done.

    `look` is the last word of a look there, whether it still counts or not; `accepted` is the lead's entry
    that lets the work stand although it is outside its limits.
    """

    id: str
    panel: str
    feature: str
    kind: str
    name: str
    number: int
    reach: Reach
    steps: tuple[StepView, ...]
    look: Look | None
    accepted: Check | None
    next: str
    holds: tuple[GateHold, ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing at this place holds the gate."""
        return not self.holds


class PanelView(NamedTuple):
    """A panel: cleaning first, its places, wiping last. `holds` are those of the panel, not of its places."""

    id: str
    name: str
    cleaned: StepView
    places: tuple[PlaceView, ...]
    wiped: StepView
    next: str
    holds: tuple[GateHold, ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing on this panel holds the gate."""
        return not self.holds and all(place.is_clear for place in self.places)


class Gate(NamedTuple):
    """Clear to mask or not. `told` is what must be known either way and holds nothing."""

    clear: bool
    holds: tuple[GateHold, ...]
    told: tuple[str, ...]
    panels: tuple[PanelView, ...]
