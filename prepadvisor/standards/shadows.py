"""What shadows a dead rule: few other rules that in all its cases ask as much or more."""

from collections.abc import Collection

from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import cells, shared
from prepadvisor.standards.strengths import unset_strength


def shadows_of(audited: Audited, rule: Rule, last: Collection[str] = ()) -> list[Rule]:
    """Return rules that together give in every case all that the rule gives, sorted by id.

    Rules whose ids are in `last` (its twins) are taken only where no others do.
    """
    found: dict[str, Rule] = {}
    for output, setting in rule.set.items():
        for text in setting if isinstance(setting, tuple) else (None,):
            rivals = _rivals(audited, rule, output, text)
            rivals.sort(key=lambda rival: rival.id in last)
            found |= {rival.id: rival for rival in _cover(audited, rule, rivals)}
    return [found[key] for key in sorted(found)]


def _rivals(audited: Audited, rule: Rule, output: OutputName, text: str | None) -> list[Rule]:
    """Return the other rules that answer the same or more strictly, those that share most cases first."""
    if text is not None:
        rivals = audited.texts[output, text]
    else:
        least = OUTPUTS[output].strength(rule.set[output])
        if least <= unset_strength(output):
            return []
        ranking = audited.ranking_of_possible(output)
        rivals = ranking.rules[: ranking.at_least(least).bit_length()]
    own = audited.masks(rule)
    common = {rival.id: cells(shared(own, audited.masks(rival))) for rival in rivals}
    return sorted(
        (rival for rival in rivals if rival is not rule and common[rival.id]),
        key=lambda rival: (-common[rival.id], rival.id),
    )


def _cover(audited: Audited, rule: Rule, rivals: list[Rule]) -> list[Rule]:
    diagrams = audited.diagrams
    left = audited.space.region(audited.masks(rule))
    cover = []
    for rival in rivals:
        if left == diagrams.no:
            break
        still = diagrams.minus(left, diagrams.box(audited.masks(rival)))
        if still != left:
            cover.append(rival)
            left = still
    return cover
