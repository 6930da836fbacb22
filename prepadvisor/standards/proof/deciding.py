"""Where a rule decides: the cases in which no other rule asks more of the same output."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

from prepadvisor.standards.engine import OUTPUTS, Rule
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.told import largest_outside

if TYPE_CHECKING:
    from prepadvisor.cases import Value
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.audited import Audited


class Decides(NamedTuple):
    """Where one rule decides one output: the largest box and its share of the cases that the rule meets.

    `limits` is None if it decides nowhere; `everywhere` says that it decides in all cases it meets.
    """

    output: "OutputName"
    limits: Mapping[str, list["Value"]] | None
    cases: int
    of: int

    @property
    def everywhere(self) -> bool:
        """Whether the rule decides this output in every possible case that meets it."""
        return self.cases == self.of > 0


def where_decides(audited: "Audited", rule: Rule) -> list[Decides]:
    """Return for each output a rule sets where it decides; a hold, caution or note always stands."""
    box = audited.masks(rule)
    met = audited.diagrams.count(audited.space.region(box))
    diagrams = audited.diagrams
    found = []
    for output in (name for name in OUTPUTS if name in rule.set):
        if OUTPUTS[output].is_union:
            found.append(Decides(output, audited.space.axes.limits(box), met, met))
            continue
        ranking = audited.ranking(output)
        read = diagrams.count(diagrams.both(diagrams.box(box), audited.world.read(output)))
        strength = ranking.strengths[ranking.rules.index(rule)]
        stronger = sum(own > strength for own in ranking.strengths)
        among = ranking.ahead(stronger) | ranking.cannot_be
        grown = largest_outside(ranking.covers, box, among, ranking.free)
        if grown is None:
            found.append(Decides(output, None, 0, read))
        else:
            cases = diagrams.count(Outside(ranking.covers, box, among).region())
            found.append(Decides(output, audited.space.axes.limits(grown[0]), cases, read))
    return found
