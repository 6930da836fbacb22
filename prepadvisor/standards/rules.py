"""The standards' entries once they are read: rules, withdrawals, examples, promises, what cannot be."""

from collections.abc import Mapping
from typing import Final, Literal

from prepadvisor.cases.facts import Facts
from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.conditions import Box
from prepadvisor.standards.outputs import Setting
from prepadvisor.surface.grades import Grade, is_grade

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


def grade_set(rule: Rule, output: OutputName) -> Grade:
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
