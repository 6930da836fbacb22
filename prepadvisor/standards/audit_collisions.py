"""Collisions: possible cases where one rule asks a finish finer than another rule lets it be."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import Audited, named, place_of
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.conditions import Box, box_of
from prepadvisor.standards.covers import values_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import BASE, Rule, grade_set
from prepadvisor.standards.space import cells, shared
from prepadvisor.surface import grades

BOUNDS: Final[dict[OutputName, Box]] = {
    "finish_coarsest": box_of({"reach": ("machine",)}),
    "hand_last_coarsest": box_of({"reach": ("hand",)}),
}
"""The coarse end of the grit range, each with the cases where it is the one that counts."""


_MOST: Final = 200
"""Pairs told one by one at most; the rest is told together."""


class _Pair(NamedTuple):
    """Two rules that contradict one another in all of a box."""

    output: OutputName
    fine_rule: Rule
    key_rule: Rule
    box: Masks


def collisions(audited: Audited) -> list[Finding]:
    """Return a finding for each pair of rules that together leave no grade in some case they decide.

    Its box is all that both rules share: in every possible case of it they contradict one another.
    """
    key = audited.ranking("finish_finest")
    pairs = [
        _Pair(output, *pair)
        for output, reach in BOUNDS.items()
        for pair in _deciding_pairs(audited, audited.ranking(output), key, audited.space.masks(reach))
    ]
    pairs.sort(key=lambda pair: (-cells(pair.box), pair.fine_rule.id, pair.key_rule.id))
    found = [_finding(audited, pair) for pair in pairs[:_MOST]]
    if len(pairs) > _MOST:
        found.append(_rest(pairs[_MOST:]))
    return found


def _deciding_pairs(
    audited: Audited, coarse: Ranking, key: Ranking, reach: Masks
) -> Iterator[tuple[Rule, Rule, Masks]]:
    """Yield the pairs that contradict one another in a case which no rule before either of them decides."""
    covers = audited.space.covers([*coarse.boxes, *key.boxes], coarse.outside, coarse.supports)
    first = len(coarse.rules)
    cannot_be = coarse.cannot_be << len(key.rules)
    for place, fine_rule in enumerate(coarse.rules):
        own = shared(coarse.boxes[place], reach)
        if not all(own) or coarse.case_decided(place) is None:
            continue
        for bit in values_of(covers.touching(own, key.everyone << first)):
            key_place = bit - first
            key_rule = key.rules[key_place]
            if not grades.is_finer(grade_set(fine_rule, coarse.output), grade_set(key_rule, key.output)):
                break  # the key rules after it allow finer grades still
            if key.case_decided(key_place) is None:
                continue
            box = shared(own, key.boxes[key_place])
            among = coarse.ahead(place) | key.ahead(key_place) << first | cannot_be
            if Outside(covers, box, among).case() is not None:
                yield fine_rule, key_rule, box


def _finding(audited: Audited, pair: _Pair) -> Finding:
    output, fine_rule, key_rule, box = pair
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    rules = sorted({fine_rule.id: fine_rule, key_rule.id: key_rule}.values(), key=lambda rule: rule.id)
    file, line = place_of(rules)
    limits = audited.space.axes.limits(box)
    return Finding(
        "collision",
        f"{named([fine_rule])} asks {wanted} or finer ({output}), {named([key_rule])} nothing finer than "
        f"{allowed} (finish_finest): no grade is left for {in_words(limits)}.",
        _mend(pair),
        rules=tuple(rule.id for rule in rules),
        limits=limits,
        file=file,
        line=line,
        cases=audited.diagrams.count(audited.space.region(box)),
    )


def _mend(pair: _Pair) -> str:
    """Say what to change; of the base nothing, where a house's rule takes part."""
    output, fine_rule, key_rule, _ = pair
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    finer = f'Make "{fine_rule.id}" ask {allowed} at most or leave these cases out of it'
    key = f'let "{key_rule.id}" end at {wanted}'
    if key_rule.layer == BASE != fine_rule.layer:
        return f"{finer}."
    if fine_rule.layer == BASE != key_rule.layer:
        return f"{key[0].upper()}{key[1:]} or leave these cases out of it."
    return f"{finer}; only if the finer grade is known to key there, {key}."


def _rest(pairs: list[_Pair]) -> Finding:
    rules = {rule.id: rule for pair in pairs for rule in (pair.fine_rule, pair.key_rule)}
    file, line = place_of(rules.values())
    return Finding(
        "collision",
        f"{len(pairs)} more pairs of rules leave no grade in smaller groups of cases.",
        "Mend the pairs above first.",
        rules=tuple(sorted(rules)),
        file=file,
        line=line,
    )
