"""The answers that rules may set and how several become one; rules, examples and promises once read."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final, Literal

from prepadvisor.cases import LINE_MODEL_ASKS, Facts
from prepadvisor.records import Decision, NamedTuple, OutputName, OutputWord, is_grade, words
from prepadvisor.records import words as grades
from prepadvisor.standards.engine.conditions import EVERYTHING, Box, Interval, box_of

if TYPE_CHECKING:
    from prepadvisor.records import Grade

# The answers that rules may set, and how the answers of several rules become one.
#
# Every answer is a semilattice: combining is commutative, associative and idempotent, so the order of rules
# and of files never matters, and one more rule can only tighten.

Setting = grades.Grade | OutputWord | int | float | tuple[str, ...]
"""The value a rule sets: a grade, a word, a number, or for holds, cautions and notes a tuple of texts."""

OutputKind = Literal[
    "grade finest", "grade coarsest", "number lowest", "number highest", "word highest", "union"
]


class Output(NamedTuple):
    """One answer: how values combine, its words where it has an order of words, its unit if a number.

    `read` has the cases in which card or gate read it; elsewhere what it says changes nothing for anybody.
    `says` is what it is, in a sentence.
    """

    name: OutputName
    kind: OutputKind
    words: tuple[OutputWord, ...] = ()
    unit: str = ""
    whole: bool = False
    read: Box = EVERYTHING
    says: str = ""

    @property
    def is_grade(self) -> bool:
        """Whether its values are grades of the P series."""
        return self.kind.startswith("grade")

    @property
    def is_number(self) -> bool:
        """Whether its values are numbers."""
        return self.kind.startswith("number")

    @property
    def is_union(self) -> bool:
        """Whether it gathers texts (holds, cautions, notes)."""
        return self.kind == "union"

    def strength(self, value: Setting | str) -> float:
        """Return a number that is higher the more a value tightens. Not for unions (raises ValueError).

        The combined value of several rules is the one with the highest strength. An output that no rule
        sets is weaker than any value.
        """
        match self.kind:
            case "grade finest" if grades.is_grade(value):
                return grades.RANK[value]
            case "grade coarsest" if grades.is_grade(value):
                return -grades.RANK[value]
            case "number lowest" if isinstance(value, int | float):
                return -value
            case "number highest" if isinstance(value, int | float):
                return value
            case "word highest" if value in self.words:
                return self.words.index(value)
        raise ValueError(f"{self.name} has no strength for {value!r}")

    def combine(self, values: Iterable[Setting]) -> Setting | None:
        """Return the tightest of the values: None for none, `words[0]` for a word output, () for a union.

        A union is sorted by text and free of repeats.
        """
        if self.is_union:
            return tuple(sorted({text for value in values if isinstance(value, tuple) for text in value}))
        return max(values, key=self.strength, default=self.unset)

    @property
    def unset(self) -> Setting | None:
        """What a decision holds where no rule sets this output."""
        return Decision._field_defaults[self.name]  # type: ignore[no-any-return]


_BY_MACHINE: Final = box_of({"reach": ("machine",)})
_BY_HAND: Final = box_of({"reach": ("hand",)})
_AHEAD_OF_A_DA: Final = box_of({"reach": ("machine",), "feature": words.LINE_KINDS})
_FILM_COUNTED: Final = box_of(
    {"surface": tuple(surface for surface in words.SURFACES if surface not in words.NO_FILM_SUMS)}
)
_FILM_READ: Final = box_of(
    {"feature": ("face",), "surface": _FILM_COUNTED.values("surface")}, {"film_um": Interval()}
)

OUTPUTS: Final[dict[OutputName, Output]] = {
    output.name: output
    for output in (
        Output(
            "finish_coarsest",
            "grade finest",
            read=_BY_MACHINE,
            says="Coarsest grade the last DA pass may have.",
        ),
        Output("finish_target", "grade finest", says="The usual grade of the last DA pass."),
        Output(
            "finish_finest",
            "grade coarsest",
            says="Key limit: the finest grade the next coat still holds on.",
        ),
        Output(
            "hand_coarsest",
            "grade finest",
            read=_AHEAD_OF_A_DA,
            says="Coarsest grade by hand where a DA pass follows.",
        ),
        Output(
            "hand_last_coarsest",
            "grade finest",
            read=_BY_HAND,
            says="Coarsest grade by hand as the last touch.",
        ),
        Output(
            "risk_limit",
            "number lowest",
            read=box_of(LINE_MODEL_ASKS),
            says="Highest risk, 0 to 1, that a line shows.",
        ),
        Output("bed_coats_max", "number lowest", unit="coats", whole=True, says="Most coats of wet bed."),
        Output(
            "bed_coats_min",
            "number highest",
            unit="coats",
            whole=True,
            says="Least coats of wet bed, where one is laid.",
        ),
        Output(
            "film_off_max_um",
            "number lowest",
            unit="µm",
            read=_FILM_COUNTED,
            says="Most film that may be cut, in µm.",
        ),
        Output("step_ratio_min", "number highest", says="Each next grain at least this part of the last."),
        Output(
            "film_left_min_um",
            "number highest",
            unit="µm",
            read=_FILM_READ,
            says="Least film that must stay, in µm, where there is a reading.",
        ),
        Output("wet_bed", "word highest", words.WET_BED, says="Whether a wet bed is advised or required."),
        Output(
            "guide_coat",
            "word highest",
            words.GUIDE_COAT,
            read=_BY_MACHINE,
            says="Where guide coat is asked for.",
        ),
        Output(
            "machine",
            "word highest",
            words.MACHINE,
            read=_BY_MACHINE,
            says="Whether a machine may go there, and with which pad.",
        ),
        Output("holds", "union", says="Stops the place, in words."),
        Output("cautions", "union", says="Words of caution for the card."),
        Output("notes", "union", says="Words for the card at the place."),
    )
}
"""All outputs by name, in the order in which a `Decision` has them."""


def output_named(name: str) -> Output | None:
    """Return the output of a name that a person wrote, None if there is none."""
    return OUTPUTS.get(name)  # type: ignore[call-overload, no-any-return]


NUMBER_RANGES: Final[dict[OutputName, tuple[float, float]]] = {
    "risk_limit": (0.0, 1.0),
    "bed_coats_max": (0, 10),
    "bed_coats_min": (0, 10),
    "film_off_max_um": (0.0, 1000.0),
    "step_ratio_min": (0.0, 1.0),
    "film_left_min_um": (0.0, 5000.0),
}
"""The least and the most that a rule may set for each number, both included."""

if (*OUTPUTS, "because") != Decision._fields:  # one list of outputs for the whole program
    raise RuntimeError("outputs and Decision differ")


BASE: Final = "base"
"""The name of the layer that is shipped; a house's layer is named after its folder."""


class Rule(NamedTuple):
    """One rule: for every case in the box `when` it sets the outputs in `set`.

    `set` maps an output's name to its value: a grade "P800", a word, a number, or for holds, cautions and
    notes a tuple of texts. `layer` is "base" or the house folder's name; `file` and `line` say where the rule
    stands; `replaces` is the id of the rule it stands in for, `lets_go` what guards instead of its hold.
    `rank` is the place of the layer, 0 for the base and 1 for the lowest house folder.
    """

    id: str
    says: str
    when: Box
    set: Mapping[OutputName, Setting]
    source: str
    layer: str = BASE
    file: str = ""
    line: int = 0
    replaces: str | None = None
    listed: frozenset[str] = frozenset()
    rank: int = 0
    lets_go: str | None = None

    def __hash__(self) -> int:
        """Hash what tells rules apart; a mapping such as `set` has no hash."""
        return hash((self.id, self.layer, self.file, self.line))


def grade_set(rule: Rule, output: OutputName) -> "Grade":
    """Return the grade that a rule sets for an output of grades. Raises ValueError where it sets none."""
    value = rule.set.get(output)
    if not is_grade(value):
        raise ValueError(f"{rule.id} sets no grade for {output}")
    return value


class Withdraw(NamedTuple):
    """A rule of a layer below that a house does without, and why; `lets_go` says what now guards its hold."""

    rule: str
    because: str
    layer: str
    file: str = ""
    line: int = 0
    rank: int = 1
    lets_go: str | None = None


class Example(NamedTuple):
    """A worked case: with these facts, these outputs.

    `given` is what the file states, `facts` the whole case. `expect` maps an output to the value it must
    have, None for "no rule sets it"; for holds, cautions and notes see `examples.shortfalls`. An example is
    true of its own layer over those below (a layer above may tighten it).
    """

    given: Mapping[str, object]
    facts: Facts
    expect: Mapping[OutputName, object]
    layer: str = BASE
    file: str = ""
    line: int = 0
    rank: int = 0


class Promise(NamedTuple):
    """A statement that must hold over all possible cases in `where`.

    With `along` (an ordered fact or a number): of two cases that differ in that fact only, the one with the
    higher value (the lower one if `falling`) never has a laxer `output`; unknown numbers are not compared.
    With `than` (an output of the same kind): in one case, `output` is never laxer than `than`. Exactly one of
    both is given. `never` is "coarser" for grades (also for finish_finest: never a coarser grade; no bound
    counts as coarsest) and "weaker" for the rest (less strength; no value is weakest).
    """

    says: str
    output: OutputName
    never: Literal["coarser", "weaker"]
    where: Box
    along: str | None = None
    falling: bool = False
    than: OutputName | None = None
    layer: str = BASE
    file: str = ""
    line: int = 0
    rank: int = 0


class Impossible(NamedTuple):
    """Cases that cannot be, and why: a job that states one is refused, an audit leaves them out."""

    when: Box
    because: str
    file: str = ""
    line: int = 0
