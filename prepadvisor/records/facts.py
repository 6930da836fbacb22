"""One case for the house standards: every fact that a rule may ask about."""

from typing import NamedTuple


class Facts(NamedTuple):
    """A fully stated case. The defaults are what most jobs have; an unknown number is None.

    `film_um` is the lowest gauge reading of the panel in µm, `length_mm` the length of the line in this
    zone in mm, `panel_m2` the panel's length times height in m².
    """

    flake: str = "fine"
    tone: str = "light"
    zone: str = "fade"
    stages: int = 2
    role: str = "blend"
    surface: str = "aged-clear"
    next: str = "base"
    feature: str = "face"
    reach: str = "machine"
    seen: bool = True
    panel: str = "front-door"
    special: str = "none"
    film_um: float | None = None
    length_mm: float | None = None
    panel_m2: float | None = None
