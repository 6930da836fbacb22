"""What the house standards say of one case, each answer with its reasons."""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.kinds import ModelSaid
from prepadvisor.records.words import GuideCoat, Machine, WetBedNeed
from prepadvisor.surface.grades import Grade

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
