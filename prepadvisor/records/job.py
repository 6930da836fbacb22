"""A job: the colour, the panels, their patches and lines, what was done and what was checked off."""

import datetime as dt
from typing import Annotated, Final, Literal, Self

from pydantic import BeforeValidator, Field, PrivateAttr, Strict

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
    """What the job is called, who wrote it, and whose standards it is done by beside the shop's own.

    Attributes:
        number: the job's number.
        vehicle: the vehicle in words; no make is needed.
        by: initials of who wrote it or did it.
        date: the day of the job, without quotes: 2026-03-02. Standards with dates are judged by it.
        customer: whose standards it is done by beside the shop's own, as their [standards] name it.
        units: how lengths and film are shown; files are always metric.
        format: the form of the file, counted up with every change of it; the program writes it.
    """

    number: SeenText
    vehicle: Text = ""
    by: Text = ""
    date: Annotated[dt.date, Strict()] | None = None
    customer: Text = ""
    units: Literal["metric", "imperial"] = "metric"
    format: Annotated[int, Strict(), Field(ge=1, le=1_000_000)] | None = None


class Colour(Record):
    """The colour that is sprayed.

    Attributes:
        name: what the colour is called.
        book: the word of the house's colour book for it, whose entry gives what is not said here.
        flake: flake class, coarse to fine; unknown is judged as very fine.
        stages: 2: base and clear; 3: ground, translucent and clear, judged as very fine at least.
        tone: how light the colour is; scratches show most in light ones.
        flake_um: measured median diameter of the flakes, by area, in µm.
        tilt_deg: measured spread of the flakes' tilt in degrees.
        log_sd: measured spread (standard deviation) of the logarithm of the flakes' diameter.
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
    """An abrasive that has been used: its tool, and its grade or the shop's own name of a pad.

    Attributes:
        tool: the tool used.
        grade: a grade of the P series with its P, such as P1000.
        pad: a pad by the shop's own name for it, as in [pads] of the shop file.
    """

    tool: Tool
    grade: GradeField | None = None
    pad: Text | None = None


class Patch(Record):
    """A repaired area inside a panel: a rectangle.

    Attributes:
        id: the patch's id on this panel, such as R1.
        surface: what is on it now.
        next: which coat goes on next; left out it is base.
        at: its centre on the panel, [along, down] from 0 to 1 from the front top corner.
        size_mm: its length and height in mm.
        now: what it was sanded with last; left out the face is gloss.
    """

    id: Identifier
    surface: Surface
    next: NextCoat = "base"
    at: Point
    size_mm: tuple[PanelMm, PanelMm]
    now: Done | None = None


class Feature(Record):
    """An edge, body line, arch, flange, recess or cut-out along a path on the panel.

    Attributes:
        id: the line's id on this panel, such as E1.
        kind: what kind of line it is.
        name: what it is called.
        path: the line as places on the panel, each [along, down] from 0 to 1 from its front top corner.
        reach: machine: by hand, then DA; hand: hand is the last touch. Left out it is judged as hand.
        seen: whether anybody sees the line; left out a flange or cut-out is not seen.
        done: what the line was scuffed with, where that is done already.
    """

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
    """One panel: its outline, role, surface, blend layout, patches and lines.

    Attributes:
        id: the panel's id in this job, such as left-front-door.
        kind: which outline it has: one of panels.toml.
        role: repair gets full colour, blend takes the fade, clear-only gets clear alone.
        surface: what is on it now.
        next: which coat goes on next; left out it is base.
        special: what needs a word of its own before paint, such as matt or radar.
        length_mm: its length in mm.
        height_mm: its height in mm.
        colour_from: where the colour comes in from: sides, and ids of patches.
        colour_mm: how far full colour reaches from there, in mm.
        fade_mm: how wide the fade-out is beyond it, in mm.
        film_um: gauge readings of the total film in µm.
        now: what it was sanded with last; left out the face is gloss.
        patch: repaired areas inside the panel, one a table.
        feature: its edges and lines, one a table; without any the outline's usual ones are taken.
    """

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

    Attributes:
        at: when it was, a day and time with its zone: 2026-03-02T09:40:00Z.
        by: initials of who wrote it or did it.
        panel: id of the panel.
        feature: id of a line or patch, face, all for every place of the panel, or panel for cleaning.
        step: what was done.
        tool: the tool used.
        grade: a grade of the P series with its P, such as P1000.
        result: what was seen when it was looked at.
        note: a word of explanation.
        basis: what the entry rested on; the program writes it.
        id: its writer's token and a counter; the program writes it.
        knew: id of the last entry on disk when its writer last read the file; the program writes it.
        of: id of the entry that this one strikes or accepts.
        newer: keys of a newer version, which stay in the file as they are; itself it stands in none.
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
    """What was seen at a place weeks after delivery.

    Attributes:
        at: when it was, a day and time with its zone: 2026-03-02T09:40:00Z.
        by: initials of who wrote it or did it.
        panel: id of the panel.
        feature: id of the line or patch, face, or all.
        seen: whether lines were seen there.
        note: a word of explanation.
    """

    at: Annotated[dt.datetime, Strict()]
    by: Text
    panel: Text
    feature: Text
    seen: Annotated[bool, Strict()]
    note: Text = ""


class Job(Record):
    """A whole job file.

    Attributes:
        job: what the job is called and who wrote it.
        colour: the colour that is sprayed.
        panel: the panels, one a table.
        check: the check-off, an entry a table; entries are only ever added.
        outcome: what was seen weeks after delivery, one a table.
    """

    job: JobHead
    colour: Colour = Colour()
    panel: Annotated[tuple[Panel, ...], Field(min_length=1, max_length=200)]
    check: tuple[Check, ...] = ()
    outcome: tuple[Outcome, ...] = ()


# A panel outline with its usual size, edges and lines, drawn 0 to 1 from its front top corner.

ZoneMm = Annotated[Number, Field(ge=0, le=6000)]


class Outline(Record):
    """One panel kind: a shipped one, or one that a house states.

    Attributes:
        kind: the kind of panel this is an outline of: a shipped one, or one of your own.
        name: what it is called.
        like: the shipped kind that one of your own is seen and judged as: rules for it count too.
        length_mm: its length in mm.
        height_mm: its height in mm.
        colour_from: sides that the colour usually comes in from on a new blend panel.
        colour_mm: full colour on a new blend panel, in mm.
        fade_mm: fade-out on a new blend panel, in mm.
        shape: the outline as places, each [along, down] from 0 to 1.
        feature: its usual edges and lines, one a table.
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
    _gone: tuple[Feature, ...] = PrivateAttr(default=())

    def without(self, gone: tuple[Feature, ...]) -> Self:
        """Return the outline with a note of lines that the shipped one has and a house took away."""
        noted = self.model_copy()
        noted._gone = gone  # noqa: SLF001
        return noted

    @property
    def usual(self) -> tuple[Feature, ...]:
        """Its usual lines, and after them those that a house took away from the shipped outline."""
        return (*self.feature, *self._gone)

    @property
    def seen_as(self) -> str:
        """The shipped kind by which sides are called and mirrored."""
        return self.like or self.kind
