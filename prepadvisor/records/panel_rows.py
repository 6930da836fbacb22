"""One answer to "does it show?": a test panel read by a judge, an outcome of a job, or a wet look."""

import datetime as dt
from typing import Final, Literal, NamedTuple, get_args

from prepadvisor.records.words import Grade, Tool

Shows = Literal["yes", "no", "barely"]
RowKind = Literal["panel", "outcome", "wet-look"]

SHOWS: Final[tuple[str, ...]] = get_args(Shows)

LIGHTS: Final = ("sun", "daylight", "lamp", "booth", "shade")
"""Words for the light a panel is read in; a number there is lux on the panel."""

COLUMNS: Final = (
    "flake", "flake_um", "tilt_deg", "log_sd", "colour", "tool", "pad", "grade", "coats", "zone",
    "distance_mm", "light", "film_um", "shows", "by", "blind", "date", "photo", "note",
)  # fmt: skip
"""Columns of a file of test panels, in the order they are written in."""

LUX_LEAST: Final = 500.0
"""Light on a panel that thin lines are looked for by; practice, as in the guide to test panels [lux]."""


class PanelRow(NamedTuple):
    """What was prepared, and whether a line showed.

    `line` is the row's line in its file, `file` where it stands. `flake` is a class, `flake_um`, `tilt_deg`
    and `log_sd` are measured; `colour` names a colour whose flake size is not known for sure. `pad` is the
    shop's own name of a hand pad, else "". `coats` are coats of wet bed. `distance_mm` None is the constants'
    viewing distance. `blind` says whether the judge did not know how the panel was prepared; None: not said.

    `light` is one of `LIGHTS` or lux as text, `film_um` dry film over the scratch as gauged, `photo` a file's
    name. They are kept and told, and the model takes none of them: it has one threshold for the light a shop
    reads in, and counts coats.
    """

    tool: Tool
    grade: Grade
    shows: Shows
    flake: str | None = None
    flake_um: float | None = None
    tilt_deg: float | None = None
    log_sd: float | None = None
    colour: str = ""
    pad: str = ""
    coats: int = 0
    zone: Literal["colour", "fade"] = "fade"
    distance_mm: float | None = None
    by: str = ""
    blind: bool | None = None
    date: dt.date | None = None
    note: str = ""
    light: str = ""
    film_um: float | None = None
    photo: str = ""
    kind: RowKind = "panel"
    file: str = ""
    line: int = 0

    @property
    def lux(self) -> float | None:
        """Light on the panel in lux, None where it is not said as a number."""
        return None if not self.light or self.light in LIGHTS else float(self.light)
