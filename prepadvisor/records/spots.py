"""What standards say of a case, and what is advised at spot and place, as `card --to json` writes it."""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.held import DoneKind
from prepadvisor.records.kinds import ModelSaid, PlaceNote
from prepadvisor.records.words import (
    DoneVerdict,
    FeatureKind,
    Grade,
    GuideCoat,
    Machine,
    Reach,
    Surface,
    Tool,
    Verdict,
    WetBedNeed,
    Zone,
)

# What the house standards say of one case, each answer with its reasons.

OutputName = Literal[
    "finish_coarsest", "finish_target", "finish_finest", "hand_coarsest", "hand_last_coarsest", "risk_limit",
    "bed_coats_max", "bed_coats_min", "film_off_max_um", "step_ratio_min", "film_left_min_um", "wet_bed",
    "guide_coat", "machine", "holds", "cautions", "notes",
]  # fmt: skip
"""The answers that rules may set: the fields of a `Decision`, in their order."""

OutputWord = WetBedNeed | GuideCoat | Machine
"""The words that an answer may be."""


class Reason(NamedTuple):
    """One reason behind one answer.

    Attributes:
        output: the answer's name, such as "finish_coarsest"; "line" for the line model.
        value: the answer.
        rule: id of the rule; "line-model" for the line model.
        layer: the layer it stands in: base, house, model.
        file: its file, empty for the line model.
        line: its line there, from 1; 0 for the line model.
        says: what the rule says in its writer's words, or what the line model found.
        source: id of its source, or how it is known.
    """

    output: OutputName | Literal["line"]
    value: Grade | OutputWord | str | float | int
    rule: str
    layer: str
    file: str
    line: int
    says: str | ModelSaid
    source: str


class Decision(NamedTuple):
    """All answers for one case. None where no rule sets a bound; `because` has the rules that decided."""

    finish_coarsest: Grade | None = None
    finish_target: Grade | None = None
    finish_finest: Grade | None = None
    hand_coarsest: Grade | None = None
    hand_last_coarsest: Grade | None = None
    risk_limit: float | None = None
    bed_coats_max: int | None = None
    bed_coats_min: int | None = None
    film_off_max_um: float | None = None
    step_ratio_min: float | None = None
    film_left_min_um: float | None = None
    wet_bed: WetBedNeed = "no"
    guide_coat: GuideCoat = "no"
    machine: Machine = "any"
    holds: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    because: tuple[Reason, ...] = ()


# One number or word by which a house differs from what ships with the program.

ChangeValue = float | str


class HouseChange(NamedTuple):
    """What a house states otherwise.

    Attributes:
        name: its dotted name, as in its file: mist_mm, groove.depth_per_grain.da.
        unit: its unit as its passport has it, empty for words.
        shipped: what ships with the program, null where that does not state it.
        house: what the house states, null where it does not.
        measured: whether the house measured it.
    """

    name: str
    unit: str
    shipped: ChangeValue | None
    house: ChangeValue | None
    measured: bool = False


class Laxer(NamedTuple):
    """An answer that is laxer here than a layer below asks.

    Attributes:
        output: the answer's name.
        before: what the layer below asks.
        after: what holds now, null where no bound is left.
        rule: the rule that asked.
        by: what it went by.
        layer: the layer that let it go.
    """

    output: OutputName
    before: Grade | OutputWord | str | float | int
    after: Grade | OutputWord | float | int | None
    rule: str
    by: str
    layer: str


class Finish(NamedTuple):
    """The grit range of a spot and the grade chosen in it.

    Attributes:
        coarsest: the coarsest grade that may be used.
        finest: the finest grade that still keys.
        chosen: the grade to use.
        tool: the tool of the last touch.
        verdict: safe, borderline or will show, by the risk that a line shows.
    """

    coarsest: Grade
    finest: Grade
    chosen: Grade
    tool: Tool
    verdict: Verdict


class WetBedAdvice(NamedTuple):
    """How far a wet bed is needed.

    Attributes:
        need: no, advised or required.
        coats: how many coats, 0 for none.
    """

    need: WetBedNeed = "no"
    coats: int = 0

    @property
    def coats_counted(self) -> int:
        """The coats that a line is judged under: those of a required bed, else none."""
        return self.coats if self.need == "required" else 0


class LineRisk(NamedTuple):
    """The line model's estimate for the chosen grade.

    Attributes:
        arcsec: line strength in arcseconds.
        risk: the risk, 0 to 1, that a line shows.
    """

    arcsec: float
    risk: float


class Spot(NamedTuple):
    """A face, patch or line within one zone: the smallest thing decided.

    Attributes:
        id: panel/feature/zone.
        panel: id of its panel.
        feature: id of its line or patch, or "face".
        zone: colour, fade or clear.
        kind: what it is: face, patch, edge, body-line and so on.
        reach: whether a machine reaches it, or hand only.
        seen: whether anybody sees it.
        name: its own name, may be empty.
        length_mm: length of a line in this zone in mm, null for an area.
        area_m2: area worked in m².
        finish: its grit range and grade, null where it has none: then it stands in `holds`.
        hand_coarsest: coarsest grade by hand ahead of the DA, null where no DA follows.
        guide_coat: where guide coat is asked for.
        wet_bed: what bed it needs.
        line: the line model's estimate, null where the rules alone decide.
        risk_limit: the risk, 0 to 1, that rules allow, null where none is set.
        because: the reasons behind it.
        notes: remarks of rules, in their writers' words.
        laxer: answers that are laxer here than a layer below asks.
    """

    id: str
    panel: str
    feature: str
    zone: Zone
    kind: FeatureKind
    reach: Reach
    seen: bool
    name: str = ""
    length_mm: float | None = None
    area_m2: float = 0.0
    finish: Finish | None = None
    hand_coarsest: Grade | None = None
    guide_coat: GuideCoat = "no"
    wet_bed: WetBedAdvice = WetBedAdvice()
    line: LineRisk | None = None
    risk_limit: float | None = None
    because: tuple[Reason, ...] = ()
    notes: tuple[str, ...] = ()
    laxer: tuple[Laxer, ...] = ()


class LadderStep(NamedTuple):
    """One grit step to do.

    Attributes:
        grade: its grade.
        tool: its tool.
        minutes: what it takes, guide coat and disc change included.
        film_off_um: film in µm it takes off.
        guide_coat: whether guide coat goes on before it.
    """

    grade: Grade
    tool: Tool
    minutes: float
    film_off_um: float
    guide_coat: bool = False


class DoneAdvice(NamedTuple):
    """The verdict on a recorded scuff.

    Attributes:
        tool: what it was done with.
        grade: its grade, null where not recorded or not known.
        verdict: within, too-coarse, too-fine or not-recorded.
        recut: the steps that mend one that is too coarse, null where there are none.
        fact: what is wrong with it, null where nothing is.
    """

    tool: Tool | None = None
    grade: Grade | None = None
    verdict: DoneVerdict = "not-recorded"
    recut: tuple[LadderStep, ...] | None = None
    fact: DoneKind | None = None


class Place(NamedTuple):
    """What is sanded in one go: a face, patch or line over all its zones.

    Attributes:
        id: panel/feature.
        panel: id of its panel.
        feature: id of its line or patch, or "face".
        kind: what it is: face, patch, edge, body-line and so on.
        number: its number on the card, 0 for the face.
        reach: whether a machine reaches it, or hand is the last touch.
        seen: whether anybody sees it.
        spots: ids of its spots.
        surface: what it is made of.
        name: its own name, may be empty.
        finish: the grade it is finished with, null where it has none.
        tool: the tool of the last touch.
        hand_coarsest: coarsest grade by hand ahead of the DA, null where no DA follows.
        guide_coat: where guide coat is asked for.
        interface_pad: whether a soft pad is asked for: a crest or edge that rubs through first.
        wet_bed: what bed it needs.
        ladder: a patch's grit steps, null elsewhere; the face's stand at its panel.
        done: the verdict on what was recorded as done.
        split: zone and grade, where each zone has a grade of its own.
        minutes: what it takes.
        notes: remarks.
        ring_of: id of the patch that it is the ring of, else empty.
    """

    id: str
    panel: str
    feature: str
    kind: FeatureKind
    number: int
    reach: Reach
    seen: bool
    spots: tuple[str, ...]
    surface: Surface = "aged-clear"
    name: str = ""
    finish: Grade | None = None
    tool: Tool | None = None
    hand_coarsest: Grade | None = None
    guide_coat: GuideCoat = "no"
    interface_pad: bool = False
    wet_bed: WetBedAdvice = WetBedAdvice()
    ladder: tuple[LadderStep, ...] | None = None
    done: DoneAdvice = DoneAdvice()
    split: tuple[tuple[Zone, Grade], ...] = ()
    minutes: float = 0.0
    notes: tuple[PlaceNote, ...] = ()
    ring_of: str = ""
