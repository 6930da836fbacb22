"""Collisions: possible cases where one rule asks a finish finer than another rule lets it be."""

from typing import Final

from prepadvisor.standards.audited import Audited, named, place_of
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.conditions import Box, box_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.domains import Value
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.strengths import NO_BOUND, fineness
from prepadvisor.surface import grades

BOUNDS: Final[dict[str, Box]] = {
    "finish_coarsest": box_of({"reach": ("machine",)}),
    "hand_last_coarsest": box_of({"reach": ("hand",)}),
}
"""The coarse end of the grit range, each with the cases where it is the one that counts."""


def collisions(audited: Audited) -> list[Finding]:
    """Return a finding for each pair of rules whose grit range is empty, until every such case is told."""
    return [finding for output, reach in BOUNDS.items() for finding in _of_bound(audited, output, reach)]


def _of_bound(audited: Audited, output: str, reach: Box) -> list[Finding]:
    diagrams, cases = audited.diagrams, audited.cases

    def empty(coarsest: object, finest: object) -> bool:
        if not (isinstance(coarsest, float) and isinstance(finest, float)):
            return False
        return finest != NO_BOUND and fineness(output, coarsest) > fineness("finish_finest", finest)

    region = diagrams.both(
        diagrams.pair(empty, cases.strength(output), cases.strength("finish_finest")),
        audited.space.region(reach),
    )
    if region == diagrams.no:
        return []
    found = []
    for fine_rule, key_rule, masks in _pairs(audited, output, audited.space.masks(reach)):
        part = audited.part(region, masks)
        if part.cases:
            found.append(_finding(output, fine_rule, key_rule, part.limits, part.cases))
            region = diagrams.minus(region, diagrams.box(masks))
        if region == diagrams.no:
            break
    return found


def _pairs(audited: Audited, output: str, reach: Masks) -> list[tuple[Rule, Rule, Masks]]:
    """Return all pairs of rules that contradict one another with the box they share, largest box first."""
    pairs = []
    setting, masks_of = audited.cases.setting, audited.space.masks
    for fine_rule in setting[output]:
        rank = grades.RANK[str(fine_rule.set[output])]
        own = tuple(one & other for one, other in zip(masks_of(fine_rule.when), reach, strict=True))
        for key_rule in setting["finish_finest"]:
            if rank <= grades.RANK[str(key_rule.set["finish_finest"])]:
                continue
            shared = tuple(one & other for one, other in zip(own, masks_of(key_rule.when), strict=True))
            if all(shared):
                pairs.append((fine_rule, key_rule, shared))
    return sorted(pairs, key=lambda pair: (-_cells(pair[2]), pair[0].id, pair[1].id))


def _cells(masks: Masks) -> int:
    cells = 1
    for mask in masks:
        cells *= mask.bit_count()
    return cells


def _finding(
    output: str, fine_rule: Rule, key_rule: Rule, limits: dict[str, list[Value]], cases: int
) -> Finding:
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    rules = sorted({fine_rule.id: fine_rule, key_rule.id: key_rule}.values(), key=lambda rule: rule.id)
    file, line = place_of(rules)
    return Finding(
        "collision",
        f"{named([fine_rule])} asks {wanted} or finer ({output}), {named([key_rule])} nothing finer than "
        f"{allowed} (finish_finest): no grade is left for {in_words(limits)}.",
        f'Make "{fine_rule.id}" ask {allowed} at most or leave these cases out of it; only if the finer '
        f'grade is known to key there, let "{key_rule.id}" end at {wanted}.',
        rules=tuple(rule.id for rule in rules),
        limits=limits,
        file=file,
        line=line,
        cases=cases,
    )
