"""A job: the colour, the panels, their patches and lines, what was done and what was checked off."""

import datetime as dt
from typing import Annotated, Final, Literal

from pydantic import BeforeValidator, Field, Strict

from prepadvisor.records.base import (
    AsWritten,
    GradeField,
    Identifier,
    Number,
    PanelKind,
    PanelMm,
    Record,
    SeenText,
    Text,
)
from prepadvisor.records.words import (
    OUTLINES,
    UNSEEN_KINDS,
    Flake,
    LineKind,
    Look,
    NextCoat,
    OutlineKind,
    Reach,
    Role,
    Side,
    Special,
    Step,
    Surface,
    Tone,
    Tool,
)

PanelShare = Annotated[Number, Field(ge=0, le=1)]
"""A place along a panel's length or height, 0 to 1 from its front top corner."""
Point = tuple[PanelShare, PanelShare]


def _blank_is_unknown(value: object) -> object:
    return "unknown" if isinstance(value, str) and not value.strip() else value


FORMAT: Final = 1
"""The form of job files that this version writes, and reads up to."""


class JobHead(Record):
    """What the job is called, who wrote it, and whose standards it is done by beside the shop's own."""

    number: SeenText
    vehicle: Text = ""
    by: Text = ""
    date: Annotated[dt.date, Strict()] | None = None
    customer: Text = ""
    units: Literal["metric", "imperial"] = "metric"
    format: Annotated[int, Strict(), Field(ge=1, le=1_000_000)] | None = None


class Colour(Record):
    """The colour that is sprayed; `flake_um`, `tilt_deg` and `log_sd` are measured values.

    `book` names an entry of the shop's colour book, whose values come in.
    """

    name: Text = ""
    book: Annotated[Text, Field(max_length=80)] = ""
    flake: Annotated[Flake | Literal["unknown"], BeforeValidator(_blank_is_unknown)] = "unknown"
    stages: Annotated[int, Strict(), Field(ge=2, le=3)] | None = None
    tone: Tone | None = None
    flake_um: Annotated[Number, Field(ge=1, le=200)] | None = None
    tilt_deg: Annotated[Number, Field(ge=0.5, le=45)] | None = None
    log_sd: Annotated[Number, Field(ge=0.01, le=2)] | None = None


class Done(Record):
    """An abrasive that has been used: its tool, and its grade or the shop's own name of a pad."""

    tool: Tool
    grade: GradeField | None = None
    pad: Text | None = None


class Patch(Record):
    """A repaired area inside a panel: a rectangle around `at`, whose size is length by height in mm."""

    id: Identifier
    surface: Surface
    next: NextCoat = "base"
    at: Point
    size_mm: tuple[PanelMm, PanelMm]
    now: Done | None = None


class Feature(Record):
    """An edge, body line, arch, flange, recess or cut-out along a path on the panel."""

    id: Identifier
    kind: LineKind
    name: Text = ""
    path: Annotated[tuple[Point, ...], Field(min_length=2, max_length=2000)]
    reach: Reach | None = None
    seen: Annotated[bool, Strict()] | None = None
    done: Done | None = None

    @property
    def judged_reach(self) -> Reach:
        """Reach that is planned with: a reach that is not stated is judged as hand, the stricter."""
        return self.reach or "hand"

    @property
    def judged_seen(self) -> bool:
        """Whether the line counts as seen; flanges and cut-outs do not unless the job says so."""
        return self.kind not in UNSEEN_KINDS if self.seen is None else self.seen


class Panel(Record):
    """One panel: its outline, role, surface, blend layout, patches and lines. Sizes in mm."""

    id: Identifier
    kind: Annotated[PanelKind, Field(json_schema_extra={"enum": list(OUTLINES)})]
    role: Role
    surface: Surface
    next: NextCoat = "base"
    special: Special = "none"
    length_mm: PanelMm
    height_mm: PanelMm
    colour_from: tuple[Text, ...] = ()
    colour_mm: Annotated[Number, Field(ge=0, le=6000)] | None = None
    fade_mm: Annotated[Number, Field(ge=0, le=6000)] | None = None
    film_um: tuple[Annotated[Number, Field(gt=0, le=5000)], ...] = ()
    now: Done | None = None
    patch: tuple[Patch, ...] = ()
    feature: tuple[Feature, ...] = ()


class Check(Record):
    """One entry of the check-off: who did which step where and when. Entries are only ever appended.

    `id` is the writer's token and a counter; `knew` the id of the last entry that stood on disk when its
    writer last read the file; `of` the entry that is struck or accepted; `basis` what the entry rested on.
    `newer` names the keys of a newer version, which stay in the file as they are.
    """

    at: Annotated[dt.datetime, Strict()]
    by: Text
    panel: AsWritten
    feature: AsWritten
    step: Step
    tool: Tool | None = None
    grade: GradeField | None = None
    result: Look | None = None
    note: Text = ""
    basis: Text = ""
    id: Text = ""
    knew: Text = ""
    of: Text = ""
    newer: Annotated[tuple[str, ...], Field(exclude=True)] = ()


class Outcome(Record):
    """What was seen at a place weeks after delivery."""

    at: Annotated[dt.datetime, Strict()]
    by: Text
    panel: Text
    feature: Text
    seen: Annotated[bool, Strict()]
    note: Text = ""


class Job(Record):
    """A whole job file."""

    job: JobHead
    colour: Colour = Colour()
    panel: Annotated[tuple[Panel, ...], Field(min_length=1, max_length=200)]
    check: tuple[Check, ...] = ()
    outcome: tuple[Outcome, ...] = ()


# A panel outline with its usual size, edges and lines, drawn 0 to 1 from its front top corner.

ZoneMm = Annotated[Number, Field(ge=0, le=6000)]


class Outline(Record):
    """One panel kind: a shipped one, or one that a house states.

    `like` is the shipped kind that a house's own one is seen and judged as: rules for that kind count for it
    too. `colour_from`, `colour_mm` and `fade_mm` start the zones of a new blend panel.
    """

    kind: PanelKind
    name: Text
    like: OutlineKind | None = None
    length_mm: PanelMm
    height_mm: PanelMm
    colour_from: tuple[Side, ...] = ()
    colour_mm: ZoneMm | None = None
    fade_mm: ZoneMm | None = None
    shape: Annotated[tuple[Point, ...], Field(min_length=3)]
    feature: Annotated[tuple[Feature, ...], Field(min_length=1)]

    @property
    def seen_as(self) -> str:
        """The shipped kind by which sides are called and mirrored."""
        return self.like or self.kind
