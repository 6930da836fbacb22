"""What a fit of the shop's own panels found: numbers, what is told of the data, calibration, next panels."""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.panel_rows import PanelRow
from prepadvisor.records.words import Grade


class FittedNumber(NamedTuple):
    """One number: most likely value, 90 % interval, what was in force, how many rows bear on it.

    `log_sd` is the standard deviation of its logarithm (of set solids: of ln(−ln(1−φ_s))).
    """

    name: str
    value: float
    low: float
    high: float
    before: float
    before_low: float
    before_high: float
    rows: int
    log_sd: float


class FixedTogether(NamedTuple):
    """What the data fix of threshold and depth together: T / k^exponent of a tool or pad, 90 % interval.

    `grain_um` is the same in a shop's terms: the grain at which a line of this tool is seen half of the time,
    in the flake of most of its rows, without a wet bed, in the fade. `narrower` says how many times narrower
    the combination is known than the threshold alone.
    """

    tool: str
    exponent: float
    value: float
    low: float
    high: float
    grain_um: float
    grain_low_um: float
    grain_high_um: float
    flake: str
    narrower: float


class NoRows(NamedTuple):
    """There is no row: the numbers are those that were believed before."""

    kind: Literal["no-rows"] = "no-rows"


class OneAnswerOnly(NamedTuple):
    """All rows say the same: they bound the threshold from one side only."""

    shows: str
    kind: Literal["one-answer-only"] = "one-answer-only"


class Separable(NamedTuple):
    """Every line that shows is stronger than every one that does not: the scatter rests on the prior."""

    kind: Literal["separable"] = "separable"


class Contradictory(NamedTuple):
    """Panels prepared alike were answered yes and no, more often than scatter makes likely if `too_often`."""

    lines: tuple[tuple[str, int], ...]
    settings: int
    too_often: bool
    kind: Literal["contradictory"] = "contradictory"


class WrongWayRound(NamedTuple):
    """Finer grades show where coarser ones of the same tool, flake and bed do not, more often than not."""

    lines: tuple[tuple[str, int], ...]
    kind: Literal["wrong-way-round"] = "wrong-way-round"


class Alike(NamedTuple):
    """Rows that say the same word for word, judge and day included: pasted twice, or a second look."""

    lines: tuple[tuple[str, int], ...]
    kind: Literal["alike"] = "alike"


class ClassNotSaid(NamedTuple):
    """A colour with neither class nor size, nor in the book: its size starts from all classes at once."""

    colour: str
    kind: Literal["class-not-said"] = "class-not-said"


class ClassesDiffer(NamedTuple):
    """A colour is given several classes: the finest counts."""

    colour: str
    classes: tuple[str, ...]
    kind: Literal["classes-differ"] = "classes-differ"


class NotBlind(NamedTuple):
    """So many panels were read by somebody who knew how they were prepared, or nobody said."""

    known: int
    not_said: int
    kind: Literal["not-blind"] = "not-blind"


class KeptUnused(NamedTuple):
    """So many rows say light, film or photo: these are kept and shown, and the model takes none of them."""

    light: int
    film: int
    photo: int
    kind: Literal["kept-unused"] = "kept-unused"


class DimLight(NamedTuple):
    """So many rows were read by less light than test panels ask for, the dimmest by so many lux."""

    rows: int
    least_lux: float
    kind: Literal["dim-light"] = "dim-light"


class FarFromBefore(NamedTuple):
    """A number ended more than two prior standard deviations from where it began."""

    name: str
    deviations: float
    kind: Literal["far-from-before"] = "far-from-before"


class PadAsGrade(NamedTuple):
    """A pad scratches like this grade of its plain tool; `said` is what its rows are given."""

    pad: str
    like: Grade
    said: Grade
    kind: Literal["pad-as-grade"] = "pad-as-grade"


class StartedAfresh(NamedTuple):
    """So many numbers in force were measured before: the fit starts from the shipped ones again."""

    numbers: int
    kind: Literal["started-afresh"] = "started-afresh"


class NotSettled(NamedTuple):
    """The search did not come to rest: take the numbers with care."""

    kind: Literal["not-settled"] = "not-settled"


ToldOfFit = (
    NoRows | OneAnswerOnly | Separable | Contradictory | WrongWayRound | Alike | ClassNotSaid | ClassesDiffer
    | NotBlind | KeptUnused | DimLight | FarFromBefore | PadAsGrade | StartedAfresh | NotSettled
)  # fmt: skip
"""What is told about the data of a fit."""


class RowFitted(NamedTuple):
    """A row with its margin ln(A/T) and chance of showing, by the numbers before and after.

    `left_out` is the chance by a fit without this row; `surprise` is −ln of the chance of what was answered,
    by that fit; `sd_*` are the standard deviations of the margins from not knowing the numbers.
    """

    row: PanelRow
    margin_before: float
    margin: float
    sd: float
    chance_before: float
    chance: float
    left_out: float
    surprise: float


class ReliabilityBin(NamedTuple):
    """Rows whose chance of showing was predicted within a band: mean predicted, how many showed, of how many.

    `low` and `high` are the exact 90 % interval of the share that shows (Clopper and Pearson 1934).
    """

    predicted: float
    showed: float
    rows: int
    low: float
    high: float


class Calibration(NamedTuple):
    """How well chances were predicted: Brier score (mean squared error, 0 best), reliability by bands.

    `chance_brier` is what always saying the overall share would score.
    """

    brier: float
    chance_brier: float
    bins: tuple[ReliabilityBin, ...]


class Fit(NamedTuple):
    """A whole fit. `scatter` is how one panel scatters about the threshold, with what was believed before."""

    numbers: tuple[FittedNumber, ...]
    scatter: FittedNumber
    rows: int
    panels: int
    judges: int
    by_kind: tuple[tuple[str, int], ...]
    fixed: tuple[FixedTogether, ...]
    fitted: tuple[RowFitted, ...]
    before: Calibration | None
    after: Calibration | None
    told: tuple[ToldOfFit, ...]


class NextReason(NamedTuple):
    """Why a panel: the decision of the archive it says most about, and how sure one is of it now.

    `chance` is how likely the panel shows as far as is known; `decisions` how many of the archive's it bears
    on; `sure` how likely the decision on the named case is right now, `settles` the part of what is in doubt
    there that the panel is expected to take away; `alike` how many such panels stand before it on the list.
    """

    flake: str
    tool: str
    grade: Grade
    coats: int
    zone: str
    decisions: int
    chance: float
    sure: float
    settles: float
    alike: int = 0


class NextPanel(NamedTuple):
    """A panel to spray next and its expected information about the shop's decisions [nat a decision].

    What it says of the strength of their lines is in it for a small share.
    """

    flake: str
    tool: str
    grade: Grade
    coats: int
    gain: float
    because: NextReason


class Agreement(NamedTuple):
    """Rows that share a word: how many lines the numbers in force expect, how many showed, how odd that is.

    `by` is what they share ("all", "kind", "flake", "tool", "grade", "coats", "zone", "light"); `chance` the
    two-sided probability of a count as far off as this.
    """

    by: str
    word: str
    rows: int
    expected: float
    showed: float
    chance: float
    agrees: bool


class FitCheck(NamedTuple):
    """Whether rows agree with the numbers in force: all of them, and the groups that do not."""

    whole: Agreement
    odd: tuple[Agreement, ...]

    @property
    def agrees(self) -> bool:
        """Whether nothing disagrees."""
        return self.whole.agrees and not self.odd


class ColourRecord(NamedTuple):
    """What was seen of one colour.

    Attributes:
        panels: test panels read.
        show: how many of them show a line.
        barely: how many barely do.
        reports: outcomes of jobs, one for each place reported on.
        came_back: at how many of them lines were seen.
        wet_looks: looks at a wet coat.
        wet_lines: how many of them found lines.
    """

    panels: int = 0
    show: int = 0
    barely: int = 0
    reports: int = 0
    came_back: int = 0
    wet_looks: int = 0
    wet_lines: int = 0
