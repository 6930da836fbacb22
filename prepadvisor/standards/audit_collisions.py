"""Collisions: possible cases where one rule asks a finish finer than another rule lets it be."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.standards.audited import Audited, named, place_of
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.conditions import Box, box_of
from prepadvisor.standards.covers import values_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import shared
from prepadvisor.surface import grades

BOUNDS: Final[dict[str, Box]] = {
    "finish_coarsest": box_of({"reach": ("machine",)}),
    "hand_last_coarsest": box_of({"reach": ("hand",)}),
}
"""The coarse end of the grit range, each with the cases where it is the one that counts."""


def collisions(audited: Audited) -> list[Finding]:
    """Return a finding for each pair of rules that together leave no grade in some case they decide.

    Its box is all that both rules share: in every possible case of it they contradict one another.
    """
    key = audited.ranking("finish_finest")
    found = [
        _finding(audited, coarse.output, fine_rule, key_rule, box)
        for coarse, reach in ((audited.ranking(output), reach) for output, reach in BOUNDS.items())
        for fine_rule, key_rule, box in _deciding_pairs(audited, coarse, key, audited.space.masks(reach))
    ]
    return sorted(found, key=lambda finding: (-finding.cases, finding.rules))


def _deciding_pairs(
    audited: Audited, coarse: Ranking, key: Ranking, reach: Masks
) -> Iterator[tuple[Rule, Rule, Masks]]:
    """Yield the pairs that contradict one another in a case which no rule before either of them decides."""
    covers = audited.space.covers([*coarse.boxes, *key.boxes])
    first = len(coarse.rules)
    cannot_be = ((1 << len(audited.space.cannot_be_boxes)) - 1) << first + len(key.rules)
    for place, fine_rule in enumerate(coarse.rules):
        own = shared(coarse.boxes[place], reach)
        if not all(own):
            continue
        for bit in values_of(covers.touching(own, key.everyone << first)):
            key_place = bit - first
            key_rule = key.rules[key_place]
            if not grades.is_finer(str(fine_rule.set[coarse.output]), str(key_rule.set[key.output])):
                break  # the key rules after it allow finer grades still
            box = shared(own, key.boxes[key_place])
            among = coarse.ahead(place) | key.ahead(key_place) << first | cannot_be
            if Outside(covers, box, among).case() is not None:
                yield fine_rule, key_rule, box


def _finding(audited: Audited, output: str, fine_rule: Rule, key_rule: Rule, box: Masks) -> Finding:
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    rules = sorted({fine_rule.id: fine_rule, key_rule.id: key_rule}.values(), key=lambda rule: rule.id)
    file, line = place_of(rules)
    limits = audited.space.axes.limits(box)
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
        cases=audited.diagrams.count(audited.space.region(box)),
    )
