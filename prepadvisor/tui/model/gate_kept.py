"""What is known of the gate of the open job, so that only what a change touches is judged and laid out."""

from typing import Literal

from prepadvisor.checkoff import KeptVerdicts, KeptViews, PanelView
from prepadvisor.records import NamedTuple, Place

Only = Literal["all", "look", "open", "held"]
"""Which places are shown: all, those that owe a look, that are not done, that are held or found."""


class CheckRow(NamedTuple):
    """One row of the check-off: place or panel id, number and name, its boxes in columns, sign and ink."""

    id: str
    says: str
    boxes: str
    mark: str
    ink: str


class KeptGate:
    """What is known of the gate of the open job, panel by panel, so that what stays is not judged anew."""

    def __init__(self) -> None:
        """Keep nothing yet."""
        self.verdicts, self.views = KeptVerdicts(), KeptViews()
        self.rows: dict[tuple[str, str, Only, int], tuple[PanelView, tuple[Place, ...], list[CheckRow]]] = {}
