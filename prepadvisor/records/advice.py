"""The whole advice for a job, as `card --to json` writes it: keys are added, never renamed."""

from typing import Literal

from pydantic import Field

from prepadvisor.records.base import Record
from prepadvisor.records.words import DoneVerdict, GuideCoat, Reach, Role, Tool, Verdict, WetBedNeed, Zone
from prepadvisor.records.work import Work


class Because(Record):
    """One reason: the answer, the rule, its layer, file and line, what it says and its source."""

    output: str
    value: str | float | int
    rule: str
    layer: str
    file: str
    line: int
    says: str
    source: str


class Laxer(Record):
    """An answer that is laxer here than a layer below asks: before and after, the rule, by whom it went."""

    output: str
    before: str | float | int
    after: str | float | int | None
    rule: str
    by: str
    layer: str


class Finish(Record):
    """The grit range of a spot and the grade chosen in it."""

    coarsest: str
    finest: str
    chosen: str
    tool: Tool
    verdict: Verdict


class WetBedAdvice(Record):
    """How far a wet bed is needed and in how many coats."""

    need: WetBedNeed = "no"
    coats: int = 0


class Line(Record):
    """The model's estimate for the chosen grade: line strength in arcseconds, and the risk that it shows."""

    arcsec: float
    risk: float


class Spot(Record):
    """A face, patch or line within one zone: the smallest thing decided. Lengths in mm, areas in m²."""

    id: str
    panel: str
    feature: str
    zone: Zone
    kind: str
    name: str = ""
    reach: Reach
    seen: bool
    length_mm: float | None = None
    area_m2: float = 0.0
    finish: Finish | None = None
    hand_coarsest: str | None = None
    guide_coat: GuideCoat = "no"
    wet_bed: WetBedAdvice = WetBedAdvice()
    line: Line | None = None
    risk_limit: float | None = None
    because: tuple[Because, ...] = ()
    notes: tuple[str, ...] = ()
    laxer: tuple[Laxer, ...] = ()


class LadderStep(Record):
    """One grit step to do; `guide_coat` says whether guide coat goes on before it. Film in µm."""

    grade: str
    tool: Tool
    guide_coat: bool = False
    minutes: float
    film_off_um: float


class DoneAdvice(Record):
    """The verdict on a recorded scuff, and the re-cut that mends one that is too coarse."""

    tool: Tool | None = None
    grade: str | None = None
    verdict: DoneVerdict = "not-recorded"
    recut: tuple[LadderStep, ...] | None = None
    says: str = ""


class Place(Record):
    """What is sanded in one go: a face, patch or line over all its zones."""

    id: str
    panel: str
    feature: str
    kind: str
    name: str = ""
    number: int
    reach: Reach
    seen: bool
    spots: tuple[str, ...]
    finish: str | None = None
    tool: Tool | None = None
    hand_coarsest: str | None = None
    guide_coat: GuideCoat = "no"
    interface_pad: bool = False
    wet_bed: WetBedAdvice = WetBedAdvice()
    ladder: tuple[LadderStep, ...] | None = None
    done: DoneAdvice = DoneAdvice()
    split: tuple[tuple[Zone, str], ...] = ()
    minutes: float = 0.0
    notes: tuple[str, ...] = ()


class FilmBudget(Record):
    """Film on a panel in µm: lowest reading, what the steps take off, the most they may, and what is left."""

    reading_um: float | None = None
    off_um: float = 0.0
    off_max_um: float | None = None
    left_um: float | None = None


class PanelWetBed(WetBedAdvice):
    """The wet bed of a panel and its area in m²; `zones` are those it goes over."""

    area_m2: float = 0.0
    zones: tuple[Zone, ...] = ()


class ZoneBand(Record):
    """How far a zone reaches from the colour's source, in mm, and its part of the face in m²."""

    zone: Zone
    from_mm: float
    to_mm: float
    area_m2: float


class PanelAdvice(Record):
    """One answer for a whole panel: face, hand ahead, hand-only places, wet bed, steps, film, minutes."""

    id: str
    kind: str
    name: str = ""
    role: Role
    face: str | None = None
    tool: Tool | None = None
    hand: str | None = None
    hand_only: str | None = None
    wet_bed: PanelWetBed = PanelWetBed()
    ladder: tuple[LadderStep, ...] = ()
    minutes: float = 0.0
    film: FilmBudget = FilmBudget()
    bands: tuple[ZoneBand, ...] = ()
    exceptions: tuple[str, ...] = ()


class Hold(Record):
    """Why a spot has no finish or may not be masked: in words, with the rules, and what the shelf lacks."""

    spot: str
    why: str
    mend: str = ""
    rules: tuple[str, ...] = ()
    lacks: tuple[str, ...] = ()


class Offer(Record):
    """A cheaper way the painter may take, such as trim off: what to do and what it would save."""

    places: tuple[str, ...]
    says: str
    wet_bed: WetBedAdvice
    saves_minutes: float = 0.0
    saves_ml: int = 0


class RuleFileUsed(Record):
    """A rule file the advice rests on."""

    path: str
    sha256: str


class Deviation(Record):
    """A rule of a layer below that a layer replaced or withdrew, with that layer's words.

    `layer` is the one that deviates, `below` the one whose rule it was; `lets_go` says what now guards a hold
    that went with the rule.
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


class LayerUsed(Record):
    """One layer of standards: what it is called, its digest, and whether it counts for this job.

    `digest` is the SHA-256 of what its files say, comments left aside. `state` is about the job's date and
    customer: `unsure` where the job states none, then the layer tightens and loosens nothing.
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


class StandardsUsed(Record):
    """The layers and rule files of the standards, and each layer's deviations from those below it."""

    name: str = ""
    version: str = ""
    files: tuple[RuleFileUsed, ...] = ()
    deviations: tuple[Deviation, ...] = ()
    layers: tuple[LayerUsed, ...] = ()


class JobSummary(Record):
    """The job line."""

    number: str
    vehicle: str = ""
    by: str = ""
    date: str | None = None
    units: Literal["metric", "imperial"] = "metric"
    colour: str = ""
    flake: str
    flake_stated: str
    stages: int
    tone: str


class Advice(Record):
    """Everything the program says of a job."""

    schema_: Literal["prepadvisor/advice/1"] = Field("prepadvisor/advice/1", alias="schema")
    job: JobSummary
    standards: StandardsUsed
    spots: tuple[Spot, ...]
    places: tuple[Place, ...]
    panels: tuple[PanelAdvice, ...]
    mix_ml: int = 0
    discs: dict[str, int] = {}
    minutes: float = 0.0
    work: Work = Work()
    holds: tuple[Hold, ...] = ()
    offers: tuple[Offer, ...] = ()
    cautions: tuple[str, ...] = ()
