"""The whole advice for a job, as `card --to json` writes it: keys are added, never renamed.

Only written, never read from a file, so these are plain named tuples. What is decided stands in them as kind
and facts (`records.kinds`); JSON gains the sentences where it is written. Lengths are in mm, areas in m²,
film in µm.
"""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.held import HoldKind, OfferKind
from prepadvisor.records.kinds import Caution, PanelException
from prepadvisor.records.spots import (
    HouseChange,
    LadderStep,
    Place,
    Spot,
    WetBedAdvice,
)
from prepadvisor.records.words import (
    Flake,
    Grade,
    Role,
    Tone,
    Tool,
    WetBedNeed,
    Zone,
)
from prepadvisor.records.work import Work


class FilmBudget(NamedTuple):
    """Film on a panel in µm.

    Attributes:
        reading_um: lowest gauge reading of the total film, null where none was taken.
        off_um: what the steps take off.
        off_max_um: the most they may, null where film is not counted.
        left_um: what is left of the reading, null where it is not known.
    """

    reading_um: float | None = None
    off_um: float = 0.0
    off_max_um: float | None = None
    left_um: float | None = None


class PanelWetBed(NamedTuple):
    """The wet bed of a panel.

    Attributes:
        need: no, advised or required.
        coats: how many coats, 0 for none.
        area_m2: its area in m².
        zones: the zones it goes over.
    """

    need: WetBedNeed = "no"
    coats: int = 0
    area_m2: float = 0.0
    zones: tuple[Zone, ...] = ()


class ZoneBand(NamedTuple):
    """How far a zone reaches from the colour's source.

    Attributes:
        zone: colour, fade or clear.
        from_mm: depth in mm where it begins.
        to_mm: depth in mm where it ends.
        area_m2: its part of the face in m².
    """

    zone: Zone
    from_mm: float
    to_mm: float
    area_m2: float


class PanelAdvice(NamedTuple):
    """One answer for a whole panel.

    Attributes:
        id: its id.
        kind: its outline.
        role: repair, blend or clear-only.
        name: the outline's name.
        seen_as: the shipped outline it is seen and judged as: itself, or what a house's own kind is like.
        face: the final DA grade of face and lines, null for none.
        tool: the tool of that pass.
        hand: the grade by hand ahead of it, null for none.
        hand_only: the grade of places that only a hand reaches, null for none.
        wet_bed: its wet bed.
        ladder: the grit steps of the face.
        minutes: what the panel takes.
        film: its film budget.
        bands: its zones with their depths.
        exceptions: places that depart from the panel's one answer.
    """

    id: str
    kind: str
    role: Role
    name: str = ""
    seen_as: str = ""
    face: Grade | None = None
    tool: Tool | None = None
    hand: Grade | None = None
    hand_only: Grade | None = None
    wet_bed: PanelWetBed = PanelWetBed()
    ladder: tuple[LadderStep, ...] = ()
    minutes: float = 0.0
    film: FilmBudget = FilmBudget()
    bands: tuple[ZoneBand, ...] = ()
    exceptions: tuple[PanelException, ...] = ()


class Hold(NamedTuple):
    """Why a spot has no finish or may not be masked.

    Attributes:
        spot: id of the spot.
        fact: why, as kind and facts.
        rules: ids of the rules in it.
        lacks: grades that the shelf lacks.
    """

    spot: str
    fact: HoldKind
    rules: tuple[str, ...] = ()
    lacks: tuple[Grade, ...] = ()


class Offer(NamedTuple):
    """A cheaper way the painter may take, such as trim off.

    Attributes:
        places: ids of the places it is about.
        fact: what to do and what changes.
        wet_bed: the wet bed of the panel then.
        saves_minutes: minutes it saves.
        saves_ml: millilitres of wet bed it saves.
    """

    places: tuple[str, ...]
    fact: OfferKind
    wet_bed: WetBedAdvice
    saves_minutes: float = 0.0
    saves_ml: int = 0


class RuleFileUsed(NamedTuple):
    """A rule file the advice rests on.

    Attributes:
        path: its path in the standards.
        sha256: its digest.
    """

    path: str
    sha256: str


class Deviation(NamedTuple):
    """A rule of a layer below that a layer replaced or withdrew.

    Attributes:
        rule: id of the rule.
        kind: replaced or withdrawn.
        by: id of the rule or withdrawal that does it.
        says: the words of the layer that does it.
        file: its file.
        line: its line, from 1; 0 where not known.
        layer: the layer that deviates.
        below: the layer whose rule it was.
        lets_go: what now guards a hold that went with the rule; empty where none did.
    """

    rule: str
    kind: Literal["replaced", "withdrawn"]
    by: str
    says: str
    file: str = ""
    line: int = 0
    layer: str = ""
    below: str = ""
    lets_go: str = ""


class LayerUsed(NamedTuple):
    """One layer of standards.

    Attributes:
        layer: its name here.
        name: what its file calls it.
        version: its version.
        digest: SHA-256 of what its files say, comments left aside.
        valid_from: ISO date from which it counts, null for always.
        valid_to: ISO date to which it counts, null for always.
        approved_by: who approved it.
        customer: the customer it is for, empty for all.
        state: whether it counts for this job; unsure where the job states no date or customer: then it
            tightens and loosens nothing.
    """

    layer: str
    name: str = ""
    version: str = ""
    digest: str = ""
    valid_from: str | None = None
    valid_to: str | None = None
    approved_by: str = ""
    customer: str = ""
    state: Literal["in force", "unsure", "not yet", "over", "other customer"] = "in force"

    @property
    def is_dated(self) -> bool:
        """Whether it counts on some days or for one customer only."""
        return bool(self.valid_from or self.valid_to or self.customer)


class StandardsUsed(NamedTuple):
    """The layers and rule files of the standards, and each layer's deviations from those below it.

    Attributes:
        name: name of the standards.
        version: their version.
        files: the rule files.
        deviations: what a layer replaced or withdrew.
        layers: the layers, lowest first.
        changes: every number and word in which the house's data differ from what ships.
    """

    name: str = ""
    version: str = ""
    files: tuple[RuleFileUsed, ...] = ()
    deviations: tuple[Deviation, ...] = ()
    layers: tuple[LayerUsed, ...] = ()
    changes: tuple[HouseChange, ...] = ()


class JobSummary(NamedTuple):
    """The job line.

    Attributes:
        number: the job's number.
        flake: the flake class it is judged as.
        flake_stated: the flake as stated.
        stages: 2 or 3, as judged.
        tone: the tone as judged.
        vehicle: what car.
        by: who wrote the job.
        date: ISO date, null where not stated.
        units: units of what is shown.
        colour: name of the colour.
    """

    number: str
    flake: Flake
    flake_stated: Flake | Literal["unknown"]
    stages: int
    tone: Tone
    vehicle: str = ""
    by: str = ""
    date: str | None = None
    units: Literal["metric", "imperial"] = "metric"
    colour: str = ""


class Advice(NamedTuple):
    """Everything the program says of a job.

    Attributes:
        job: the job line.
        standards: what it rests on.
        spots: every spot.
        places: every place.
        panels: every panel.
        mix_ml: wet bed to mix for the job in ml ready to spray, 0 for none.
        discs: discs by grade.
        minutes: what the work takes.
        holds: what blocks the job.
        offers: cheaper ways.
        cautions: what was not stated and so judged on the safe side, and what rules warn of.
        work: the plan of work.
    """

    job: JobSummary
    standards: StandardsUsed
    spots: tuple[Spot, ...]
    places: tuple[Place, ...]
    panels: tuple[PanelAdvice, ...]
    mix_ml: int = 0
    discs: dict[Grade, int] = {}
    minutes: float = 0.0
    holds: tuple[Hold, ...] = ()
    offers: tuple[Offer, ...] = ()
    cautions: tuple[Caution, ...] = ()
    work: Work = Work()
