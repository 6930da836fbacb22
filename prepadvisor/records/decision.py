"""What the house standards say of one case, each answer with its reasons."""

from typing import NamedTuple


class Reason(NamedTuple):
    """One rule behind one answer: what it says, where it stands and where it comes from."""

    output: str
    value: str | float | int
    rule: str
    layer: str
    file: str
    line: int
    says: str
    source: str


class Decision(NamedTuple):
    """All answers for one case. None where no rule sets a bound; `because` has the rules that decided."""

    finish_coarsest: str | None = None
    finish_target: str | None = None
    finish_finest: str | None = None
    hand_coarsest: str | None = None
    hand_last_coarsest: str | None = None
    risk_limit: float | None = None
    bed_coats_max: int | None = None
    film_off_max_um: float | None = None
    step_ratio_min: float | None = None
    film_left_min_um: float | None = None
    wet_bed: str = "no"
    guide_coat: str = "no"
    machine: str = "any"
    holds: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    because: tuple[Reason, ...] = ()
